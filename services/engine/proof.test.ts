import fc from 'fast-check';
import * as library from 'interval-arithmetic';
import { describe, expect, it } from 'vitest';
import { formula } from './formula.ts';
import { judged, type Stated } from './testing.ts';

/** An expression of lengths, of one hose and of two more: as a rule writes it, in numbers, and in the intervals of a general library. */
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

const I = (low: number, high = low): library.Interval => new library.Interval(low, high);

/** Of a hose by its place in a row: its length and its stretch. The first is the one that is asked about. */
const HOSES: readonly (readonly [number, number])[] = [
  [0, 1],
  [3, 4],
  [5, 6],
];
const reduced = <T>(items: readonly T[], join: (a: T, b: T) => T): T => items.reduce((a, b) => join(a, b));

/** Over all the hoses there are, and over those that belong, which tolerances may decide. */
const folds: readonly Expression[] = [
  {
    text: 'sum(p.length for p in hose)',
    at: (x) => HOSES.reduce((sum, [l]) => sum + (x[l] as number), 0),
    over: (x) =>
      reduced(
        HOSES.map(([l]) => x[l] as library.Interval),
        library.add,
      ),
  },
  {
    text: 'max(p.length - p.stretch for p in hose)',
    at: (x) => Math.max(...HOSES.map(([l, s]) => (x[l] as number) - (x[s] as number))),
    over: (x) =>
      reduced(
        HOSES.map(([l, s]) => library.sub(x[l] as library.Interval, x[s] as library.Interval)),
        library.max,
      ),
  },
  {
    text: 'min(p.stretch + h.length for p in hose)',
    at: (x) => Math.min(...HOSES.map(([, s]) => (x[s] as number) + (x[0] as number))),
    over: (x) =>
      reduced(
        HOSES.map(([, s]) => library.add(x[s] as library.Interval, x[0] as library.Interval)),
        library.min,
      ),
  },
  {
    text: 'sum(p.length for p in hose where p.stretch > 0.3 m)',
    at: (x) => HOSES.reduce((sum, [l, s]) => sum + ((x[s] as number) > 0.3 ? (x[l] as number) : 0), 0),
    over: (x) =>
      reduced(
        HOSES.map(([l, s]) => {
          const [it, by] = [x[l] as library.Interval, x[s] as library.Interval];
          return by.lo > 0.3 ? it : by.hi <= 0.3 ? I(0) : library.hull(it, I(0));
        }),
        library.add,
      ),
  },
];

const OVER = { sin: library.sin, cos: library.cos, tan: library.tan };
const turned = (name: 'sin' | 'cos' | 'tan', of: fc.Arbitrary<Expression>): fc.Arbitrary<Expression> =>
  of.map((a) => ({
    text: `(1 m * ${name}(${a.text} / 3 m * 1 rad))`,
    at: (x) => Math[name](a.at(x) / 3),
    over: (x) => OVER[name](library.div(a.over(x), I(3))),
  }));

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
    fc.constantFrom(...folds),
    turned('sin', of),
    turned('cos', of),
    turned('tan', of),
    of.map(
      (a): Expression => ({
        text: `(1 m * atan(${a.text} / 1 m) / 1 rad)`,
        at: (x) => Math.atan(a.at(x)),
        over: (x) => library.atan(a.over(x)),
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

const INPUTS = ['hose.length', 'hose.stretch', 'gap', 'hose.length#1', 'hose.stretch#1', 'hose.length#2', 'hose.stretch#2'];
/** Every input at one of its ends, and all in the middle. */
const VERTICES = [
  INPUTS.map(() => 0),
  ...Array.from({ length: 2 ** INPUTS.length }, (_, k) => INPUTS.map((__, i) => ((k >> i) & 1 ? 1 : -1))),
];

describe('ends that are proven', () => {
  it('are no further out than a general interval library has them, and no further in than any values reach', () => {
    const seen = new Map(['h.', 'sin(', 'cos(', 'tan(', 'atan(', 'sum(', 'max(p', 'min(p', 'where'].map((what) => [what, 0]));
    fc.assert(
      fc.property(
        length(4),
        fc.array(stated, { minLength: INPUTS.length, maxLength: INPUTS.length }),
        fc.array(fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: INPUTS.length, maxLength: INPUTS.length }), {
          minLength: 20,
          maxLength: 20,
        }),
        (expression, said, draws) => {
          const values = { ...Object.fromEntries(INPUTS.map((name, i) => [name, said[i] as Stated])), route: 0 };
          const result = judgedOrRefused(`${expression.text} * 1 >= route(h)`, values);
          if (!result || !Number.isFinite(result.margin)) return;
          const bound = expression.over(said.map(([value, by]) => new library.Interval(value - by, value + by)));
          const noise = 1e-9 * Math.max(1, Math.abs(result.low), Math.abs(result.high));
          for (const parts of [...VERTICES, ...draws]) {
            const margin = expression.at(said.map(([value, by], i) => value + (parts[i] as number) * by));
            if (!Number.isFinite(margin)) continue;
            if (result.lowIs === 'proven') expect(margin).toBeGreaterThanOrEqual(result.low - noise);
            if (result.highIs === 'proven') expect(margin).toBeLessThanOrEqual(result.high + noise);
          }
          if (result.lowIs === 'proven') expect(result.low).toBeGreaterThanOrEqual(bound.lo - noise);
          if (result.highIs === 'proven') expect(result.high).toBeLessThanOrEqual(bound.hi + noise);
          const both = Number(result.lowIs === 'proven') + Number(result.highIs === 'proven');
          for (const what of seen.keys()) if (expression.text.includes(what)) seen.set(what, (seen.get(what) as number) + both);
        },
      ),
      { numRuns: 300 },
    );
    // None of what the language has was proved by chance alone.
    for (const [what, times] of seen) expect([what, times > 10]).toEqual([what, true]);
  });

  it('move what a fold reads from outside it', () => {
    const said = { 'hose.length': [1, 0.125], 'hose.stretch': 0, 'hose.length#1': [5, 0], gap: [0.5, 0.25], route: 0 } as const;
    const ends = (require: string) => {
      const [result] = judged(require, said).atoms;
      return [result?.low, result?.lowIs, result?.high, result?.highIs];
    };
    expect(ends('sum(h.length for p in hose) * 1 >= route(h)')).toEqual([1.75, 'proven', 2.25, 'proven']);
    expect(ends('max(p.length - gap(h.corner) for p in hose where p.length > 2 m) * 1 >= route(h)')).toEqual([
      4.25,
      'proven',
      4.75,
      'proven',
    ]);
    expect(ends('sum(max(q.length - h.length for q in hose) for p in hose) * 1 >= route(h)').map((end) => end ?? 0)).toEqual([
      7.75,
      'proven',
      8.25,
      'proven',
    ]);
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
