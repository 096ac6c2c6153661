import fc from 'fast-check';
import * as library from 'interval-arithmetic';
import { describe, expect, it } from 'vitest';
import { formula } from './formula.ts';
import { judged, type Stated } from './testing.ts';

/** An expression of three lengths: as a rule writes it, in numbers, and in the intervals of a general library. */
interface Expression {
  readonly text: string;
  readonly at: (x: readonly number[]) => number;
  readonly over: (x: readonly library.Interval[]) => library.Interval;
}

const LENGTHS = ['h.length', 'h.stretch', 'gap(h.corner)'];
const leaf = fc
  .nat(2)
  .map((i): Expression => ({ text: LENGTHS[i] as string, at: (x) => x[i] as number, over: (x) => x[i] as library.Interval }));
const number = fc
  .integer({ min: -4, max: 4 })
  .map((k): Expression => ({ text: `${k}`, at: () => k, over: () => new library.Interval(k, k) }));

const joined = (
  op: string,
  at: (a: number, b: number) => number,
  over: (a: library.Interval, b: library.Interval) => library.Interval,
  [a, b]: readonly [Expression, Expression],
): Expression => ({ text: `(${a.text} ${op} ${b.text})`, at: (x) => at(a.at(x), b.at(x)), over: (x) => over(a.over(x), b.over(x)) });

/** Lengths in, a length out. */
const length: fc.Memo<Expression> = fc.memo((n) => {
  if (n <= 1) return leaf;
  const of = length(n - 1);
  return fc.oneof(
    leaf,
    fc.tuple(of, of).map((pair) => joined('+', (a, b) => a + b, library.add, pair)),
    fc.tuple(of, of).map((pair) => joined('-', (a, b) => a - b, library.sub, pair)),
    fc.tuple(of, number).map((pair) => joined('*', (a, b) => a * b, library.mul, pair)),
    fc.tuple(of, of, of).map(([a, b, c]) => {
      const top = joined('*', (p, q) => p * q, library.mul, [a, b]);
      return joined('/', (p, q) => p / q, library.div, [top, c]);
    }),
    of.map((a): Expression => ({ text: `abs(${a.text})`, at: (x) => Math.abs(a.at(x)), over: (x) => library.abs(a.over(x)) })),
    fc.tuple(of, of).map(
      ([a, b]): Expression => ({
        text: `max(${a.text}, ${b.text})`,
        at: (x) => Math.max(a.at(x), b.at(x)),
        over: (x) => library.max(a.over(x), b.over(x)),
      }),
    ),
    fc.tuple(of, of).map(
      ([a, b]): Expression => ({
        text: `min(${a.text}, ${b.text})`,
        at: (x) => Math.min(a.at(x), b.at(x)),
        over: (x) => library.min(a.over(x), b.over(x)),
      }),
    ),
    of.map(
      (a): Expression => ({
        text: `sqrt(${a.text} * ${a.text} + 1 m * 1 m)`,
        at: (x) => Math.sqrt(a.at(x) ** 2 + 1),
        over: (x) => library.sqrt(library.add(library.mul(a.over(x), a.over(x)), new library.Interval(1, 1))),
      }),
    ),
  );
});

const stated = fc.tuple(fc.integer({ min: -8, max: 8 }), fc.integer({ min: 0, max: 3 })).map(([value, by]) => [value / 4, by / 8] as const);

/** What is true or false whatever the values is refused when a rule is read. */
function judgedOrRefused(require: string, said: Readonly<Record<string, Stated>>) {
  try {
    return judged(require, said).atoms[0];
  } catch (error) {
    if (/RULE_(ALWAYS|NEVER)/.test(String(error))) return undefined;
    throw error;
  }
}

