import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between } from '../../units/testing.ts';
import type { Outcome } from '../result.ts';
import {
  bulgeGrowth,
  deflection,
  LEAST_OFF_ROAD_PRESSURE,
  loadedRadius,
  offRoadPressure,
  verticalStiffness,
  wornDiameter,
} from './condition.ts';

const got = (outcome: Outcome<number>): number => {
  if (!outcome.ok) throw new Error(outcome.reason);
  return outcome.value;
};
const road = { width: 0.265, rim: 0.432, aspect: 0.7 };

describe('stiffness', () => {
  // By hand from the regression: 30.29 kgf/mm at 240 kPa.
  it('of 265/70R17 is that worked out by hand', () => expect(got(verticalStiffness(road, 240_000))).toBeCloseTo(297_080, -2));
  it('grows with pressure, and the tyre gives less', () => {
    fc.assert(
      fc.property(between(80_000, 300_000), between(1000, 200_000), between(300, 1000), (low, more, load) => {
        expect(got(deflection(road, low, load))).toBeGreaterThan(got(deflection(road, low + more, load)));
      }),
    );
  });
  it('is not told of a tyre let down further', () => expect(verticalStiffness(road, 70_000).ok).toBe(false));
});

describe('loaded radius', () => {
  // Trade figure: 0.45 to 0.48 of the diameter at road pressure and load.
  it('at road pressure is what the trade reckons with', () => {
    const share = got(loadedRadius(0.804, road, 240_000, 650)) / 0.804;
    expect(share).toBeGreaterThan(0.45);
    expect(share).toBeLessThan(0.48);
  });
  it('falls as the tyre is let down, and the sidewall stands out', () => {
    expect(got(loadedRadius(0.804, road, 100_000, 650))).toBeLessThan(got(loadedRadius(0.804, road, 240_000, 650)));
    expect(bulgeGrowth(0.0215, 0.0445)).toBeCloseTo(0.0115, 6);
  });
  it('is refused where the rim would stand on the ground', () => expect(loadedRadius(0.804, road, 90_000, 5000).ok).toBe(false));
});

describe('wear', () => {
  it('takes twice the tread of the diameter', () => expect(got(wornDiameter(0.804, 0.011, 0.003))).toBeCloseTo(0.788, 9));
  it('cannot add tread', () => expect(wornDiameter(0.804, 0.011, 0.012).ok).toBe(false));
});

describe('off the road', () => {
  it('a tyre is never let down below what holds its bead, nor above its road pressure', () => {
    fc.assert(
      fc.property(between(80_000, 600_000), between(0.3, 1), (pressure, share) => {
        const off = offRoadPressure(pressure, share);
        expect(off).toBeLessThanOrEqual(pressure);
        expect(off).toBeGreaterThanOrEqual(Math.min(pressure, LEAST_OFF_ROAD_PRESSURE));
      }),
    );
  });
});
