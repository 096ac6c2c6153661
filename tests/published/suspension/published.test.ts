import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { fittingsAt, motionRatio, prepareFittings } from '../../../services/models/suspension/attachments.ts';
import { type Linkage, makeLinkage, type Pose, solvePose } from '../../../services/models/suspension/double-wishbone.ts';
import type { Hardpoints } from '../../../services/models/suspension/geometry.ts';
import { rideHeight } from '../../../services/models/suspension/ride-height.ts';
import { steeringLock } from '../../../services/models/suspension/steering-lock.ts';
import { makeBench, travelRange } from '../../../services/models/suspension/travel.ts';
import { scale, subtract, unit, type Vec3 } from '../../../services/models/suspension/vector.ts';
import { contactPointRollCentre, rollCentreHeight, wheelAngles } from '../../../services/models/suspension/wheel-angles.ts';
import { readClassGeometry } from './class-geometry.ts';

const DEG = 180 / Math.PI;

interface Table {
  readonly hardpoints: Record<string, Vec3>;
  readonly axisInner: Vec3;
  readonly loadedRadius: number;
  readonly tolerance: { readonly angle: number; readonly length: number };
  readonly rows: readonly Record<string, number>[];
  readonly trueCamberOfFirstRow: number;
  readonly lock: { readonly inner: number; readonly outer: number };
  readonly motionRatio: number;
  readonly springPartOfWheelRate: number;
  readonly frequency: number;
  readonly rollCentre: number;
  readonly casterChangeAt70Lift: number;
}

function table(name: string): Table {
  return parse(readFileSync(new URL(`./${name}.yaml`, import.meta.url), 'utf8')) as Table;
}

function link(hardpoints: Hardpoints): Linkage {
  const made = makeLinkage(hardpoints);
  if (!made.ok) throw new Error(made.reason);
  return made.value;
}

function pose(linkage: Linkage, travel: number, rack: number): Pose {
  const solved = solvePose(linkage, travel, rack);
  if (!solved.ok) throw new Error(solved.reason);
  return solved.value;
}

function near(actual: number, expected: number, tolerance: number, what: string): void {
  expect(Math.abs(actual - expected), `${what}: ${actual} against ${expected}`).toBeLessThanOrEqual(tolerance);
}

describe('a hardpoint set published with its results', () => {
  const t = table('hardpoint-set');
  const points = Object.fromEntries(Object.entries(t.hardpoints).map(([k, p]) => [k, scale(p, 1e-3)]));
  const wheelAxis = unit(subtract(t.hardpoints.wheelCentre!, t.axisInner))!;
  const linkage = link({ ...points, wheelAxis } as unknown as Hardpoints);

  it.each(t.rows.map((row) => [row.rack!, row.travel!, row] as const))('rack %d mm, travel %d mm', (rack, travel, row) => {
    const a = wheelAngles(pose(linkage, travel / 1000, rack / 1000), t.loadedRadius / 1000);
    const { angle, length } = t.tolerance;
    near(a.camberFrontView * DEG, row.camber!, angle, 'camber in front view');
    near(a.caster * DEG, row.caster!, angle, 'caster');
    near(a.inclination * DEG, row.inclination!, angle, 'inclination');
    near(a.toe * DEG, row.toe!, angle, 'toe');
    near(a.halfTrack * 1000, row.halfTrack!, length, 'half track');
    near(a.scrubRadius * 1000, row.scrub!, length, 'scrub radius');
    near(a.mechanicalTrail * 1000, row.trail!, length, 'trail');
    if (row.offset !== undefined) near(a.steeringAxisOffset * 1000, row.offset, length, 'steering-axis offset');
  });

  it('tells true camber from the front view', () => {
    const first = t.rows[0]!;
    const a = wheelAngles(pose(linkage, first.travel! / 1000, first.rack! / 1000), t.loadedRadius / 1000);
    near(a.camber * DEG, t.trueCamberOfFirstRow, t.tolerance.angle, 'true camber');
    expect(Math.abs(a.camber - a.camberFrontView) * DEG).toBeGreaterThan(0.07);
  });

  it.each(t.rows.filter((r) => r.instantCentreY !== undefined).map((row) => [row.rack!, row.travel!, row] as const))(
    'roll centre on the line to its instant centre, rack %d mm, travel %d mm',
    (rack, travel, row) => {
      const fall = (row.instantCentreZ! - row.contactZ!) / (row.instantCentreY! - row.halfTrack!);
      const height = rollCentreHeight(linkage, pose(linkage, travel / 1000, rack / 1000), t.loadedRadius / 1000)!;
      // Their residual of 1e-6 mm in the points moves an instant centre 17 m away enough for some micrometres here.
      near(height * 1000, -fall * row.halfTrack!, 0.005, 'roll centre above the ground');
    },
  );

  it('has another roll centre by the velocity of the contact point, some millimetres off for its bump steer', () => {
    for (const travel of [-0.02, 0.02, 0.04]) {
      const p = pose(linkage, travel, 0);
      const apart = Math.abs(
        rollCentreHeight(linkage, p, t.loadedRadius / 1000)! - contactPointRollCentre(linkage, p, t.loadedRadius / 1000)!,
      );
      expect(apart * 1000).toBeGreaterThan(0.5);
      expect(apart * 1000).toBeLessThan(12);
    }
  });
});

