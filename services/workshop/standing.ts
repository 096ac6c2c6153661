/**
 * What holds of the vehicle without its planned parts. A finding that the parts do not touch is no answer to whether
 * they fit: it is told apart, asks for no cutting on suspicion, and leaves the verdict to what they do change.
 */
import type { Evaluation } from '../engine/evaluate.ts';
import type { Assembly } from '../vehicle/assembly.ts';
import { createWorld, type VehicleWorld } from '../vehicle/world.ts';
import { evaluationId } from './evaluation-id.ts';
import { evaluateAll, type RuleSet } from './rule-set.ts';

/** What the last bits of sums in another order may differ by, in SI units of the margin. */
const NOISE = 1e-9;

export class Standing {
  readonly #before = new Map<string, { readonly evaluation: Evaluation; readonly values: readonly number[] }>();

  /** Nothing is told apart where nothing is planned: then the vehicle itself is what is asked about. */
  constructor(rules: RuleSet, assembly: Assembly) {
    const planned = assembly.parts.filter(({ state }) => state === 'planned');
    if (planned.length === 0) return;
    const world = createWorld({ ...assembly, removed: new Set(planned) }, rules.library, rules.texts);
    for (const evaluation of evaluateAll(rules, world))
      this.#before.set(evaluationId(evaluation, world), { evaluation, values: valuesOf(evaluation, world) });
  }

  /** Whether a finding is just as it was before the parts: with the same margin, or unknown with all else it reads the same. */
  same(evaluation: Evaluation, world: VehicleWorld): boolean {
    const before = this.#before.get(evaluationId(evaluation, world));
    if (before?.evaluation.verdict !== evaluation.verdict) return false;
    if (evaluation.controlling) return marginsOf(before.evaluation).every((end, i) => alike(end, marginsOf(evaluation)[i] as number));
    return valuesOf(evaluation, world).every((value, i) => alike(value, before.values[i] ?? Number.NaN));
  }
}

const valuesOf = ({ reads }: Evaluation, { values }: VehicleWorld): readonly number[] => reads.map((slot) => values.read(slot));

const marginsOf = ({ controlling }: Evaluation): readonly number[] =>
  controlling ? [controlling.margin, controlling.low, controlling.high] : [];

const alike = (x: number, y: number): boolean => Object.is(x, y) || Math.abs(x - y) <= NOISE * Math.max(1, Math.abs(x));
