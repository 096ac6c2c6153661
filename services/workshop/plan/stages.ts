/**
 * A build spread over time: parts in groups, each state between them checked as it would be driven. Work of an early stage
 * is done to the amounts the last one asks for, so that nothing is done twice, unless the state in between is worse for it.
 */
import { type Evaluation, VERDICTS } from '../../engine/evaluate.ts';
import type { Work } from '../../engine/tree.ts';
import type { Assembly, Part } from '../../vehicle/assembly.ts';
import { fittingFor } from '../../vehicle/library-view.ts';
import { unread, type VehicleWorld } from '../../vehicle/world.ts';
import type { Verdict } from '../answer.ts';
import type { AskedWork } from '../asked-work.ts';
import { evaluationId } from '../evaluation-id.ts';
import { type Job, type JobStep, planJob, type Start } from '../job.ts';
import type { RuleSet } from '../rule-set.ts';
import type { Standing } from '../standing.ts';
import { stepId } from '../step-id.ts';
import { Decimal } from './decimal.ts';
import type { OpenPoint } from './inspect.ts';
import { orderJob } from './operations.ts';
import { periodsOf } from './periods.ts';
import type { Money } from './request.ts';
import { meanOf } from './time.ts';

export interface StageGroup {
  readonly name: string;
  readonly parts: readonly Part[];
  /** What may be spent on it, all in. */
  readonly budget?: Money;
}

export interface StageMoney {
  readonly currency: string;
  readonly total: Money;
  /** Everything of it has a price. */
  readonly complete: boolean;
  readonly budget: Money | null;
  /** How far the total goes beyond it; null where there is none, or it keeps within. */
  readonly over: Money | null;
}

/** What steps of a job cost by the shop's terms; undefined where it has none. */
export type PriceSteps = (steps: ReadonlyMap<string, JobStep>, job: Job) => Pick<StageMoney, 'currency' | 'total' | 'complete'>;

export interface Stage {
  readonly name: string;
  readonly parts: readonly string[];
  readonly steps: readonly string[];
  readonly hours: number;
  /** null without the shop's terms. */
  readonly money: StageMoney | null;
  /** Done before and done again because of this stage: it is torn open. */
  readonly again: readonly string[];
  /** Done to what the last stage asks for. */
  readonly sized_for_the_end: readonly string[];
  readonly verdict: Verdict;
  /** `no`: something that can hurt or is against the law is in conflict. `not_known`: it cannot be told yet. */
  readonly safe_to_drive: 'yes' | 'no' | 'not_known';
  readonly open: readonly { readonly id: string; readonly verdict: Verdict; readonly hazard: string; readonly title: string }[];
}

export interface Stages {
  readonly order: 'as_given' | 'best';
  readonly stages: readonly Stage[];
  readonly hours: number;
  /** Hours of the job done at once, and what spreading it costs. */
  readonly hours_at_once: number;
  readonly dearer_by: number;
  /** Of `best`: how many orders were weighed, and whether one is safe all along. */
  readonly weighed: number;
  readonly safe_all_along: boolean;
  /** null where no stage has a budget, or one that has is not priced whole. */
  readonly within_budgets: boolean | null;
}

interface Shop {
  readonly price?: PriceSteps | undefined;
  readonly rules: RuleSet;
  readonly assembly: Assembly;
  readonly standing: Standing;
  /** What is on the vehicle and done already; stages are of what remains. */
  readonly start: Start;
  /** What was found on the vehicle, or not looked at, that those works do not put right. */
  openPoints(works: ReadonlySet<string>): readonly OpenPoint[];
}

const HOUR = 3600;

