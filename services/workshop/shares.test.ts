/**
 * What is printed as percent is a share. A margin without a dimension takes the unit of what it is made of, so a limit in
 * percent times a count or a ratio (4.1 turns to one) would be printed as four times what it is.
 */
import { describe, expect, it } from 'vitest';
import { loadLibrary, readRuleFiles } from '../engine/index.ts';
import type { Num, Rule, Scope, Truth } from '../engine/tree.ts';
import { RULES_FOLDER } from '../paths.ts';
import { NONE } from '../units/index.ts';
import { PLACE_LEVELS } from '../vehicle/index.ts';
import { signatureOf } from '../vehicle/world.ts';
import { unitOf } from './describe.ts';

const { library } = loadLibrary(readRuleFiles(RULES_FOLDER), PLACE_LEVELS);

const operands = (node: Num): readonly Num[] => ('args' in node ? node.args : 'b' in node ? [node.a, node.b] : 'a' in node ? [node.a] : []);

/** Whether a number without a dimension is a part of a whole, and no count of turns, say. */
function isShare(node: Num, scope: Scope, rule: Rule): boolean {
  const all = (): boolean => operands(node).every((each) => isShare(each, scope, rule));
  if (node.dimension !== NONE) return true;
  switch (node.op) {
    case 'leaf':
      return node.depth > 0 || signatureOf(library, scope.leaves[node.leaf]?.name ?? '')?.unit === '%';
    case 'local': {
      const given = rule.givens.get(node.name);
      return given ? given.unit === '%' : all();
    }
    case 'fold': {
      const fold = scope.folds[node.fold];
      return fold?.body && node.depth === 0 && 'dimension' in fold.body ? isShare(fold.body, fold.scope, rule) : true;
    }
    case 'divide':
      return isShare(node.a, scope, rule) === isShare(node.b, scope, rule);
    default:
      return all();
  }
}

function comparisons(truth: Truth): Extract<Truth, { op: 'compare' }>[] {
  if (truth.op === 'compare') return [truth];
  return truth.op === 'and' || truth.op === 'or' ? truth.parts.flatMap(comparisons) : [];
}

/** Comparisons of a rule that are printed as percent and are none. */
function wrong(rule: Rule): string[] {
  const units = new Map([...rule.givens].map(([name, { unit }]) => [name, unit]));
  return comparisons(rule.require)
    .filter(({ a, b }) => a.dimension === NONE && [a, b].some((side) => unitOf(side, rule.scope, library, units) === '%'))
    .filter(({ a, b }) => ![a, b].every((side) => isShare(side, rule.scope, rule)))
    .map(({ text }) => `${rule.id}: ${text}`);
}

describe('margins printed as percent', () => {
  it('are shares in every rule', () => expect([...library.rules.values()].flatMap(wrong)).toEqual([]));

  it('would be found where a limit is taken of a ratio', () => {
    const written = readRuleFiles(RULES_FOLDER).map((source) =>
      source.file.endsWith('axle-ratios-alike.yaml')
        ? {
            ...source,
            text: source.text.replace(/require: .*/, 'require: "axle_ratio(front) within borne * axle_ratio(rear) of axle_ratio(rear)"'),
          }
        : source,
    );
    const rule = loadLibrary(written, PLACE_LEVELS).library.rules.get('axle-ratios-alike') as Rule;
    expect(wrong(rule)).not.toEqual([]);
  });
});
