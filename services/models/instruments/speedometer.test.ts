import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between } from '../../units/testing.ts';
import { MOTOR_CARRIER_TOLERANCE, outAtFiftyMph, shownAllowed, shownSpeed } from './speedometer.ts';

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

describe('what may be shown', () => {
  it('is never less than the true speed', () => fc.assert(fc.property(speed, (v) => void expect(shownAllowed(v).least).toBe(v))));
  it('33 in tyres in place of 776 mm ones are out of the European rule and within the American one', () => {
    expect(shownSpeed(50 / 3.6, 0.03, 0.776, 0.838)).toBeLessThan(shownAllowed(50 / 3.6).least);
    expect(Math.abs(outAtFiftyMph(0.03, 0.776, 0.838))).toBeLessThan(MOTOR_CARRIER_TOLERANCE);
  });
  it('out at 50 mph: a tenth more of tyre shows 4.5 mph too little', () =>
    expect(outAtFiftyMph(0, 0.77, 0.847) / 0.44704).toBeCloseTo(-4.545, 3));
});
