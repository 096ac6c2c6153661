/** Rules made ready once: compiled, with the texts they compare against. */
import { bindRule } from '../engine/bind.ts';
import { type CompiledRule, compileRule } from '../engine/compile.ts';
import { type Evaluation, evaluate, unanswered } from '../engine/evaluate.ts';
import { messageOf } from '../engine/interpret.ts';
import type { Library } from '../engine/tree.ts';
import { Texts } from '../engine/values.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import { contestedSlots } from './contradictions.ts';

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
    return evaluate(bindRule(compiled, world), world).map((evaluation) => unlessContested(evaluation, world));
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
