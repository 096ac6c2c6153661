/**
 * The plain reading of a checked tree: one value a node, nothing clever. It explains findings, and it is what the
 * generated functions are tested against.
 *
 * Numbers are plain doubles with NaN for unknown. A truth is 1, 0 or NaN (Kleene's three values).
 */
import type { Fold, Num, Scope, SubjectRef, TextRef, Truth } from './tree.ts';

/** Where a tree finds its values: the frame of the scope it stands in, and those around it. */
export interface Frame {
  /** Value of a leaf of this scope; text leaves give the number their text is interned under. */
  leaf(index: number): number;
  /** The frames of the members that a fold of this scope runs over. */
  members(fold: number): Members;
  readonly scope: Scope;
  readonly outer?: Frame;
  /** The subject a reference stands for; negative if there is none. */
  subject(ref: SubjectRef): number;
  /** The number a literal text is interned under. */
  text(literal: string): number;
  /** The amount a work is done with; NaN where there is none. */
  parameter(name: string): number;
}

export interface Members {
  readonly frames: readonly Frame[];
  /** A filter could not be decided for some part, so it is not known who belongs. */
  readonly undecided: boolean;
}

/** An empty `min` or `max` was asked for: the rule does not apply. */
export class EmptyFold extends Error {
  override readonly name = 'EmptyFold';
}

/** What is asked, or unknown where it runs into a least or greatest of nothing: for what only tells of a rule, or its amounts. */
export function unlessEmpty(ask: () => number): number {
  try {
    return ask();
  } catch (error) {
    if (error instanceof EmptyFold) return Number.NaN;
    throw error;
  }
}

/** What went wrong, in words. */
export const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** What the last bits of sums in another order may differ by, as a share: less counts as none. */
export const EQUAL_WITHIN = 1e-9;

/** The margin `a - b`, with a difference under 1e-9 of the larger side counted as none. A strict comparison on the line is just short. */
export function compareMargin(a: number, b: number, strict: boolean): number {
  const margin = a - b;
  if (Math.abs(margin) > EQUAL_WITHIN * Math.max(Math.abs(a), Math.abs(b))) return margin;
  return Number.isNaN(margin) ? margin : strict ? -Number.MIN_VALUE : 0;
}

const frameAt = (frame: Frame, depth: number): Frame => {
  let at = frame;
  for (let i = 0; i < depth; i++) at = at.outer as Frame;
  return at;
};

export function number(node: Num, frame: Frame): number {
  switch (node.op) {
    case 'constant':
      return node.value;
    case 'leaf':
      return frameAt(frame, node.depth).leaf(node.leaf);
    case 'parameter':
      return frame.parameter(node.name);
    case 'local':
      return number(node.a, frame);
    case 'negate':
      return -number(node.a, frame);
    case 'add':
      return number(node.a, frame) + number(node.b, frame);
    case 'subtract':
      return number(node.a, frame) - number(node.b, frame);
    case 'multiply':
      return number(node.a, frame) * number(node.b, frame);
    case 'divide':
      return finite(number(node.a, frame) / number(node.b, frame));
    case 'atan2':
      return Math.atan2(number(node.a, frame), number(node.b, frame));
    case 'power':
      return finite(number(node.a, frame) ** node.exponent);
    case 'min':
      return Math.min(...node.args.map((arg) => number(arg, frame)));
    case 'max':
      return Math.max(...node.args.map((arg) => number(arg, frame)));
    case 'fold': {
      const at = frameAt(frame, node.depth);
      return foldNumber(at.scope.folds[node.fold] as Fold, at.members(node.fold));
    }
    default:
      return Math[node.op](number(node.a, frame));
  }
}

/** Division by nothing has no answer; it is unknown, like everything made from it. */
const finite = (x: number): number => (Number.isFinite(x) ? x : Number.NaN);

function foldNumber(fold: Fold, { frames, undecided }: Members): number {
  if (undecided) return Number.NaN;
  if (fold.how === 'count') return frames.length;
  const values = frames.map((frame) => number(fold.body as Num, frame));
  if (fold.how === 'sum') return values.reduce((total, x) => total + x, 0);
  if (values.length === 0) throw new EmptyFold();
  return fold.how === 'min' ? Math.min(...values) : Math.max(...values);
}

function foldTruth(fold: Fold, { frames, undecided }: Members): number {
  const values = frames.map((frame) => truth(fold.body as Truth, frame));
  if (undecided) values.push(Number.NaN);
  return fold.how === 'every' ? all(values) : any(values);
}

