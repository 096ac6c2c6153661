import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readClassGeometry } from '../../../tests/published/suspension/class-geometry.ts';
import { uniform } from '../../../tests/published/suspension/uniform.ts';
import { type Adjuster, type Alignment, type AlignmentTargets, align } from './alignment.ts';
import { makeLinkage, solvePose } from './double-wishbone.ts';
import { distance, subtract } from './vector.ts';
import { wheelAngles } from './wheel-angles.ts';

const DEG = Math.PI / 180;
const { hardpoints } = readClassGeometry().corner;
const cams = (range: number): readonly [Adjuster, Adjuster] => [
  { id: 'front cam', moves: { lowerArmFrontBush: [0, 1, 0] }, least: -range, most: range },
  { id: 'rear cam', moves: { lowerArmRearBush: [0, 1, 0] }, least: -range, most: range },
];

function aligned(targets: AlignmentTargets, travel: number, range = 0.008, adjusters = cams(range)): Alignment {
  const result = align(hardpoints, {}, adjusters, targets, travel);
  if (!result.ok) throw new Error(result.reason);
  return result.value;
}

function angles(travel: number, change = {}) {
  const linkage = makeLinkage(hardpoints, change);
  if (!linkage.ok) throw new Error(linkage.reason);
  const pose = solvePose(linkage.value, travel);
  if (!pose.ok) throw new Error(pose.reason);
  return { ...wheelAngles(pose.value, 0.372), pose: pose.value };
}

describe('alignment', () => {
  it('leaves the adjusters where they are when nothing is off', () => {
    const { camber, caster, toe } = angles(0);
    const a = aligned({ camber, caster, toe }, 0);
    for (const s of a.settings) expect(s).toBeCloseTo(0, 8);
    expect(distance(a.wheelShift, [0, 0, 0])).toBeLessThan(1e-8);
  });

  it('finds the settings that were made', () => {
    const setting = uniform(-0.007, 0.007);
    fc.assert(
      fc.property(setting, setting, uniform(-0.06, 0.03), (front, rear, travel) => {
        // The angles that those cams give with toe reset are the targets of a second search.
        const made = align(
          hardpoints,
          { lowerArmFrontBush: [0, front, 0], lowerArmRearBush: [0, rear, 0] },
          cams(1e-9),
          { camber: 0, caster: 0, toe: 0.001 },
          travel,
        );
        if (!made.ok) throw new Error(made.reason);
        const a = aligned(made.value.reached, travel);
        expect(a.withinRange).toBe(true);
        expect(a.settings[0]).toBeCloseTo(front, 6);
        expect(a.settings[1]).toBeCloseTo(rear, 6);
      }),
      { numRuns: 25 },
    );
  });

  it('after a lift brings caster and camber back, and moves the wheel forward by millimetres', () => {
    const before = angles(-0.05);
    expect(before.caster / DEG).toBeLessThan(2.3);
    const a = aligned({ camber: 0, caster: 2.97 * DEG, toe: 0 }, -0.05);
    expect(a.withinRange).toBe(true);
    const after = angles(-0.05, a.change);
    expect(after.camber / DEG).toBeCloseTo(0, 8);
    expect(after.caster / DEG).toBeCloseTo(2.97, 8);
    expect(after.toe / DEG).toBeCloseTo(0, 8);
    expect(subtract(after.pose.wheelCentre, before.pose.wheelCentre)[0]).toBeCloseTo(a.wheelShift[0], 10);
    expect(a.wheelShift[0]).toBeGreaterThan(0.002);
    expect(a.wheelShift[2]).toBeCloseTo(0, 9);
  });

  it('says when it is out of range and gives what can be had, at the range’s edge', () => {
    const targets = { camber: 0, caster: 2.97 * DEG, toe: 0 };
    const a = aligned(targets, -0.07, 0.004);
    expect(a.withinRange).toBe(false);
    expect(Math.max(...a.settings.map(Math.abs))).toBeCloseTo(0.004, 6);
    const miss = (r: AlignmentTargets) => Math.hypot(r.camber - targets.camber, r.caster - targets.caster);
    expect(miss(a.reached)).toBeGreaterThan(0.1 * DEG);
    for (const [p, q] of [
      [0.004, 0.004],
      [-0.004, 0.004],
      [0, 0.004],
      [-0.001, 0.004],
      [-0.003, 0.004],
      [-0.002, 0.0035],
    ] as const) {
      const other = angles(-0.07, { lowerArmFrontBush: [0, p, 0], lowerArmRearBush: [0, q, 0] });
      expect(miss(a.reached)).toBeLessThanOrEqual(miss(other) + 2e-4);
    }
  });

  it('works with other adjusters: an upper joint slotted both ways', () => {
    const slots: readonly [Adjuster, Adjuster] = [
      { id: 'along', moves: { upperBallJointInArm: [1, 0, 0] }, least: -0.02, most: 0.02 },
      { id: 'across', moves: { upperBallJointInArm: [0, 1, 0] }, least: -0.02, most: 0.02 },
    ];
    const a = aligned({ camber: -0.5 * DEG, caster: 3.5 * DEG, toe: 0.1 * DEG }, -0.03, 0, slots);
    expect(a.withinRange).toBe(true);
    expect(a.reached.caster / DEG).toBeCloseTo(3.5, 8);
    expect(a.reached.camber / DEG).toBeCloseTo(-0.5, 8);
    expect(a.reached.toe / DEG).toBeCloseTo(0.1, 8);
  });

  it('of two adjusters that do the same thing is out of range, not a failure', () => {
    const twice: Adjuster = cams(0.005)[0];
    const a = aligned({ camber: 0, caster: 5 * DEG, toe: 0 }, 0, 0, [twice, twice]);
    expect(a.withinRange).toBe(false);
  });
});
