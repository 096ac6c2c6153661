/**
 * Ends of a margin that are proved: no values within the tolerances can pass them. Interval arithmetic over the rule
 * proves them where what the rule reads was given; what a model computes from inputs that may move is not bounded by it.
 */
import { slotOf, type World } from './bind.ts';
import type { Atom } from './interpret.ts';
import { ANYTHING, type Interval, intervalOf, minus } from './interval.ts';
import type { Scope } from './tree.ts';

export function provenEnds(atom: Atom, scope: Scope, binders: readonly number[], world: World): Interval {
  if (atom.op !== 'compare') return ANYTHING;
  const ranges = {
    leaf: (index: number, depth: number): Interval => {
      const leaf = depth === 0 ? scope.leaves[index] : undefined;
      return leaf ? rangeOf(slotOf(leaf, binders, world), world) : ANYTHING;
    },
    fold: () => ANYTHING,
    parameter: () => ANYTHING,
  };
  return minus(intervalOf(atom.a, ranges), intervalOf(atom.b, ranges));
}

function rangeOf(slot: number, { values }: World): Interval {
  const value = values.read(slot);
  const open = values.givensOf([slot]).filter((given) => values.toleranceOf(given) > 0);
  if (Number.isNaN(value) || open.some((given) => given !== slot || values.node(slot).chosen === 'computed')) return ANYTHING;
  const by = values.toleranceOf(slot);
  return { low: value - by, high: value + by };
}