const not = (x: number): number => 1 - x;
const all = (values: readonly number[]): number => (values.includes(0) ? 0 : values.some(Number.isNaN) ? Number.NaN : 1);
const any = (values: readonly number[]): number => not(all(values.map(not)));

const textOf = (ref: TextRef, frame: Frame): number =>
  ref.is === 'literal' ? frame.text(ref.value) : frameAt(frame, ref.depth).leaf(ref.leaf);

const same = (a: number, b: number): number => (Number.isNaN(a) || Number.isNaN(b) ? Number.NaN : a === b ? 1 : 0);

export function truth(node: Truth, frame: Frame): number {
  switch (node.op) {
    case 'always':
      return node.value ? 1 : 0;
    case 'compare': {
      const margin = compareMargin(number(node.a, frame), number(node.b, frame), node.how === '>');
      return Number.isNaN(margin) ? margin : margin >= 0 ? 1 : 0;
    }
    case 'truth-leaf': {
      const value = frameAt(frame, node.depth).leaf(node.leaf);
      return node.negated ? not(value) : value;
    }
    case 'same-text': {
      const value = same(textOf(node.a, frame), textOf(node.b, frame));
      return node.negated ? not(value) : value;
    }
    case 'same-subject': {
      const value = frame.subject(node.a) === frame.subject(node.b) ? 1 : 0;
      return node.negated ? not(value) : value;
    }
    case 'and':
      return all(node.parts.map((part) => truth(part, frame)));
    case 'or':
      return any(node.parts.map((part) => truth(part, frame)));
    case 'fold-truth': {
      const at = frameAt(frame, node.depth);
      return foldTruth(at.scope.folds[node.fold] as Fold, at.members(node.fold));
    }
  }
}

/**
 * How far a truth is from turning: negative where it is not met, infinite where there is no more or less. The parts of an
 * `and` count by the worst, those of an `or` by the best, and so with folds; comparisons each as a share of their sides.
 */
export function degree(node: Truth, frame: Frame): number {
  switch (node.op) {
    case 'compare': {
      const [a, b] = [number(node.a, frame), number(node.b, frame)];
      return shareOf(compareMargin(a, b, node.how === '>'), Math.max(Math.abs(a), Math.abs(b)));
    }
    case 'and':
      return worstOf(node.parts.map((part) => degree(part, frame)));
    case 'or':
      return -worstOf(node.parts.map((part) => -degree(part, frame)));
    case 'fold-truth': {
      const at = frameAt(frame, node.depth);
      const { how, body } = at.scope.folds[node.fold] as Fold;
      const { frames, undecided } = at.members(node.fold);
      const degrees = [...frames.map((member) => degree(body as Truth, member)), ...(undecided ? [Number.NaN] : [])];
      return how === 'every' ? worstOf(degrees) : -worstOf(degrees.map((x) => -x));
    }
    default:
      return signed(truth(node, frame));
  }
}

/** Not known unless something known is not met. */
export function worstOf(degrees: readonly number[]): number {
  const known = degrees.filter((x) => !Number.isNaN(x));
  const least = Math.min(...known);
  return known.length === degrees.length || least < 0 ? least : Number.NaN;
}

/** A margin as a share of a size; what is just short stays short however small that makes it. */
export const shareOf = (margin: number, size: number): number =>
  size === 0 ? margin : margin < 0 ? Math.min(margin / size, -Number.MIN_VALUE) : margin / size;

const signed = (value: number): number => (value === 1 ? Number.POSITIVE_INFINITY : value === 0 ? Number.NEGATIVE_INFINITY : Number.NaN);

/** The comparisons and other smallest statements of a truth, in order; margins and bands are asked of each. */
export type Atom = Exclude<Truth, { op: 'and' | 'or' }>;

const isAtom = (node: Truth): node is Atom => node.op !== 'and' && node.op !== 'or';

export function atomsOf(node: Truth): readonly Atom[] {
  return isAtom(node) ? [node] : node.parts.flatMap(atomsOf);
}

/** Margin of an atom: a difference for a comparison; infinite, by its sign, for what is met or not without degree. */
export function atomMargin(atom: Atom, frame: Frame): number {
  if (atom.op === 'compare') return compareMargin(number(atom.a, frame), number(atom.b, frame), atom.how === '>');
  return signed(truth(atom, frame));
}
