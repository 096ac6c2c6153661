import { describe, expect, it } from 'vitest';
import { outerAngle, turningCircle } from './turning-circle.ts';

const DEGREE = Math.PI / 180;
const turning = { wheelbase: 2.8, kingpins: 1.5, innerAngle: 30 * DEGREE, tyreWidth: 0 };

describe('the turning circle', () => {
  it('has the outer wheel where Ackermann has it', () => {
    expect(outerAngle(turning) / DEGREE).toBeCloseTo(23.795694, 6);
  });

  it('goes by the outer front wheel: the triangle of wheelbase and radius', () => {
    const circle = turningCircle(turning);
    // The inner wheel's circle, worked from the other side: its centre lies L/tan δi from the inner kingpin.
    const radius = Math.hypot(2.8, 2.8 / Math.tan(30 * DEGREE) + 1.5);
    expect(circle.ok && circle.value).toBeCloseTo(2 * radius, 9);
  });

  it('is larger by what the outer tyre stands outside its steering axis, on either side, and by its width', () => {
    const [bare, out] = [turningCircle(turning), turningCircle({ ...turning, outside: 0.04, tyreWidth: 0.3 })];
    expect(bare.ok && out.ok && out.value - bare.value).toBeCloseTo(2 * 0.04 + 0.3, 12);
  });

  it('grows as lock is taken back, and is refused without lock', () => {
    const at = (degrees: number) => turningCircle({ ...turning, innerAngle: degrees * DEGREE });
    const [less, more] = [at(30), at(33)];
    expect(less.ok && more.ok && less.value > more.value).toBe(true);
    expect(at(0).ok).toBe(false);
  });
});
