/**
 * Numbers over all that their inputs may be: ends that no values within the tolerances pass, and between which slopes a
 * number moves with each input. Interval arithmetic carries both through a sum; where a slope has one sign all over, the
 * end is at that input's end, and the end of the number is found exactly there (the monotonicity test of interval
 * analysis; Moore, Kearfott and Cloud, Introduction to Interval Analysis, 2009, ch. 6; from memory).
 *
 * An input is known by its statement, and runs from -1 to 1. The last bits of sums are not rounded outward: what differs
 * by less than 1e-9 of the larger side counts as equal everywhere in this language.
 */
import { type Interval, minus as lessInterval, plus as plusInterval, quotient, times as timesInterval } from './interval.ts';

export interface Range extends Interval {
  /** With every input where it is stated. */
  readonly mid: number;
  /** By statement: all slopes it moves with, per half-width of the input. */
  readonly slopes: ReadonlyMap<number, Interval>;
}

const NO_SLOPES: ReadonlyMap<number, Interval> = new Map();
const ALL: Interval = { low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY };

/** Nothing is known of it. */
export const ANY_RANGE: Range = { ...ALL, mid: Number.NaN, slopes: NO_SLOPES };

export const isAny = ({ mid }: Range): boolean => Number.isNaN(mid);
export const exactly = (x: number): Range => (Number.isNaN(x) ? ANY_RANGE : { mid: x, low: x, high: x, slopes: NO_SLOPES });
export const isExact = ({ low, high }: Range): boolean => low === high;

/** A value its statement leaves open by a half-width. */
export const openBy = (value: number, plusMinus: number, statement: number): Range =>
  plusMinus === 0
    ? exactly(value)
    : made(value, { low: value - plusMinus, high: value + plusMinus }, new Map([[statement, { low: plusMinus, high: plusMinus }]]));

/** Ends by its own arithmetic, drawn in to what its slopes allow about the middle. */
function made(mid: number, { low, high }: Interval, slopes: ReadonlyMap<number, Interval>): Range {
  if (Number.isNaN(mid) || !(low <= high)) return ANY_RANGE;
  let reach = 0;
  for (const slope of slopes.values()) reach += Math.max(Math.abs(slope.low), Math.abs(slope.high));
  // The middle is inside whatever the last bits of a sum say.
  return { mid, low: Math.min(mid, Math.max(low, mid - reach)), high: Math.max(mid, Math.min(high, mid + reach)), slopes };
}

/** Slopes of something that moves by `of(a)` with each part of `a`, and likewise with `b`. */
function joined(parts: readonly (readonly [Range, Interval])[]): ReadonlyMap<number, Interval> {
  const [only, ...others] = parts.filter(([{ slopes }]) => slopes.size > 0);
  if (!only) return NO_SLOPES;
  const sum = new Map<number, Interval>();
  for (const [{ slopes }, factor] of [only, ...others]) {
    for (const [statement, slope] of slopes) {
      const by = timesInterval(slope, factor);
      const known = sum.get(statement);
      sum.set(statement, known ? plusInterval(known, by) : by);
    }
  }
  return sum;
}

const ONE: Interval = { low: 1, high: 1 };
const LESS: Interval = { low: -1, high: -1 };

export function total(terms: readonly Range[]): Range {
  if (terms.some(isAny)) return ANY_RANGE;
  const add = (of: (range: Range) => number): number => terms.reduce((sum, term) => sum + of(term), 0);
  const ends = { low: add(({ low }) => low), high: add(({ high }) => high) };
  return made(
    add(({ mid }) => mid),
    ends,
    joined(terms.map((term) => [term, ONE])),
  );
}

export const negative = (a: Range): Range => made(-a.mid, { low: -a.high, high: -a.low }, joined([[a, LESS]]));

export const less = (a: Range, b: Range): Range =>
  isAny(a) || isAny(b)
    ? ANY_RANGE
    : made(
        a.mid - b.mid,
        lessInterval(a, b),
        joined([
          [a, ONE],
          [b, LESS],
        ]),
      );

export const product = (a: Range, b: Range): Range =>
  isAny(a) || isAny(b)
    ? ANY_RANGE
    : made(
        a.mid * b.mid,
        timesInterval(a, b),
        joined([
          [a, b],
          [b, a],
        ]),
      );

export function ratio(a: Range, b: Range): Range {
  if (isAny(a) || isAny(b) || !(b.low > 0 || b.high < 0)) return ANY_RANGE;
  const ends = quotient(a, b);
  return made(
    a.mid / b.mid,
    ends,
    joined([
      [a, quotient(ONE, b)],
      [b, timesInterval(LESS, quotient(ends, b))],
    ]),
  );
}

/** A function of one argument: all it can be and all its slopes, over the argument's ends. */
export const through = (a: Range, mid: number, ends: Interval, slopes: Interval): Range =>
  isAny(a) ? ANY_RANGE : made(mid, ends, joined([[a, slopes]]));

/** The least or greatest of several: it moves with those that can be it. */
export function extreme(which: 'min' | 'max', terms: readonly Range[]): Range {
  if (terms.length === 0 || terms.some(isAny)) return ANY_RANGE;
  const pick = Math[which];
  const ends = { low: pick(...terms.map(({ low }) => low)), high: pick(...terms.map(({ high }) => high)) };
  const able = terms.filter(({ low, high }) => (which === 'max' ? high >= ends.low : low <= ends.high));
  const statements = new Set(able.flatMap(({ slopes }) => [...slopes.keys()]));
  const hull = (statement: number): Interval => {
    const slopes = able.map((term) => term.slopes.get(statement) ?? { low: 0, high: 0 });
    return { low: Math.min(...slopes.map(({ low }) => low)), high: Math.max(...slopes.map(({ high }) => high)) };
  };
  return made(pick(...terms.map(({ mid }) => mid)), ends, new Map([...statements].map((statement) => [statement, hull(statement)])));
}

/** Which way a model goes with an argument, wherever the others are. */
export type Way = 'rises' | 'falls';

const UPWARD: Interval = { low: 0, high: Number.POSITIVE_INFINITY };
const DOWNWARD: Interval = { low: Number.NEGATIVE_INFINITY, high: 0 };

/** A model that rises or falls with each of its arguments: its ends are at theirs. */
export function monotone(model: (...args: readonly number[]) => number, args: readonly (readonly [Range, Way])[]): Range {
  if (args.some(([arg]) => isAny(arg))) return ANY_RANGE;
  const at = (end: 'low' | 'high'): number =>
    model(...args.map(([arg, way]) => ((way === 'rises') === (end === 'low') ? arg.low : arg.high)));
  const ends = { low: at('low'), high: at('high') };
  const mid = model(...args.map(([arg]) => arg.mid));
  if (!Number.isFinite(ends.low + ends.high + mid)) return ANY_RANGE;
  return made(mid, ends, joined(args.map(([arg, way]) => [arg, way === 'rises' ? UPWARD : DOWNWARD])));
}
