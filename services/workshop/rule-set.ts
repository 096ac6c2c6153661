/** Rules made ready once: compiled, with the texts they compare against. */
import { Bands } from '../engine/band.ts';
import { type BoundRule, bindRule } from '../engine/bind.ts';
import { type CompiledRule, compileRule } from '../engine/compile.ts';
import { type Evaluation, evaluate, unanswered } from '../engine/evaluate.ts';
import { messageOf } from '../engine/interpret.ts';
import { Ranges } from '../engine/proof.ts';
import type { Library } from '../engine/tree.ts';
import { Texts } from '../engine/values.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import { contestedSlots, spanOfBoth } from './contradictions.ts';

export interface RuleSet {
  readonly library: Library;
  readonly compiled: readonly CompiledRule[];
  readonly texts: Texts;
}

export function makeRuleSet(library: Library): RuleSet {
  const texts = new Texts();
  const compiled = [...library.rules.values()].map((rule) => compileRule(rule, (literal) => texts.intern(literal)));
  return { library, compiled, texts };
}

export const evaluateAll = ({ compiled }: RuleSet, world: VehicleWorld): Evaluation[] =>
  compiled.flatMap((rule) => evaluateRule(rule, world));

/** Every tuple of one rule. A rule with a fault says so, and takes nothing else down. */
export function evaluateRule(compiled: CompiledRule, world: VehicleWorld): Evaluation[] {
  try {
    const bound = bindRule(compiled, world);
    const evaluations = evaluate(bound, world).map((evaluation) => unlessContested(evaluation, world));
    return evaluations.some(({ contested }) => contested) ? overBoth(evaluations, bound, world) : evaluations;
  } catch (error) {
    return [unanswered(compiled.rule, world, messageOf(error))];
  }
}

/** What rests on statements that cannot all be true is not settled, however clear it looks. */
function unlessContested(evaluation: Evaluation, world: VehicleWorld): Evaluation {
  const { verdict, reads } = evaluation;
  const contested = contestedSlots(world);
  if (contested.size === 0 || verdict === 'not-applicable' || verdict === 'unknown') return evaluation;
  const below = world.values.below(reads);
  const among = [...contested].filter(([slot]) => below.has(slot)).flatMap(([, all]) => all);
  return among.length === 0 ? evaluation : { ...evaluation, verdict: 'close', contested: [...new Set(among)] };
}

/** Margins of what two readings of one value contradict are told over both: nothing says which is true. */
function overBoth(evaluations: readonly Evaluation[], bound: BoundRule, world: VehicleWorld): Evaluation[] {
  const { values } = world;
  const spans = [...new Set(evaluations.flatMap(({ contested = [] }) => contested))].flatMap((slot) => {
    const span = spanOfBoth(slot, world);
    return span ? [[slot, span] as const] : [];
  });
  if (spans.length === 0) return [...evaluations];
  for (const [slot, span] of spans) values.suppose(slot, span);
  const over = evaluate(bound, { ...world, bands: new Bands(values), ranges: new Ranges(values) });
  for (const [slot] of spans) values.suppose(slot, undefined);
  for (const { reads } of evaluations) for (const slot of reads) values.read(slot);
  return evaluations.map((evaluation, i) => {
    const controlling = over[i]?.controlling;
    return evaluation.contested?.some((slot) => spans.some(([at]) => at === slot)) && controlling
      ? { ...evaluation, controlling }
      : evaluation;
  });
}
