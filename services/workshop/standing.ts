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
  readonly #before = new Map<string, Evaluation>();

  /** Nothing is told apart where nothing is planned: then the vehicle itself is what is asked about. */
  constructor(rules: RuleSet, assembly: Assembly) {
    const planned = assembly.parts.filter(({ state }) => state === 'planned');
    if (planned.length === 0) return;
    const world = createWorld({ ...assembly, removed: new Set(planned) }, rules.library, rules.texts);
    for (const evaluation of evaluateAll(rules, world)) this.#before.set(evaluationId(evaluation, world), evaluation);
  }

  /** Whether a finding is just as it was before the parts. */
  same(evaluation: Evaluation, world: VehicleWorld): boolean {
    const before = this.#before.get(evaluationId(evaluation, world));
    return before !== undefined && before.verdict === evaluation.verdict && alike(before, evaluation);
  }
}

function alike({ controlling: a }: Evaluation, { controlling: b }: Evaluation): boolean {
  if (!a || !b) return a === b;
  const close = (x: number, y: number): boolean => Object.is(x, y) || Math.abs(x - y) <= NOISE * Math.max(1, Math.abs(x));
  return close(a.margin, b.margin) && close(a.low, b.low) && close(a.high, b.high);
}
