import { describe, expect, it } from 'vitest';
import { readClassGeometry } from '../../../tests/published/suspension/class-geometry.ts';
import { makeLinkage } from './double-wishbone.ts';
import { type MeasuredLock, type SteeringLock, steeringLock } from './steering-lock.ts';

const DEG = Math.PI / 180;
const { corner } = readClassGeometry();
const made = makeLinkage(corner.hardpoints);
if (!made.ok) throw new Error(made.reason);
const linkage = made.value;

function lock(change: { rackTravel?: number; knuckleStopAngle?: number } = {}, measured: MeasuredLock = {}): SteeringLock {
  const result = steeringLock(linkage, { ...corner.steering, ...change }, 0, measured);
  if (!result.ok) throw new Error(result.reason);
  return result.value;
}

describe('steering lock', () => {
  it('is at the rack’s end where nothing stops the knuckle first', () => {
    expect(lock().endedBy).toBe('rack_end');
    expect(lock({ knuckleStopAngle: 45 * DEG }).endedBy).toBe('rack_end');
    expect(lock().inner).toBeGreaterThan(lock().outer);
  });

  it('is at the knuckle’s stop where that comes first, with the outer wheel at the same rack', () => {
    const l = lock({ knuckleStopAngle: 30 * DEG });
    expect(l.endedBy).toBe('knuckle_stop');
    expect(l.inner).toBeCloseTo(30 * DEG, 9);
    expect(l.rack).toBeLessThan(corner.steering.rackTravel);
    const same = lock({ rackTravel: l.rack });
    expect(same.inner).toBeCloseTo(30 * DEG, 9);
    expect(same.outer).toBeCloseTo(l.outer, 9);
  });

  it('is what is measured, even beyond the class’s rack', () => {
    const l = lock({}, { inner: 38.5 * DEG });
    expect(l.endedBy).toBe('measured');
    expect(l.inner).toBeCloseTo(38.5 * DEG, 9);
    expect(l.rack).toBeGreaterThan(corner.steering.rackTravel);
    const back = lock({}, { outer: l.outer });
    expect(back.inner).toBeCloseTo(38.5 * DEG, 8);
  });

  it('says by how much a measured outer angle disagrees with the linkage', () => {
    const l = lock({}, { inner: 35 * DEG });
    const both = lock({}, { inner: 35 * DEG, outer: l.outer + 1 * DEG });
    expect(both.disagreement).toBeCloseTo(1 * DEG, 9);
    expect(both.outer).toBeCloseTo(l.outer + 1 * DEG, 9);
  });

  it('is the same for a rack behind the axle, which turns the other way', () => {
    const behind = makeLinkage({ ...corner.hardpoints, tieRodInner: [-0.15, 0.315, 0.261], tieRodOuter: [-0.13, 0.69, 0.243] });
    if (!behind.ok) throw new Error(behind.reason);
    const l = steeringLock(behind.value, { rackTravel: 0.06 });
    expect(l.ok && l.value.inner).toBeGreaterThan(l.ok ? l.value.outer : 1);
    expect(l.ok && l.value.outer).toBeGreaterThan(0.3);
  });

  it('is refused for an angle no rack displacement gives', () => {
    for (const inner of [80 * DEG, 0, -0.2, Number.NaN]) {
      const l = steeringLock(linkage, corner.steering, 0, { inner });
      expect(!l.ok && l.reason).toContain('tie_rod_inner');
    }
  });
});