describe('the generic wishbone with the rack fixed', () => {
  const t = table('generic-wishbone');
  const linkage = link({ ...t.hardpoints, wheelAxis: [0, 1, 0] } as unknown as Hardpoints);

  it.each(t.rows.map((row) => [row.travel!, row] as const))('travel %d mm', (travel, row) => {
    const a = wheelAngles(pose(linkage, travel / 1000, 0), 0.45);
    near(a.camber * DEG, row.camber!, t.tolerance.angle, 'camber');
    near(a.toe * DEG, row.toe!, t.tolerance.angle, 'toe');
    near(a.caster * DEG, row.caster!, t.tolerance.angle, 'caster');
  });
});

describe('the invented mid-size class against an independent solver', () => {
  const t = table('midsize-class');
  const { corner, tyre, axleMass, unsprungCorner } = readClassGeometry();
  const linkage = link(corner.hardpoints);
  const fittings = prepareFittings(linkage, corner);
  const { angle, length } = t.tolerance;

  it.each(t.rows.map((row) => [row.travel!, row] as const))('travel %d mm', (travel, row) => {
    const p = pose(linkage, travel / 1000, 0);
    const a = wheelAngles(p, tyre.loadedRadius);
    near(a.camber * DEG, row.camber!, angle, 'camber');
    near(a.toe * DEG, row.toe!, angle, 'toe');
    near(a.caster * DEG, row.caster!, angle, 'caster');
    near(a.inclination * DEG, row.inclination!, angle, 'inclination');
    near(a.wheelCentre[1] * 1000, row.wheelCentreY!, length, 'wheel centre');
    const measures = fittingsAt(fittings, p);
    near(measures.ok ? measures.value.coilOver * 1000 : Number.NaN, row.damper!, length, 'damper');
    // Turned from the wheel's heading to the vehicle's axes, in which that table is.
    const [c, s] = [Math.cos(a.toe), Math.sin(a.toe)];
    near((a.steeringAxisOffset * c + a.mechanicalTrail * s) * 1000, row.scrub!, length, 'scrub');
    near((a.mechanicalTrail * c - a.steeringAxisOffset * s) * 1000, row.trail!, length, 'trail');
  });

  it('lock, motion ratio, wheel rate, frequency, roll centre and caster', () => {
    const lock = steeringLock(linkage, corner.steering);
    const range = travelRange(makeBench(linkage, corner));
    if (!lock.ok || !range.ok) throw new Error('no lock or no range');
    near(lock.value.inner * DEG, t.lock.inner, 0.05, 'inner lock');
    near(lock.value.outer * DEG, t.lock.outer, 0.05, 'outer lock');
    const design = pose(linkage, 0, 0);
    const ratio = motionRatio(linkage, design, corner.coilOver);
    near(ratio.ok ? ratio.value : Number.NaN, t.motionRatio, 0.0005, 'motion ratio');
    near(
      ratio.ok ? (ratio.value ** 2 * corner.coilOver.springRate) / 1000 : Number.NaN,
      t.springPartOfWheelRate,
      0.05,
      'spring part of the wheel rate',
    );
    const ride = rideHeight(linkage, corner, range.value, (axleMass / 2 - unsprungCorner) * 9.80665);
    near(ride.ok ? ride.value.frequency : Number.NaN, t.frequency, 0.005, 'frequency');
    near(rollCentreHeight(linkage, design, tyre.loadedRadius)! * 1000, t.rollCentre, 0.5, 'roll centre');
    const lifted = wheelAngles(pose(linkage, -0.07, 0), tyre.loadedRadius).caster - wheelAngles(design, tyre.loadedRadius).caster;
    near(lifted * DEG, t.casterChangeAt70Lift, 0.005, 'caster change at 70 mm of lift');
  });
});