describe('ends that are proven', () => {
  it('are no further out than a general interval library has them, and no further in than any values reach', () => {
    let proven = 0;
    fc.assert(
      fc.property(
        length(4),
        fc.tuple(stated, stated, stated),
        fc.array(
          fc.tuple(
            fc.double({ min: -1, max: 1, noNaN: true }),
            fc.double({ min: -1, max: 1, noNaN: true }),
            fc.double({ min: -1, max: 1, noNaN: true }),
          ),
          { minLength: 20, maxLength: 20 },
        ),
        (expression, said, draws) => {
          const values = { 'hose.length': said[0], 'hose.stretch': said[1], gap: said[2], route: 0 };
          const result = judgedOrRefused(`${expression.text} * 1 >= route(h)`, values);
          if (!result || !Number.isFinite(result.margin)) return;
          const bound = expression.over(said.map(([value, by]) => new library.Interval(value - by, value + by)));
          const noise = 1e-9 * Math.max(1, Math.abs(result.low), Math.abs(result.high));
          const corners = Array.from({ length: 27 }, (_, k) => [k % 3, Math.floor(k / 3) % 3, Math.floor(k / 9)].map((part) => part - 1));
          for (const parts of [...corners, ...draws]) {
            const margin = expression.at(said.map(([value, by], i) => value + (parts[i] as number) * by));
            if (!Number.isFinite(margin)) continue;
            if (result.lowIs === 'proven') expect(margin).toBeGreaterThanOrEqual(result.low - noise);
            if (result.highIs === 'proven') expect(margin).toBeLessThanOrEqual(result.high + noise);
          }
          if (result.lowIs === 'proven') expect(result.low).toBeGreaterThanOrEqual(bound.lo - noise);
          if (result.highIs === 'proven') expect(result.high).toBeLessThanOrEqual(bound.hi + noise);
          proven += Number(result.lowIs === 'proven') + Number(result.highIs === 'proven');
        },
      ),
      { numRuns: 400 },
    );
    expect(proven).toBeGreaterThan(200);
  });

  it('follow a model written as a formula, its own error and what moves together', () => {
    const load = formula((ask) => ask.sum([ask.value('a'), ask.value('b')]));
    const half = formula((ask) => {
      const part = ask.times(ask.of(0.5), ask.value('load'));
      ask.within(ask.times(ask.of(0.1), part));
      return part;
    });
    const said = { 'hose.length': 20, route: half, load, a: [10, 2], b: [10, 2] } as const;
    const [result] = judged('h.length >= route(h)', said).atoms;
    expect([result?.lowIs, result?.highIs]).toEqual(['proven', 'proven']);
    expect(result?.low).toBeCloseTo(20 - 1.1 * 12, 9);
    expect(result?.high).toBeCloseTo(20 - 0.9 * 8, 9);
  });

  it('follow the term of a formula that wins only at a corner', () => {
    // In the middle the first wins; the second, three times as uncertain, passes it at its end.
    const route = formula((ask) => ask.most(ask.value('a'), ask.value('b')));
    const [result] = judged('h.length >= route(h)', { 'hose.length': 20, route, a: [10, 1], b: [9, 3] }).atoms;
    expect([result?.lowIs, result?.highIs]).toEqual(['proven', 'proven']);
    expect([result?.low, result?.high]).toEqual([expect.closeTo(8, 9), expect.closeTo(11, 9)]);
  });

  it.each([
    ['max', 9, 20 - 12],
    ['min', 11, 20 - 11],
  ] as const)('follow the term of a %s inside a margin that wins only at a corner', (pick, other, low) => {
    const require = `h.length - 1 * ${pick}(h.stretch, gap(h.corner)) >= route(h)`;
    const [result] = judged(require, { 'hose.length': 20, 'hose.stretch': [10, 1], gap: [other, 3], route: 0 }).atoms;
    expect(result?.lowIs).toBe('proven');
    expect(result?.low).toBeCloseTo(low, 9);
  });

  it('are not claimed where a formula and its own range disagree', () => {
    const route = { compute: () => 0.5, range: formula((ask) => ask.value('gap')).range };
    const [result] = judged('h.length >= route(h)', { 'hose.length': 1, route, gap: [0.75, 0.125] }).atoms;
    expect([result?.lowIs, result?.highIs]).toEqual(['searched', 'searched']);
  });
});
