/**
 * What ends the wheel's travel each way, in which order, and what the others then have in hand.
 *
 * Every stop is a margin that is positive where the wheel is free: damper fully out and fully in, coils touching, the
 * frame's bump stop compressed solid (touching it is not the end: see `bumpStopContact`), the swing of either ball
 * joint, angle and plunge of the half-shaft, the brake hose taut, and the linkage itself. A stop that steering touches
 * too (half-shaft, hose, joints) is taken at the worst rack displacement. Rigid parts; a straight hose (see `hose.ts`
 * for a route). Travel is + in bump, metres, from the design position: of the arms, as wheel-centre travel with the
 * rack centred (`steeredPose`).
 */
import { found, type Outcome, refused } from '../result.ts';
import {
  COIL_OVER,
  type Fittings,
  HOSE_SPAN,
  LINK_TO_ARM,
  LOWER_SWING,
  MEASURES,
  measureFittings,
  prepareFittings,
  SHAFT_INNER,
  SHAFT_OUTER,
  SHAFT_PLUNGE,
  UPPER_SWING,
} from './attachments.ts';
import { armAt, type Linkage, POSE_SIZE, poseOfArm, solveTurn, TURNS } from './double-wishbone.ts';
import type { FrontCorner } from './geometry.ts';
import { rootBetween } from './root-search.ts';

export type StopName =
  | 'damper_extended'
  | 'damper_collapsed'
  | 'coil_bind'
  | 'bump_stop_solid'
  | 'upper_ball_joint'
  | 'lower_ball_joint'
  | 'halfshaft_inner'
  | 'halfshaft_outer'
  | 'halfshaft_plunge'
  | 'brake_hose'
  | 'anti_roll_link'
  | 'linkage';

export interface Stop {
  readonly name: StopName;
  /** Wheel travel at which this stop alone would end it. */
  readonly travel: number;
  /** How much further the wheel could go after the first stop before this one; 0 for the first. */
  readonly travelInHand: number;
  /** What is left of it with the wheel at the first stop: metres, or radians for an angle. */
  readonly marginInHand: number;
  readonly measure: 'length' | 'angle';
}

export interface TravelEnds {
  /** In the order in which they would be met. */
  readonly droop: readonly Stop[];
  readonly bump: readonly Stop[];
  /** Travel at which the bump stop is first touched; from there to `bump_stop_solid` it is compressed. */
  readonly bumpStopContact?: number;
}

interface Limit {
  readonly name: StopName;
  readonly measure: 'length' | 'angle';
  /** Steering moves it; the others follow the arms alone. */
  readonly steered: boolean;
  /** Of a row of measures: positive where the wheel is free. */
  readonly margin: (row: Float64Array) => number;
}

/** Search bounds; a front wheel's whole travel is about a quarter of a metre. */
const FURTHEST = 0.4;
const STEP = 0.005;

/** A linkage with what hangs on it, set up to be asked at one travel after another; measures are kept for those asked for. */
export interface Bench {
  readonly linkage: Linkage;
  readonly corner: FrontCorner;
  readonly fittings: Fittings;
  readonly limits: readonly Limit[];
  /** Displacements of the rack at which every steered stop is looked at, the middle first. */
  readonly racks: readonly number[];
  readonly known: Map<number, Rows>;
  /** No two benches have the same. */
  readonly id: number;
}

let benches = 0;

interface Rows {
  /** With the rack centred; undefined without a pose. */
  readonly centred: Float64Array | undefined;
  /** Over the rack's range; undefined where one of them has no pose. */
  all?: readonly Float64Array[] | undefined;
}

export function makeBench(linkage: Linkage, corner: FrontCorner): Bench {
  const r = corner.steering.rackTravel;
  const racks = [0, -r, -r / 2, r / 2, r];
  return { linkage, corner, fittings: prepareFittings(linkage, corner), limits: limitsOf(corner), racks, known: new Map(), id: benches++ };
}

