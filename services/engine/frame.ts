/** What the interpreter reads a tree against: what each binder stands for, on one vehicle. */
import { type World, candidates, slotOf } from './bind.ts';
import { type Frame, type Members, truth } from './interpret.ts';
import { type Layout, resolve } from './layout.ts';
import type { Fold, Scope } from './tree.ts';

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
  const own = [...slots.subarray(at, at + layout.scope.leaves.length), ...slots.subarray(at + layout.constantsAt, at + layout.comparisonsAt)];
  const inner = layout.folds.flatMap((fold, i) => {
    const header = at + layout.foldsAt + 2 * i;
    const first = slots[header] as number;
    return Array.from({ length: slots[header + 1] as number }, (_, k) => slotsOf(fold, slots, first + k * fold.size)).flat();
  });
  return [...new Set([...own, ...inner])];
}
