/**
 * The least gap between the tyre and each obstacle over travel × steering, where it is, and what must come off.
 *
 * A grid of poses against sample points finds the neighbourhoods; each is then searched exactly: halving along the
 * obstacle, line searches over travel and rack. Gaps are signed: negative is how deep the obstacle's nearest point
 * would lie in the tyre. The left corner is computed; the right one is its mirror with the rack the other way round.
 * Obstacles are given as at design in the frame they ride on; places and normals are answered in that same frame.
 */
import { found, type Outcome, refused } from '../result.ts';
import { prepareBar } from './attachments.ts';
import { type Linkage, POSE_SIZE, solveTurn, TURNS } from './double-wishbone.ts';
import type { AntiRollBar, FrameName, Obstacle, Sweep } from './geometry.ts';
import { minimise } from './line-search.ts';
import { type PoseGrid, type Surroundings, solveGrid, tyrePlace } from './pose-grid.ts';
import {
  leastDistance,
  makeProfile,
  type Nearest,
  nearestOnSegment,
  nearestOnTriangle,
  type Profile,
  type TyreShape,
  tyreDistance,
  tyreNormal,
} from './tyre-shape.ts';
import { addScaled, distance, mirrored, type Vec3 } from './vector.ts';

export interface SweepRequest {
  readonly linkage: Linkage;
  readonly tyre: TyreShape;
  readonly sweep: Sweep;
  /** Tyre's mid-plane against the hardpoints' wheel centre, + outboard: a lesser wheel offset or a spacer. */
  readonly outwardShift?: number;
  readonly bodyLift?: number;
  readonly antiRollBar?: AntiRollBar;
  /** Grid; 41 × 31 unless said. */
  readonly travels?: number;
  readonly racks?: number;
}

export interface SweptTyre extends Surroundings {
  readonly profile: Profile;
  readonly grid: PoseGrid;
}

export interface Contact {
  readonly obstacle: string;
  readonly side: 'left' | 'right';
  readonly frame: FrameName;
  readonly flexible: boolean;
  readonly gap: number;
  /** Of the arms, as wheel-centre travel with the rack centred. */
  readonly travel: number;
  readonly rack: number;
  /** On the obstacle's surface, in its frame, coordinates as at design. */
  readonly at: Vec3;
  /** Unit, in its frame: the way the obstacle must go to gain room. */
  readonly normal: Vec3;
}

export interface Trim {
  /** How far the obstacle must go back along the normal so that its least gap is just what is required; 0 if it has it. */
  readonly amount: number;
  readonly normal: Vec3;
  readonly before: Contact;
  /** The least gap then: often at another place or position. */
  readonly after: Contact;
}

export function sweepTyre(request: SweepRequest): Outcome<SweptTyre> {
  const profile = makeProfile(request.tyre);
  if (!profile.ok) return profile;
  const grid = solveGrid(request.linkage, request.sweep, request.travels, request.racks);
  if (!grid.ok) return grid;
  return found({
    profile: profile.value,
    grid: grid.value,
    linkage: request.linkage,
    outwardShift: request.outwardShift ?? 0,
    bodyShift: [0, 0, request.bodyLift ?? 0],
    ...(request.antiRollBar && { bar: prepareBar(request.linkage, request.antiRollBar) }),
  });
}

/** Both sides of the vehicle. The sweep's rack ends are the vehicle's, so the right corner sees them the other way round. */
export function leastGaps(request: SweepRequest, obstacles: readonly Obstacle[]): Outcome<readonly Contact[]> {
  const { sweep } = request;
  const left = sideGaps(request, obstacles, 'left', []);
  if (!left.ok) return left;
  // With a rack range that is the same both ways, what both sides have is the left's mirror.
  const known = sweep.rackLeft === -sweep.rackRight ? left.value : [];
  const turned = { ...sweep, rackLeft: -sweep.rackRight, rackRight: -sweep.rackLeft };
  const right = sideGaps({ ...request, sweep: turned }, obstacles, 'right', known);
  return right.ok ? found([...left.value, ...right.value.map(onTheRight)]) : right;
}

