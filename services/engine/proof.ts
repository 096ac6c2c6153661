/**
 * Ends of a margin that are proved: no values within the tolerances can pass them. What a rule reads is followed down
 * through every model that is written as a formula; a model that is not, or that folds a drawing into its own error, has
 * no range, and what rests on it stays searched.
 *
 * Where a margin moves one way only with an input, all over the tolerances, its end is at that input's end. Where it does
 * with every input, the end is a corner, and the margin is asked there: exact. Where it does not, the range bounds it.
 */
import { type FormulaAsk, RANGES } from './formula.ts';
import type { Atom } from './interpret.ts';
import { absolute, type Interval, rising, toPower, turning } from './interval.ts';
import type { Layout } from './layout.ts';
import {
  ANY_RANGE,
  exactly,
  extreme,
  isAny,
  isExact,
  less,
  negative,
  openBy,
  product,
  type Range,
  ratio,
  through,
  total,
} from './range.ts';
import type { Fold, Num, Truth } from './tree.ts';
import type { Values } from './values.ts';

/** How much a value's range may differ in its middle from the value: the last bits of sums in another order. */
const SAME = 1e-9;

/** Ranges of one vehicle's values, with nothing moved. */
export class Ranges {
  readonly #values: Values;
  readonly #known = new Map<number, Range>();

  constructor(values: Values) {
    this.#values = values;
  }

  of(slot: number): Range {
    const known = this.#known.get(slot);
    if (known) return known;
    const value = this.#values.read(slot);
    const range = Number.isNaN(value) ? ANY_RANGE : this.#rangeOf(slot, value);
    const same = Math.abs(range.mid - value) <= SAME * Math.max(1e-9, Math.abs(value), Math.abs(range.low), Math.abs(range.high));
    this.#known.set(slot, same ? range : ANY_RANGE);
    return same ? range : ANY_RANGE;
  }

