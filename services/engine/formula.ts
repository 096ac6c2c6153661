/**
 * Arithmetic a provider can be written in once, for plain numbers and for ranges alike: the value comes of the one, what
 * proves the ends of a band of the other.
 */
import { type Arithmetic, NUMBERS } from '../units/index.ts';
import { exactly, extreme, less, monotone, product, type Range, ratio, total, type Way } from './range.ts';

/** Arithmetic with models in it. */
interface Modelling<N> extends Arithmetic<N> {
  /** A model that rises, or falls, with each argument over all that the arguments may be: which way is declared here and tested. */
  model(model: (...args: readonly number[]) => number, ...args: readonly (readonly [N, Way])[]): N;
}

export const PLAIN: Modelling<number> = { ...NUMBERS, model: (model, ...args) => model(...args.map(([x]) => x)) };

export const RANGES: Modelling<Range> = {
  of: exactly,
  sum: total,
  minus: less,
  times: product,
  over: ratio,
  most: (...terms) => extreme('max', terms),
  model: (model, ...args) => monotone(model, args),
};

/** What a model may ask for while it computes; everything it reads becomes an input of what it provides. */
export interface FormulaAsk<N> extends Modelling<N> {
  value(name: string, ...subjects: number[]): N;
  text(name: string, ...subjects: number[]): string | undefined;
  isKnown(number: N): boolean;
  /** Records why there is no answer, and gives a number that is not known. */
  unknown(reason: string): N;
  /**
   * Records by how much the model itself may be off, beyond what its inputs bring: a half-width, SI. It is off alike
   * wherever it was asked with the same statement as the named input, such as one size for four tyres.
   */
  within(plusMinus: N, alike?: { readonly name: string; readonly subject: number }): void;
}

export interface Formula {
  readonly compute: (ask: FormulaAsk<number>, subject: number) => number;
  readonly range: (ask: FormulaAsk<Range>, subject: number) => Range;
}

/** The two that a provider takes, of one formula. */
export const formula = (write: <N>(ask: FormulaAsk<N>, subject: number) => N): Formula => ({ compute: write, range: write });