function sideGaps(
  request: SweepRequest,
  obstacles: readonly Obstacle[],
  side: 'left' | 'right',
  known: readonly Contact[],
): Outcome<readonly Contact[]> {
  const here = obstacles.filter((o) => o.side === 'both' || o.side === side);
  const done = known.filter((c) => here.some((o) => o.id === c.obstacle));
  const rest = here.filter((o) => !done.some((c) => c.obstacle === o.id));
  if (rest.length === 0) return found(done);
  const swept = sweepTyre(request);
  if (!swept.ok) return swept;
  const contacts = leastGapsLeft(swept.value, rest);
  return contacts.ok ? found([...done, ...contacts.value]) : contacts;
}

function onTheRight(c: Contact): Contact {
  return { ...c, side: 'right', rack: -c.rack, at: mirrored(c.at), normal: mirrored(c.normal) };
}

/** One contact for each obstacle, in order, for the left corner. */
export function leastGapsLeft(swept: SweptTyre, obstacles: readonly Obstacle[]): Outcome<readonly Contact[]> {
  const empty = obstacles.find((o) => shapesOf(o).length === 0);
  if (empty) return refused(`${empty.id}: it has no points`);
  const fields = sampledGaps(swept, obstacles);
  if (!fields.ok) return fields;
  const contacts: Contact[] = [];
  for (let i = 0; i < obstacles.length; i++) {
    const contact = refine(swept, obstacles[i]!, fields.value[i]!);
    if (!contact.ok) return contact;
    contacts.push(contact.value);
  }
  return found(contacts);
}

/** Distance between sample points along an obstacle. */
const SPACING = 0.02;

/** For each obstacle, the least gap of its sample points at every pose of the grid: an upper bound on the gap there. */
export function sampledGaps(swept: SweptTyre, obstacles: readonly Obstacle[]): Outcome<readonly Float64Array[]> {
  const { grid } = swept;
  const count = grid.travels * grid.racks;
  const fields = obstacles.map(() => new Float64Array(count));
  const points = obstacles.map((o) => samplePoints(o, SPACING));
  const frames = [...new Set(obstacles.map((o) => o.frame))];
  const place = new Float64Array(6);
  for (let n = 0; n < count; n++) {
    for (const frame of frames) {
      if (!tyrePlace(swept, grid.raw, n * POSE_SIZE, frame, place)) return nowhere(frame);
      for (let i = 0; i < obstacles.length; i++) {
        const o = obstacles[i]!;
        if (o.frame === frame) fields[i]![n] = leastDistance(swept.profile, place, points[i]!) - o.radius;
      }
    }
  }
  return found(fields);
}

function nowhere(frame: FrameName): { readonly ok: false; readonly reason: string } {
  return refused(`${frame}: an obstacle is on it, but it is not given or its link does not reach over the whole sweep`);
}

type Shape = readonly Vec3[];

/** Points, segments and triangles. */
function shapesOf(o: Obstacle): Shape[] {
  const shapes: Shape[] = [];
  for (const line of o.lines) {
    if (line.length === 1) shapes.push(line);
    for (let i = 1; i < line.length; i++) shapes.push([line[i - 1]!, line[i]!]);
  }
  for (const patch of o.patches) for (let i = 2; i < patch.length; i++) shapes.push([patch[0]!, patch[i - 1]!, patch[i]!]);
  return shapes;
}

/** x, y, z in a row, no further apart than `spacing` along any edge or row. */
export function samplePoints(o: Obstacle, spacing: number): Float64Array {
  const out: number[] = [];
  for (const [a, b, c] of shapesOf(o)) {
    if (!b) out.push(...a!);
    else if (!c) sampleSegment(a!, b, spacing, out);
    else {
      const rows = Math.max(1, Math.ceil(Math.max(distance(a!, b), distance(a!, c)) / spacing));
      for (let i = 0; i <= rows; i++) sampleSegment(between(a!, b, i / rows), between(a!, c, i / rows), spacing, out);
    }
  }
  return Float64Array.from(out);
}

function between(a: Vec3, b: Vec3, t: number): Vec3 {
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])];
}

