/** Figures as the trade of either system says them. */
import { describe, expect, it } from 'vitest';
import { onItsSide, prose, roundDistance, shownDistance } from './show.ts';

describe('distances after which something is done again', () => {
  it('are round figures in either system', () => {
    const km = [40, 80, 150, 500, 800, 1000];
    expect(km.map((distance) => shownDistance(1000 * distance, 'metric'))).toEqual(km.map((value) => ({ value, unit: 'km' })));
    expect(km.map((distance) => shownDistance(1000 * distance, 'us'))).toEqual(
      [25, 50, 100, 300, 500, 600].map((value) => ({ value, unit: 'mi' })),
    );
  });

  it('are the nearest round figure, and short ones as they are', () => {
    expect([9.94, 12.4, 99, 101, 497.1].map(roundDistance)).toEqual([9.9, 10, 100, 100, 500]);
  });
});

describe('words of a rule', () => {
  it('have speeds and distances in whole figures of the other system', () => {
    expect(prose('torqued again after 150 and 800 km, and no faster than 50 km/h', 'us')).toBe(
      'torqued again after 100 and 500 mi, and no faster than 31 mph (50 km/h)',
    );
    expect(prose('check again after 80 km', 'us')).toBe('check again after 50 mi');
    expect(prose('check again after 80 km', 'metric')).toBe('check again after 80 km');
  });
});

describe('a margin beside its tolerance', () => {
  const mm = (value: number, plus_minus: number) => ({ value, plus_minus, unit: 'mm' });
  it('reaches zero only where its band does', () => {
    // 6.36 ± 6.35 mm is clear: rounded towards the worse side it would read as 6.3 ± 6.4.
    expect(onItsSide(mm(6.3, 6.4), 6.36, 6.35)).toEqual(mm(6.3, 6.3));
    expect(onItsSide(mm(-6.3, 6.4), -6.33, 6.32)).toEqual(mm(-6.3, 6.3));
    expect(onItsSide(mm(6.3, 6.4), 6.34, 6.36)).toEqual(mm(6.3, 6.4));
    // Uneven: it is told how far the further end is.
    expect(onItsSide(mm(-12.1, 16.7), -12.1, 16.7)).toEqual(mm(-12.1, 16.7));
    expect(onItsSide(mm(0, 0.1), 0.015, 0.005)).toEqual({ value: 0, unit: 'mm' });
  });
});
