import { describe, expect, it } from 'vitest';
import { readClassGeometry } from '../../../tests/published/suspension/class-geometry.ts';
import { fittingsAt, prepareFittings } from './attachments.ts';
import { makeLinkage, steeredPose } from './double-wishbone.ts';
import type { FrontCorner } from './geometry.ts';
import { hangingTravel, nextDroop, type StopName, type TravelEnds, travelEnds } from './travel.ts';

const { corner } = readClassGeometry();
const made = makeLinkage(corner.hardpoints);
if (!made.ok) throw new Error(made.reason);
const linkage = made.value;

function ends(c: FrontCorner = corner): TravelEnds {
  const result = travelEnds(linkage, c);
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

  it('hang the wheel on the first stop that is no hose; without that one the next holds it', () => {
    const short = ends({ ...corner, brakeHose: { ...corner.brakeHose!, freeLength: 0.4 } });
    expect(short.droop[0]!.name).toBe('brake_hose');
    expect(hangingTravel(short)).toBeCloseTo(hangingTravel(ends())!, 9);
    expect(short.droop.map(({ travel }) => travel).indexOf(nextDroop(short)!)).toBe(2);
    expect(nextDroop(short)!).toBeLessThan(hangingTravel(short)!);
  });

  it('are refused, with the part named, where nothing is left to travel', () => {
    const result = travelEnds(linkage, { ...corner, brakeHose: { ...corner.brakeHose!, freeLength: 0.1 } });
    expect(!result.ok && result.reason).toContain('brake_hose');
  });
});
