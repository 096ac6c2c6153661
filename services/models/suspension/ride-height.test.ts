import { describe, expect, it } from 'vitest';
import { readClassGeometry } from '../../../tests/published/suspension/class-geometry.ts';
import { makeLinkage } from './double-wishbone.ts';
import type { FrontCorner } from './geometry.ts';
import { type Lift, type LiftEffects, liftEffects, rideHeight } from './ride-height.ts';
import { springToArmGap } from './spring-clearance.ts';
import { makeBench, travelRange } from './travel.ts';

const { corner, axleMass, unsprungCorner } = readClassGeometry();
const load = (axleMass / 2 - unsprungCorner) * 9.80665;
const made = makeLinkage(corner.hardpoints);
if (!made.ok) throw new Error(made.reason);
const linkage = made.value;

function lifted(lift: Lift, c: FrontCorner = corner): LiftEffects {
  const result = liftEffects(c, lift, load);
  if (!result.ok) throw new Error(result.reason);
  return result.value;
}

function ride(sprungLoad: number) {
  const range = travelRange(makeBench(linkage, corner));
  if (!range.ok) throw new Error(range.reason);
  const result = rideHeight(linkage, corner, range.value, sprungLoad);
  if (!result.ok) throw new Error(result.reason);
  return result.value;
}

describe('ride height', () => {
  it('is the design height at the class’s own load, in balance', () => {
    const r = ride(load);
    expect(r.travel).toBeCloseTo(0, 3);
    expect(r.springForce * r.motionRatio).toBeCloseTo(load, 3);
    expect(r.rests).toBe('on_spring');
  });

  it('sinks by the added load over the wheel rate', () => {
    const [a, b] = [ride(load), ride(load + 100)];
    expect((b.travel - a.travel) * a.wheelRate).toBeCloseTo(100, 0);
  });

  it('is topped out with too little load, and rests on the bump stop with too much', () => {
    expect(ride(1500).rests).toBe('topped_out');
    expect(ride(1500).travel).toBeCloseTo(-0.09, 3);
    expect(ride(8500).rests).toBe('on_bump_stop');
  });
});

describe('a lift', () => {
  it('by a longer coil-over raises the chassis and lets the wheel hang lower; with the frame’s bump stop kept full bump stays where it was', () => {
    const e = lifted({ coilOver: { extended: 0.59, collapsed: 0.44, springForceExtended: 5200 } });
    expect(e.chassisRise).toBeGreaterThan(0.05);
    expect(e.droopAdded).toBeCloseTo(0.024 / 0.578, 2);
    expect(e.bumpAdded).toBeCloseTo(0, 9);
    expect(e.after.ends.bump[0]!.name).toBe('bump_stop_solid');
  });

  it('by a longer coil-over brings the upper arm down onto the spring near full droop', () => {
    const arm = corner.obstacles.find((o) => o.id === 'arm_edge')!;
    const e = lifted({ coilOver: { extended: 0.59, collapsed: 0.44, springForceExtended: 5200 } });
    const [before, after] = [e.before, e.after].map((s) => springToArmGap(linkage, corner.coilOver, arm, s.ends.droop[0]!.travel, 0.1));
    expect(before!.ok && before!.value.gap).toBeGreaterThan(0);
    expect(after!.ok && after!.value.gap).toBeLessThan(0);
  });

  it('by a top spacer raises by its thickness over the motion ratio, and runs the damper solid before the frame’s stop', () => {
    const e = lifted({ topSpacer: 0.025 });
    expect(e.chassisRise).toBeCloseTo(0.025 / 0.5755, 3);
    expect(e.after.ends.bump[0]!.name).toBe('damper_collapsed');
    expect(e.bumpAdded).toBeLessThan(-0.015);
    // A spacer no thicker than what the damper has in hand at full bump leaves the frame’s stop first.
    expect(lifted({ topSpacer: 0.0145 }).after.ends.bump[0]!.name).toBe('bump_stop_solid');
  });

  it('by a preload spacer raises the chassis but not the damper’s ends', () => {
    const e = lifted({ preloadSpacer: 0.02 });
    expect(e.chassisRise).toBeCloseTo(0.02 / 0.5755, 3);
    expect(e.droopAdded).toBeCloseTo(0, 9);
    expect(e.bumpAdded).toBeCloseTo(0, 9);
  });

  it('by a preload spacer brings the coils to touch sooner', () => {
    const c = { ...corner, coilOver: { ...corner.coilOver, coilBindLength: 0.44 } };
    expect(lifted({}, c).after.ends.bump[0]!.name).toBe('bump_stop_solid');
    expect(lifted({ preloadSpacer: 0.02 }, c).after.ends.bump[0]!.name).toBe('coil_bind');
  });

  it('with a bump-stop spacer takes bump away and no height', () => {
    const e = lifted({ bumpStopSpacer: 0.02 });
    expect(e.chassisRise).toBeCloseTo(0, 9);
    expect(e.bumpAdded).toBeCloseTo(-0.02 / 0.58, 3);
    expect(e.after.ends.bumpStopContact!).toBeLessThan(e.before.ends.bumpStopContact! - 0.03);
  });

  it('with the differential lowered gives the shafts back their angle in droop', () => {
    const shaft = (e: LiftEffects) => e.after.ends.droop.find((s) => s.name === 'halfshaft_inner')!.travel;
    const [plain, dropped] = [lifted({ topSpacer: 0.025 }), lifted({ topSpacer: 0.025, diffDrop: 0.025 })];
    expect(shaft(plain) - shaft(dropped)).toBeGreaterThan(0.015);
  });

  it('with other upper arms changes the joint’s swing but not the height much', () => {
    const e = lifted({ upperBallJointInArm: [-0.006, 0.004, 0] });
    expect(Math.abs(e.chassisRise)).toBeLessThan(0.003);
    expect(e.linkage.upperRadius).toBeGreaterThan(linkage.upperRadius + 0.003);
  });
});
