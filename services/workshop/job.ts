/**
 * From findings to a job, by one mechanism: the work that conflicts ask for is done on paper, the vehicle is checked
 * again as it then is, and what newly breaks asks for its own work, until nothing more is asked for.
 *
 * A close finding asks for work too, but nobody should cut before measuring: its work is listed as contingent, and
 * nothing is built on it. So is work that a conflict asks for beside other work, and that may come to nothing. What
 * contingent work would ask for in its turn is listed with it.
 */
import { slotOf } from '../engine/bind.ts';
import { type Evaluation, VERDICTS } from '../engine/evaluate.ts';
import { EQUAL_WITHIN } from '../engine/interpret.ts';
import type { Rule, Work, WorkCall } from '../engine/tree.ts';
import type { Candidate } from '../engine/values.ts';
import type { Assembly } from '../vehicle/assembly.ts';
import { fittingFor } from '../vehicle/library-view.ts';
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
  /** Keys of contingent steps that make it needed, if they are. */
  readonly ifDone: Set<string>;
  /** Planned parts that it puts on. */
  readonly fits: Set<number>;
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
  /** What work made of it by then. */
  readonly doneBefore: Done;
  /** The vehicle without the planned parts. */
  readonly standing: Standing;
  /** What was fine, or better, before the work and broke on the way, as it was when it broke. */
  readonly broken: readonly Broken[];
  readonly after: readonly Evaluation[];
  readonly worldAfter: VehicleWorld;
}

/** Where a job starts from, where that is not the vehicle with nothing done. */
export interface Start {
  /** Planned parts that are on it already, by subject. */
  readonly fitted?: ReadonlySet<number>;
  /** Work that was done, with the amounts it was done with. */
  readonly done?: readonly AskedWork[];
  /** What was read of it since, which stands whatever work was to make of it. */
  readonly readings?: ReadonlyMap<string, Candidate>;
  /** Evaluations that the customer lives with: they ask for no work. */
  readonly accepted?: ReadonlySet<string>;
  /** Work asked for by what was found on the vehicle, with the ids of what was found. */
  readonly alsoAsked?: readonly { readonly asked: AskedWork; readonly finding: string }[];
}

export interface Broken {
  readonly world: VehicleWorld;
  readonly evaluations: readonly Evaluation[];
}

export function planJob(rules: RuleSet, assembly: Assembly, start: Start = {}, standing = new Standing(rules, assembly)): Job {
  const { world: worldBefore, done } = worldAtStart(rules, assembly, start);
  const doneBefore = new Map(done);
  const before = evaluateAll(rules, worldBefore);
  const steps = new Map<string, JobStep>();
  const tried = new Tried(rules, assembly);
  const breaking = new Breaking(before, worldBefore);
  const broken: Broken[] = [];
  let [world, after, rounds] = [worldBefore, before, 0];
  while (rounds < MOST_ROUNDS) {
    const round = askedIn(after, world, done, tried, standing, start.accepted);
    if (rounds === 0 && steps.size === 0) askedAtStart(round, start, world);
    const doing = addRound(steps, round, rounds + 1);
    if (doing.every(({ asked }) => asked.work.effects.length === 0)) break;
    rounds++;
    for (const step of doing) {
      applyEffects(step.asked, world, done);
      tried.add(step);
    }
    world = createWorld(assembly, rules.library, rules.texts, new Map(done));
    after = evaluateAll(rules, world);
    broken.push({ world, evaluations: breaking.among(after, world) });
  }
  addIfNeeded(steps, { rules, assembly, after, world, done, accepted: start.accepted, round: rounds + 1 });
  return { steps: withoutTwins(steps, worldBefore), rounds, before, worldBefore, doneBefore, standing, broken, after, worldAfter: world };
}

interface Settled {
  readonly rules: RuleSet;
  readonly assembly: Assembly;
  readonly after: readonly Evaluation[];
  readonly world: VehicleWorld;
  readonly done: Done;
  readonly accepted: ReadonlySet<string> | undefined;
  readonly round: number;
}