/** Ends of travel with the rack free to be anywhere between its ends. Refused if some stop leaves no travel at all. */
export function travelEnds(bench: Bench): Outcome<TravelEnds> {
  const grid = measureGrid(bench);
  if (!grid) return whyNotAtDesign(bench);
  const droop: { limit: Limit; travel: number }[] = [];
  const bump: { limit: Limit; travel: number }[] = [];
  for (const limit of [...bench.limits, LINKAGE]) {
    const free = freeInterval(bench, limit, grid);
    if (!free) return refused(`${limit.name}: it leaves the wheel no travel at all; check its length or limit`);
    if (free.low !== undefined) droop.push({ limit, travel: free.low });
    if (free.high !== undefined) bump.push({ limit, travel: free.high });
  }
  const [down, up] = [ordered(bench, droop, -1), ordered(bench, bump, 1)];
  const [lowest, highest] = [down[0], up[0]];
  if (lowest && highest && lowest.travel >= highest.travel) {
    return refused(`${lowest.name}, ${highest.name}: between them they leave the wheel no travel; check their lengths or limits`);
  }
  const stop = bench.corner.bumpStop;
  const contact = stop && travelAtLength(bench, stop.contactLength);
  return found({ droop: down, bump: up, ...(contact !== undefined && { bumpStopContact: contact }) });
}

/** Names the point that does not reach, at the rack displacement at which it does not. */
function whyNotAtDesign({ linkage, racks }: Bench): Outcome<never> {
  const arm = armAt(linkage, 0);
  if (!arm.ok) return arm;
  for (const rack of racks) {
    const pose = poseOfArm(linkage, arm.value, rack);
    if (!pose.ok) return refused(`${pose.reason}, which is within its travel; check both ends of the tie rod and rack_travel`);
  }
  return refused('wheel_centre: the linkage does not close at design travel');
}

/** What a stop has left at a travel, the least over the rack; NaN without a pose or such a stop. Metres or radians, positive where free. */
export function stopMargin(bench: Bench, name: StopName, travel: number): number {
  const limit = bench.limits.find((one) => one.name === name);
  const margin = limit && marginAt(bench, limit, travel);
  return margin ?? Number.NaN;
}

/** Where the wheel hangs and where it is hard up: on what is there to stop it. */
export interface Range {
  readonly droop: number;
  readonly bump: number;
  /** Travel at which the bump stop is first touched; from there to `bump` it is compressed. */
  readonly bumpStopContact?: number;
}

/**
 * The range that damper and bump stop leave, exactly: the damper's length fully out, and the stop compressed solid (coils
 * or damper where there is no stop). A joint, a shaft or a hose that binds within it is no stop but a fault, and is
 * measured there (`stopMargin`): hung on it, everything else would look the better for it.
 */
export function travelRange(bench: Bench): Outcome<Range> {
  const { coilOver, bumpStop } = bench.corner;
  if (!(coilOver.upper[2] > coilOver.lower[2])) return refused('coil_over_upper: it does not lie above coil_over_lower; check z of both');
  const droop = travelAtLength(bench, coilOver.extended) ?? linkageEnd(bench, -1);
  const solid = bumpStop?.solidLength ?? Math.max(coilOver.collapsed, coilOver.coilBindLength ?? 0);
  const bump = travelAtLength(bench, solid) ?? linkageEnd(bench, 1);
  if (droop === undefined || bump === undefined)
    return refused('wheel_centre: the linkage does not close at design travel; check the lengths of its links');
  if (!(droop < bump)) return refused('coil_over_extended: fully out it is shorter than with the bump stop solid; check its lengths');
  const contact = bumpStop && travelAtLength(bench, bumpStop.contactLength);
  return found({ droop, bump, ...(contact !== undefined && { bumpStopContact: Math.min(contact, bump) }) });
}

/** Travel at which the coil-over has that length; undefined where the linkage ends before. */
export function travelAtLength(bench: Bench, length: number): number | undefined {
  return travelOfCoilOver(bench.linkage, bench.fittings, length);
}

/**
 * Its lower end turns about the lower arm's axis, so the square of its length is a constant and one harmonic of that turn,
 * and the turn follows directly: the one on the side of the longest that design is on.
 */
