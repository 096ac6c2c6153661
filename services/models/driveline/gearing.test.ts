import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between } from '../../units/testing.ts';
import { AXLE_RATIOS, crawlRatio, crawlSpeed, criticalSpeed, gearedSpeed, matchingRatio, nearestRatio } from './gearing.ts';

describe('axle ratio', () => {
  it('matched to other tyres turns the engine as before', () => {
    fc.assert(
      fc.property(between(3, 5.5), between(0.65, 0.85), between(0.7, 1.05), between(10, 35), (ratio, from, to, speed) => {
        const matched = gearedSpeed(speed, 3.05 * to, matchingRatio(ratio, from, to));
        expect(matched).toBeCloseTo(gearedSpeed(speed, 3.05 * from, ratio), 9);
      }),
    );
  });
  it('of a list is the nearest, never further off than the next', () => {
    fc.assert(
      fc.property(between(2.8, 7), (wanted) => {
        const nearest = nearestRatio(wanted);
        if (!nearest.ok) throw new Error(nearest.reason);
        for (const ratio of AXLE_RATIOS)
          expect(Math.abs(Math.log(nearest.value / wanted))).toBeLessThanOrEqual(Math.abs(Math.log(ratio / wanted)));
      }),
    );
  });
  // 4.10 on 776 mm; on 838 mm 4.43 is wanted.
  it('of 4.10 going from 776 to 838 mm is 4.44', () =>
    expect(nearestRatio(matchingRatio(4.1, 0.776, 0.838))).toEqual({ ok: true, value: 4.44 }));
  it.each([0, -1, Number.NaN])('of %s there is none', (wanted) => expect(nearestRatio(wanted).ok).toBe(false));
  it('of no list there is none', () => expect(nearestRatio(4, []).ok).toBe(false));
  it('are listed once each, in order', () => expect(AXLE_RATIOS).toEqual([...new Set(AXLE_RATIOS)].sort((a, b) => a - b)));
});

describe('crawling', () => {
  // By hand: 3.83 · 2.57 · 4.10 = 40.36; 700 rpm and 2.44 m → 0.705 m/s.
  it('is the product of the ratios, and its speed the idle speed over it', () => {
    expect(crawlRatio(3.83, 2.57, 4.1)).toBeCloseTo(40.36, 2);
    expect(crawlSpeed((700 * 2 * Math.PI) / 60, 2.44, 40.36)).toBeCloseTo(0.705, 3);
  });
});

describe('critical speed', () => {
  it('falls with the square of the length, and rises with the tube', () => {
    const at = (length: number, outer: number) => {
      const speed = criticalSpeed({ length, outer, inner: outer - 0.004 });
      return speed.ok ? speed.value : Number.NaN;
    };
    expect(at(1, 0.08) / at(2, 0.08)).toBeCloseTo(4, 9);
    expect(at(1, 0.1)).toBeGreaterThan(at(1, 0.08));
  });
  it('of what is no tube is refused', () => expect(criticalSpeed({ length: 1, outer: 0.05, inner: 0.06 }).ok).toBe(false));
});
