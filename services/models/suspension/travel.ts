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
import { armAt, type Linkage, POSE_SIZE, solveTurn } from './double-wishbone.ts';
import type { FrontCorner } from './geometry.ts';

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
  /** Of a row of measures: positive where the wheel is free. */
  readonly margin: (row: Float64Array) => number;
}

/** Search bounds; a front wheel's whole travel is about a quarter of a metre. */
const FURTHEST = 0.4;
const STEP = 0.005;

/** Ends of travel with the rack free to be anywhere between its ends. Refused if some stop leaves no travel at all. */
export function travelEnds(linkage: Linkage, corner: FrontCorner): Outcome<TravelEnds> {
  const r = corner.steering.rackTravel;
  const bench = { linkage, fittings: prepareFittings(linkage, corner), racks: [0, -r, -r / 2, r / 2, r] };
  const grid = measureGrid(bench);
  if (!grid) return refused('wheel_centre: the linkage does not close at design travel over the whole rack; check the tie rod');
  const droop: { limit: Limit; travel: number }[] = [];
  const bump: { limit: Limit; travel: number }[] = [];
  for (const limit of [...limitsOf(corner), LINKAGE]) {
    const free = freeInterval(bench, limit, grid);
    if (!free) return refused(`${limit.name}: it leaves the wheel no travel at all; check its length or limit`);
    if (free.low !== undefined) droop.push({ limit, travel: free.low });
    if (free.high !== undefined) bump.push({ limit, travel: free.high });
  }
  const contact = bumpStopContact(bench, corner, grid);
  const [down, up] = [ordered(bench, droop, -1), ordered(bench, bump, 1)];
  const [lowest, highest] = [down[0], up[0]];
  if (lowest && highest && lowest.travel >= highest.travel) {
    return refused(`${lowest.name}, ${highest.name}: between them they leave the wheel no travel; check their lengths or limits`);
  }
  return found({
    droop: down,
    bump: up,
    ...(contact !== undefined && { bumpStopContact: contact }),
  });
}

/** What a stop has left at a travel, the least over the rack; NaN without a pose or such a stop. Metres or radians, positive where free. */
export function stopMargin(linkage: Linkage, corner: FrontCorner, name: StopName, travel: number): number {
  const r = corner.steering.rackTravel;
  const rows = measuresAt({ linkage, fittings: prepareFittings(linkage, corner), racks: [0, -r, -r / 2, r / 2, r] }, travel);
  const limit = limitsOf(corner).find((l) => l.name === name);
  return rows && limit ? least(limit, rows) : Number.NaN;
}

/** Where the wheel hangs: the first stop met in droop, the hose left out, which is not meant to hold a wheel. */
export function hangingTravel(ends: TravelEnds): number | undefined {
  return ends.droop.find((s) => s.name !== 'brake_hose')?.travel;
}

/** Where it would hang if what stops it in droop were missing or broken: the next stop, the hose left out, which this is asked for. */
export function nextDroop(ends: TravelEnds): number | undefined {
  return ends.droop.filter((s) => s.name !== 'brake_hose')[1]?.travel;
}

const LINKAGE: Limit = { name: 'linkage', measure: 'length', margin: () => 1 };

function limitsOf(corner: FrontCorner): Limit[] {
  const { coilOver, bumpStop, halfShaft, brakeHose, antiRollBar, upperBallJointLimit, lowerBallJointLimit } = corner;
  const limits: Limit[] = [];
  const add = (name: StopName, measure: Limit['measure'], margin: Limit['margin']) => limits.push({ name, measure, margin });
  add('damper_extended', 'length', (m) => coilOver.extended - m[COIL_OVER]!);
  add('damper_collapsed', 'length', (m) => m[COIL_OVER]! - coilOver.collapsed);
  const bind = coilOver.coilBindLength;
  if (bind !== undefined) add('coil_bind', 'length', (m) => m[COIL_OVER]! - bind);
  if (bumpStop) add('bump_stop_solid', 'length', (m) => m[COIL_OVER]! - bumpStop.solidLength);
  if (upperBallJointLimit) add('upper_ball_joint', 'angle', (m) => upperBallJointLimit.swingLimit - m[UPPER_SWING]!);
  if (lowerBallJointLimit) add('lower_ball_joint', 'angle', (m) => lowerBallJointLimit.swingLimit - m[LOWER_SWING]!);
  if (halfShaft) {
    add('halfshaft_inner', 'angle', (m) => halfShaft.innerMaxAngle - m[SHAFT_INNER]!);
    add('halfshaft_outer', 'angle', (m) => halfShaft.outerMaxAngle - m[SHAFT_OUTER]!);
    add('halfshaft_plunge', 'length', (m) => halfShaft.plungeEachWay - Math.abs(m[SHAFT_PLUNGE]!));
  }
  if (brakeHose) add('brake_hose', 'length', (m) => brakeHose.freeLength - m[HOSE_SPAN]!);
  if (antiRollBar) add('anti_roll_link', 'angle', (m) => Math.min(m[LINK_TO_ARM]!, Math.PI - m[LINK_TO_ARM]!));
  return limits;
}

