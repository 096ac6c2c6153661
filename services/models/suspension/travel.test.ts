import { describe, expect, it } from 'vitest';
import { readClassGeometry } from '../../../tests/published/suspension/class-geometry.ts';
import { fittingsAt, prepareFittings } from './attachments.ts';
import { makeLinkage, steeredPose } from './double-wishbone.ts';
import type { FrontCorner } from './geometry.ts';
import { lastInDroop, makeBench, nextInDroop, type StopName, stopMargin, type TravelEnds, travelEnds, travelRange } from './travel.ts';

const { corner } = readClassGeometry();
const made = makeLinkage(corner.hardpoints);
if (!made.ok) throw new Error(made.reason);
const linkage = made.value;

function ends(c: FrontCorner = corner): TravelEnds {
  const result = travelEnds(makeBench(linkage, c));
  if (!result.ok) throw new Error(result.reason);
  return result.value;
}

const names = (e: TravelEnds, way: 'droop' | 'bump') => e[way].map((s) => s.name);
const stop = (e: TravelEnds, way: 'droop' | 'bump', name: StopName) => e[way].find((s) => s.name === name)!;

describe('the ends of travel', () => {
  it('are the damper in droop and the solid bump stop in bump, where the class says they are', () => {
    const e = ends();
    expect(e.droop[0]!.name).toBe('damper_extended');
    expect(e.droop[0]!.travel).toBeCloseTo(-0.09, 3);
    expect(e.bump[0]!.name).toBe('bump_stop_solid');
    expect(e.bump[0]!.travel).toBeCloseTo(0.11, 3);
    expect(e.bumpStopContact).toBeCloseTo(0.06, 2);
    expect(e.bump[0]!.travel - e.bumpStopContact!).toBeGreaterThan(0.04);
  });

  it('come in the order they would be met, each with what is in hand at the first', () => {
    const e = ends();
    for (const [way, sign] of [
      ['droop', -1],
      ['bump', 1],
    ] as const) {
      const travels = e[way].map((s) => sign * s.travel);
      expect([...travels].sort((a, b) => a - b)).toEqual(travels);
      expect(e[way][0]!.travelInHand).toBe(0);
      expect(e[way][0]!.marginInHand).toBeCloseTo(0, 6);
      for (const s of e[way].slice(1)) expect(s.marginInHand, s.name).toBeGreaterThan(0);
    }
    expect(stop(e, 'bump', 'damper_collapsed').marginInHand).toBeCloseTo(0.0147, 4);
    expect(names(e, 'droop')).toContain('brake_hose');
  });

  it('are exact: at each stop its own margin is used up at the worst of the rack’s range', () => {
    const e = ends();
    const fittings = prepareFittings(linkage, corner);
    const at = (travel: number) =>
      [-1, -0.5, 0, 0.5, 1].map((share) => {
        const pose = steeredPose(linkage, travel, share * corner.steering.rackTravel);
        if (!pose.ok) throw new Error(pose.reason);
        const m = fittingsAt(fittings, pose.value);
        if (!m.ok) throw new Error(m.reason);
        return m.value;
      });
    const worst = (name: StopName, of: (m: ReturnType<typeof at>[number]) => number) =>
      Math.max(...at(stop(e, 'droop', name).travel).map(of));
    expect(worst('damper_extended', (m) => m.coilOver)).toBeCloseTo(corner.coilOver.extended, 8);
    expect(worst('brake_hose', (m) => m.hoseSpan!)).toBeCloseTo(corner.brakeHose!.freeLength, 8);
    expect(worst('upper_ball_joint', (m) => m.upperBallJoint!)).toBeCloseTo(corner.upperBallJointLimit!.swingLimit, 8);
    expect(worst('halfshaft_outer', (m) => m.halfShaft!.outer)).toBeCloseTo(corner.halfShaft!.outerMaxAngle, 8);
    expect(worst('halfshaft_inner', (m) => m.halfShaft!.inner)).toBeCloseTo(corner.halfShaft!.innerMaxAngle, 8);
  });

  it('change hands as parts change: a short hose, a stiff joint, binding coils', () => {
    expect(names(ends({ ...corner, brakeHose: { ...corner.brakeHose!, freeLength: 0.4 } }), 'droop')[0]).toBe('brake_hose');
    expect(names(ends({ ...corner, upperBallJointLimit: { neutralBias: 0, swingLimit: 0.25 } }), 'droop')[0]).toBe('upper_ball_joint');
    expect(names(ends({ ...corner, coilOver: { ...corner.coilOver, coilBindLength: 0.47 } }), 'bump')[0]).toBe('coil_bind');
    const { bumpStop: _, ...noStop } = corner;
    expect(names(ends(noStop), 'bump')[0]).toBe('damper_collapsed');
    expect(ends(noStop).bumpStopContact).toBeUndefined();
  });

  it('hang the wheel on its damper, whatever else binds; without the damper the next below holds it', () => {
    const range = (c: FrontCorner) => {
      const result = travelRange(makeBench(linkage, c));
      if (!result.ok) throw new Error(result.reason);
      return result.value;
    };
    const e = ends();
    expect(range(corner).droop).toBeCloseTo(stop(e, 'droop', 'damper_extended').travel, 9);
    expect(range(corner).bump).toBeCloseTo(stop(e, 'bump', 'bump_stop_solid').travel, 9);
    expect(range(corner).bumpStopContact).toBeCloseTo(e.bumpStopContact!, 12);
    // A hose or a joint that binds before is no stop: the wheel hangs where it did, and they have less than nothing there.
    const stiff = { ...corner, upperBallJointLimit: { neutralBias: 0, swingLimit: 0.25 } };
    expect(ends(stiff).droop[0]!.name).toBe('upper_ball_joint');
    expect(range(stiff).droop).toBe(range(corner).droop);
    expect(stopMargin(makeBench(linkage, stiff), 'upper_ball_joint', range(stiff).droop)).toBeLessThan(0);
    // The longer the damper, the lower it hangs, and the less every joint has.
    const longer = [0, 0.01, 0.02, 0.03, 0.04].map((by) => {
      const c = { ...corner, coilOver: { ...corner.coilOver, extended: corner.coilOver.extended + by } };
      const { droop } = range(c);
      return { droop, left: stopMargin(makeBench(linkage, c), 'upper_ball_joint', droop) };
    });
    for (let i = 1; i < longer.length; i++) {
      expect(longer[i]!.droop).toBeLessThan(longer[i - 1]!.droop - 0.01);
      expect(longer[i]!.left).toBeLessThan(longer[i - 1]!.left);
    }
    const short = ends({ ...corner, brakeHose: { ...corner.brakeHose!, freeLength: 0.4 } });
    const hangs = range(corner).droop;
    expect(nextInDroop(short)[0]!.travel).toBeLessThan(hangs);
    expect(lastInDroop(short)[0]!.travel).toBeLessThan(nextInDroop(short)[0]!.travel);
    // A joint that binds before the damper ends is what holds the wheel without it, too.
    expect(nextInDroop(ends(stiff))[0]!.name).toBe('upper_ball_joint');
    const { bumpStop: _, ...noStop } = corner;
    expect(range(noStop).bump).toBeCloseTo(ends(noStop).bump[0]!.travel, 9);
  });

  it('are refused, with the part named, where nothing is left to travel', () => {
    const result = travelEnds(makeBench(linkage, { ...corner, brakeHose: { ...corner.brakeHose!, freeLength: 0.1 } }));
    expect(!result.ok && result.reason).toContain('brake_hose');
  });
});
