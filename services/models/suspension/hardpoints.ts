/** Checks of a left corner's hardpoints before they are solved: each fault names its point, what is wrong and the fix. */
import type { Hardpoints } from './geometry.ts';
import { cross, distance, dot, length, subtract, unit, type Vec3 } from './vector.ts';

export interface HardpointFault {
  /** As it is called in the data: `upper_ball_joint`. */
  readonly point: string;
  readonly problem: string;
  readonly fix: string;
}

const NAMES: Readonly<Record<keyof Hardpoints, string>> = {
  lowerArmFrontBush: 'lower_arm_front_bush',
  lowerArmRearBush: 'lower_arm_rear_bush',
  lowerBallJoint: 'lower_ball_joint',
  upperArmFrontBush: 'upper_arm_front_bush',
  upperArmRearBush: 'upper_arm_rear_bush',
  upperBallJoint: 'upper_ball_joint',
  tieRodInner: 'tie_rod_inner',
  tieRodOuter: 'tie_rod_outer',
  wheelCentre: 'wheel_centre',
  wheelAxis: 'wheel_axis',
};

/** No road vehicle's front corner reaches further than this from the origin, so a larger number is in another unit. */
const FURTHEST = 6;
/** Shorter than this a link has no direction worth the name. */
const SHORTEST = 0.02;

/** All faults that can be seen, coordinates first: order and sides are not judged on coordinates that are wrong anyway. */
export function findHardpointFaults(h: Hardpoints): readonly HardpointFault[] {
  const wrong = coordinateFaults(h);
  return wrong.length > 0 ? wrong : [...orderFaults(h), ...axisFaults(h), ...linkFaults(h)];
}

function fault(point: keyof Hardpoints, problem: string, fix: string): HardpointFault {
  return { point: NAMES[point], problem, fix };
}

function coordinateFaults(h: Hardpoints): HardpointFault[] {
  const faults: HardpointFault[] = [];
  for (const key of Object.keys(NAMES) as (keyof Hardpoints)[]) {
    const p = h[key];
    if (!p.every(Number.isFinite)) faults.push(fault(key, 'a coordinate is not a finite number', 'give x, y and z'));
    else if (key === 'wheelAxis') continue;
    else if (length(p) > FURTHEST)
      faults.push(fault(key, `it is ${length(p).toFixed(0)} m from the origin`, 'coordinates are metres; were these millimetres?'));
    else if (p[1] <= 0)
      faults.push(
        fault(
          key,
          'it is not on the left of the centre line (y is not above 0)',
          'turn the sign of y: the left corner is given, y is left',
        ),
      );
  }
  return faults;
}

/** Pairs whose order along an axis a sign error or a swap turns round. */
function orderFaults(h: Hardpoints): HardpointFault[] {
  const rules: [keyof Hardpoints, keyof Hardpoints, 0 | 1 | 2, string, string][] = [
    ['lowerArmFrontBush', 'lowerArmRearBush', 0, 'ahead of', 'swap the two bushes or turn the sign of x: x is forward'],
    ['upperArmFrontBush', 'upperArmRearBush', 0, 'ahead of', 'swap the two bushes or turn the sign of x: x is forward'],
    ['upperBallJoint', 'lowerBallJoint', 2, 'above', 'swap the two ball joints or check z: z is up'],
    ['lowerBallJoint', 'lowerArmFrontBush', 1, 'outboard of', 'check y of both: y is left, so outboard is larger on the left corner'],
    ['lowerBallJoint', 'lowerArmRearBush', 1, 'outboard of', 'check y of both: y is left, so outboard is larger on the left corner'],
    ['upperBallJoint', 'upperArmFrontBush', 1, 'outboard of', 'check y of both: y is left, so outboard is larger on the left corner'],
    ['upperBallJoint', 'upperArmRearBush', 1, 'outboard of', 'check y of both: y is left, so outboard is larger on the left corner'],
    ['tieRodOuter', 'tieRodInner', 1, 'outboard of', 'swap the two ends of the tie rod or check y'],
  ];
  return rules
    .filter(([a, b, axis]) => !(h[a][axis] > h[b][axis]))
    .map(([a, b, , word, fix]) => fault(a, `it is not ${word} ${NAMES[b]}`, fix));
}