/** The linkage with the rack displacements at which every stop is looked at. */
interface Bench {
  readonly linkage: Linkage;
  readonly fittings: Fittings;
  readonly racks: readonly number[];
}

interface GridRow {
  readonly travel: number;
  /** A row of measures for each rack displacement. */
  readonly rows: readonly Float64Array[];
}

/** Outward from design until some rack displacement has no pose; undefined if design itself has none. */
function measureGrid(bench: Bench): GridRow[] | undefined {
  const middle = measuresAt(bench, 0);
  if (!middle) return undefined;
  const grid: GridRow[] = [{ travel: 0, rows: middle }];
  for (const sign of [-1, 1]) {
    for (let i = 1; i * STEP <= FURTHEST; i++) {
      const rows = measuresAt(bench, sign * i * STEP);
      if (!rows) break;
      grid.push({ travel: sign * i * STEP, rows });
    }
  }
  return grid.sort((a, b) => a.travel - b.travel);
}

function measuresAt(bench: Bench, travel: number): Float64Array[] | undefined {
  const arm = armAt(bench.linkage, travel);
  if (!arm.ok) return undefined;
  const raw = new Float64Array(POSE_SIZE);
  const rows: Float64Array[] = [];
  for (const rack of bench.racks) {
    if (solveTurn(bench.linkage, arm.value, rack, raw, 0)) return undefined;
    const row = new Float64Array(MEASURES);
    measureFittings(bench.fittings, raw, 0, row, 0);
    rows.push(row);
  }
  return rows;
}

/** Over the rack's range; −Infinity where a half-shaft or a link does not reach. */
function least(limit: Limit, rows: readonly Float64Array[]): number {
  let worst = Number.POSITIVE_INFINITY;
  for (const row of rows) {
    const margin = limit.margin(row);
    worst = Math.min(worst, Number.isNaN(margin) ? Number.NEGATIVE_INFINITY : margin);
  }
  return worst;
}

/** The run of travel round the position nearest design in which the limit has something left. */
function freeInterval(bench: Bench, limit: Limit, grid: readonly GridRow[]): { low?: number; high?: number } | undefined {
  const free = grid.map((row) => least(limit, row.rows) >= 0);
  let start = -1;
  for (let i = 0; i < grid.length; i++) {
    if (free[i] && (start < 0 || Math.abs(grid[i]!.travel) < Math.abs(grid[start]!.travel))) start = i;
  }
  if (start < 0) return undefined;
  const end = (direction: 1 | -1): number | undefined => {
    let i = start;
    while (free[i + direction]) i += direction;
    const inside = grid[i]!.travel;
    const outside = inside + direction * STEP;
    // The linkage's own end is its own stop; another stop that is still free there does not end the travel.
    if (grid[i + direction] === undefined && limit !== LINKAGE) return undefined;
    if (Math.abs(outside) > FURTHEST + STEP / 2) return undefined;
    return crossing(bench, limit, inside, outside);
  };
  const low = end(-1);
  const high = end(1);
  return { ...(low !== undefined && { low }), ...(high !== undefined && { high }) };
}

function crossing(bench: Bench, limit: Limit, inside: number, outside: number): number {
  let a = inside;
  let b = outside;
  for (let i = 0; i < 36; i++) {
    const middle = (a + b) / 2;
    const rows = measuresAt(bench, middle);
    if (rows && least(limit, rows) >= 0) a = middle;
    else b = middle;
  }
  return a;
}

function ordered(bench: Bench, stops: { limit: Limit; travel: number }[], sign: 1 | -1): Stop[] {
  const inOrder = [...stops].sort((a, b) => sign * (a.travel - b.travel));
  const first = inOrder[0]?.travel ?? 0;
  const rows = measuresAt(bench, first) ?? [];
  return inOrder.map(({ limit, travel }) => ({
    name: limit.name,
    travel,
    travelInHand: Math.abs(travel - first),
    marginInHand: limit === LINKAGE ? Math.abs(travel - first) : Math.max(0, least(limit, rows)),
    measure: limit.measure,
  }));
}

function bumpStopContact(bench: Bench, corner: FrontCorner, grid: readonly GridRow[]): number | undefined {
  const stop = corner.bumpStop;
  if (!stop) return undefined;
  const touched: Limit = { name: 'bump_stop_solid', measure: 'length', margin: (m) => m[COIL_OVER]! - stop.contactLength };
  return freeInterval(bench, touched, grid)?.high;
}