export function travelOfCoilOver(
  linkage: Linkage,
  { coilOverLower: p, coilOverUpper }: Pick<Fittings, 'coilOverLower' | 'coilOverUpper'>,
  length: number,
): number | undefined {
  const [x, y, z] = [p[0] - coilOverUpper[0], p[1] - coilOverUpper[1], p[2] - coilOverUpper[2]];
  const a = 2 * (x * p[3] + y * p[4] + z * p[5]);
  const b = 2 * (x * p[6] + y * p[7] + z * p[8]);
  const k = length * length - (x * x + y * y + z * z) - (p[3] * p[3] + p[4] * p[4] + p[5] * p[5]);
  const share = k / Math.sqrt(a * a + b * b);
  if (!(Math.abs(share) <= 1)) return undefined;
  const turn = Math.atan2(b, a) - Math.sign(b) * Math.acos(share);
  const raw = new Float64Array(POSE_SIZE);
  return solveTurn(linkage, Math.tan(turn / 2), 0, raw, 0) === 0 ? raw[TURNS + 6] : undefined;
}

/** The last travel that way at which the links still close, rack centred. */
function linkageEnd({ linkage }: Bench, sign: 1 | -1): number | undefined {
  const closes = (travel: number): boolean => armAt(linkage, travel).ok;
  if (!closes(0)) return undefined;
  let [inside, outside] = [0, sign * FURTHEST];
  if (closes(outside)) return outside;
  while (Math.abs(outside - inside) > 1e-12) {
    const middle = (inside + outside) / 2;
    if (closes(middle)) inside = middle;
    else outside = middle;
  }
  return inside;
}

/** What would hold the wheel in droop with its damper missing or broken, the first first; the hose left out, which this is asked for. */
export function nextInDroop(ends: TravelEnds): readonly Stop[] {
  return ends.droop.filter(({ name }) => name !== 'brake_hose' && name !== 'damper_extended');
}

/** What would hold it if every stop but the last were missing, the hose left out. */
export function lastInDroop(ends: TravelEnds): readonly Stop[] {
  return ends.droop.filter(({ name }) => name !== 'brake_hose').slice(-1);
}

const LINKAGE: Limit = { name: 'linkage', measure: 'length', steered: true, margin: () => 1 };

function limitsOf(corner: FrontCorner): Limit[] {
  const { coilOver, bumpStop, halfShaft, brakeHose, antiRollBar, upperBallJointLimit, lowerBallJointLimit } = corner;
  const limits: Limit[] = [];
  const add = (name: StopName, measure: Limit['measure'], margin: Limit['margin'], steered = false) =>
    limits.push({ name, measure, steered, margin });
  add('damper_extended', 'length', (m) => coilOver.extended - m[COIL_OVER]!);
  add('damper_collapsed', 'length', (m) => m[COIL_OVER]! - coilOver.collapsed);
  const bind = coilOver.coilBindLength;
  if (bind !== undefined) add('coil_bind', 'length', (m) => m[COIL_OVER]! - bind);
  if (bumpStop) add('bump_stop_solid', 'length', (m) => m[COIL_OVER]! - bumpStop.solidLength);
  if (upperBallJointLimit) add('upper_ball_joint', 'angle', (m) => upperBallJointLimit.swingLimit - m[UPPER_SWING]!);
  if (lowerBallJointLimit) add('lower_ball_joint', 'angle', (m) => lowerBallJointLimit.swingLimit - m[LOWER_SWING]!);
  if (halfShaft) {
    add('halfshaft_inner', 'angle', (m) => halfShaft.innerMaxAngle - m[SHAFT_INNER]!, true);
    add('halfshaft_outer', 'angle', (m) => halfShaft.outerMaxAngle - m[SHAFT_OUTER]!, true);
    add('halfshaft_plunge', 'length', (m) => halfShaft.plungeEachWay - Math.abs(m[SHAFT_PLUNGE]!), true);
  }
  if (brakeHose) add('brake_hose', 'length', (m) => brakeHose.freeLength - m[HOSE_SPAN]!, true);
  if (antiRollBar) add('anti_roll_link', 'angle', (m) => Math.min(m[LINK_TO_ARM]!, Math.PI - m[LINK_TO_ARM]!));
  return limits;
}

/** Travels whose measures are kept; few are asked for again. */
const MOST_KEPT = 24;

function rowsAt(bench: Bench, travel: number): Rows {
  const known = bench.known.get(travel);
  if (known) return known;
  if (bench.known.size >= MOST_KEPT) bench.known.clear();
  const rows: Rows = { centred: measure(bench, travel, [0])?.[0] };
  bench.known.set(travel, rows);
  return rows;
}

function allRowsAt(bench: Bench, travel: number): readonly Float64Array[] | undefined {
  const rows = rowsAt(bench, travel);
  if (!('all' in rows)) rows.all = rows.centred && measure(bench, travel, bench.racks);
  return rows.all;
}

