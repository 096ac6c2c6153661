import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between } from '../../units/testing.ts';
import { shownSpeed } from './speedometer.ts';

const speed = between(1, 40);
const diameter = between(0.6, 1.1);

describe('shown speed', () => {
  it('is the true one with the tyres it is set for and no over-reading', () => {
    fc.assert(fc.property(speed, diameter, (v, d) => void expect(shownSpeed(v, 0, d, d)).toBeCloseTo(v, 12)));
  });
  it('falls as tyres grow, and is put right by setting it for them', () => {
    fc.assert(
      fc.property(speed, diameter, diameter, (v, before, after) => {
        expect(shownSpeed(v, 0.03, before, Math.max(before, after))).toBeLessThanOrEqual(shownSpeed(v, 0.03, before, before));
        expect(shownSpeed(v, 0.03, after, after)).toBeCloseTo(1.03 * v, 9);
      }),
    );
  });
});
