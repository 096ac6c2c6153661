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
import { asVectors, movedObstacle, nearest, type Shape, samplePoints, shapesOf } from './obstacle-shapes.ts';
import { type PoseGrid, type Surroundings, solveGrid, tyrePlace } from './pose-grid.ts';
import { leastDistance, makeProfile, type Profile, type TyreShape, tyreNormal } from './tyre-shape.ts';
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

/** How much more than the least a neighbourhood of the grid may show and still be searched: samples and steps are coarse. */
const KEPT = 0.03;
const MOST_SEARCHED = 6;

function refine(swept: SweptTyre, obstacle: Obstacle, field: Float64Array): Outcome<Contact> {
  const { sweep, racks, arms } = swept.grid;
  let best: Contact | undefined;
  for (const { i, j } of lowCells(swept.grid, field)) {
    const rack = racks > 1 ? sweep.rackRight + ((sweep.rackLeft - sweep.rackRight) * j) / (racks - 1) : sweep.rackRight;
    const lowest = searchAbout(swept, obstacle, arms[i]!, rack);
    if (!lowest.ok) return lowest;
    if (!best || lowest.value.gap < best.gap) best = lowest.value;
  }
  return best ? found(best) : refused(`${obstacle.id}: no position to measure at`);
}

/** A valley may run on past the window, aslant: the window then follows it, as long as the gap gets less. */
function searchAbout(swept: SweptTyre, obstacle: Obstacle, arm: number, rack: number): Outcome<Contact> {
  let here = searchWindow(swept, obstacle, arm, rack);
  let window = windowAbout(swept.grid, arm, rack);
  for (let i = 0; i < 20 && here.ok && stopsShort(swept.grid, window, here.value); i++) {
    window = windowAbout(swept.grid, here.value.arm, here.value.contact.rack);
    const next = searchWindow(swept, obstacle, here.value.arm, here.value.contact.rack);
    if (next.ok && next.value.contact.gap > here.value.contact.gap - 1e-9) break;
    here = next;
  }
  return here.ok ? found(here.value.contact) : here;
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

/** At an edge of the window that is no end of the sweep. */
function stopsShort(grid: PoseGrid, w: Window, { arm, contact }: Lowest): boolean {
  const { sweep, travels, arms } = grid;
  const at = (x: number, edge: number, width: number, end: number) =>
    Math.abs(x - edge) < 0.01 * width && Math.abs(edge - end) > 1e-9 * width;
  const [height, width] = [w.armHigh - w.armLow, w.rackHigh - w.rackLow];
  return (
    at(arm, w.armLow, height, arms[0]!) ||
    at(arm, w.armHigh, height, arms[travels - 1]!) ||
    at(contact.rack, w.rackLow, width, sweep.rackRight) ||
    at(contact.rack, w.rackHigh, width, sweep.rackLeft)
  );
}

interface Lowest {
  readonly contact: Contact;
  /** Half-turn tangent of the lower arm there. */
  readonly arm: number;
}

/**
 * Each piece of the obstacle that could be the nearest within a grid step of a position is searched by itself: the
 * least of several has several valleys. Pieces further away than the tyre moves within the window are left out.
 */
function searchWindow(swept: SweptTyre, obstacle: Obstacle, arm: number, rack: number): Outcome<Lowest> {
  const window = windowAbout(swept.grid, arm, rack);
  const middle = placeAt(swept, obstacle.frame, arm, rack);
  const reach = reachOf(swept, obstacle.frame, window, middle);
  if (!middle || reach === undefined) return nowhere(obstacle.frame);
  const pieces = shapesOf(obstacle).map((shape) => ({ shape, gap: nearest(swept.profile, middle, [shape]).distance }));
  pieces.sort((a, b) => a.gap - b.gap);
  let best: Lowest | undefined;
  for (const { shape, gap } of pieces) {
    if (best && gap - reach > best.contact.gap + obstacle.radius) break;
    const lowest = searchPiece(swept, obstacle, shape, window);
    if (!lowest.ok) return lowest;
    if (!best || lowest.value.contact.gap < best.contact.gap) best = lowest.value;
  }
  return best ? found(best) : refused(`${obstacle.id}: it has no points`);
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

interface Window {
  readonly armLow: number;
  readonly armHigh: number;
  readonly rackLow: number;
  readonly rackHigh: number;
}

function placeAt(swept: SweptTyre, frame: FrameName, arm: number, rack: number): Float64Array | undefined {
  const raw = new Float64Array(POSE_SIZE);
  const place = new Float64Array(6);
  if (solveTurn(swept.linkage, arm, rack, raw, 0)) return undefined;
  return tyrePlace(swept, raw, 0, frame, place) ? place : undefined;
}

/** How far any point of the tyre moves from the middle of the window to its corners, and a fifth more for its edges. */
function reachOf(swept: SweptTyre, frame: FrameName, w: Window, middle: Float64Array | undefined): number | undefined {
  const { top, belly, round } = swept.profile;
  let most = 0;
  for (const arm of [w.armLow, w.armHigh]) {
    for (const rack of [w.rackLow, w.rackHigh]) {
      const place = placeAt(swept, frame, arm, rack);
      if (!place || !middle) return undefined;
      const [a, b] = [asVectors(place), asVectors(middle)];
      most = Math.max(most, distance(a.centre, b.centre) + distance(a.axis, b.axis) * (top + belly + round));
    }
  }
  return 1.2 * most;
}

/** Line searches one inside the other: over the rack, and for each rack over the arm's turn. Sound where the gap has a kink. */
function searchPiece(swept: SweptTyre, obstacle: Obstacle, shape: Shape, w: Window): Outcome<Lowest> {
  const raw = new Float64Array(POSE_SIZE);
  const place = new Float64Array(6);
  const shapes = [shape];
  const at = (arm: number, r: number): number => {
    if (solveTurn(swept.linkage, arm, r, raw, 0)) return Number.POSITIVE_INFINITY;
    return tyrePlace(swept, raw, 0, obstacle.frame, place) ? nearest(swept.profile, place, shapes).distance : Number.POSITIVE_INFINITY;
  };
  const inner = (r: number) => minimise((arm) => at(arm, r), w.armLow, w.armHigh);
  const best = minimise((r) => inner(r).value, w.rackLow, w.rackHigh);
  const arm = inner(best.at).at;
  const contact = contactAt(swept, obstacle, shapes, arm, best.at, raw);
  return contact.ok ? found({ contact: contact.value, arm }) : contact;
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
