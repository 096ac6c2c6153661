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

/** The slots that some trees of the rule's own scope read. */
export function slotsReadBy(nodes: readonly (Num | Truth)[], layout: Layout, slots: Int32Array, at: number): number[] {
  const read = new Set<number>();
  const visit = (node: Num | Truth): void => {
    if (node.op === 'leaf' || node.op === 'truth-leaf') read.add(slots[at + node.leaf] as number);
    else if (node.op === 'constant' && node.plusMinus > 0)
      read.add(slots[at + layout.constantsAt + layout.constants.indexOf(node)] as number);
    else if (node.op === 'fold' || node.op === 'fold-truth') for (const slot of foldSlots(layout, node.fold, slots, at)) read.add(slot);
    else if (node.op === 'same-text')
      for (const side of [node.a, node.b]) if (side.is === 'leaf') read.add(slots[at + side.leaf] as number);
    for (const child of children(node)) visit(child);
  };
  for (const node of nodes) visit(node);
  return [...read];
}
