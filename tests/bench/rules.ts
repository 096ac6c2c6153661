/** The rule language against hand-written functions over the same slots, and against a general rule engine. */
import { Engine } from 'json-rules-engine';
import { type BoundRule, bindRule } from '../../services/engine/bind.ts';
import type { Question } from '../../services/engine/compile.ts';
import { conflictsOf, verdictsOf } from '../../services/engine/evaluate.ts';
import { frameOf } from '../../services/engine/frame.ts';
import { atomsOf, number } from '../../services/engine/interpret.ts';
import type { SubjectRef } from '../../services/engine/tree.ts';
import type { PartInput } from '../../services/vehicle/index.ts';
import { assemble } from '../../services/vehicle/index.ts';
import { lineage } from '../../services/vehicle/library-view.ts';
import { createWorld, type VehicleWorld } from '../../services/vehicle/world.ts';
import { findingOf, groupEvaluations } from '../../services/workshop/findings.ts';
import { evaluateAll, makeRuleSet } from '../../services/workshop/rule-set.ts';
import { Standing } from '../../services/workshop/standing.ts';
import { checker, demoBuild, demoCatalogue } from '../../services/workshop/testing.ts';
import { handWritten, isHandWritten } from './hand-written.ts';
import { rate, report, timeAll } from './timing.ts';

const rules = makeRuleSet(checker.library);

/** The bold demo build with spacers and more accessories: some 60 parts on the vehicle, 40 and more of them planned. */
function crowdedWorld() {
  const build = demoBuild('bold');
  const parts = build.parts as PartInput[];
  parts.push({ from: 'catalogue', part: 'tarnwick-spacer-25', at: 'all' });
  for (const part of [
    'fairmere-lights',
    'fairmere-mast',
    'cotegarth-locker',
    'cotegarth-cradle',
    'cotegarth-rack',
    'thwaitesgill-sliders',
  ] as const)
    for (let i = 0; i < 3; i++) parts.push({ from: 'catalogue', part, id: `${part}-${i}` });
  const assembled = assemble(build as never, demoCatalogue, checker.library);
  if (!assembled.ok) throw new Error(JSON.stringify(assembled.faults));
  return { world: createWorld(assembled.assembly, checker.library, rules.texts), standing: new Standing(rules, assembled.assembly) };
}

const compared = rules.compiled.filter(isHandWritten);
const bindAll = (world: VehicleWorld): BoundRule[] => compared.map((rule) => bindRule(rule, world));

function readAll(bound: readonly BoundRule[], world: VehicleWorld): void {
  for (const { slots, starts, compiled } of bound)
    for (const start of starts) for (let i = 0; i < compiled.layout.scope.leaves.length; i++) world.values.read(slots[start + i] as number);
}

function handVerdicts(
  bound: readonly BoundRule[],
  hand: ReturnType<typeof handWritten>,
  values: Float64Array,
  outs: readonly Uint8Array[],
): void {
  for (let r = 0; r < bound.length; r++) {
    const { slots, starts } = bound[r] as BoundRule;
    const [ask, out] = [hand[r] as (typeof hand)[number], outs[r] as Uint8Array];
    for (let i = 0; i < starts.length; i++) {
      const answer = ask(values, slots, starts[i] as number);
      out[i] = answer === 1 ? 1 : answer === 0 ? 0 : answer === 3 ? 3 : 2;
    }
  }
}

export async function benchRules(): Promise<void> {
  const { world, standing } = crowdedWorld();
  const bound = bindAll(world);
  readAll(bound, world);
  console.log(`  rules with a hand-written counterpart: ${compared.length} of ${rules.compiled.length}`);
  const hand = handWritten(bound);
  const { values } = world.values;
  const [ours, theirs] = [
    bound.map(({ tuples }) => new Uint8Array(tuples.length)),
    bound.map(({ tuples }) => new Uint8Array(tuples.length)),
  ];
  const generated = (): void => bound.forEach((rule, r) => verdictsOf(rule, values, ours[r] as Uint8Array));
  generated();
  handVerdicts(bound, hand, values, theirs);
  bound.forEach(({ compiled }, r) => {
    if (ours[r]?.join() !== theirs[r]?.join())
      throw new Error(`hand-written and generated differ on \`${compiled.rule.id}\`: ${theirs[r]} and ${ours[r]}`);
  });
  const tuples = bound.reduce((sum, rule) => sum + rule.tuples.length, 0);
  console.log(`rules: ${bound.length} over ${world.present.length} parts, ${tuples} tuples`);

  const handWithBinding = handProgram(bound, hand, world);
  const timed = timeAll({
    generated,
    hand: () => handVerdicts(bound, hand, values, theirs),
    withBinding: () => bindAll(world).forEach((rule, r) => verdictsOf(rule, values, ours[r] as Uint8Array)),
    conflicts: () => bound.flatMap((rule, r) => conflictsOf(rule, values, ours[r] as Uint8Array)),
    handWithBinding,
    findings: () => groupEvaluations(evaluateAll(rules, world), world, standing).map((group) => findingOf(group, world, 'metric', [])),
  });
  report(
    'verdicts, generated against hand-written',
    timed.generated.rate / timed.hand.rate,
    0.8,
    `${rate(timed.generated.rate)} against ${rate(timed.hand.rate)}`,
  );
  report(
    'verdicts with binding, against hand-written that finds its parts',
    timed.withBinding.rate / timed.handWithBinding.rate,
    0.4,
    `${rate(timed.withBinding.rate)} against ${rate(timed.handWithBinding.rate)}`,
  );
  await againstGeneral(bound, world, timed.generated.rate, timed.conflicts.rate);
  const found = groupEvaluations(evaluateAll(rules, world), world, standing).length;
  console.log(`  one written-out finding, its band included: ${(1e6 / timed.findings.rate / found).toFixed(0)} µs`);
}

