/** What the interpreter reads a tree against: what each binder stands for, on one vehicle. */
import { candidates, slotOf, type World } from './bind.ts';
import { type Frame, type Members, truth } from './interpret.ts';
import { children, type Layout, resolve } from './layout.ts';
import type { Fold, Num, Scope, Truth } from './tree.ts';

export interface FrameOptions {
  readonly outer?: Frame;
  /** Amounts a work is done with, by parameter. */
  readonly parameters?: ReadonlyMap<string, number>;
}

export function frameOf(scope: Scope, binders: readonly number[], world: World, options: FrameOptions = {}): Frame {
  const frame: Frame = {
    scope,
    ...(options.outer && { outer: options.outer }),
    leaf: (index) => world.values.read(slotOf(scope.leaves[index]!, binders, world)),
    members: (fold) => membersOf(scope.folds[fold] as Fold, binders, world, frame),
    subject: (ref) => resolve(ref, binders, world),
    text: (literal) => world.values.intern(literal),
    parameter: (name) => options.parameters?.get(name) ?? options.outer?.parameter(name) ?? Number.NaN,
  };
  return frame;
}

function membersOf(fold: Fold, binders: readonly number[], world: World, outer: Frame): Members {
  const decided = candidates(fold.over, binders, world).map((subject) => {
    const bound = [...binders];
    bound[fold.binder] = subject;
    const member = frameOf(fold.scope, bound, world, { outer });
    return { member, belongs: fold.over.where ? truth(fold.over.where, member) : 1 };
  });
  return {
    frames: decided.filter(({ belongs }) => belongs === 1).map(({ member }) => member),
    undecided: decided.some(({ belongs }) => Number.isNaN(belongs)),
  };
}

/** Every slot a block reads, those of its members included. */
export function slotsOf(layout: Layout, slots: Int32Array, at: number): number[] {
  const own = [
    ...slots.subarray(at, at + layout.scope.leaves.length),
    ...slots.subarray(at + layout.constantsAt, at + layout.comparisonsAt),
  ];
  const inner = layout.folds.flatMap((_, fold) => foldSlots(layout, fold, slots, at));
  return [...new Set([...own, ...inner])];
}

function foldSlots(layout: Layout, fold: number, slots: Int32Array, at: number): number[] {
  const header = at + layout.foldsAt + 2 * fold;
  const inner = layout.folds[fold] as Layout;
  return Array.from({ length: slots[header + 1] as number }, (_, k) =>
    slotsOf(inner, slots, (slots[header] as number) + k * inner.size),
  ).flat();
}

/** The slots that some trees of the rule's own scope read, from inside folds too. */
export function slotsReadBy(nodes: readonly (Num | Truth)[], layout: Layout, slots: Int32Array, at: number): number[] {
  const read = new Set<number>();
  const add = (index: number): unknown => read.add(slots[at + index] as number);
  /** `scopes` from the rule's own inwards. What is of an inner one stands in the blocks of its fold's members, and came with them. */
  const visit = (node: Num | Truth, scopes: readonly Layout[]): void => {
    const scopeOf = (depth: number): number => scopes.length - 1 - depth;
    if (node.op === 'leaf' || node.op === 'truth-leaf') {
      if (scopeOf(node.depth) === 0) add(node.leaf);
    } else if (node.op === 'constant' && node.plusMinus > 0) {
      if (scopes.length === 1) add(layout.constantsAt + layout.constants.indexOf(node));
    } else if (node.op === 'fold' || node.op === 'fold-truth') {
      const own = scopes.slice(0, scopeOf(node.depth) + 1);
      if (own.length === 1) for (const slot of foldSlots(layout, node.fold, slots, at)) read.add(slot);
      const { scope, folds } = own.at(-1) as Layout;
      const { body, over } = scope.folds[node.fold] as Fold;
      for (const root of [body, over.where]) if (root) visit(root, [...own, folds[node.fold] as Layout]);
    } else if (node.op === 'same-text') {
      for (const side of [node.a, node.b]) if (side.is === 'leaf' && scopeOf(side.depth) === 0) add(side.leaf);
    }
    for (const child of children(node)) visit(child, scopes);
  };
  for (const node of nodes) visit(node, [layout]);
  return [...read];
}
