import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between } from '../../units/testing.ts';
import type { Outcome } from '../result.ts';
import { type Designation, parseDesignation } from './designation.ts';
import {
  approvedRims,
  measuringRim,
  overallDiameter,
  rimDiameter,
  rollingCircumference,
  sectionWidth,
  staticLoadedRadius,
} from './dimensions.ts';

const INCH = 0.0254;
const size = (typed: string): Designation => {
  const read = parseDesignation(typed);
  if (!read.ok) throw new Error(read.reason);
  return read.value;
};
const diameter = (typed: string) => {
  const outcome = overallDiameter(size(typed));
  if (!outcome.ok) throw new Error(outcome.reason);
  return outcome.value;
};

const value = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(outcome.reason);
  return outcome.value;
};
const width = (typed: string, rim?: number) => value(sectionWidth(size(typed), rim));

describe('overall diameter', () => {
  it('rounds the section height to the millimetre with halves up, held against whole-number arithmetic', () => {
    fc.assert(
      fc.property(fc.integer({ min: 12, max: 45 }), fc.integer({ min: 5, max: 20 }), fc.integer({ min: 10, max: 26 }), (w, a, rim) => {
        fc.pre((10 * w + 5) * 5 * a >= 5000);
        const height = Math.floor(((10 * w + 5) * 5 * a + 50) / 100);
        const bead = Math.floor((rim * 254 + 5) / 10);
        expect(diameter(`${10 * w + 5}/${5 * a}R${rim}`).nominal * 1000).toBeCloseTo(bead + 2 * height, 6);
      }),
      { numRuns: 1000 },
    );
  });

  it('has rims of the half inch too', () => expect([17.5, 19.5, 22.5].map(rimDiameter)).toEqual([0.445, 0.495, 0.572]));

  it('lets commercial tyres grow as UN R54 does, light-truck ones as the American association does', () => {
    expect(diameter('265/70R17').most).toBeCloseTo(0.432 + 0.372 * 1.04, 9);
    expect(diameter('265/70R17C').most).toBeCloseTo(0.432 + 0.372 * 1.04, 9);
    expect(diameter('LT265/70R17').most).toBeCloseTo(0.432 + 0.372 * 1.03, 9);
  });

  it('of a flotation size is more likely under its name than over', () => {
    const { nominal, least, most } = diameter('33x12.50R15LT');
    expect(nominal - least).toBeGreaterThan(most - nominal);
    expect(least).toBeLessThan(0.832);
    expect(nominal).toBeCloseTo(33 * INCH, 9);
  });
});

describe('section width', () => {
  it('of a flotation size is the named one on its measuring rim', () => {
    expect(value(measuringRim(size('33x12.50R15LT')))).toBeCloseTo(10 * INCH, 9);
    expect(width('33x12.50R15LT', 10 * INCH).nominal).toBeCloseTo(12.5 * INCH, 9);
  });
  it('of a numeric size is more than it is named for', () => {
    const { nominal, least, most } = width('7.50R16', 6 * INCH);
    expect(nominal).toBeCloseTo(0.21, 3);
    expect(least).toBeLessThan(0.2);
    expect(most).toBeGreaterThan(0.22);
  });
  it('takes a wider theoretical rim below an aspect ratio of 50', () => {
    expect(width('285/45R20', 0.85 * 0.285).nominal).toBeCloseTo(0.285, 9);
    expect(width('285/50R20', 0.7 * 0.285).nominal).toBeCloseTo(0.285, 9);
  });
  it('stays between its least and most on any rim', () => {
    fc.assert(
      fc.property(fc.constantFrom('265/70R16', '7.50R16', '33x12.50R15', '285/45R20'), between(5, 12), (typed, rim) => {
        const { nominal, least, most } = width(typed, rim * INCH);
        expect(least <= nominal && nominal <= most).toBe(true);
      }),
    );
  });
});

/** From memory of the size tables of makers and associations. */
describe('measuring rims', () => {
  it.each([
    ['265/70R16', 8],
    ['285/70R17', 8.5],
    ['205/60R15', 6],
    ['225/75R16', 6],
    ['LT235/85R16', 6.5],
    ['255/85R16', 7],
    ['205/55R16', 6.5],
    ['31x10.50R15LT', 8.5],
    ['7.50R16', 6],
  ])('%s: %d in', (typed, inches) => expect(value(measuringRim(size(typed))) / INCH).toBeCloseTo(inches, 9));
});

describe('rolling', () => {
  it('the loaded radius lies below the rolling one, which lies below the free one', () => {
    expect(staticLoadedRadius(0.8).most).toBeLessThan(rollingCircumference(0.8) / (2 * Math.PI));
    expect(rollingCircumference(0.8) / (2 * Math.PI)).toBeLessThan(0.4);
  });
});

describe('approved rims', () => {
  const inches = (typed: string) => {
    const { narrowest, widest } = value(approvedRims(size(typed)));
    return [narrowest.least, narrowest.most, widest.least, widest.most].map((m) => Math.round((m / INCH) * 100) / 100);
  };
  // Approved widths from memory of common tables: 8.5 to 11 in, 7.5 to 9.5 in, 7 to 8.5 in.
  it('hold those that tables give a flotation, a passenger and a light-truck size', () => {
    expect(inches('33x12.50R17LT')).toEqual([8.5, 8.5, 10.5, 11]);
    expect(inches('265/65R17')).toEqual([7, 7.5, 9, 9.5]);
    expect(inches('LT265/70R17')).toEqual([7, 7.5, 8.5, 9]);
  });
});