function sampleSegment(a: Vec3, b: Vec3, spacing: number, out: number[]): void {
  const steps = Math.max(1, Math.ceil(distance(a, b) / spacing));
  for (let i = 0; i <= steps; i++) out.push(...between(a, b, i / steps));
}

/** Exact least gap of an obstacle with the tyre at one place. */
function nearest(profile: Profile, place: Float64Array, shapes: readonly Shape[]): Nearest {
  const { centre, axis } = asVectors(place);
  let best: Nearest = { distance: Number.POSITIVE_INFINITY, point: [0, 0, 0] };
  for (const [a, b, c] of shapes) {
    const here = c
      ? nearestOnTriangle(profile, centre, axis, a!, b!, c)
      : b
        ? nearestOnSegment(profile, centre, axis, a!, b)
        : { distance: tyreDistance(profile, centre, axis, a!), point: a! };
    if (here.distance < best.distance) best = here;
  }
  return best;
}

function asVectors(place: Float64Array): { centre: Vec3; axis: Vec3 } {
  return { centre: [place[0]!, place[1]!, place[2]!], axis: [place[3]!, place[4]!, place[5]!] };
}

/** How much more than the least a neighbourhood of the grid may show and still be searched: samples and steps are coarse. */
const KEPT = 0.03;
const MOST_SEARCHED = 6;

function refine(swept: SweptTyre, obstacle: Obstacle, field: Float64Array): Outcome<Contact> {
  let best: Contact | undefined;
  for (const cell of lowCells(swept.grid, field)) {
    const contact = searchCell(swept, obstacle, cell);
    if (!contact.ok) return contact;
    if (!best || contact.value.gap < best.gap) best = contact.value;
  }
  return best ? found(best) : refused(`${obstacle.id}: no position to measure at`);
}

