/**
 * Whole vehicles drawn at random: every number of the drawing of the front and of the rear axle somewhere within its tolerance, the suspension
 * built anew from it and every gap searched anew, and all else that is stated drawn as well. What a check has of it is the drawing in the middle
 * and a spread folded from moving its numbers one by one; here nothing is folded.
 */
import { bindRule } from '../../services/engine/bind.ts';
import type { Question } from '../../services/engine/compile.ts';
import { type AtomResult, evaluate } from '../../services/engine/evaluate.ts';
import { slotsOf } from '../../services/engine/frame.ts';
import { type Assembly, assemble, createWorld, type VehicleWorld } from '../../services/vehicle/index.ts';
import { drawnPoints, redrawn as redrawnAs } from '../../services/workshop/drawn-points.ts';
import { evaluationId } from '../../services/workshop/evaluation-id.ts';
import { makeRuleSet } from '../../services/workshop/rule-set.ts';
import { checker, demoBuild, demoCatalogue } from '../../services/workshop/testing.ts';
import { type Spread, random as seeded } from '../faults/random.ts';

const rules = makeRuleSet(checker.library);
type Values = VehicleWorld['values'];

/** A margin behind the drawing, by its name. */
export interface Behind {
  readonly name: string;
  readonly result: AtomResult;
}

interface Point {
  readonly key: string;
  readonly plusMinus: number;
}

export interface Drawing {
  readonly assembly: Assembly;
  readonly points: readonly Point[];
  readonly margins: readonly Behind[];
  readonly ids: ReadonlySet<string>;
}

const keyOf = (slot: number, values: Values): string => {
  const { name, subjects } = values.node(slot);
  return `${name}|${subjects.join(',')}`;
};

/** Every margin of a demo build that rests on the drawing. */
export function drawingOf(name: Parameters<typeof demoBuild>[0], only = (_: string): boolean => true): Drawing {
  const made = assemble(demoBuild(name) as never, demoCatalogue, checker.library);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  const world = createWorld(made.assembly, checker.library, rules.texts);
  const { values } = world;
  const points = new Map<string, Point>();
  const margins: Behind[] = [];
  const ids = new Set<string>();
  for (const compiled of rules.compiled.filter(({ rule }) => only(rule.id)))
    for (const evaluation of evaluate(bindRule(compiled, world), world)) {
      const plain = new Set(values.givensOf(evaluation.reads));
      const folded = values.givensOf(evaluation.reads, { folded: true }).filter((slot) => !plain.has(slot) && values.toleranceOf(slot) > 0);
      if (folded.length === 0) continue;
      for (const slot of folded) points.set(keyOf(slot, values), { key: keyOf(slot, values), plusMinus: values.toleranceOf(slot) });
      const id = evaluationId(evaluation, world);
      evaluation.atoms.forEach((result, i) => {
        if (!Number.isFinite(result.margin)) return;
        ids.add(compiled.rule.id);
        margins.push({ name: `${id}/${i}`, result });
      });
    }
  return { assembly: made.assembly, points: [...points.values()], margins, ids };
}

/** The vehicle with its drawing moved, and exact. */
function redrawn({ assembly, points }: Drawing, at: () => number): Assembly {
  const said = new Map(assembly.said);
  for (const { key } of points) {
    const all = said.get(key) ?? [];
    const u = at();
    said.set(
      key,
      all.map((one) => ({ ...one, value: one.value + u * one.plusMinus, plusMinus: 0 })),
    );
  }
  return { ...assembly, said };
}

/** Draws whole vehicles, and tells each margin of each. */
export function drawVehicles(drawing: Drawing, draws: number, spread: Spread, seen: (name: string, margin: number) => void): void {
  const { next } = seeded(20261126);
  const compiled = rules.compiled.filter(({ rule }) => drawing.ids.has(rule.id));
  for (let k = 0; k < draws; k++) {
    const world = createWorld(
      redrawn(drawing, () => spread(next)),
      checker.library,
      rules.texts,
    );
    const { values } = world;
    const asked = compiled.flatMap((rule) => asking(bindRule(rule, world), world));
    const leans = new Map<string | number, number>();
    const open = values.givensOf(asked.flatMap(({ reads }) => reads)).filter((slot) => values.toleranceOf(slot) > 0);
    for (const slot of open) {
      const statement = values.statementOf(slot);
      const key = statement < 0 ? keyOf(slot, values) : statement;
      if (!leans.has(key)) leans.set(key, spread(next));
      values.lean(slot, leans.get(key) as number);
    }
    for (const { name, ask } of asked) seen(name, ask());
  }
}

