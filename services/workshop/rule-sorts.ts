/** What a rule is about, going by what it carries: whoever needs no road approval looks past the law, and a gap is not an instrument. */
import { children } from '../engine/layout.ts';
import type { Num, Rule, Truth } from '../engine/tree.ts';
import { LENGTH } from '../units/index.ts';

export const LAW = 'law';
/** A length is what is left, or missing: room, reach, travel. */
export const FIT = 'fit';
/** What no rule says: positions that nothing fills, statements that cannot all be true. */
export const STATEMENTS = 'statements';

const known = new WeakMap<Rule, string>();

/** `law` by its hazard, `fit` where it holds lengths against each other, else its area. */
export function sortOf(rule: Rule): string {
  const sort = known.get(rule) ?? (rule.hazard === 'legal' ? LAW : holdsLengths(rule.require) ? FIT : rule.area);
  known.set(rule, sort);
  return sort;
}

const holdsLengths = (node: Num | Truth): boolean =>
  node.op === 'compare' ? node.a.dimension === LENGTH : children(node).some(holdsLengths);
