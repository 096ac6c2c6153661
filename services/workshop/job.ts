/**
 * From findings to a job, by one mechanism: the work that conflicts ask for is done on paper, the vehicle is checked
 * again as it then is, and what newly breaks asks for its own work, until nothing more is asked for.
 *
 * A close finding asks for work too, but nobody should cut before measuring: its work is listed as contingent, and
 * nothing is built on it.
 */
import { type Evaluation, VERDICTS } from '../engine/evaluate.ts';
import { EQUAL_WITHIN } from '../engine/interpret.ts';
import type { Rule, WorkCall } from '../engine/tree.ts';
import type { Candidate } from '../engine/values.ts';
import type { Assembly } from '../vehicle/assembly.ts';
import { createWorld, type Done, type VehicleWorld } from '../vehicle/world.ts';
import { type AskedWork, askWork, mergeAsked, sumAmounts } from './asked-work.ts';
import { applyEffects } from './effects.ts';
import { evaluationId } from './evaluation-id.ts';
import { evaluateAll, evaluateRule, type RuleSet } from './rule-set.ts';
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
  const tried = new Tried(rules, assembly);
  const breaking = new Breaking(before, worldBefore);
  const broken: Broken[] = [];
  let [world, after, rounds] = [worldBefore, before, 0];
  while (rounds < MOST_ROUNDS) {
    const doing = addRound(steps, askedIn(after, world, done, tried, standing), rounds + 1);
    if (doing.length === 0) break;
    rounds++;
    for (const step of doing) {
      applyEffects(step.asked, world, done);
      tried.add(step);
    }
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

/** Which work was done for which finding. It is asked for again only if doing more of it would help, tried on paper. */
class Tried {
  readonly #rules: RuleSet;
  readonly #assembly: Assembly;
  readonly #done = new Set<string>();

  constructor(rules: RuleSet, assembly: Assembly) {
    this.#rules = rules;
    this.#assembly = assembly;
  }

  add({ asked, findings }: JobStep): void {
    for (const finding of findings) this.#done.add(`${finding} ${asked.key}`);
  }

  helps(asked: AskedWork, finding: string, now: Evaluation, world: VehicleWorld, done: Done): boolean {
    if (!this.#done.has(`${finding} ${asked.key}`)) return true;
    const round = new Map<string, JobStep>();
    followUps(
      enter(round, asked, () => {}),
      round,
      world,
    );
    const more = new Map(done);
    for (const step of round.values()) applyEffects(step.asked, world, more);
    const then = this.#again(now, createWorld(this.#assembly, this.#rules.library, this.#rules.texts, more));
    return then !== undefined && (badness(then) < badness(now) || lowOf(then) > lowOf(now) + EQUAL_WITHIN * Math.abs(lowOf(now)));
  }

  /** The same question of another world. */
  #again({ rule, subjects }: Evaluation, world: VehicleWorld): Evaluation | undefined {
    const compiled = this.#rules.compiled.find((one) => one.rule === rule);
    const alike = (other: Evaluation): boolean => other.subjects.every((subject, i) => subject === subjects[i]);
    return compiled && evaluateRule(compiled, world).find(alike);
  }
}

const lowOf = ({ controlling }: Evaluation): number => controlling?.low ?? 0;

/** What one round asks for, each work once, with what it brings along. */
function askedIn(
  evaluations: readonly Evaluation[],
  world: VehicleWorld,
  done: Done,
  tried: Tried,
  standing: Standing,
): Map<string, JobStep> {
  const round = new Map<string, JobStep>();
  for (const evaluation of evaluations) {
    if (evaluation.verdict !== 'conflict' && evaluation.verdict !== 'close') continue;
    if (evaluation.verdict === 'close' && standing.same(evaluation, world)) continue;
    const id = evaluationId(evaluation, world);
    for (const asked of workFor(evaluation, world)) {
      if (!tried.helps(asked, id, evaluation, world, done)) continue;
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
  rule.work.map((call) => askedBy(rule, call, subjects, world)).filter((asked) => asked !== undefined);

/** Work that cannot be put in numbers is left out, whatever is wrong with it: its finding stays. */
function askedBy({ scope }: Rule, call: WorkCall, subjects: readonly number[], world: VehicleWorld): AskedWork | undefined {
  try {
    return askWork(call, scope, subjects, world);
  } catch {
    return undefined;
  }
}

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

/**
 * Enters what a round asks for into the job, and gives what of it is to be done now. A work done before and asked for
 * again: what its effects add is added up, what they set is set anew. One that was only contingent so far was not done,
 * and is as it is asked for now.
 */
function addRound(steps: Map<string, JobStep>, asked: ReadonlyMap<string, JobStep>, round: number): JobStep[] {
  return [...asked].flatMap(([key, step]) => {
    const known = steps.get(key);
    const again = known && !known.contingent ? askedAgain(known.asked, step) : { all: step.asked, now: step.asked };
    steps.set(key, {
      asked: again.all,
      findings: new Set([...(known?.findings ?? []), ...step.findings]),
      broughtBy: new Set([...(known?.broughtBy ?? []), ...step.broughtBy]),
      round: known?.round ?? round,
      contingent: (known?.contingent ?? true) && step.contingent,
    });
    return step.contingent ? [] : [{ ...step, asked: again.now }];
  });
}

/** All of a work that was done, and what of it is done now. */
function askedAgain(done: AskedWork, { asked, contingent }: JobStep): { readonly all: AskedWork; readonly now: AskedWork } {
  if (contingent) return { all: done, now: asked };
  if (!asked.work.effects.some(({ how }) => how === 'add')) {
    const merged = mergeAsked(done, asked);
    return { all: merged, now: merged };
  }
  const amounts = new Map([...asked.amounts].map(([name, amount]) => [name, sumAmounts(done.amounts.get(name) ?? amount, amount)]));
  return { all: { ...asked, amounts }, now: asked };
}