/** What would be in conflict with all contingent work done and is not without it: its work is contingent too, and new. */
function addIfNeeded(steps: Map<string, JobStep>, { rules, assembly, after, world, done, accepted, round }: Settled): void {
  const perhaps = [...steps.values()].filter(({ contingent, asked }) => contingent && asked.work.effects.length > 0);
  if (perhaps.length === 0) return;
  const more = new Map(done);
  for (const { asked } of perhaps) applyEffects(asked, world, more);
  const then = createWorld(assembly, rules.library, rules.texts, more);
  const failing = (evaluations: readonly Evaluation[], on: VehicleWorld): [string, Evaluation][] =>
    evaluations.filter(({ verdict }) => verdict === 'conflict').map((evaluation) => [evaluationId(evaluation, on), evaluation]);
  const already = new Set([...failing(after, world).map(([id]) => id), ...(accepted ?? [])]);
  const asked = new Map<string, JobStep>();
  for (const [id, evaluation] of failing(evaluateAll(rules, then), then)) {
    const below = then.values.below(evaluation.reads);
    const by = perhaps.filter(({ asked: { work, subjects } }) =>
      work.effects.some(({ target }) => below.has(slotOf(target, subjects, then))),
    );
    if (already.has(id) || by.length === 0) continue;
    for (const one of workFor(evaluation, then))
      if (!steps.has(one.key)) enter(asked, one, ({ ifDone }) => by.forEach(({ asked: { key } }) => ifDone.add(key)));
  }
  for (const step of [...asked.values()]) followUps(step, asked, then);
  addRound(steps, new Map([...asked].filter(([key]) => !steps.has(key))), round);
}

/**
 * A part that a finding has replaced by another is put on once: the work that puts the other on stands for the fitting of
 * all the parts it is asked for in their place.
 */
function withoutTwins(steps: ReadonlyMap<string, JobStep>, world: VehicleWorld): Map<string, JobStep> {
  const kept = new Map(steps);
  for (const [key, fitting] of steps) {
    const takers = [...kept].filter(([, { asked, contingent }]) => !contingent && standsFor(asked.work, fitting.asked.work.id));
    const of = (part: number): string | undefined =>
      takers.find(([, { asked }]) => asked.subjects.some((subject) => covering(subject, part, world)))?.[0];
    const by = [...fitting.fits].map(of);
    if (by.length === 0 || by.includes(undefined)) continue;
    kept.delete(key);
    [...fitting.fits].forEach((part, i) => kept.get(by[i] as string)?.fits.add(part));
    for (const other of kept.values()) if (other.broughtBy.delete(key)) for (const taker of by) other.broughtBy.add(taker as string);
  }
  return kept;
}

const standsFor = ({ planning }: Work, id: string): boolean => planning.standsFor.some(({ text }) => text === id);

/** Whether work on a part or place is work on that part. */
const covering = (subject: number, part: number, world: VehicleWorld): boolean =>
  subject === part || subject === world.step(part, 'axle') || subject === world.step(part, 'corner');

function worldAtStart(rules: RuleSet, assembly: Assembly, { done: works = [], readings = new Map() }: Start) {
  const done = new Map<string, Candidate>();
  let world = createWorld(assembly, rules.library, rules.texts);
  for (const asked of works) {
    applyEffects(asked, world, done);
    world = createWorld(assembly, rules.library, rules.texts, new Map(done));
  }
  if (readings.size > 0) {
    for (const [key, reading] of readings) done.set(key, reading);
    world = createWorld(assembly, rules.library, rules.texts, new Map(done));
  }
  return { world, done };
}

/** What is asked for whatever the findings: parts put on, what follows from work that was done, what was found on the vehicle. */
function askedAtStart(round: Map<string, JobStep>, { fitted, done = [], alsoAsked = [] }: Start, world: VehicleWorld): void {
  const began = new Set(round.keys());
  for (const { asked, finding } of alsoAsked) enter(round, asked, (step) => sure(step).findings.add(finding));
  for (const { part, asked } of fittingOf(world, fitted)) enter(round, asked, (step) => sure(step).fits.add(part));
  const finished = new Set(done.map(({ key }) => key));
  for (const asked of done)
    for (const follower of followersOf(asked, world))
      if (!finished.has(follower.key)) enter(round, follower, (step) => sure(step).broughtBy.add(asked.key));
  for (const [key, step] of [...round]) if (!began.has(key) || step.fits.size > 0) followUps(step, round, world);
}