/**
 * A person's own program finds the parts of each kind with plain loops over the vehicle, and the slots of their values as
 * properties of plain objects, anew each time; then it asks the hand-written functions.
 */
function handProgram(bound: readonly BoundRule[], hand: ReturnType<typeof handWritten>, world: VehicleWorld): () => number {
  const { values } = world.values;
  const records: Record<string, number>[] = [];
  const vehicle: Record<string, number> = {};
  const steps = bound.map(({ compiled: { rule }, tuples, slots, starts }, r) => {
    const reads = rule.scope.leaves.map((leaf, i) => ({ name: leaf.name, of: readerOf(leaf.subjects[0], world), i }));
    tuples.forEach((tuple, t) => {
      for (const { name, of, i } of reads) {
        if (of) records[of(tuple)] ??= {};
        const record = of ? (records[of(tuple)] as Record<string, number>) : vehicle;
        record[name] = slots[(starts[t] as number) + i] as number;
      }
    });
    return {
      kinds: rule.binders.map(({ selector }) => ({ kind: selector.kind, at: selector.at ? readerOf(selector.at, world) : undefined })),
      reads,
      ask: hand[r] as Question,
      scratch: new Int32Array(reads.length),
    };
  });
  const parts = world.present.map(({ subject, place }) => ({
    subject,
    place: world.placeOf(subject),
    axle: world.step(subject, 'axle'),
    kinds: new Set(kindsOf(subject, world)),
    at: place,
  }));
  return () => {
    let conflicts = 0;
    const tuple: number[] = [];
    const run = ({ kinds, reads, ask, scratch }: (typeof steps)[number], depth: number): void => {
      if (depth === kinds.length) {
        for (const { name, of, i } of reads) scratch[i] = (of ? (records[of(tuple)] as Record<string, number>) : vehicle)[name] as number;
        if (ask(values, scratch, 0) === 0) conflicts++;
        return;
      }
      const { kind, at } = kinds[depth] as (typeof kinds)[number];
      const place = at ? at(tuple) : 0;
      for (const part of parts) {
        if (!part.kinds.has(kind) || (place !== 0 && part.place !== place && part.axle !== place)) continue;
        tuple[depth] = part.subject;
        run({ kinds, reads, ask, scratch }, depth + 1);
      }
    };
    for (const step of steps) run(step, 0);
    return conflicts;
  };
}

function kindsOf(subject: number, world: VehicleWorld): string[] {
  return lineage(world.library, world.partOf(subject)?.kind ?? '').map(({ id }) => id);
}

/** How hand-written code gets from a tuple to the subject of a value. */
function readerOf(ref: SubjectRef | undefined, world: VehicleWorld): ((tuple: readonly number[]) => number) | undefined {
  if (ref === undefined) return undefined;
  if (ref.is === 'place') {
    const place = world.placed(ref.place);
    return () => place;
  }
  if (ref.is === 'step') {
    const of = readerOf(ref.of, world) as (tuple: readonly number[]) => number;
    const { to } = ref;
    return (tuple) => world.step(of(tuple), to);
  }
  const { index } = ref;
  return (tuple) => tuple[index] as number;
}

/** The same comparisons as facts of a general engine, its sides computed for it beforehand. */
async function againstGeneral(bound: readonly BoundRule[], world: VehicleWorld, verdicts: number, findings: number): Promise<void> {
  const engine = new Engine([], { allowUndefinedFacts: true });
  const facts: Record<string, number> = {};
  bound.forEach(({ compiled: { rule }, tuples }) => {
    tuples.forEach((tuple, i) => {
      const frame = frameOf(rule.scope, tuple, world);
      atomsOf(rule.require).forEach((atom, k) => {
        if (atom.op !== 'compare') return;
        const name = `${rule.id}/${i}/${k}`;
        facts[`${name}/a`] = number(atom.a, frame);
        facts[`${name}/b`] = number(atom.b, frame);
        engine.addRule({
          conditions: { all: [{ fact: `${name}/a`, operator: 'greaterThanInclusive', value: { fact: `${name}/b` } }] },
          event: { type: name },
        });
      });
    });
  });
  await engine.run(facts);
  const start = performance.now();
  let runs = 0;
  while (performance.now() - start < 1500) {
    await engine.run(facts);
    runs++;
  }
  const general = (runs * 1000) / (performance.now() - start);
  report('verdicts, against json-rules-engine', verdicts / general, 100, rate(general));
  report('verdicts with the conflicts written out, against the same', findings / general, 15, rate(findings));
}
