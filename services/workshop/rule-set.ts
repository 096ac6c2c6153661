/** Rules made ready once: compiled, with the texts they compare against. */
import { type BoundRule, bindRule } from '../engine/bind.ts';
import { type CompiledRule, compileRule } from '../engine/compile.ts';
import { type Evaluation, evaluate } from '../engine/evaluate.ts';
import type { Library } from '../engine/tree.ts';
import { Texts } from '../engine/values.ts';
import type { VehicleWorld } from '../vehicle/world.ts';

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

export const bindRules = ({ compiled }: RuleSet, world: VehicleWorld): BoundRule[] => compiled.map((rule) => bindRule(rule, world));

export const evaluateAll = (rules: RuleSet, world: VehicleWorld): Evaluation[] =>
  bindRules(rules, world).flatMap((bound) => evaluate(bound, world));
