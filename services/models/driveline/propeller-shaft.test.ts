import { describe, expect, it } from 'vitest';
import { pullOut, slopeChange } from './propeller-shaft.ts';

const DEGREE = Math.PI / 180;

describe('a propeller shaft whose axle falls', () => {
  it('is the hypotenuse of the 3-4-5 triangle, by hand', () => {
    expect(pullOut({ length: 0.4, slope: 0 }, 0.3)).toBeCloseTo(0.1, 12);
    expect(slopeChange({ length: 0.4, slope: 0 }, 0.3) / DEGREE).toBeCloseTo(36.8699, 4);
  });
  it('goes from the 5-12-13 triangle to the 9-12-15 one, by hand', () => {
    const shaft = { length: 1.3, slope: Math.atan2(0.5, 1.2) };
    expect(pullOut(shaft, 0.4)).toBeCloseTo(0.2, 12);
    expect(slopeChange(shaft, 0.4) / DEGREE).toBeCloseTo(36.8699 - 22.6199, 4);
  });
  it('is pushed together where the axle comes up towards level, and stays where it does not move', () => {
    expect(pullOut({ length: 1.3, slope: Math.atan2(0.5, 1.2) }, -0.5)).toBeCloseTo(-0.1, 12);
    expect(pullOut({ length: 1.3, slope: 0.1 }, 0)).toBeCloseTo(0, 12);
  });
});
