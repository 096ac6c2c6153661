import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { uniform } from '../../../tests/published/suspension/uniform.ts';
import { minimise } from './line-search.ts';

describe('the lowest point of a function with one valley', () => {
  const where = uniform(-1.5, 2.5);

  it.each([
    ['smooth', (x: number, c: number) => (x - c) ** 2],
    ['a kink', (x: number, c: number) => Math.abs(x - c)],
    ['steeper on one side', (x: number, c: number) => (x < c ? 5 * (c - x) : (x - c) ** 2 + 0.3 * (x - c))],
  ])('is found inside and at the ends: %s', (_, f) => {
    fc.assert(
      fc.property(where, (c) => {
        const found = minimise((x) => f(x, c), -1, 2);
        const best = Math.min(2, Math.max(-1, c));
        expect(found.at).toBeCloseTo(best, 5);
        expect(found.value).toBe(f(found.at, c));
      }),
    );
  });

  it('takes few calls for a smooth one and four for an end', () => {
    let calls = 0;
    const counted = (f: (x: number) => number) => (x: number) => {
      calls++;
      return f(x);
    };
    minimise(
      counted((x) => Math.cosh(x - 0.3)),
      -1,
      2,
    );
    expect(calls).toBeLessThan(25);
    calls = 0;
    minimise(
      counted((x) => x),
      0,
      1,
    );
    expect(calls).toBeLessThanOrEqual(4);
  });

  it('of an interval with no width is its only point', () => {
    expect(minimise((x) => x * x, 3, 3)).toEqual({ at: 3, value: 9 });
  });
});
