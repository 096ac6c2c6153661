import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NUMBERS } from '../../units/index.ts';
import { between } from '../../units/testing.ts';
import { shownSpeed } from './speedometer.ts';

const speed = between(1, 40);
const diameter = between(0.6, 1.1);

const shown = (speed: number, overReading: number, setDiameter: number, diameter: number, gearFactor = 1): number =>
  shownSpeed(NUMBERS, speed, { overReading, setDiameter, diameter, gearFactor });

describe('shown speed', () => {
  it('is the true one with the tyres it is set for and no over-reading', () => {
    fc.assert(fc.property(speed, diameter, (v, d) => void expect(shown(v, 0, d, d)).toBeCloseTo(v, 12)));
  });
  it('falls as tyres grow, and is put right by setting it for them', () => {
    fc.assert(
      fc.property(speed, diameter, diameter, (v, before, after) => {
        expect(shown(v, 0.03, before, Math.max(before, after))).toBeLessThanOrEqual(shown(v, 0.03, before, before));
        expect(shown(v, 0.03, after, after)).toBeCloseTo(1.03 * v, 9);
      }),
    );
  });
  it('fed from the gearbox is right again with gears that match the tyres, and was not with the tyres alone', () => {
    // 4.10 × 35 in / 31 in = 4.629: gears cut to that leave the shaft as it turned.
    expect(shown(10, 0, 31, 35, 35 / 31)).toBeCloseTo(10, 12);
    expect(shown(10, 0, 31, 35)).toBeCloseTo(8.857, 3);
    expect(shown(10, 0, 0.776, 0.83, 4.56 / 4.1)).toBeCloseTo(10.398, 3);
  });
});