export function stagesOf(shop: Shop, whole: Job, given: readonly StageGroup[], order: 'as_given' | 'best'): Stages {
  const { fitted = new Set() } = shop.start;
  const groups = given.map((group) => ({ ...group, parts: group.parts.filter(({ subject }) => !fitted.has(subject)) }));
  const jobs = new Map<string, Job>();
  const jobFor = (which: readonly number[]): Job => {
    const key = [...which].sort((a, b) => a - b).join(',');
    const known =
      jobs.get(key) ??
      (which.length === groups.length ? whole : planJob(shop.rules, partsOnly(shop, partsIn(which, groups)), shop.start, shop.standing));
    jobs.set(key, known);
    return known;
  };
  const orders = order === 'best' ? permutations(groups.map((_, i) => i)) : [groups.map((_, i) => i)];
  const weighed = orders.map((way) => ({ way, ...weigh(way, groups, jobFor, whole, shop.price) }));
  const best = weighed.reduce((a, b) => (isBetter(b, a) ? b : a));
  const stages = walk(shop, best.way, groups, jobFor, whole);
  const [hours, atOnce] = [stages.reduce((sum, stage) => sum + stage.hours, 0), hoursOf(sureOf(whole), whole)];
  return {
    order,
    stages,
    hours: tenths(hours),
    hours_at_once: tenths(atOnce),
    dearer_by: tenths(hours - atOnce),
    weighed: orders.length,
    safe_all_along: stages.every(({ safe_to_drive }) => safe_to_drive === 'yes'),
    within_budgets: withinBudgets(stages),
  };
}

/** Of the stages that have a budget; what is not priced whole may still go beyond. */
function withinBudgets(stages: readonly Stage[]): boolean | null {
  const budgeted = stages.flatMap(({ money }) => (money && money.budget !== null ? [money] : []));
  if (budgeted.some(({ over }) => over !== null)) return false;
  return budgeted.length > 0 && budgeted.every(({ complete }) => complete) ? true : null;
}

interface Weighed {
  readonly hours: number;
  /** All stages together; undefined without the shop's terms. */
  readonly money: Decimal | undefined;
  readonly unsafe: number;
  readonly over: number;
}

/** Safe first; then within the budgets; then cheap: by money where there are terms, by hours where it is the same or there are none. */
export function isBetter(a: Weighed, b: Weighed): boolean {
  if (a.unsafe !== b.unsafe) return a.unsafe < b.unsafe;
  if (a.over !== b.over) return a.over < b.over;
  const dearer = a.money && b.money ? a.money.compare(b.money) : 0;
  return dearer !== 0 ? dearer < 0 : a.hours < b.hours - 1e-9;
}

const partsIn = (which: readonly number[], groups: readonly StageGroup[]): Part[] => which.flatMap((i) => groups[i]?.parts ?? []);

/** The vehicle with those of its planned parts only. Readings taken with all of them on say nothing of it. */
function partsOnly({ assembly, rules, start }: Shop, parts: readonly Part[]): Assembly {
  const planned = assembly.parts.filter(({ state }) => state === 'planned');
  const on = new Set([...planned.filter(({ subject }) => start.fitted?.has(subject)), ...parts]);
  const removed = new Set([...planned.filter((part) => !on.has(part)), ...[...on].flatMap(({ replaces }) => replaces)]);
  return { ...unread(assembly, rules.library), removed };
}

const sureOf = ({ steps }: Job): JobStep[] => [...steps.values()].filter(({ contingent }) => !contingent);
const hoursIn = (steps: Iterable<JobStep>): number =>
  [...steps].reduce((sum, { asked }) => sum + (meanOf(asked.work.hours) / HOUR) * Math.max(1, asked.work.planning.visits.length), 0);

/** With the set-ups they need, each made as few times as the order of these steps alone allows. */
function hoursOf(steps: readonly JobStep[], job: Job): number {
  const ordered = orderJob(new Map(steps.map((step) => [step.asked.key, step])), job);
  const setups = periodsOf(ordered).flatMap(({ here: { setup } }) => [setup.make, setup.unmake]);
  return hoursIn(steps) + setups.reduce((sum, spread) => sum + meanOf(spread) / HOUR, 0);
}

const tenths = (hours: number): number => Math.round(hours * 10) / 10;

/** What one order costs, and in how many states of it something dangerous is in conflict. */
function weigh(
  way: readonly number[],
  groups: readonly StageGroup[],
  jobFor: (which: readonly number[]) => Job,
  whole: Job,
  price: PriceSteps | undefined,
): Weighed {
  let done: ReadonlyMap<string, JobStep> = new Map();
  let [hours, unsafe, over] = [0, 0, 0];
  let money = price && Decimal.zero;
  way.forEach((at, n) => {
    const job = jobFor(way.slice(0, n + 1));
    const due = dueIn(job, done, whole);
    const group = groups[at] as StageGroup;
    const cost = moneyOf(group, due, job, price);
    if (cost) money = money?.plus(Decimal.parse(cost.total) as Decimal);
    if (cost?.over) over++;
    hours += hoursOf(
      due.map(({ step }) => step),
      job,
    );
    if (dangers(job.after, job.worldAfter).length > 0) unsafe++;
    done = new Map([...done, ...sureOf(job).map((step) => [step.asked.key, step] as const)]);
  });
  return { hours, money, unsafe, over };
}

