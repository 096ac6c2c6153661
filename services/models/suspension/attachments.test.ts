import { describe, expect, it } from 'vitest';
import { readClassGeometry } from '../../../tests/published/suspension/class-geometry.ts';
import { carried, fittingsAt, hoseEnds, motionRatio, prepareFittings } from './attachments.ts';
import { makeLinkage, type Pose, solvePose } from './double-wishbone.ts';
import { angleBetween, directionFromLocal, directionToLocal, distance, dot, subtract, toLocal, turn } from './vector.ts';

const { corner } = readClassGeometry();
const made = makeLinkage(corner.hardpoints);
if (!made.ok) throw new Error(made.reason);
const linkage = made.value;
const fittings = prepareFittings(linkage, corner);
const POSITIONS = [
  [-0.09, 0],
  [-0.06, 0.06],
  [0, -0.07],
  [0.05, 0.02],
  [0.11, -0.05],
] as const;

function at(travel: number, rack: number): Pose {
  const pose = solvePose(linkage, travel, rack);
  if (!pose.ok) throw new Error(pose.reason);
  return pose.value;
}

function measures(pose: Pose) {
  const m = fittingsAt(fittings, pose);
  if (!m.ok) throw new Error(m.reason);
  return m.value;
}

describe('what hangs on the linkage', () => {
  it('is at rest in the design position: no swing from design, no plunge, no turn of the bar', () => {
    const m = measures(at(0, 0));
    expect(m.lowerBallJoint!).toBeCloseTo(0, 7);
    expect(m.tieRodOuter).toBeCloseTo(0, 7);
    expect(m.halfShaft!.plunge).toBeCloseTo(0, 12);
    expect(m.antiRollBar!.turn).toBeCloseTo(0, 12);
    expect((m.upperBallJoint! * 180) / Math.PI).toBeCloseTo(3, 2);
  });

  it.each(POSITIONS)('measures what the carried points themselves show at travel %d, rack %d', (travel, rack) => {
    const pose = at(travel, rack);
    const m = measures(pose);
    const { coilOver, brakeHose, halfShaft } = corner;
    expect(m.coilOver).toBeCloseTo(distance(carried(linkage, pose, 'lower_arm', coilOver.lower), coilOver.upper), 12);
    const ends = hoseEnds(linkage, pose, brakeHose!);
    expect(m.hoseSpan!).toBeCloseTo(distance(ends.chassis, ends.caliper), 12);
    const rod = subtract(pose.tieRodOuter, pose.tieRodInner);
    expect(m.tieRodInner).toBeCloseTo(angleBetween(rod, [0, 1, 0]), 9);
    const outer = carried(linkage, pose, 'knuckle', halfShaft!.outer);
    const inner = [halfShaft!.inner[0], halfShaft!.inner[1] + m.halfShaft!.plunge, halfShaft!.inner[2]] as const;
    expect(distance(inner, outer)).toBeCloseTo(distance(halfShaft!.inner, halfShaft!.outer), 12);
    expect(m.halfShaft!.inner).toBeCloseTo(angleBetween(subtract(outer, inner), [0, 1, 0]), 9);
    expect(m.halfShaft!.outer).toBeCloseTo(angleBetween(subtract(outer, inner), pose.wheelAxis), 9);
    for (const [joint, design, now, limit] of [
      ['upperBallJoint', linkage.design.upperArm, pose.upperArm, corner.upperBallJointLimit!],
      ['lowerBallJoint', linkage.design.lowerArm, pose.lowerArm, corner.lowerBallJointLimit!],
    ] as const) {
      const housing = turn(linkage.design.knuckle.c, design.a, -limit.neutralBias);
      expect(m[joint]!, joint).toBeCloseTo(angleBetween(directionFromLocal(now, directionToLocal(design, housing)), pose.knuckle.c), 7);
    }
  });

  it.each(POSITIONS)('keeps the anti-roll link its length at travel %d, rack %d', (travel, rack) => {
    const pose = at(travel, rack);
    const bar = corner.antiRollBar!;
    const m = measures(pose);
    const arm = subtract(bar.linkUpper, bar.axisPoint);
    const upper = turn(arm, bar.axisDirection, m.antiRollBar!.turn).map((x, i) => x + bar.axisPoint[i]!) as unknown as typeof arm;
    const lower = carried(linkage, pose, 'lower_arm', bar.linkLower);
    expect(distance(upper, lower)).toBeCloseTo(distance(bar.linkUpper, bar.linkLower), 12);
    const along = dot(subtract(bar.linkUpper, bar.axisPoint), bar.axisDirection);
    const centre = bar.axisPoint.map((x, i) => x + along * bar.axisDirection[i]!) as unknown as typeof arm;
    expect(m.antiRollBar!.linkToArm).toBeCloseTo(angleBetween(subtract(lower, upper), subtract(centre, upper)), 9);
  });

  it('has the motion ratio that a small step of travel shows', () => {
    for (const [travel, rack] of POSITIONS) {
      const h = 1e-5;
      const step = measures(at(travel - h, rack)).coilOver - measures(at(travel + h, rack)).coilOver;
      const ratio = motionRatio(linkage, at(travel, rack), corner.coilOver);
      expect(ratio.ok && ratio.value).toBeCloseTo(step / (2 * h), 8);
    }
  });

  it('swings a ball joint to its square position where the arm has turned by its bias', () => {
    // The knuckle hardly turns in roll about the upper arm near design, so 3° of droop of that arm is near square.
    let least = 9;
    for (let t = -0.03; t <= 0; t += 0.001) least = Math.min(least, measures(at(t, 0)).upperBallJoint!);
    expect((least * 180) / Math.PI).toBeLessThan(0.5);
  });

  it('rides on other upper arms with the arm’s own points', () => {
    const other = makeLinkage(corner.hardpoints, { upperBallJointInArm: [-0.01, 0.005, 0] });
    if (!other.ok) throw new Error(other.reason);
    const pose = solvePose(other.value, 0.02);
    if (!pose.ok) throw new Error(pose.reason);
    const bush = carried(other.value, pose.value, 'upper_arm', corner.hardpoints.upperArmFrontBush);
    expect(distance(bush, corner.hardpoints.upperArmFrontBush)).toBeLessThan(0.02);
    expect(toLocal(pose.value.upperArm, pose.value.upperBallJoint)[2]).toBeCloseTo(0, 12);
  });

  it('is refused where the shaft does not reach', () => {
    const short = prepareFittings(linkage, { ...corner, halfShaft: { ...corner.halfShaft!, shaftLength: 0.02 } });
    const m = fittingsAt(short, at(0.1, 0));
    expect(!m.ok && m.reason).toContain('halfshaft_outer');
  });
});
