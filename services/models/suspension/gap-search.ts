/**
 * The least distance between the swept tyre and one piece of an obstacle (a point, a segment or a triangle).
 *
 * A grid of poses against sample points shows where valleys are; each is then searched with line searches one inside
 * the other, over the rack and for each rack over the arm's turn, in a window of two grid steps that follows the
 * valley. Pieces are searched one by one: the least of several has more valleys than a grid shows.
 */
import { found, type Outcome, refused } from '../result.ts';
import { POSE_SIZE, solveTurn } from './double-wishbone.ts';
import type { FrameName } from './geometry.ts';
import { minimise } from './line-search.ts';
import { leastToPieces, piecesOf, type Shape } from './obstacle-shapes.ts';
import { type PoseGrid, type Surroundings, tyrePlace } from './pose-grid.ts';
import { leastDistance, type Profile } from './tyre-shape.ts';

export interface SweptTyre extends Surroundings {
  readonly profile: Profile;
  readonly grid: PoseGrid;
}

/** Where a piece comes nearest. */
export interface Lowest {
  readonly distance: number;
  /** Half-turn tangent of the lower arm there. */
  readonly arm: number;
  readonly rack: number;
}

/** A position of the grid and the distance of the piece's samples there. */
export interface Cell {
  readonly i: number;
  readonly j: number;
  readonly distance: number;
}

/** Sets of points (x, y, z in a row) on a frame. */
export interface SampleSet {
  readonly frame: FrameName;
  readonly points: Float64Array;
}

/** For each set, the least distance of its points at every pose of the grid: an upper bound on what the piece has there. */
export function sampledDistances(swept: SweptTyre, sets: readonly SampleSet[]): Outcome<readonly Float64Array[]> {
  const { grid, profile } = swept;
  const count = grid.travels * grid.racks;
  const fields = sets.map(() => new Float64Array(count));
  const frames = [...new Set(sets.map((s) => s.frame))];
  const place = new Float64Array(6);
  for (let n = 0; n < count; n++) {
    for (const frame of frames) {
      if (!tyrePlace(swept, grid.raw, n * POSE_SIZE, frame, place)) return nowhere(frame);
      for (let i = 0; i < sets.length; i++) {
        const set = sets[i]!;
        if (set.frame === frame) fields[i]![n] = leastDistance(profile, place, set.points);
      }
    }
  }
  return found(fields);
}

export function nowhere(frame: FrameName): { readonly ok: false; readonly reason: string } {
  return refused(`${frame}: an obstacle is on it, but it is not given or its link does not reach over the whole sweep`);
}

/** Grid positions not above any neighbour: one or more for each valley, one for a floor that is level. */
export function lowCells(grid: PoseGrid, field: Float64Array): Cell[] {
  const { travels, racks } = grid;
  const cells: Cell[] = [];
  for (let j = 0; j < racks; j++) {
    for (let i = 0; i < travels; i++) if (isLow(field, travels, racks, i, j)) cells.push({ i, j, distance: field[j * travels + i]! });
  }
  return cells;
}

/** What counts as level: far below any gap that matters, far above rounding. */
const LEVEL = 1e-9;

function isLow(field: Float64Array, travels: number, racks: number, i: number, j: number): boolean {
  const own = j * travels + i;
  const here = field[own]!;
  for (let b = Math.max(0, j - 1); b <= Math.min(racks - 1, j + 1); b++) {
    for (let a = Math.max(0, i - 1); a <= Math.min(travels - 1, i + 1); a++) {
      const other = b * travels + a;
      // Of level neighbours the first is kept.
      if (other !== own && field[other]! < here + (other < own ? LEVEL : -LEVEL)) return false;
    }
  }
  return true;
}

/** What a piece itself has at a pose of the grid, where its samples have a little more. */
export function distanceAt({ grid, profile, ...around }: SweptTyre, frame: FrameName, shape: Shape, { i, j }: Cell): number {
  const place = new Float64Array(6);
  return tyrePlace(around, grid.raw, (j * grid.travels + i) * POSE_SIZE, frame, place)
    ? leastToPieces(profile, place, piecesOf([shape]), Number.POSITIVE_INFINITY)
    : Number.POSITIVE_INFINITY;
}

interface Window {
  readonly armLow: number;
  readonly armHigh: number;
  readonly rackLow: number;
  readonly rackHigh: number;
}

function windowAbout(grid: PoseGrid, arm: number, rack: number): Window {
  const { sweep, travels, racks, arms } = grid;
  const [first, last] = [arms[0]!, arms[travels - 1]!];
  const armStep = (last - first) / (travels - 1);
  const rackStep = (sweep.rackLeft - sweep.rackRight) / Math.max(1, racks - 1);
  return {
    armLow: Math.max(first, arm - armStep),
    armHigh: Math.min(last, arm + armStep),
    rackLow: Math.max(sweep.rackRight, rack - rackStep),
    rackHigh: Math.min(sweep.rackLeft, rack + rackStep),
  };
}

/** A valley may run on past the window, aslant: the window then follows it, as long as the distance gets less. */
export function searchFrom(swept: SweptTyre, frame: FrameName, shape: Shape, cell: Cell): Lowest {
  const { sweep, racks, arms } = swept.grid;
  const rack = racks > 1 ? sweep.rackRight + ((sweep.rackLeft - sweep.rackRight) * cell.j) / (racks - 1) : sweep.rackRight;
  let window = windowAbout(swept.grid, arms[cell.i]!, rack);
  let here = searchWindow(swept, frame, shape, window);
  for (let i = 0; i < 20 && stopsShort(swept.grid, window, here); i++) {
    window = windowAbout(swept.grid, here.arm, here.rack);
    const next = searchWindow(swept, frame, shape, window);
    if (next.distance > here.distance - 1e-9) break;
    here = next;
  }
  return here;
}

/** At an edge of the window that is no end of the sweep. */
function stopsShort(grid: PoseGrid, w: Window, { arm, rack }: Lowest): boolean {
  const { sweep, travels, arms } = grid;
  const at = (x: number, edge: number, width: number, end: number) =>
    Math.abs(x - edge) < 0.01 * width && Math.abs(edge - end) > 1e-9 * width;
  const [height, width] = [w.armHigh - w.armLow, w.rackHigh - w.rackLow];
  return (
    at(arm, w.armLow, height, arms[0]!) ||
    at(arm, w.armHigh, height, arms[travels - 1]!) ||
    at(rack, w.rackLow, width, sweep.rackRight) ||
    at(rack, w.rackHigh, width, sweep.rackLeft)
  );
}

function searchWindow(swept: SweptTyre, frame: FrameName, shape: Shape, w: Window): Lowest {
  const raw = new Float64Array(POSE_SIZE);
  const place = new Float64Array(6);
  const { profile, linkage } = swept;
  const pieces = piecesOf([shape]);
  const at = (arm: number, rack: number): number => {
    if (solveTurn(linkage, arm, rack, raw, 0) || !tyrePlace(swept, raw, 0, frame, place)) return Number.POSITIVE_INFINITY;
    return leastToPieces(profile, place, pieces, Number.POSITIVE_INFINITY);
  };
  const overArm = (rack: number) => minimise((arm) => at(arm, rack), w.armLow, w.armHigh);
  const best = minimise((rack) => overArm(rack).value, w.rackLow, w.rackHigh);
  const inner = overArm(best.at);
  return { distance: inner.value, arm: inner.at, rack: best.at };
}