/** The steps of a stage with the parts of its own group: those of earlier ones are paid. */
function moneyOf({ parts, budget }: StageGroup, due: readonly Due[], job: Job, price: PriceSteps | undefined): StageMoney | null {
  if (!price) return null;
  const own = new Set(parts.map(({ subject }) => subject));
  const steps = new Map(
    due.map(({ step }) => [step.asked.key, { ...step, fits: new Set([...step.fits].filter((part) => own.has(part))) }] as const),
  );
  const priced = price(steps, job);
  const over = budget === undefined ? undefined : (Decimal.parse(priced.total) as Decimal).minus(Decimal.parse(budget) as Decimal);
  // What no work is known to fit costs something that nobody has put down.
  const fitted = parts.every(({ kind }) => fittingFor(job.worldBefore.library, kind) !== undefined);
  return {
    ...priced,
    complete: priced.complete && fitted,
    budget: budget ?? null,
    over: over && over.compare(Decimal.zero) > 0 ? over.toString() : null,
  };
}

interface Due {
  readonly step: JobStep;
  readonly again: boolean;
  readonly grown: boolean;
}

/** What a stage takes: what is new, what must go further than the end asks for, and what those bring with them again. */
function dueIn(job: Job, done: ReadonlyMap<string, JobStep>, whole: Job): Due[] {
  const due = new Map<string, Due>();
  for (const step of sureOf(job)) {
    const known = done.get(step.asked.key);
    const end = whole.steps.get(step.asked.key);
    const newParts = [...step.fits].some((part) => !known?.fits.has(part));
    const beyond = known !== undefined && exceeds(step.asked, known.asked) && (end === undefined || exceeds(step.asked, end.asked));
    if (!known || newParts || beyond)
      due.set(step.asked.key, {
        step,
        again: known !== undefined && !newParts,
        grown: end !== undefined && !end.contingent && exceeds(end.asked, step.asked),
      });
  }
  for (let more = true; more; ) {
    more = false;
    for (const step of sureOf(job))
      if (!due.has(step.asked.key) && ([...step.broughtBy].some((by) => due.has(by)) || isUndone(step.asked.work, due))) {
        due.set(step.asked.key, { step, again: true, grown: false });
        more = true;
      }
  }
  return [...due.values()];
}

/** Whether a work that only makes something so, such as aligned or zeroed, rests on what is done now: then it is so no longer. */
const isUndone = ({ effects, after }: Work, due: ReadonlyMap<string, Due>): boolean =>
  effects.length > 0 &&
  effects.every(({ how, target }) => how === 'set' && target.type.is === 'truth') &&
  after.some(({ work, undoes }) => undoes && [...due.values()].some(({ step }) => step.asked.work.id === work));

/** Whether any amount of the one goes further than the other's. */
const exceeds = (a: AskedWork, b: AskedWork): boolean =>
  [...a.amounts].some(([name, { value, parameter }]) => {
    const other = b.amounts.get(name)?.value;
    if (other === undefined) return false;
    const [more, less] = [value > other + 1e-9, value < other - 1e-9];
    return parameter.merge === 'exact' ? more || less : parameter.merge === 'least' ? less : more;
  });

function walk(
  shop: Shop,
  way: readonly number[],
  groups: readonly StageGroup[],
  jobFor: (which: readonly number[]) => Job,
  whole: Job,
): Stage[] {
  let done: ReadonlyMap<string, JobStep> = new Map();
  return way.map((group, n) => {
    const job = jobFor(way.slice(0, n + 1));
    const due = inOrder(dueIn(job, done, whole), job);
    const sized = sizedForTheEnd(shop, job, due, whole, partsIn(way.slice(0, n + 1), groups));
    done = new Map([...done, ...sureOf(job).map((step) => [step.asked.key, step] as const)]);
    const of = groups[group] as StageGroup;
    const hours = hoursOf(
      due.map(({ step }) => step),
      job,
    );
    return { ...stageOf(shop, of, sized.job, due, hours, sized.keys), money: moneyOf(of, due, job, shop.price) };
  });
}

