/** What a piece of work makes of the vehicle: the values that stand after it. */
import { slotOf } from '../engine/bind.ts';
import { frameOf } from '../engine/frame.ts';
import { number, truth, unlessEmpty } from '../engine/interpret.ts';
import { resolve } from '../engine/layout.ts';
import type { Effect, Num, TextRef, Truth } from '../engine/tree.ts';
import type { Candidate } from '../engine/values.ts';
import { saidKey } from '../vehicle/assembly.ts';
import { signatureOf, type VehicleWorld } from '../vehicle/world.ts';
import type { AskedWork } from './asked-work.ts';

/** Puts the effects of one work on top of those so far. Effects of one work happen at once, each on what stood before it. */
export function applyEffects({ work, subjects, amounts }: AskedWork, world: VehicleWorld, done: Map<string, Candidate>): void {
  const parameters = new Map([...amounts].map(([name, { value }]) => [name, value]));
  const frame = frameOf(work.scope, subjects, world, { parameters });
  const value = (of: Effect['value']): number => {
    if ('is' in of) return textValue(of, frame, world);
    return unlessEmpty(() => (isTruth(of) ? truth(of, frame) : number(of, frame)));
  };
  for (const effect of work.effects) {
    const { how, target, value: by } = effect;
    const key = saidKey(
      target.name,
      target.subjects.map((ref) => resolve(ref, subjects, world)),
    );
    const slot = slotOf(target, subjects, world);
    const before = done.get(key) ?? { value: world.values.read(slot), plusMinus: world.values.toleranceOf(slot) };
    const after =
      how === 'set'
        ? { value: value(by), plusMinus: exactness(effect, world) }
        : { value: before.value + value(by), plusMinus: before.plusMinus };
    if (!Number.isNaN(after.value)) done.set(key, { ...after, rank: 'work', note: work.id });
  }
}

/** Half-width of what work sets: as the work says, or what a reading of it would have. Truths and texts are exact. */
export function exactness({ target, plusMinus }: Effect, world: VehicleWorld): number {
  return target.type.is === 'number' ? (plusMinus ?? signatureOf(world.library, target.name)?.measure?.accuracy ?? 0) : 0;
}

const textValue = (ref: TextRef, frame: ReturnType<typeof frameOf>, world: VehicleWorld): number =>
  ref.is === 'literal' ? world.values.intern(ref.value) : frame.leaf(ref.leaf);

const TRUTHS: ReadonlySet<string> = new Set(['compare', 'truth-leaf', 'same-text', 'same-subject', 'and', 'or', 'fold-truth', 'always']);
export const isTruth = (node: Num | Truth): node is Truth => TRUTHS.has(node.op);
