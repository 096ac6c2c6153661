/**
 * From findings to a job, by one mechanism: the work that conflicts ask for is done on paper, the vehicle is checked
 * again as it then is, and what newly breaks asks for its own work, until nothing more is asked for.
 *
 * A close finding asks for work too, but nobody should cut before measuring: its work is listed as contingent, and
 * nothing is built on it.
 */
import { type Evaluation, VERDICTS } from '../engine/evaluate.ts';
import type { Candidate } from '../engine/values.ts';
import type { Assembly } from '../vehicle/assembly.ts';
import { createWorld, type VehicleWorld } from '../vehicle/world.ts';
import { type AskedWork, askWork, mergeAsked, sumAmounts } from './asked-work.ts';
import { applyEffects } from './effects.ts';
import { evaluationId } from './evaluation-id.ts';
import { evaluateAll, type RuleSet } from './rule-set.ts';
import { Standing } from './standing.ts';

/** Enough for any chain seen; a job that still asks for more then is reported as it stands. */
const MOST_ROUNDS = 8;

export interface JobStep {
  readonly asked: AskedWork;
  /** Ids of the evaluations that ask for it. */
  readonly findings: Set<string>;
  /** Keys of the steps that bring it with them. */
  readonly broughtBy: Set<string>;
  /** The round it was first asked for in. */
  readonly round: number;
  contingent: boolean;
}

export interface Job {
  readonly steps: ReadonlyMap<string, JobStep>;
  readonly rounds: number;
  /** Evaluations before any work, and with all of it done. */
  readonly before: readonly Evaluation[];
  readonly worldBefore: VehicleWorld;
  /** The vehicle without the planned parts. */
  readonly standing: Standing;
  /** What was fine, or better, before the work and broke on the way, as it was when it broke. */
  readonly broken: readonly Broken[];
  readonly after: readonly Evaluation[];
  readonly worldAfter: VehicleWorld;
}

export interface Broken {
  readonly world: VehicleWorld;
  readonly evaluations: readonly Evaluation[];
}

export function planJob(rules: RuleSet, assembly: Assembly): Job {
  const worldBefore = createWorld(assembly, rules.library, rules.texts);
  const before = evaluateAll(rules, worldBefore);
  const standing = new Standing(rules, assembly);
  const steps = new Map<string, JobStep>();
  const done = new Map<string, Candidate>();
  const tried = new Tried();
  const breaking = new Breaking(before, worldBefore);
  const broken: Broken[] = [];
  let [world, after, rounds] = [worldBefore, before, 0];
  while (rounds < MOST_ROUNDS) {
    const asked = askedIn(after, world, tried, standing);
    addRound(steps, asked, rounds + 1);
    if ([...asked.values()].every((step) => step.contingent)) break;
    rounds++;
    for (const step of asked.values()) if (!step.contingent) applyEffects(step.asked, world, done);
    world = createWorld(assembly, rules.library, rules.texts, new Map(done));
    after = evaluateAll(rules, world);
    broken.push({ world, evaluations: breaking.among(after, world) });
  }
  return { steps, rounds, before, worldBefore, standing, broken, after, worldAfter: world };
}

/** Finds what is worse than it was before any work, each once. */
class Breaking {
  readonly #best = new Map<string, number>();

  constructor(before: readonly Evaluation[], world: VehicleWorld) {
    for (const evaluation of before) this.#best.set(evaluationId(evaluation, world), badness(evaluation));
  }

  among(evaluations: readonly Evaluation[], world: VehicleWorld): Evaluation[] {
    return evaluations.filter((evaluation) => {
      const id = evaluationId(evaluation, world);
      const worse = badness(evaluation) > (this.#best.get(id) ?? 0);
      if (worse) this.#best.set(id, badness(evaluation));
      return worse;
    });
  }
}

const badness = ({ verdict }: Evaluation): number => (verdict === 'not-applicable' ? 0 : VERDICTS.length - 1 - VERDICTS.indexOf(verdict));

/** Which work was tried for which finding, and how the finding stood: work that did not help is not asked for again. */
class Tried {
  readonly #low = new Map<string, number>();

  helps(finding: string, work: string, low: number): boolean {
    const key = `${finding} ${work}`;
    const before = this.#low.get(key);
    this.#low.set(key, low);
    return before === undefined || low > before;
  }
}

/** What one round asks for, each work once, with what it brings along. */
function askedIn(evaluations: readonly Evaluation[], world: VehicleWorld, tried: Tried, standing: Standing): Map<string, JobStep> {
  const round = new Map<string, JobStep>();
  for (const evaluation of evaluations) {
    if (evaluation.verdict !== 'conflict' && evaluation.verdict !== 'close') continue;
    if (evaluation.verdict === 'close' && standing.same(evaluation, world)) continue;
    const id = evaluationId(evaluation, world);
    for (const asked of workFor(evaluation, world)) {
      if (!tried.helps(id, asked.key, evaluation.controlling?.low ?? 0)) continue;
      enter(round, asked, (step) => {
        step.findings.add(id);
        if (evaluation.verdict === 'conflict') step.contingent = false;
      });
    }
  }
  for (const step of round.values()) followUps(step, round, world);
  return round;
}

/** Works a finding asks for itself, without what they bring along. */
export const workFor = ({ rule, subjects }: Evaluation, world: VehicleWorld): AskedWork[] =>
  rule.work.map((call) => askWork(call, rule.scope, subjects, world)).filter((asked) => asked !== undefined);

function followUps(step: JobStep, round: Map<string, JobStep>, world: VehicleWorld): void {
  const { work, subjects, amounts } = step.asked;
  const parameters = new Map([...amounts].map(([name, { value }]) => [name, value]));
  for (const call of work.then) {
    const asked = askWork(call, work.scope, subjects, world, parameters);
    if (!asked) continue;
    const follower = enter(round, asked, (entered) => {
      entered.broughtBy.add(step.asked.key);
      if (!step.contingent) entered.contingent = false;
    });
    followUps(follower, round, world);
  }
}

function enter(round: Map<string, JobStep>, asked: AskedWork, change: (step: JobStep) => void): JobStep {
  const known = round.get(asked.key);
  const step: JobStep = known
    ? { ...known, asked: mergeAsked(known.asked, asked) }
    : { asked, findings: new Set(), broughtBy: new Set(), round: 0, contingent: true };
  change(step);
  round.set(asked.key, step);
  return step;
}

/** A work asked for again in a later round: what its effects add is added up, what they set is set anew. */
function addRound(steps: Map<string, JobStep>, asked: ReadonlyMap<string, JobStep>, round: number): void {
  for (const [key, step] of asked) {
    const known = steps.get(key);
    if (!known) {
      steps.set(key, { ...step, round });
      continue;
    }
    const adds = step.asked.work.effects.some(({ how }) => how === 'add');
    const amounts = adds
      ? new Map([...step.asked.amounts].map(([name, amount]) => [name, sumAmounts(known.asked.amounts.get(name) ?? amount, amount)]))
      : mergeAsked(known.asked, step.asked).amounts;
    steps.set(key, {
      asked: { ...known.asked, amounts },
      findings: new Set([...known.findings, ...step.findings]),
      broughtBy: new Set([...known.broughtBy, ...step.broughtBy]),
      round: known.round,
      contingent: known.contingent && step.contingent,
    });
  }
}