/** As they are done in the job of that stage; what is done at a later visit last. */
function inOrder(due: readonly Due[], job: Job): Due[] {
  const place = new Map(orderJob(job.steps, job).operations.map(({ key }, i) => [key, i]));
  const at = ({ step }: Due): number => place.get(step.asked.key) ?? place.size;
  return [...due].sort((a, b) => at(a) - at(b));
}

/** The stage with what grows later done to its last amounts at once, if nothing dangerous comes of it. */
function sizedForTheEnd(
  shop: Shop,
  job: Job,
  due: readonly Due[],
  whole: Job,
  parts: readonly Part[],
): { readonly job: Job; readonly keys: ReadonlySet<string> } {
  const keys = new Set(due.filter(({ grown }) => grown).map(({ step }) => step.asked.key));
  if (keys.size === 0) return { job, keys };
  const asked = sureOf(job).map((step) => (keys.has(step.asked.key) ? (whole.steps.get(step.asked.key) as JobStep).asked : step.asked));
  const tried = planJob(
    shop.rules,
    parts.length === 0 ? shop.assembly : partsOnly(shop, parts),
    {
      ...shop.start,
      done: [...(shop.start.done ?? []), ...asked],
      fitted: new Set([...(shop.start.fitted ?? []), ...parts.map(({ subject }) => subject)]),
      alsoAsked: [],
    },
    shop.standing,
  );
  const worse = dangers(tried.before, tried.worldBefore).length > dangers(job.after, job.worldAfter).length;
  return worse ? { job, keys: new Set() } : { job: { ...job, after: tried.before, worldAfter: tried.worldBefore }, keys };
}

const dangers = (evaluations: readonly Evaluation[], world: VehicleWorld): string[] =>
  evaluations
    .filter(({ verdict, rule }) => verdict === 'conflict' && (rule.hazard === 'safety' || rule.hazard === 'legal'))
    .map((evaluation) => evaluationId(evaluation, world));

function stageOf(
  { start, openPoints }: Shop,
  { name, parts }: StageGroup,
  job: Job,
  due: readonly Due[],
  hours: number,
  sized: ReadonlySet<string>,
): Omit<Stage, 'money'> {
  const { after, worldAfter: world, worldBefore, standing } = job;
  const id = ({ step }: Due): string => stepId(step.asked, worldBefore);
  const open = after.filter(
    (evaluation) =>
      evaluation.verdict !== 'clear' &&
      evaluation.verdict !== 'not-applicable' &&
      (evaluation.verdict === 'conflict' || !standing.same(evaluation, world)),
  );
  const done = [...(start.done ?? []), ...sureOf(job).map(({ asked }) => asked)];
  const points = openPoints(new Set(done.map(({ work }) => work.id)));
  const all = [
    ...open.map((evaluation) => ({
      id: evaluationId(evaluation, world),
      verdict: evaluation.verdict as Verdict,
      hazard: evaluation.rule.hazard,
      title: evaluation.rule.title,
    })),
    ...points,
  ];
  const matters = all.filter(({ hazard }) => hazard === 'safety' || hazard === 'legal');
  const verdicts = all.map(({ verdict }) => verdict);
  return {
    name,
    parts: [...new Set(parts.map(({ group }) => group))],
    steps: due.map(id),
    hours: tenths(hours),
    again: due.filter(({ again }) => again).map(id),
    sized_for_the_end: due.filter(({ step }) => sized.has(step.asked.key)).map(id),
    verdict: (VERDICTS as readonly Verdict[]).find((verdict) => verdicts.includes(verdict)) ?? 'clear',
    safe_to_drive: matters.some(({ verdict }) => verdict === 'conflict') ? 'no' : matters.length > 0 ? 'not_known' : 'yes',
    open: all,
  };
}

function permutations(items: readonly number[]): number[][] {
  if (items.length <= 1) return [[...items]];
  return items.flatMap((item) => permutations(items.filter((other) => other !== item)).map((rest) => [item, ...rest]));
}