function measure({ linkage, fittings }: Bench, travel: number, racks: readonly number[]): Float64Array[] | undefined {
  const arm = armAt(linkage, travel);
  if (!arm.ok) return undefined;
  const raw = new Float64Array(POSE_SIZE);
  const rows: Float64Array[] = [];
  for (const rack of racks) {
    if (solveTurn(linkage, arm.value, rack, raw, 0)) return undefined;
    const row = new Float64Array(MEASURES);
    measureFittings(fittings, raw, 0, row, 0);
    rows.push(row);
  }
  return rows;
}

/** Undefined without a pose. */
function marginAt(bench: Bench, limit: Limit, travel: number): number | undefined {
  if (limit.steered) {
    const rows = allRowsAt(bench, travel);
    return rows && least(limit, rows);
  }
  const { centred } = rowsAt(bench, travel);
  return centred && orShut(limit.margin(centred));
}

/** A half-shaft or a link that does not reach leaves nothing. */
const orShut = (margin: number): number => (Number.isNaN(margin) ? Number.NEGATIVE_INFINITY : margin);

function least(limit: Limit, rows: readonly Float64Array[]): number {
  let worst = Number.POSITIVE_INFINITY;
  for (const row of rows) worst = Math.min(worst, orShut(limit.margin(row)));
  return worst;
}

interface GridRow {
  readonly travel: number;
  /** A row of measures for each rack displacement. */
  readonly rows: readonly Float64Array[];
}

/** Outward from design until some rack displacement has no pose; undefined if design itself has none. */
function measureGrid(bench: Bench): GridRow[] | undefined {
  const middle = measure(bench, 0, bench.racks);
  if (!middle) return undefined;
  const grid: GridRow[] = [{ travel: 0, rows: middle }];
  for (const sign of [-1, 1]) {
    for (let i = 1; i * STEP <= FURTHEST; i++) {
      const rows = measure(bench, sign * i * STEP, bench.racks);
      if (!rows) break;
      grid.push({ travel: sign * i * STEP, rows });
    }
  }
  return grid.sort((a, b) => a.travel - b.travel);
}

/** The run of travel round the position nearest design in which the limit has something left. */
function freeInterval(bench: Bench, limit: Limit, grid: readonly GridRow[]): { low?: number; high?: number } | undefined {
  const margins = grid.map((row) => least(limit, row.rows));
  let start = -1;
  for (let i = 0; i < grid.length; i++) {
    if (margins[i]! >= 0 && (start < 0 || Math.abs(grid[i]!.travel) < Math.abs(grid[start]!.travel))) start = i;
  }
  if (start < 0) return undefined;
  const end = (direction: 1 | -1): number | undefined => {
    let i = start;
    while (margins[i + direction]! >= 0) i += direction;
    const inside = grid[i]!.travel;
    const outside = inside + direction * STEP;
    // The linkage's own end is its own stop; another stop that is still free there does not end the travel.
    if (grid[i + direction] === undefined && limit !== LINKAGE) return undefined;
    if (Math.abs(outside) > FURTHEST + STEP / 2) return undefined;
    return rootBetween((travel) => marginOrShut(bench, limit, travel), inside, outside, margins[i]!, margins[i + direction]);
  };
  const low = end(-1);
  const high = end(1);
  return { ...(low !== undefined && { low }), ...(high !== undefined && { high }) };
}

function marginOrShut(bench: Bench, limit: Limit, travel: number): number {
  const rows = measure(bench, travel, limit.steered ? bench.racks : [0]);
  return rows ? least(limit, rows) : Number.NEGATIVE_INFINITY;
}

function ordered(bench: Bench, stops: { limit: Limit; travel: number }[], sign: 1 | -1): Stop[] {
  const inOrder = [...stops].sort((a, b) => sign * (a.travel - b.travel));
  const first = inOrder[0]?.travel ?? 0;
  const rows = measure(bench, first, bench.racks) ?? [];
  return inOrder.map(({ limit, travel }) => ({
    name: limit.name,
    travel,
    travelInHand: Math.abs(travel - first),
    marginInHand: limit === LINKAGE ? Math.abs(travel - first) : Math.max(0, least(limit, rows)),
    measure: limit.measure,
  }));
}
