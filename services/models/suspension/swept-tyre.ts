/**
 * The least gap between the tyre and each obstacle over travel × steering, and where it is.
 *
 * `gap-search.ts` finds the least distance of each piece; here are gaps and contacts. Gaps are signed: negative is how deep the obstacle's nearest point
 * would lie in the tyre. The left corner is computed; the right one is its mirror with the rack the other way round.
 * Obstacles are given as at design in the frame they ride on; places and normals are answered in that same frame.
 */
import { found, type Outcome, refused } from '../result.ts';
import { prepareBar, prepareCoil } from './attachments.ts';
import { type Linkage, POSE_SIZE, solveTurn, TURNS } from './double-wishbone.ts';
import { type Cell, distanceAt, type Lowest, lowCells, nowhere, type SweptTyre, sampledDistances, searchFrom } from './gap-search.ts';
import type { AntiRollBar, CoilOver, FrameName, Obstacle, Sweep } from './geometry.ts';
import { asVectors, nearest, type Shape, samplePoints, shapesOf } from './obstacle-shapes.ts';
import { nearestCell, type PoseGrid, positionOf, solveGrid, tyrePlace, type WheelPosition } from './pose-grid.ts';
import { makeProfile, type TyreShape, tyreNormal } from './tyre-shape.ts';
import { addScaled, dot, type Vec3 } from './vector.ts';

export interface SweepRequest {
  readonly linkage: Linkage;
  readonly tyre: TyreShape;
  readonly sweep: Sweep;
  /** Tyre's mid-plane against the hardpoints' wheel centre, + outboard: a lesser wheel offset or a spacer. */
  readonly outwardShift?: number;
  readonly bodyLift?: number;
  readonly antiRollBar?: AntiRollBar;
  readonly coilOver?: Pick<CoilOver, 'lower' | 'upper'>;
  /** Grid; 41 × 31 unless said. */
  readonly travels?: number;
  readonly racks?: number;
}

export interface Contact extends WheelPosition {
  readonly obstacle: string;
  readonly frame: FrameName;
  readonly flexible: boolean;
  readonly gap: number;
  /** Other positions of the wheel with hardly more, the least first: at other inputs one of them may have the least. */
  readonly rivals: readonly WheelPosition[];
  /** On the obstacle's surface, in its frame, coordinates as at design. */
  readonly at: Vec3;
  /** Unit, in its frame: the way the obstacle must go to gain room. */
  readonly normal: Vec3;
  /** Angle of that way out of the wheel's centre plane, + outboard: 0 on the flat of the tread, a right angle on the wall. */
  readonly outOfPlane: number;
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
    ...(request.coilOver && { coil: prepareCoil(request.linkage, request.coilOver) }),
  });
}

/** Distance between sample points along an obstacle. */
const SPACING = 0.02;

/** For each obstacle, the least gap of its sample points at every pose of the grid: an upper bound on the gap there. */
export function sampledGaps(swept: SweptTyre, obstacles: readonly Obstacle[]): Outcome<readonly Float64Array[]> {
  const sets = obstacles.map((o) => ({ frame: o.frame, points: samplePoints(shapesOf(o), SPACING) }));
  const fields = sampledDistances(swept, sets);
  return fields.ok ? found(fields.value.map((field, i) => field.map((d) => d - obstacles[i]!.radius))) : fields;
}

/** One contact for each obstacle, in order, for the left corner. */
export function leastGapsLeft(swept: SweptTyre, obstacles: readonly Obstacle[]): Outcome<readonly Contact[]> {
  const pieces = obstacles.map(shapesOf);
  const empty = obstacles.find((_, i) => pieces[i]!.length === 0);
  if (empty) return refused(`${empty.id}: it has no points`);
  const sets = obstacles.flatMap((o, i) => pieces[i]!.map((shape) => ({ frame: o.frame, points: samplePoints([shape], SPACING) })));
  const fields = sampledDistances(swept, sets);
  if (!fields.ok) return fields;
  const contacts: Contact[] = [];
  let next = 0;
  for (let i = 0; i < obstacles.length; i++) {
    const own = fields.value.slice(next, next + pieces[i]!.length);
    next += pieces[i]!.length;
    const contact = leastContact(swept, obstacles[i]!, pieces[i]!, own);
    if (!contact.ok) return contact;
    contacts.push(contact.value);
  }
  return found(contacts);
}