function axisFaults(h: Hardpoints): HardpointFault[] {
  if (Math.abs(length(h.wheelAxis) - 1) > 1e-6) return [fault('wheelAxis', 'it is not a unit direction', 'divide it by its length')];
  if (h.wheelAxis[1] < 0.5)
    return [fault('wheelAxis', 'it does not point outboard', 'turn its sign: the spin axis points to the left on the left corner')];
  return [];
}

function linkFaults(h: Hardpoints): HardpointFault[] {
  const faults: HardpointFault[] = [];
  const short = (a: keyof Hardpoints, b: keyof Hardpoints) => {
    if (distance(h[a], h[b]) < SHORTEST)
      faults.push(fault(a, `it is less than ${SHORTEST * 1000} mm from ${NAMES[b]}`, 'give the two points their own places'));
  };
  short('lowerArmFrontBush', 'lowerArmRearBush');
  short('upperArmFrontBush', 'upperArmRearBush');
  short('lowerBallJoint', 'upperBallJoint');
  short('tieRodOuter', 'tieRodInner');
  if (faults.length > 0) return faults;
  if (offLine(h.lowerBallJoint, h.lowerArmRearBush, h.lowerArmFrontBush) < SHORTEST)
    faults.push(fault('lowerBallJoint', 'it lies on the axis through its bushes', 'check its y and z'));
  if (offLine(h.upperBallJoint, h.upperArmRearBush, h.upperArmFrontBush) < SHORTEST)
    faults.push(fault('upperBallJoint', 'it lies on the axis through its bushes', 'check its y and z'));
  if (offLine(h.tieRodOuter, h.lowerBallJoint, h.upperBallJoint) < SHORTEST)
    faults.push(
      fault(
        'tieRodOuter',
        'it lies on the steering axis, so the rack cannot steer',
        'check its x: it belongs ahead of or behind the ball joints',
      ),
    );
  if (offLine(h.tieRodInner, h.lowerBallJoint, h.upperBallJoint) < SHORTEST)
    faults.push(fault('tieRodInner', 'it lies on the steering axis', 'check its y: it belongs on the rack'));
  return faults.length > 0 ? faults : togglePoints(h);
}

/** Links in line at design would leave the linkage free to fold either way. */
function togglePoints(h: Hardpoints): HardpointFault[] {
  const faults: HardpointFault[] = [];
  const axis = unit(subtract(h.upperBallJoint, h.lowerBallJoint))!;
  const bushes = unit(subtract(h.upperArmFrontBush, h.upperArmRearBush))!;
  const arm = flat(subtract(h.upperBallJoint, h.upperArmRearBush), bushes);
  const knuckle = flat(axis, bushes);
  if (sineBetween(arm, knuckle) < 0.02)
    faults.push(
      fault(
        'upperBallJoint',
        'upper arm and steering axis are in line',
        'check z of the upper bushes: the arm lies across the steering axis',
      ),
    );
  const rod = flat(subtract(h.tieRodOuter, h.tieRodInner), axis);
  const steeringArm = flat(subtract(h.tieRodOuter, h.lowerBallJoint), axis);
  if (sineBetween(rod, steeringArm) < 0.02)
    faults.push(fault('tieRodOuter', 'tie rod and steering arm are in line', 'check x and y of both ends of the tie rod'));
  return faults;
}

function flat(a: Vec3, normal: Vec3): Vec3 {
  const d = dot(a, normal);
  return [a[0] - d * normal[0], a[1] - d * normal[1], a[2] - d * normal[2]];
}

function sineBetween(a: Vec3, b: Vec3): number {
  return length(cross(a, b)) / (length(a) * length(b) || 1);
}

function offLine(p: Vec3, a: Vec3, b: Vec3): number {
  const d = unit(subtract(b, a))!;
  return length(cross(subtract(p, a), d));
}