  #rangeOf(slot: number, value: number): Range {
    const values = this.#values;
    const { chosen, provider, subjects, folded, inputs, modelError } = values.node(slot);
    if (chosen !== 'computed') return this.#given(slot, value);
    if ([...folded].some((input) => this.#spread(input) > 0)) return ANY_RANGE;
    if (provider?.range) return this.#formula(slot, provider.range, subjects);
    // What rests on exact numbers alone is a number, off by its model's error.
    const moving = [...inputs].some((input) => !folded.has(input) && !isExact(this.of(input)));
    return moving ? ANY_RANGE : openBy(value, modelError.rss, values.statementOf(slot));
  }

  #given(slot: number, value: number): Range {
    const own = openBy(value, this.#values.toleranceOf(slot), this.#values.statementOf(slot));
    const shared = this.#values.sharedBy(slot);
    return shared ? total([own, product(exactly(shared.plusMinus), this.of(shared.slot))]) : own;
  }

  #spread(slot: number): number {
    return Math.max(0, ...this.#values.givensOf([slot], { folded: true }).map((given) => this.#values.toleranceOf(given)));
  }

  #formula(slot: number, range: (ask: FormulaAsk<Range>, ...subjects: number[]) => Range, subjects: readonly number[]): Range {
    let off: Range | undefined;
    const ask: FormulaAsk<Range> = {
      ...RANGES,
      value: (name, ...of) => this.of(this.#values.slot(name, of)),
      text: (name, ...of) => this.#values.textOf(this.#values.read(this.#values.slot(name, of))),
      isKnown: (number) => !isAny(number),
      unknown: () => ANY_RANGE,
      within: (plusMinus) => {
        off = plusMinus;
      },
    };
    const plain = range(ask, ...subjects);
    return off === undefined ? plain : total([plain, product(off, openBy(0, 1, this.#values.statementOf(slot)))]);
  }

  /** Of a rule's number: its leaves, folds and constants are in the tuple's block. */
  number(node: Num, block: Block): Range {
    const of = (child: Num): Range => this.number(child, block);
    switch (node.op) {
      case 'constant':
        return this.#constant(node, block);
      case 'leaf':
        return this.of(slotIn(outward(block, node.depth), node.leaf));
      case 'parameter':
        return ANY_RANGE;
      case 'fold':
        return this.#fold(node.fold, outward(block, node.depth));
      case 'local':
        return of(node.a);
      case 'negate':
        return negative(of(node.a));
      case 'add':
        return total([of(node.a), of(node.b)]);
      case 'subtract':
        return less(of(node.a), of(node.b));
      case 'multiply':
        return product(of(node.a), of(node.b));
      case 'divide':
        return ratio(of(node.a), of(node.b));
      case 'min':
      case 'max':
        return extreme(node.op, node.args.map(of));
      case 'power':
        return power(of(node.a), node.exponent);
      default:
        return 'b' in node ? ANY_RANGE : unary(node.op, of(node.a));
    }
  }

  #constant(node: Extract<Num, { op: 'constant' }>, block: Block): Range {
    if (node.plusMinus === 0) return exactly(node.value);
    const { layout, outer } = block;
    const index = layout.constants.indexOf(node);
    if (index >= 0) return this.of(slotIn(block, layout.constantsAt + index));
    return outer ? this.#constant(node, outer) : ANY_RANGE;
  }

  #fold(index: number, block: Block): Range {
    const { layout, slots, at } = block;
    const { how, body, over } = layout.scope.folds[index] as Fold;
    const header = at + layout.foldsAt + 2 * index;
    const inner = layout.folds[index] as Layout;
    const blocks = Array.from({ length: slots[header + 1] as number }, (_, k): Block => {
      return { layout: inner, slots, at: (slots[header] as number) + k * inner.size, outer: block };
    });
    const belongs = blocks.map((member) => (over.where ? this.#truth(over.where, member) : true));
    if (belongs.includes(undefined)) return ANY_RANGE;
    const members = blocks.filter((_, i) => belongs[i]);
    if (how === 'count') return exactly(members.length);
    if (how === 'every' || how === 'some') return ANY_RANGE;
    const numbers = members.map((member) => this.number(body as Num, member));
    return how === 'sum' ? total(numbers) : extreme(how, numbers);
  }

  /** Whether it holds wherever its inputs are; undefined if that is not certain. */
  #truth(node: Truth, block: Block): boolean | undefined {
    switch (node.op) {
      case 'always':
        return node.value;
      case 'truth-leaf': {
        const is = this.of(slotIn(outward(block, node.depth), node.leaf));
        return isExact(is) ? (is.mid === 1) !== node.negated : undefined;
      }
      case 'compare': {
        const margin = less(this.number(node.a, block), this.number(node.b, block));
        const near = SAME * Math.max(Math.abs(margin.low), Math.abs(margin.high), Number.MIN_VALUE);
        return margin.low > near ? true : margin.high < -near ? false : undefined;
      }
      case 'and':
      case 'or': {
        const parts = node.parts.map((part) => this.#truth(part, block));
        const decides = node.op === 'or';
        return parts.includes(decides) ? decides : parts.includes(undefined) ? undefined : !decides;
      }
      default:
        return undefined;
    }
  }

  /** All that an atom's margin can be. */
  margin(atom: Atom, block: Block): Range {
    return atom.op === 'compare' ? less(this.number(atom.a, block), this.number(atom.b, block)) : ANY_RANGE;
  }
}

/** A tuple's block of slots, or a fold member's within it. */
export interface Block {
  readonly layout: Layout;
  readonly slots: Int32Array;
  readonly at: number;
  readonly outer?: Block;
}

const slotIn = ({ slots, at }: Block, index: number): number => slots[at + index] as number;

function outward(block: Block, depth: number): Block {
  let at = block;
  for (let i = 0; i < depth; i++) at = at.outer as Block;
  return at;
}

function power(a: Range, n: number): Range {
  if (isAny(a) || (n < 0 && !(a.low > 0 || a.high < 0))) return ANY_RANGE;
  const slope = toPower(a, n - 1);
  const ends = [slope.low * n, slope.high * n];
  return through(a, a.mid ** n, toPower(a, n), { low: Math.min(...ends), high: Math.max(...ends) });
}

const inverse = ({ low, high }: Interval): Interval => ({ low: 1 / high, high: 1 / low });

/** Ends and slopes of the functions of one number; nothing where one of them has no answer or no slope. */
function unary(op: Exclude<Num['op'], 'constant'>, a: Range): Range {
  const { mid, low, high } = a;
  if (isAny(a)) return ANY_RANGE;
  switch (op) {
    case 'abs':
      return through(a, Math.abs(mid), absolute(a), { low: low >= 0 ? 1 : -1, high: high <= 0 ? -1 : 1 });
    case 'sqrt':
      return low > 0
        ? through(
            a,
            Math.sqrt(mid),
            { low: Math.sqrt(low), high: Math.sqrt(high) },
            inverse({ low: 2 * Math.sqrt(low), high: 2 * Math.sqrt(high) }),
          )
        : ANY_RANGE;
    case 'atan':
      return through(a, Math.atan(mid), rising('atan', a), inverse({ low: 1, high: 1 + absolute(a).high ** 2 }));
    case 'sin':
      return through(a, Math.sin(mid), turning('sin', a), turning('cos', a));
    case 'cos': {
      const slope = turning('sin', a);
      return through(a, Math.cos(mid), turning('cos', a), { low: -slope.high, high: -slope.low });
    }
    case 'tan': {
      if (!(low > -Math.PI / 2 && high < Math.PI / 2)) return ANY_RANGE;
      const cos = turning('cos', a);
      return through(a, Math.tan(mid), rising('tan', a), inverse({ low: cos.low ** 2, high: cos.high ** 2 }));
    }
    default:
      return ANY_RANGE;
  }
}

/** By which end of each statement a margin is at its lowest (or highest); undefined where an input turns it both ways. */
export function cornerOf({ slopes }: Range, end: 'low' | 'high'): ReadonlyMap<number, number> | undefined {
  const corner = new Map<number, number>();
  for (const [statement, { low, high }] of slopes) {
    if (low < 0 && high > 0) return undefined;
    if (low === 0 && high === 0) continue;
    corner.set(statement, high > 0 === (end === 'high') ? 1 : -1);
  }
  return corner;
}