/**
 * How far below what a piece has at a pose of the grid a valley's true lowest point may lie: a step of the rack moves the
 * tread by some 16 mm and one of travel by 5, and the lowest point is within a step of the grid each way.
 */
const COARSENESS = 0.02;

function leastContact(swept: SweptTyre, o: Obstacle, pieces: readonly Shape[], fields: readonly Float64Array[]): Outcome<Contact> {
  const starts = fields.flatMap((field, n) =>
    lowCells(swept.grid, field).map((cell) => ({ shape: pieces[n]!, cell, distance: distanceAt(swept, o.frame, pieces[n]!, cell) })),
  );
  starts.sort((a, b) => a.distance - b.distance);
  let best: { readonly lowest: Lowest; readonly shape: Shape } | undefined;
  for (const { shape, cell, distance } of starts) {
    if (best && distance - COARSENESS > best.lowest.distance) break;
    const lowest = searchFrom(swept, o.frame, shape, cell);
    if (!best || lowest.distance < best.lowest.distance) best = { lowest, shape };
  }
  if (!best) return refused(`${o.id}: no position to measure at`);
  const contact = contactAt(swept, o, best.shape, best.lowest);
  return contact.ok ? found({ ...contact.value, rivals: rivalsOf(swept.grid, starts, contact.value) }) : contact;
}

/** How much more a rival may have: what tolerances and another tyre move two valleys of one obstacle against each other. */
const RIVAL = 0.01;
const MOST_RIVALS = 4;
/** Steps of the grid between valleys that are told apart. */
const APART = 3;

/** Low positions far from the lowest and from each other. */
function rivalsOf(
  grid: PoseGrid,
  starts: readonly { readonly cell: Cell; readonly distance: number }[],
  contact: Contact,
): WheelPosition[] {
  const at: { readonly i: number; readonly j: number }[] = [nearestCell(grid, contact)];
  const least = starts[0]?.distance ?? Number.POSITIVE_INFINITY;
  for (const { cell, distance } of starts) {
    if (distance > least + RIVAL || at.length > MOST_RIVALS) break;
    if (at.every(({ i, j }) => Math.abs(i - cell.i) >= APART || Math.abs(j - cell.j) >= APART)) at.push(cell);
  }
  return at.slice(1).map(({ i, j }) => positionOf(grid, i, j));
}

function contactAt(swept: SweptTyre, o: Obstacle, shape: Shape, { arm, rack }: Lowest): Outcome<Contact> {
  const raw = new Float64Array(POSE_SIZE);
  const centred = solveTurn(swept.linkage, arm, 0, raw, 0);
  const travel = raw[TURNS + 6]!;
  if (centred || solveTurn(swept.linkage, arm, rack, raw, 0)) return refused(`${o.id}: no pose where its gap is least`);
  const place = new Float64Array(6);
  if (!tyrePlace(swept, raw, 0, o.frame, place)) return nowhere(o.frame);
  const { centre, axis } = asVectors(place);
  const { distance, point } = nearest(swept.profile, centre, axis, shape);
  const normal = tyreNormal(swept.profile, centre, axis, point);
  const at = addScaled(point, normal, -o.radius);
  const outOfPlane = Math.asin(Math.max(-1, Math.min(1, dot(normal, axis))));
  const gap = distance - o.radius;
  return found({
    obstacle: o.id,
    frame: o.frame,
    flexible: o.flexible,
    gap,
    travel,
    rack,
    at,
    normal,
    outOfPlane,
    rivals: [],
  });
}
