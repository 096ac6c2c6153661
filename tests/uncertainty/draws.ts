/**
 * Draws of a vehicle within what its statements leave open, asked of every margin straight from the graph of values: only
 * what a statement touches is computed again. One seed gives one run.
 */
import { bindRule } from '../../services/engine/bind.ts';
import type { Question } from '../../services/engine/compile.ts';
import { type AtomResult, evaluate } from '../../services/engine/evaluate.ts';
import { EQUAL_WITHIN } from '../../services/engine/interpret.ts';
import type { Values } from '../../services/engine/values.ts';
import { assemble } from '../../services/vehicle/index.ts';
import { createWorld } from '../../services/vehicle/world.ts';
import { makeRuleSet } from '../../services/workshop/rule-set.ts';
import { checker, demoBuild, demoCatalogue } from '../../services/workshop/testing.ts';
import { type Spread, random as seeded } from '../faults/random.ts';

const rules = makeRuleSet(checker.library);

export interface Drawn {
  readonly name: string;
  readonly result: AtomResult;
  /** The slots it rests on. */
  readonly reads: readonly number[];
  ask(): number;
}

export interface Vehicle {
  readonly values: Values;
  readonly margins: readonly Drawn[];
}

/** Every margin of a demo build that is a number, with its band. */
export function vehicleOf(name: Parameters<typeof demoBuild>[0]): Vehicle {
  const assembled = assemble(demoBuild(name) as never, demoCatalogue, checker.library);
  if (!assembled.ok) throw new Error(JSON.stringify(assembled.faults));
  const world = createWorld(assembled.assembly, checker.library, rules.texts);
  const margins = rules.compiled.flatMap((compiled) => {
    const bound = bindRule(compiled, world);
    return evaluate(bound, world).flatMap((evaluation, tuple) =>
      evaluation.atoms.flatMap((result, i): Drawn[] => {
        if (!Number.isFinite(result.margin)) return [];
        const [question, at] = [compiled.margins[i] as Question, bound.starts[tuple] as number];
        const ask = (): number => {
          for (const slot of evaluation.reads) world.values.read(slot);
          return question(world.values.values, bound.slots, at);
        };
        return [{ name: `${compiled.rule.id}/${tuple}/${i}`, result, reads: evaluation.reads, ask }];
      }),
    );
  });
  return { values: world.values, margins };
}

/** Asks the margins with every statement drawn anew, as often as said. */
export function draw(
  { values }: Vehicle,
  margins: readonly Drawn[],
  draws: number,
  spread: Spread,
  seen: (i: number, margin: number) => void,
) {
  const random = seeded(20261126).next;
  const open = values.givensOf(margins.flatMap(({ reads }) => reads)).filter((slot) => values.toleranceOf(slot) > 0);
  const statements = [...new Set(open.map((slot) => values.statementOf(slot)))];
  const index = new Map(statements.map((statement, i) => [statement, i]));
  const of = open.map((slot) => index.get(values.statementOf(slot)) as number);
  for (let k = 0; k < draws; k++) {
    const at = statements.map(() => spread(random));
    open.forEach((slot, i) => values.lean(slot, at[of[i] as number] as number));
    margins.forEach(({ ask }, i) => seen(i, ask()));
  }
  for (const slot of open) values.lean(slot, 0);
}

/** The least and the greatest over every corner of a margin's statements; undefined where they are more than so many. */
export function cornersOf({ values }: Vehicle, { reads, ask }: Drawn, most: number): readonly [number, number] | undefined {
  const open = values.givensOf(reads).filter((slot) => values.toleranceOf(slot) > 0);
  const statements = [...new Set(open.map((slot) => values.statementOf(slot)))];
  if (statements.length > most) return undefined;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let k = 0; k < 2 ** statements.length; k++) {
    for (const slot of open) values.lean(slot, (k >> statements.indexOf(values.statementOf(slot))) & 1 ? 1 : -1);
    const margin = ask();
    [low, high] = [Math.min(low, margin), Math.max(high, margin)];
  }
  for (const slot of open) values.lean(slot, 0);
  return [low, high];
}

/** Whether a margin is outside an end of its band by more than the last bits. */
export function isOutside({ low, high, lowIs, highIs, scale }: AtomResult, margin: number, certainty: 'proven' | 'searched'): boolean {
  const noise = EQUAL_WITHIN * scale;
  return (lowIs === certainty && margin < low - noise) || (highIs === certainty && margin > high + noise);
}
