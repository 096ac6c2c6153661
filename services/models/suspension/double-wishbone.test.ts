import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readClassGeometry } from '../../../tests/published/suspension/class-geometry.ts';
import { uniform } from '../../../tests/published/suspension/uniform.ts';
import { type Linkage, makeLinkage, mirroredPose, type Pose, solvePose, steerAngle, steeredPose } from './double-wishbone.ts';
import type { Hardpoints } from './geometry.ts';
import { add, distance, dot, length, mirrored, subtract, type Vec3 } from './vector.ts';
import { contactCentre, travelMotion, velocityAt } from './wheel-angles.ts';

/** Length that a link ought to keep, for checks: the worst change of any link at this pose. */
function worstLinkError(k: Linkage, pose: Pose): number {
  const rod = Math.abs(distance(pose.tieRodInner, pose.tieRodOuter) - k.tieRodLength);
  const kingpin = Math.abs(distance(pose.lowerBallJoint, pose.upperBallJoint) - k.kingpin);
  const lower = Math.abs(distance(pose.lowerBallJoint, k.lowerArm.origin) - k.lowerRadius);
  const upper = Math.abs(distance(pose.upperBallJoint, k.upperArm.origin) - k.upperRadius);
  const arm = Math.abs(length(subtract(pose.tieRodOuter, pose.lowerBallJoint)) - Math.hypot(k.steeringArmRise, k.steeringArmRadius));
  return Math.max(rod, kingpin, lower, upper, arm);
}

const { hardpoints } = readClassGeometry().corner;

function link(h: Hardpoints, change = {}): Linkage {
  const made = makeLinkage(h, change);
  if (!made.ok) throw new Error(made.reason);
  return made.value;
}

function at(linkage: Linkage, travel: number, rack: number): Pose {
  const pose = solvePose(linkage, travel, rack);
  if (!pose.ok) throw new Error(pose.reason);
  return pose.value;
}

/** The class's hardpoints with every point moved by up to 12 mm: linkages that differ and still close within the ranges below. */
const linkages = fc.array(fc.tuple(...[0, 1, 2].map(() => uniform(-0.012, 0.012))), { minLength: 9, maxLength: 9 }).map((shifts) => {
  const keys = Object.keys(hardpoints).filter((k) => k !== 'wheelAxis') as (keyof Hardpoints)[];
  const moved = keys.map((k, i) => [k, add(hardpoints[k], shifts[i] as unknown as Vec3)] as const);
  return link({ ...hardpoints, ...Object.fromEntries(moved) });
});
const travels = uniform(-0.09, 0.11);
const racks = uniform(-0.05, 0.05);

describe('a pose', () => {
  it('is the design with no travel and the rack centred', () => {
    const pose = at(link(hardpoints), 0, 0);
    for (const key of ['lowerBallJoint', 'upperBallJoint', 'tieRodOuter', 'wheelCentre'] as const) {
      expect(distance(pose[key], hardpoints[key]), key).toBeLessThan(1e-12);
    }
  });

  it('keeps every link its length, the knuckle rigid and the travel asked for', () => {
    fc.assert(
      fc.property(linkages, travels, racks, (linkage, travel, rack) => {
        const pose = at(linkage, travel, rack);
        const h = linkage.hardpoints;
        expect(worstLinkError(linkage, pose)).toBeLessThan(1e-9);
        for (const [a, b] of [
          ['lowerBallJoint', 'lowerArmFrontBush'],
          ['lowerBallJoint', 'lowerArmRearBush'],
          ['upperBallJoint', 'upperArmFrontBush'],
          ['upperBallJoint', 'upperArmRearBush'],
        ] as const) {
          expect(Math.abs(distance(pose[a], h[b]) - distance(h[a], h[b]))).toBeLessThan(1e-9);
        }
        for (const a of ['lowerBallJoint', 'upperBallJoint', 'tieRodOuter'] as const) {
          expect(Math.abs(distance(pose[a], pose.wheelCentre) - distance(h[a], h.wheelCentre))).toBeLessThan(1e-9);
          expect(
            Math.abs(dot(subtract(pose[a], pose.wheelCentre), pose.wheelAxis) - dot(subtract(h[a], h.wheelCentre), h.wheelAxis)),
          ).toBeLessThan(1e-9);
        }
        expect(Math.abs(length(pose.wheelAxis) - 1)).toBeLessThan(1e-12);
        expect(Math.abs(pose.wheelCentre[2] - h.wheelCentre[2] - travel)).toBeLessThan(1e-9);
      }),
      { numRuns: 200 },
    );
  });

  it('on the right is the mirror, with the rack the other way round', () => {
    fc.assert(
      fc.property(linkages, travels, racks, (linkage, travel, rack) => {
        const right = mirroredPose(at(linkage, travel, -rack));
        const h = linkage.hardpoints;
        expect(right.rack).toBeCloseTo(rack, 12);
        // Solved from scratch on the right: the rod's inner end has moved by the vehicle's own rack displacement.
        expect(distance(right.tieRodInner, add(mirrored(h.tieRodInner), [0, rack, 0]))).toBeLessThan(1e-12);
        expect(Math.abs(distance(right.tieRodInner, right.tieRodOuter) - distance(h.tieRodInner, h.tieRodOuter))).toBeLessThan(1e-9);
        expect(right.wheelCentre[1]).toBeLessThan(0);
      }),
      { numRuns: 60 },
    );
  });

  it('is continuous: a nanometre of travel or rack moves no point by a micrometre, which another branch would', () => {
    fc.assert(
      fc.property(linkages, travels, racks, (linkage, travel, rack) => {
        const here = at(linkage, travel, rack);
        for (const near of [at(linkage, travel + 1e-9, rack), at(linkage, travel, rack + 1e-9)]) {
          for (const key of ['lowerBallJoint', 'upperBallJoint', 'tieRodOuter', 'wheelCentre', 'wheelAxis'] as const) {
            expect(distance(here[key], near[key]), key).toBeLessThan(1e-6);
          }
        }
      }),
      { numRuns: 100 },
    );
  });

  it('has the velocities that a small step of travel shows', () => {
    const linkage = link(hardpoints);
    for (const [travel, rack] of [
      [-0.06, 0.05],
      [0, 0],
      [0.08, -0.07],
    ] as const) {
      const pose = at(linkage, travel, rack);
      const motion = travelMotion(linkage, pose)!;
      const h = 1e-5;
      for (const key of ['upperBallJoint', 'tieRodOuter', 'wheelCentre'] as const) {
        const step = subtract(at(linkage, travel + h, rack)[key], at(linkage, travel - h, rack)[key]);
        expect(distance(velocityAt(motion, pose[key]), [step[0] / 2 / h, step[1] / 2 / h, step[2] / 2 / h]), key).toBeLessThan(1e-7);
      }
    }
  });

  it('turns to the left with + rack where the rack is ahead of the axle', () => {
    const linkage = link(hardpoints);
    expect(steerAngle(at(linkage, 0, 0.03))).toBeGreaterThan(0.2);
    expect(steerAngle(at(linkage, 0, -0.03))).toBeLessThan(-0.2);
  });

  it('steered with the arms held lifts or lowers the wheel centre by millimetres', () => {
    const linkage = link(hardpoints);
    const pose = steeredPose(linkage, 0.05, 0.07);
    if (!pose.ok) throw new Error(pose.reason);
    expect(pose.value.lowerArmTurn).toBeCloseTo(at(linkage, 0.05, 0).lowerArmTurn, 12);
    expect(Math.abs(pose.value.travel - 0.05)).toBeGreaterThan(0.001);
    expect(Math.abs(pose.value.travel - 0.05)).toBeLessThan(0.02);
  });

  it('has its contact the loaded radius below, in the wheel plane', () => {
    const pose = at(link(hardpoints), 0.09, 0.06);
    const contact = contactCentre(pose, 0.372);
    expect(distance(contact, pose.wheelCentre)).toBeCloseTo(0.372, 12);
    expect(dot(subtract(contact, pose.wheelCentre), pose.wheelAxis)).toBeCloseTo(0, 12);
  });
});

