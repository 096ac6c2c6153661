/** Interval arithmetic over checked trees: ends that no value inside the inputs' ranges can pass. */
import type { Num, Truth } from './tree.ts';

export interface Interval {
  readonly low: number;
  readonly high: number;
}

export const ANYTHING: Interval = { low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY };
const NOT_NEGATIVE: Interval = { low: 0, high: Number.POSITIVE_INFINITY };

/** What a leaf, a fold or a constant can be. */
export interface Ranges {
  leaf(index: number, depth: number): Interval;
  fold(index: number, depth: number): Interval;
  parameter(name: string): Interval;
}

export function intervalOf(node: Num, ranges: Ranges): Interval {
  const of = (child: Num): Interval => intervalOf(child, ranges);
  switch (node.op) {
    case 'constant':
      return { low: node.value - node.plusMinus, high: node.value + node.plusMinus };
    case 'leaf':
      return ranges.leaf(node.leaf, node.depth);
    case 'parameter':
      return ranges.parameter(node.name);
    case 'fold':
      return ranges.fold(node.fold, node.depth);
    case 'local':
      return of(node.a);
    case 'negate':
      return negate(of(node.a));
    case 'add':
      return plus(of(node.a), of(node.b));
    case 'subtract':
      return minus(of(node.a), of(node.b));
    case 'multiply':
      return times(of(node.a), of(node.b));
    case 'divide': {
      const b = of(node.b);
      return b.low > 0 || b.high < 0 ? quotient(of(node.a), b) : ANYTHING;
    }
    case 'power':
      return toPower(of(node.a), node.exponent);
    case 'min':
    case 'max':
      return node.args.map(of).reduce((a, b) => ({ low: Math[node.op](a.low, b.low), high: Math[node.op](a.high, b.high) }));
    case 'abs':
      return absolute(of(node.a));
    case 'sqrt': {
      const a = of(node.a);
      return a.low >= 0 ? { low: Math.sqrt(a.low), high: Math.sqrt(a.high) } : ANYTHING;
    }
    case 'asin':
    case 'atan':
    case 'tan':
      return rising(node.op, of(node.a));
    case 'acos':
      return { low: 0, high: Math.PI };
    case 'sin':
    case 'cos':
      return turning(node.op, of(node.a));
    case 'atan2':
      return { low: -Math.PI, high: Math.PI };
  }
}

const negate = ({ low, high }: Interval): Interval => ({ low: -high, high: -low });
export const minus = (a: Interval, b: Interval): Interval => plus(a, negate(b));
export const plus = (a: Interval, b: Interval): Interval => ({ low: a.low + b.low, high: a.high + b.high });
export const times = (a: Interval, b: Interval): Interval => corners(a, b, (x, y) => x * y);
/** Of a divisor that is not zero anywhere. */
export const quotient = (a: Interval, b: Interval): Interval => corners(a, b, (x, y) => x / y);

/** The extremes of a function that is monotone in each argument are at the corners. `0 × ∞` counts as 0: an end, not a value. */
function corners(a: Interval, b: Interval, f: (x: number, y: number) => number): Interval {
  const all = [a.low, a.high].flatMap((x) => [b.low, b.high].map((y) => f(x, y))).map((x) => (Number.isNaN(x) ? 0 : x));
  return { low: Math.min(...all), high: Math.max(...all) };
}

export function toPower(a: Interval, n: number): Interval {
  if (n === 0) return { low: 1, high: 1 };
  if (n < 0) return a.low > 0 || a.high < 0 ? quotient({ low: 1, high: 1 }, toPower(a, -n)) : ANYTHING;
  if (n % 2 === 1) return { low: a.low ** n, high: a.high ** n };
  const size = absolute(a);
  return { low: size.low ** n, high: size.high ** n };
}

export function absolute({ low, high }: Interval): Interval {
  if (low >= 0) return { low, high };
  return high <= 0 ? { low: -high, high: -low } : { low: 0, high: Math.max(-low, high) };
}

export function rising(op: 'asin' | 'atan' | 'tan', { low, high }: Interval): Interval {
  if (op === 'tan' && !(low > -Math.PI / 2 && high < Math.PI / 2)) return ANYTHING;
  if (op === 'asin' && !(low >= -1 && high <= 1)) return { low: -Math.PI / 2, high: Math.PI / 2 };
  return { low: Math[op](low), high: Math[op](high) };
}

export function turning(op: 'sin' | 'cos', { low, high }: Interval): Interval {
  if (!Number.isFinite(low) || !Number.isFinite(high) || high - low >= 2 * Math.PI) return { low: -1, high: 1 };
  const peak = op === 'sin' ? Math.PI / 2 : 0;
  const meets = (at: number): boolean => Math.floor((high - at) / (2 * Math.PI)) >= Math.ceil((low - at) / (2 * Math.PI));
  const [a, b] = [Math[op](low), Math[op](high)];
  return { low: meets(peak + Math.PI) ? -1 : Math.min(a, b), high: meets(peak) ? 1 : Math.max(a, b) };
}

/** Whether a comparison can come out both ways; sums and counts of what cannot be negative are not negative. */
export function settled(node: Extract<Truth, { op: 'compare' }>, ranges: Ranges): 'never' | 'always' | 'open' {
  const margin = minus(intervalOf(node.a, ranges), intervalOf(node.b, ranges));
  const strict = node.how === '>';
  if (margin.high < 0 || (strict && margin.high === 0)) return 'never';
  return margin.low > 0 || (!strict && margin.low === 0) ? 'always' : 'open';
}

export { NOT_NEGATIVE };