function sure(step: JobStep): JobStep {
  step.contingent = false;
  return step;
}

/** The works that put planned parts on. */
function fittingOf(world: VehicleWorld, fitted: ReadonlySet<number> = new Set()): { readonly part: number; readonly asked: AskedWork }[] {
  return world.present
    .filter(({ state, subject }) => state === 'planned' && !fitted.has(subject))
    .flatMap(({ kind, subject }) => {
      const fitting = fittingFor(world.library, kind);
      const asked = fitting?.calls.map((call) => askWork(call, fitting.scope, [subject], world)) ?? [];
      return asked.flatMap((one) => (one ? [{ part: subject, asked: one }] : []));
    });
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
  accepted: ReadonlySet<string> = new Set(),
): Map<string, JobStep> {
  const round = new Map<string, JobStep>();
  for (const evaluation of evaluations) {
    if (evaluation.verdict !== 'conflict' && evaluation.verdict !== 'close') continue;
    if (evaluation.verdict === 'close' && standing.same(evaluation, world)) continue;
    const id = evaluationId(evaluation, world);
    if (accepted.has(id)) continue;
    for (const asked of workFor(evaluation, world)) {
      if (!tried.helps(asked, id, evaluation, world, done)) continue;
      enter(round, asked, (step) => {
        step.findings.add(id);
        if (evaluation.verdict === 'conflict' && !mayBeNothing(asked)) step.contingent = false;
      });
    }
  }
  for (const step of round.values()) followUps(step, round, world);
  return round;
}

/** Work that is for what other work leaves over, and is nothing at the better end of the tolerances: measured after that. */
const mayBeNothing = ({ work, amounts }: AskedWork): boolean =>
  amounts.size > 0 &&
  work.effects.length > 0 &&
  work.effects.every(({ how }) => how === 'add') &&
  [...amounts.values()].every(({ least, parameter }) => parameter.merge === 'greatest' && least <= 0);

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
  for (const asked of followersOf(step.asked, world)) {
    const follower = enter(round, asked, (entered) => {
      entered.broughtBy.add(step.asked.key);
      if (!step.contingent) entered.contingent = false;
    });
    followUps(follower, round, world);
  }
}

/** What a work brings with it, and what the set-ups it needs bring. */
function followersOf({ work, subjects, amounts }: AskedWork, world: VehicleWorld): AskedWork[] {
  const { works, setups } = world.library;
  const parameters = new Map([...amounts].map(([name, { value }]) => [name, value]));
  const own = work.then.map((call) => askWork(call, work.scope, subjects, world, parameters)).filter((asked) => asked !== undefined);
  const bySetup = new Set(work.planning.setups.flatMap(({ setup }) => setups.get(setup)?.then ?? []));
  const shared = [...bySetup].filter((id) => id !== work.id && !own.some((asked) => asked.work.id === id)).map((id) => works.get(id));
  return [...own, ...shared.filter((found) => found !== undefined).map(plainly)];
}

/** A work of the whole vehicle, with nothing to say about it. */
export const plainly = (work: Work): AskedWork => ({ key: `${work.id}|`, work, subjects: [], amounts: new Map() });

function enter(round: Map<string, JobStep>, asked: AskedWork, change: (step: JobStep) => void): JobStep {
  const known = round.get(asked.key);
  const step: JobStep = known
    ? { ...known, asked: mergeAsked(known.asked, asked) }
    : { asked, findings: new Set(), broughtBy: new Set(), ifDone: new Set(), fits: new Set(), round: 0, contingent: true };
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
      ifDone: new Set([...(known?.ifDone ?? []), ...step.ifDone]),
      fits: new Set([...(known?.fits ?? []), ...step.fits]),
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
