/**
 * Where a rule's values stand. Binding a rule to one tuple of parts fills a block of slot numbers, one block a tuple;
 * a fold's block entry points at one inner block a member. Generated code and the interpreter both read blocks.
 *
 * A block: the slots of the scope's leaves, then offset and count of each fold's members, then a slot for each
 * constant that has a tolerance, then the slot of a fixed yes or no for each comparison of subjects.
 */
import type { Argument, Fold, Num, Scope, SubjectRef, TemplatePiece, Truth } from './tree.ts';

export type ToleratedConstant = Extract<Num, { op: 'constant' }>;
export type SubjectComparison = Extract<Truth, { op: 'same-subject' }>;

export interface Layout {
  readonly scope: Scope;
  readonly folds: readonly Layout[];
  readonly foldsAt: number;
  readonly constants: readonly ToleratedConstant[];
  readonly constantsAt: number;
  readonly comparisons: readonly SubjectComparison[];
  readonly comparisonsAt: number;
  readonly size: number;
}

/** Lays out a scope for the trees that are evaluated in it; those of its folds are found through them. */
export function layOut(scope: Scope, roots: readonly (Num | Truth)[]): Layout {
  const constants = new Set<ToleratedConstant>();
  const comparisons = new Set<SubjectComparison>();
  for (const root of roots) collect(root, constants, comparisons);
  const foldsAt = scope.leaves.length;
  const constantsAt = foldsAt + 2 * scope.folds.length;
  const comparisonsAt = constantsAt + constants.size;
  return {
    scope,
    folds: scope.folds.map((fold) => layOut(fold.scope, foldRoots(fold))),
    foldsAt,
    constants: [...constants],
    constantsAt,
    comparisons: [...comparisons],
    comparisonsAt,
    size: comparisonsAt + comparisons.size,
  };
}

const foldRoots = (fold: Fold): (Num | Truth)[] => [fold.body, fold.over.where].filter((root) => root !== undefined);

function collect(node: Num | Truth, constants: Set<ToleratedConstant>, comparisons: Set<SubjectComparison>): void {
  if (node.op === 'constant' && node.plusMinus > 0) constants.add(node);
  if (node.op === 'same-subject') comparisons.add(node);
  for (const child of children(node)) collect(child, constants, comparisons);
}

/** The nodes right below a node, those of its own scope; bodies of folds stand in scopes of their own. */
export function children(node: Num | Truth): readonly (Num | Truth)[] {
  if ('args' in node) return node.args;
  if ('parts' in node) return node.parts;
  if (node.op === 'same-text' || node.op === 'same-subject') return [];
  if ('b' in node) return [node.a, node.b];
  return 'a' in node ? [node.a] : [];
}

/** The numbers a template shows. */
export const templateRoots = (pieces: readonly TemplatePiece[]): readonly Num[] =>
  pieces.flatMap((piece) => (piece.is === 'number' ? [piece.of] : []));

/** The numbers a work is asked for with. */
export const argumentRoots = (calls: readonly { readonly arguments: ReadonlyMap<string, Argument> }[]): readonly Num[] =>
  calls.flatMap((call) => [...call.arguments.values()].flatMap((argument) => (argument.is === 'number' ? [argument.of] : [])));

/** Resolves a reference to a subject, given what the binders stand for. -1 where there is none. */
export function resolve(ref: SubjectRef, binders: readonly number[], places: Places): number {
  switch (ref.is) {
    case 'binder':
      return binders[ref.index] ?? -1;
    case 'place':
      return places.placed(ref.place);
    case 'step': {
      const from = resolve(ref.of, binders, places);
      return from < 0 ? -1 : places.step(from, ref.to);
    }
  }
}

export interface Places {
  /** The subject a place's name stands for; -1 if this vehicle has no such place. */
  placed(place: string): number;
  /** The axle or corner that a part or a corner is at; -1 if it is at none. */
  step(subject: number, to: 'axle' | 'corner'): number;
}
