/** The rule language against hand-written functions over the same slots, and against a general rule engine. */
import { Engine } from 'json-rules-engine';
import { type BoundRule, bindRule } from '../../services/engine/bind.ts';
import { verdictsOf } from '../../services/engine/evaluate.ts';
import { atomsOf, number } from '../../services/engine/interpret.ts';
import { frameOf } from '../../services/engine/frame.ts';
import { assemble } from '../../services/vehicle/index.ts';
import type { PartInput } from '../../services/vehicle/index.ts';
import { type VehicleWorld, createWorld } from '../../services/vehicle/world.ts';
import { evaluateAll, makeRuleSet } from '../../services/workshop/rule-set.ts';
import { checker, demoBuild, demoCatalogue } from '../../services/workshop/testing.ts';
import { findingOf, groupEvaluations } from '../../services/workshop/findings.ts';
import { handWritten } from './hand-written.ts';
import { rate, report, timeAll } from './timing.ts';

const rules = makeRuleSet(checker.library);

/** The bold demo build with spacers and more accessories: some 60 parts on the vehicle, 40 and more of them planned. */
function crowdedWorld(): VehicleWorld {
  const build = demoBuild('bold');
  const parts = build.parts as PartInput[];
  parts.push({ from: 'catalogue', part: 'tarnwick-spacer-25', at: 'all' });
  for (const part of ['fairmere-lights', 'fairmere-mast', 'cotegarth-locker', 'cotegarth-cradle', 'cotegarth-rack', 'thwaitesgill-sliders'] as const) for (let i = 0; i < 3; i++) parts.push({ from: 'catalogue', part, id: `${part}-${i}` });
  const assembled = assemble(build as never, demoCatalogue, checker.library);
  if (!assembled.ok) throw new Error(JSON.stringify(assembled.faults));
  return createWorld(assembled.assembly, checker.library, rules.texts);
}

const bindAll = (world: VehicleWorld): BoundRule[] => rules.compiled.map((rule) => bindRule(rule, world));

function readAll(bound: readonly BoundRule[], world: VehicleWorld): void {
  for (const { slots, starts, compiled } of bound) for (const start of starts) for (let i = 0; i < compiled.layout.scope.leaves.length; i++) world.values.read(slots[start + i] as number);
}

function handVerdicts(bound: readonly BoundRule[], hand: ReturnType<typeof handWritten>, values: Float64Array, outs: readonly Uint8Array[]): void {
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
  const world = crowdedWorld();
  const bound = bindAll(world);
  readAll(bound, world);
  const hand = handWritten(bound);
  const { values } = world.values;
  const [ours, theirs] = [bound.map(({ tuples }) => new Uint8Array(tuples.length)), bound.map(({ tuples }) => new Uint8Array(tuples.length))];
  const generated = (): void => bound.forEach((rule, r) => verdictsOf(rule, values, ours[r] as Uint8Array));
  generated();
  handVerdicts(bound, hand, values, theirs);
  bound.forEach(({ compiled }, r) => {
    if (ours[r]?.join() !== theirs[r]?.join()) throw new Error(`hand-written and generated differ on \`${compiled.rule.id}\`: ${theirs[r]} and ${ours[r]}`);
  });
  const tuples = bound.reduce((sum, rule) => sum + rule.tuples.length, 0);
  console.log(`rules: ${bound.length} over ${world.present.length} parts, ${tuples} tuples`);

  const timed = timeAll({
    generated,
    hand: () => handVerdicts(bound, hand, values, theirs),
    withBinding: () => bindAll(world).forEach((rule, r) => verdictsOf(rule, values, ours[r] as Uint8Array)),
    findings: () => groupEvaluations(evaluateAll(rules, world), world).map((group) => findingOf(group, world, 'metric', [])),
  });
  report('verdicts, generated against hand-written', timed.generated.rate / timed.hand.rate, 0.8, `${rate(timed.generated.rate)} against ${rate(timed.hand.rate)}`);
  report('verdicts with binding, against hand-written without', timed.withBinding.rate / timed.hand.rate, undefined, rate(timed.withBinding.rate));
  await againstGeneral(bound, world, timed.generated.rate, timed.findings.rate);
  const found = groupEvaluations(evaluateAll(rules, world), world).length;
  console.log(`  one written-out finding, its band included: ${(1e6 / timed.findings.rate / found).toFixed(0)} µs`);
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
        engine.addRule({ conditions: { all: [{ fact: `${name}/a`, operator: 'greaterThanInclusive', value: { fact: `${name}/b` } }] }, event: { type: name } });
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
  report('verdicts with findings written out, against the same', findings / general, 15, rate(findings));
}