/** Grid positions not above any neighbour, lowest first. */
function lowCells(grid: PoseGrid, field: Float64Array): { i: number; j: number }[] {
  const { travels, racks } = grid;
  const cells: { i: number; j: number; gap: number }[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (const gap of field) least = Math.min(least, gap);
  for (let j = 0; j < racks; j++) {
    for (let i = 0; i < travels; i++) {
      const gap = field[j * travels + i]!;
      if (gap <= least + KEPT && isLow(field, travels, racks, i, j)) cells.push({ i, j, gap });
    }
  }
  return cells.sort((a, b) => a.gap - b.gap).slice(0, MOST_SEARCHED);
}

function isLow(field: Float64Array, travels: number, racks: number, i: number, j: number): boolean {
  const here = field[j * travels + i]!;
  for (let b = Math.max(0, j - 1); b <= Math.min(racks - 1, j + 1); b++) {
    for (let a = Math.max(0, i - 1); a <= Math.min(travels - 1, i + 1); a++) if (field[b * travels + a]! < here) return false;
  }
  return true;
}

/** Line searches one inside the other: over the rack, and for each rack over the arm's turn. Sound where the gap has a kink. */
function searchCell(swept: SweptTyre, obstacle: Obstacle, cell: { i: number; j: number }): Outcome<Contact> {
  const { sweep, travels, racks, arms } = swept.grid;
  const step = (sweep.rackLeft - sweep.rackRight) / Math.max(1, racks - 1);
  const rack = sweep.rackRight + cell.j * step;
  const raw = new Float64Array(POSE_SIZE);
  const place = new Float64Array(6);
  const shapes = nearShapes(swept, obstacle, arms[cell.i]!, rack, raw);
  if (!shapes.ok) return shapes;
  const at = (arm: number, r: number): number => {
    if (solveTurn(swept.linkage, arm, r, raw, 0)) return Number.POSITIVE_INFINITY;
    return tyrePlace(swept, raw, 0, obstacle.frame, place)
      ? nearest(swept.profile, place, shapes.value).distance
      : Number.POSITIVE_INFINITY;
  };
  const low = arms[Math.max(0, cell.i - 1)]!;
  const high = arms[Math.min(travels - 1, cell.i + 1)]!;
  const inner = (r: number) => minimise((arm) => at(arm, r), low, high);
  const best = minimise((r) => inner(r).value, Math.max(sweep.rackRight, rack - step), Math.min(sweep.rackLeft, rack + step));
  return contactAt(swept, obstacle, shapes.value, inner(best.at).at, best.at, raw);
}

/** Pieces that could be the nearest within the cell: a step of the rack moves the tread by up to some 20 mm. */
function nearShapes(swept: SweptTyre, o: Obstacle, arm: number, rack: number, raw: Float64Array): Outcome<readonly Shape[]> {
  const place = new Float64Array(6);
  if (solveTurn(swept.linkage, arm, rack, raw, 0) || !tyrePlace(swept, raw, 0, o.frame, place)) return nowhere(o.frame);
  const shapes = shapesOf(o);
  const gaps = shapes.map((s) => nearest(swept.profile, place, [s]).distance);
  const least = Math.min(...gaps);
  return found(shapes.filter((_, i) => gaps[i]! <= least + 2 * KEPT));
}

function contactAt(
  swept: SweptTyre,
  o: Obstacle,
  shapes: readonly Shape[],
  arm: number,
  rack: number,
  raw: Float64Array,
): Outcome<Contact> {
  const centred = solveTurn(swept.linkage, arm, 0, raw, 0);
  const travel = raw[TURNS + 6]!;
  if (centred || solveTurn(swept.linkage, arm, rack, raw, 0)) return refused(`${o.id}: no pose where its gap is least`);
  const place = new Float64Array(6);
  if (!tyrePlace(swept, raw, 0, o.frame, place)) return nowhere(o.frame);
  const { distance: apart, point } = nearest(swept.profile, place, shapes);
  const { centre, axis } = asVectors(place);
  const normal = tyreNormal(swept.profile, centre, axis, point);
  const at = addScaled(point, normal, -o.radius);
  return found({ obstacle: o.id, side: 'left', frame: o.frame, flexible: o.flexible, gap: apart - o.radius, travel, rack, at, normal });
}

/** The obstacle moved in its own frame. */
export function movedObstacle(o: Obstacle, by: Vec3): Obstacle {
  const move = (line: readonly Vec3[]) => line.map((p) => addScaled(p, by, 1));
  return { ...o, lines: o.lines.map(move), patches: o.patches.map(move) };
}

/** No bracket is cut further than this; past it, say so. */
const MOST_TRIMMED = 0.15;

/**
 * What must come off an obstacle of the left corner so that it keeps exactly `required` from the tyre. The trim moves
 * the whole obstacle back along the normal of its worst contact; another place may then be the nearest, so the amount
 * is found by repeating the whole search, and is at least `required` less the gap.
 */
export function trimFor(swept: SweptTyre, obstacle: Obstacle, required: number): Outcome<Trim> {
  const first = leastGapsLeft(swept, [obstacle]);
  if (!first.ok) return first;
  const before = first.value[0]!;
  const { normal } = before;
  if (before.gap >= required) return found({ amount: 0, normal, before, after: before });
  let amount = required - before.gap;
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  let slope = 1;
  let last = { amount: 0, gap: before.gap };
  for (let i = 0; i < 40; i++) {
    if (amount > MOST_TRIMMED) break;
    const again = leastGapsLeft(swept, [movedObstacle(obstacle, [normal[0] * amount, normal[1] * amount, normal[2] * amount])]);
    if (!again.ok) return again;
    const after = again.value[0]!;
    if (Math.abs(after.gap - required) < 2e-8) return found({ amount, normal, before, after });
    if (after.gap < required) low = amount;
    else high = amount;
    if (after.gap !== last.gap && amount !== last.amount) slope = (after.gap - last.gap) / (amount - last.amount);
    last = { amount, gap: after.gap };
    const next = amount + (required - after.gap) / Math.min(1.5, Math.max(0.2, slope));
    amount = next > low && next < high ? next : high < 1 ? (low + high) / 2 : low * 1.5;
  }
  return refused(
    `${obstacle.id}: no trim up to ${MOST_TRIMMED * 1000} mm along one direction gives it that gap; it must be moved or reshaped`,
  );
}