/** Each margin of a rule as a plain question of the values there are. */
function asking({ compiled, tuples, slots, starts }: ReturnType<typeof bindRule>, world: VehicleWorld) {
  return tuples.flatMap((subjects, tuple) => {
    const at = starts[tuple] as number;
    const reads = slotsOf(compiled.layout, slots, at);
    for (const slot of reads) world.values.read(slot);
    const id = [compiled.rule.id, ...subjects.map((subject) => world.idOf(subject))].join(':');
    return compiled.margins.map((question: Question, i) => ({
      name: `${id}/${i}`,
      reads,
      ask: (): number => {
        for (const slot of reads) world.values.read(slot);
        return question(world.values.values, slots, at);
      },
    }));
  });
}

/** A number of a lifted front of a class, with what it is in drawn trucks that are built as the class states. */
export interface OfAClass {
  readonly band: ReturnType<VehicleWorld['bands']['of']>;
  readonly drawn: readonly number[];
}

const FRONT_AXLE = 1;
const SPACER = { from: 'inline', kind: 'coilover_spacer', id: 'spacer', at: 'front', attributes: { thickness: '25 mm ± 0' } };

/**
 * Trucks of a class of which nothing is measured, each point of its drawing drawn, lifted by a spacer of 25 mm. Of each number only those count whose
 * own numbers as built (`built`, before the spacer) are what the class states of them.
 */
export function ofAClass(
  of: string,
  built: Readonly<Record<string, readonly string[]>>,
  draws: number,
  next: () => number,
  spread: Spread,
): Readonly<Record<string, OfAClass>> {
  const assembled = (parts: readonly object[]): Assembly => {
    const made = assemble({ vehicle: { from: 'inline', class: of }, parts } as never, demoCatalogue, checker.library);
    if (!made.ok) throw new Error(JSON.stringify(made.faults));
    return made.assembly;
  };
  const inWorld = (assembly: Assembly) => {
    const { values, bands } = createWorld(assembly, rules.library, rules.texts);
    const slot = (name: string): number => values.slot(name, [FRONT_AXLE]);
    return { values, bands, slot, read: (name: string): number => values.read(slot(name)) };
  };
  /** The drawing says it itself then. */
  const unstated = (assembly: Assembly): Assembly => ({
    ...assembly,
    said: new Map([...assembly.said].filter(([key]) => !key.includes('_as_built|'))),
  });
  type World = ReturnType<typeof inWorld>;
  const names = Object.keys(built);
  const [lifted, bare] = [assembled([SPACER]), assembled([])];
  const claimed = inWorld(lifted);
  const bands = names.map((name) => {
    claimed.read(name);
    return claimed.bands.of(claimed.slot(name));
  });
  const own = createWorld(unstated(lifted), rules.library, rules.texts);
  const twins = names.map((name) => own.values.slot(name, [FRONT_AXLE]));
  for (const twin of twins) own.values.read(twin);
  const points = drawnPoints(unstated(lifted), own, twins);
  const drawn = names.map((): number[] => []);
  for (let k = 0; k < draws; k++) {
    const at = points.map(() => spread(next));
    const [truck, before] = [lifted, bare].map((assembly) => inWorld(redrawnAs(unstated(assembly), points, at))) as [World, World];
    names.forEach((name, i) => {
      const asStated = (built[name] as readonly string[]).every((each) => {
        const stated = claimed.values.node(claimed.slot(`${each}_as_built`)).candidates[0];
        return !stated || Math.abs(before.read(`${each}_fitted`) - stated.value) <= stated.plusMinus;
      });
      const is = truck.read(name);
      if (asStated && !Number.isNaN(is)) drawn[i]?.push(is);
    });
  }
  return Object.fromEntries(names.map((name, i) => [name, { band: bands[i], drawn: drawn[i] } as OfAClass]));
}