describe('what cannot be', () => {
  it('is refused beyond reach with the point named, never answered with NaN', () => {
    const linkage = link(hardpoints);
    for (const [travel, rack, point] of [
      [0.6, 0, 'upper_ball_joint'],
      [-0.5, 0, 'upper_ball_joint'],
      [0, 0.4, 'tie_rod_outer'],
      [0, -0.4, 'tie_rod_outer'],
    ] as const) {
      const pose = solvePose(linkage, travel, rack);
      expect(pose.ok).toBe(false);
      if (!pose.ok) expect(pose.reason).toContain(point);
    }
    expect(solvePose(linkage, Number.NaN).ok).toBe(false);
  });

  it('any travel and rack: a finite pose or a reason', () => {
    const linkage = link(hardpoints);
    const wide = uniform(-1, 1);
    fc.assert(
      fc.property(wide, wide, (travel, rack) => {
        const pose = solvePose(linkage, travel, rack);
        if (pose.ok) expect([...pose.value.numbers].every(Number.isFinite)).toBe(true);
        else expect(pose.reason).toMatch(/^(upper_ball_joint|tie_rod_outer|wheel_centre): /);
      }),
      { numRuns: 300 },
    );
  });
});

describe('a change', () => {
  it('of bushes keeps the arms and the knuckle what they are', () => {
    const changed = link(hardpoints, { lowerArmFrontBush: [0, 0.006, 0], lowerArmRearBush: [0, -0.004, 0.002] });
    const pose = at(changed, 0.03, 0);
    expect(distance(pose.lowerBallJoint, add(hardpoints.lowerArmFrontBush, [0, 0.006, 0]))).toBeCloseTo(
      distance(hardpoints.lowerBallJoint, hardpoints.lowerArmFrontBush),
      10,
    );
    expect(distance(pose.lowerBallJoint, pose.upperBallJoint)).toBeCloseTo(
      distance(hardpoints.lowerBallJoint, hardpoints.upperBallJoint),
      10,
    );
    expect(pose.travel).toBeCloseTo(0.03, 10);
  });

  it('of the upper ball joint rearward adds caster', () => {
    const before = at(link(hardpoints), 0, 0);
    const after = at(link(hardpoints, { upperBallJointInArm: [-0.01, 0, 0] }), 0, 0);
    expect(after.upperBallJoint[0] - after.lowerBallJoint[0]).toBeLessThan(before.upperBallJoint[0] - before.lowerBallJoint[0] - 0.008);
  });

  it('that leaves an arm no place is refused', () => {
    const made = makeLinkage(hardpoints, { lowerArmFrontBush: [2, 0, 0] });
    expect(made.ok).toBe(false);
    if (!made.ok) expect(made.reason).toContain('lower_ball_joint');
  });
});
