/**
 * Steering lock: the road-wheel angle of the inner and of the outer wheel at full lock.
 *
 * The rack stops at its end or earlier, where the inner knuckle meets its stop; or the angles are measured at the
 * road wheels, which is worth more than either. Angles are the wheel's heading from straight ahead in the ground
 * plane, radians, positive as magnitudes. Rack displacement + is a left turn where the rack is ahead of the axle; a
 * rack behind it turns the other way and is found so.
 */
import { found, type Outcome, refused } from '../result.ts';
import { AXIS, armAt, type Linkage, POSE_SIZE, poseOfArm, solveTurn, steerAngle } from './double-wishbone.ts';
import type { Steering } from './geometry.ts';
import { rootBetween } from './root-search.ts';

export interface SteeringLock {
  readonly inner: number;
  readonly outer: number;
  /** Magnitude of the rack's displacement at lock. */
  readonly rack: number;
  readonly endedBy: 'rack_end' | 'knuckle_stop' | 'measured';
  /** Outer angle less what the linkage gives for the measured inner one; only with both measured. */
  readonly disagreement?: number;
}

export interface MeasuredLock {
  readonly inner?: number;
  readonly outer?: number;
}

/** Lock at a wheel travel; measured angles stand in for rack end and knuckle stop. */
export function steeringLock(linkage: Linkage, steering: Steering, travel = 0, measured: MeasuredLock = {}): Outcome<SteeringLock> {
  if (measured.inner !== undefined) return fromAngle(linkage, steering, travel, 'inner', measured.inner, measured.outer);
  if (measured.outer !== undefined) return fromAngle(linkage, steering, travel, 'outer', measured.outer);
  const atEnd = anglesAt(linkage, travel, steering.rackTravel);
  const stop = steering.knuckleStopAngle;
  if (stop !== undefined && (!atEnd.ok || atEnd.value.inner > stop)) {
    const rack = rackForAngle(linkage, travel, 'inner', stop, steering.rackTravel);
    if (!rack.ok) return rack;
    const angles = anglesAt(linkage, travel, rack.value);
    return angles.ok ? found({ ...angles.value, rack: rack.value, endedBy: 'knuckle_stop' }) : angles;
  }
  return atEnd.ok ? found({ ...atEnd.value, rack: steering.rackTravel, endedBy: 'rack_end' }) : atEnd;
}

function fromAngle(
  linkage: Linkage,
  steering: Steering,
  travel: number,
  wheel: 'inner' | 'outer',
  angle: number,
  outer?: number,
): Outcome<SteeringLock> {
  // The measured lock may lie beyond what the class's rack would allow: a search half as far again is enough.
  const rack = rackForAngle(linkage, travel, wheel, angle, steering.rackTravel * 1.5);
  if (!rack.ok) return rack;
  const angles = anglesAt(linkage, travel, rack.value);
  if (!angles.ok) return angles;
  const lock = { ...angles.value, rack: rack.value, endedBy: 'measured' as const };
  if (outer === undefined) return found(lock);
  return found({ ...lock, outer, disagreement: outer - angles.value.outer });
}

interface Turned {
  readonly inner: number;
  readonly outer: number;
}

/** The inner wheel is the one on the side turned to, and turns further. */
function anglesAt(linkage: Linkage, travel: number, rack: number): Outcome<Turned> {
  const arm = armAt(linkage, travel);
  if (!arm.ok) return arm;
  const one = poseOfArm(linkage, arm.value, rack);
  if (!one.ok) return one;
  const other = poseOfArm(linkage, arm.value, -rack);
  return other.ok ? found(bothOf(steerAngle(one.value), steerAngle(other.value))) : other;
}

function turned(linkage: Linkage, arm: number, rack: number): Turned | undefined {
  const [one, other] = [headingOf(linkage, arm, rack), headingOf(linkage, arm, -rack)];
  return Number.isNaN(one + other) ? undefined : bothOf(one, other);
}

const scratch = new Float64Array(POSE_SIZE);

/** As `steerAngle`, without a pose's vectors: a lock is searched for in every moved drawing. */
function headingOf(linkage: Linkage, arm: number, rack: number): number {
  return solveTurn(linkage, arm, rack, scratch, 0) === 0 ? Math.atan2(-scratch[AXIS]!, scratch[AXIS + 1]!) : Number.NaN;
}

/** A left corner turned to the left is the inner one, whichever rack displacement did it. */
const bothOf = (a: number, b: number): Turned => (a > b ? { inner: a, outer: -b } : { inner: b, outer: -a });

function rackForAngle(linkage: Linkage, travel: number, wheel: 'inner' | 'outer', angle: number, limit: number): Outcome<number> {
  const arm = armAt(linkage, travel);
  if (!arm.ok) return arm;
  const at = (rack: number) => turned(linkage, arm.value, rack);
  const top = reachable(at, limit);
  if (!(angle > 0) || top[wheel] < angle) {
    return refused(
      `tie_rod_inner: no rack displacement up to ${Math.round(limit * 1000)} mm turns the ${wheel} wheel by ${((angle * 180) / Math.PI).toFixed(1)} deg`,
    );
  }
  return found(rootBetween((rack) => (at(rack)?.[wheel] ?? Number.NaN) - angle, 0, top.rack, undefined, top[wheel] - angle));
}

/** The furthest displacement up to the limit at which both wheels still have a pose. */
function reachable(at: (rack: number) => Turned | undefined, limit: number): { rack: number; inner: number; outer: number } {
  const all = at(limit);
  if (all) return { rack: limit, ...all };
  let best = { rack: 0, inner: 0, outer: 0 };
  for (let i = 1; i < 30; i++) {
    const here = at((limit * i) / 30);
    if (!here) break;
    best = { rack: (limit * i) / 30, ...here };
  }
  return best;
}
