/** A plan from end to end: the build, the state of its job and the shop's terms in; order, time, money and sheets out. Pure. */
import { type Assembly, assemble, type Catalogue } from '../vehicle/assembly.ts';
import { Faults, listed, suggestFrom } from '../vehicle/faults.ts';
import { fittingFor } from '../vehicle/library-view.ts';
import type { CheckRequest, RequestFault } from '../vehicle/request.ts';
import type { Answer } from './answer.ts';
import { evaluationId } from './evaluation-id.ts';
import { findingOf, groupEvaluations, groupId } from './findings.ts';
import { type Job, planJob, type Start } from './job.ts';
import { asBuiltOf, candidateOf, type DoneStep, readingsOf, resolveDone } from './plan/as-built.ts';
import { calendarOf } from './plan/calendar.ts';
import { variationOf } from './plan/compare.ts';
import { type Judged, judgeContacts } from './plan/contacts.ts';
import { estimateOf } from './plan/estimate.ts';
import { handOverOf } from './plan/hand-over.ts';
import { askedByInspection, inspectionFindings, openPoints } from './plan/inspect.ts';
import { type Operation, type OrderedJob, orderJob } from './plan/operations.ts';
import { type Period, periodsOf } from './plan/periods.ts';
import type { Plan, PlanTime } from './plan/plan.ts';
import type { AsBuiltInput, EstimateInput, PlanRequest, PriceInput } from './plan/request.ts';
import { risksOf } from './plan/risk.ts';
import { type PriceSteps, stagesOf } from './plan/stages.ts';
import { checkTerms } from './plan/terms.ts';
import { estimateSum, quantile, type Estimate as TimeEstimate } from './plan/time.ts';
import type { RuleSet } from './rule-set.ts';
import type { System } from './show.ts';
import { Standing } from './standing.ts';
import { stepId } from './step-id.ts';
import { setupTitle, titleOf } from './steps.ts';

export type Planned = { readonly ok: true; readonly plan: Plan } | { readonly ok: false; readonly faults: readonly RequestFault[] };

/** The answer to a check, from a job that is planned already. */
export type AnswerOf = (request: CheckRequest, assembly: Assembly, job: Job) => Answer;

interface Shop {
  readonly rules: RuleSet;
  readonly catalogue: Catalogue;
  readonly answerOf: AnswerOf;
}

export function planFor(request: PlanRequest, shop: Shop): Planned {
  const faults = new Faults();
  checkTerms(request, shop.rules.library, faults);
  const assembled = assemble(request, shop.catalogue, shop.rules.library);
  if (!assembled.ok) return { ok: false, faults: [...assembled.faults, ...faults.list] };
  const made = planOnce(request, assembled.assembly, shop, faults);
  if (!made || faults.list.length > 0) return { ok: false, faults: faults.list };
  const varied = request.turned_up && variedRequest(request);
  if (!varied) return { ok: true, plan: made };
  const turned = planFor(varied, shop);
  if (!turned.ok)
    return { ok: false, faults: turned.faults.map((fault) => ({ ...fault, pointer: underTurnedUp(fault.pointer, request) })) };
  const of = ({ check, time, estimate }: Plan) => ({ steps: check.work.steps, hours: time.sure.expected, estimate });
  return { ok: true, plan: { ...turned.plan, variation: variationOf(of(made), of(turned.plan), request.turned_up?.note) } };
}

/** The request with what turned up in it. */
function variedRequest({ turned_up: found, ...request }: PlanRequest): PlanRequest {
  const { vehicle, parts = [], state = {} } = request;
  return {
    ...request,
    vehicle: { ...vehicle, measured: [...(vehicle.measured ?? []), ...(found?.measured ?? [])] },
    parts: [...parts, ...(found?.parts ?? [])],
    state: { ...state, inspection: [...(state.inspection ?? []), ...(found?.inspection ?? [])] },
  };
}

/** Where a fault of what turned up stands in the request as it was sent. */
function underTurnedUp(pointer: string, { vehicle, parts = [], state }: PlanRequest): string {
  const moved = (prefix: string, count: number, to: string): string | undefined => {
    const [, index, rest = ''] = new RegExp(`^${prefix}/(\\d+)(.*)$`).exec(pointer) ?? [];
    return index !== undefined && Number(index) >= count ? `/turned_up/${to}/${Number(index) - count}${rest}` : undefined;
  };
  return (
    moved('/vehicle/measured', vehicle.measured?.length ?? 0, 'measured') ??
    moved('/parts', parts.length, 'parts') ??
    moved('/state/inspection', state?.inspection?.length ?? 0, 'inspection') ??
    pointer
  );
}

function planOnce(request: PlanRequest, assembly: Assembly, shop: Shop, faults: Faults): Plan | undefined {
  const { rules } = shop;
  const { library } = rules;
  const system: System = request.units ?? 'metric';
  const { state = {} } = request;
  const standing = new Standing(rules, assembly);
  const alsoAsked = askedByInspection(state.inspection ?? [], library, faults.in('state', 'inspection'));
  const fitted = fittedOf(state.fitted ?? [], assembly, faults.in('state', 'fitted'));
  const whole = planJob(rules, assembly, { fitted, alsoAsked }, standing);
  const judged = judge(whole, request, system, faults.in('state', 'accepted'));
  const built = resolveDone(state.as_built ?? [], whole.steps.values(), whole.worldBefore, faults.in('state', 'as_built'));
  const done = [...resolveDone(state.done ?? [], whole.steps.values(), whole.worldBefore, faults.in('state', 'done')), ...built];
  const reads = built.map((one, i) => readingsOf(one, whole.worldBefore, faults.in('state', 'as_built', i)));
  if (faults.list.length > 0) return undefined;
  const start: Start = {
    fitted: new Set([...fitted, ...done.flatMap(({ step }) => [...step.fits])]),
    done: done.map(({ asked }) => asked),
    readings: new Map(
      reads.flatMap((all, i) => all.map((read) => [read.key, candidateOf(read, built[i]?.input as AsBuiltInput)] as const)),
    ),
    accepted: judged.evaluations,
    alsoAsked: alsoAsked.filter(({ asked }) => !done.some((one) => one.asked.key === asked.key)),
  };
  const job = done.length === 0 && judged.evaluations.size === 0 ? whole : planJob(rules, assembly, start, standing);
  const pieces = { request, shop, assembly, job, start, standing, judged, done, system };
  const asBuilt = built.flatMap(
    (one, i) => asBuiltOf(one, reads[i] ?? [], whole.worldAfter, { now: job.before, world: job.worldBefore }, system) ?? [],
  );
  return assemblePlan(pieces, asBuilt);
}

interface Pieces {
  readonly request: PlanRequest;
  readonly shop: Shop;
  readonly assembly: Assembly;
  /** What remains. */
  readonly job: Job;
  /** What is there and done already. */
  readonly start: Start;
  readonly standing: Standing;
  readonly judged: Judged;
  readonly done: readonly DoneStep[];
  readonly system: System;
}

function assemblePlan({ request, shop, assembly, job, start, standing, judged, done, system }: Pieces, asBuilt: Plan['as_built']): Plan {
  const { worldBefore: world } = job;
  const ordered = orderJob(job.steps, job);
  const periods = periodsOf(ordered);
  const check = shop.answerOf(request, assembly, job);
  const calendar = calendarOf(ordered, periods, world, request.shop ?? {}, waitsOf(request.estimate, ordered, world), system);
  return {
    check,
    done: done.map(({ input, asked }) => ({ step: input.step, title: titleOf(asked, world, system), as_built: 'passed' in input })),
    not_planned: unplannedOf(job),
    time: timeOf(ordered, periods),
    calendar,
    estimate: request.estimate ? estimate(ordered, periods, job, check, request.estimate, system) : null,
    risks: risksOf(ordered, world, job.worldAfter, system),
    inspection: inspectionFindings(request.state?.inspection ?? [], job.steps, world.library, (key) => idOf(key, job), system),
    contacts: judged.contacts,
    as_built: asBuilt,
    variation: null,
    stages: request.stages
      ? stagesOf(
          {
            rules: shop.rules,
            assembly,
            standing,
            start,
            price: priceSteps(request.estimate, system),
            openPoints: (works) => openPoints(request.state?.inspection ?? [], world.library, works),
          },
          job,
          groupsOf(request, assembly),
          request.stages.order ?? 'as_given',
        )
      : null,
    hand_over: handOverOf(job, ordered, calendar, judged.contacts, check.after_work.remaining, system),
  };
}

const idOf = (key: string, { steps, worldBefore }: Job): string => {
  const step = steps.get(key);
  return step ? stepId(step.asked, worldBefore) : key;
};

function fittedOf(given: readonly string[], { parts }: Assembly, faults: Faults): ReadonlySet<number> {
  const planned = parts.filter(({ state }) => state === 'planned');
  return new Set(
    given.flatMap((id, i) => {
      const found = planned.filter((part) => part.group === id || part.id === id);
      if (found.length === 0)
        faults
          .in(i)
          .add(
            'PART_NOT_PLANNED',
            `\`${id}\` is no planned part of this build`,
            `its planned parts are ${listed(planned.map(({ group }) => group))}`,
          );
      return found.map(({ subject }) => subject);
    }),
  );
}

function judge(job: Job, { state }: PlanRequest, system: System, faults: Faults): Judged {
  const { before, worldBefore: world, standing } = job;
  const found = groupEvaluations(before, world, standing).flatMap((group) => {
    const ids = group.evaluations.map((evaluation) => evaluationId(evaluation, world));
    return [groupId(group, world), ...ids].map((id) => [id, { group, ids: id.includes('+') ? ids : [id] }] as const);
  });
  const known = new Map(found);
  const all = new Set([...known.keys(), ...before.map((evaluation) => evaluationId(evaluation, world))]);
  for (const [i, { finding }] of (state?.accepted ?? []).entries())
    if (!all.has(finding))
      faults.in(i, 'finding').add('FINDING_UNKNOWN', `\`${finding}\` is no finding of this build`, suggestFrom(finding, all));
  const wanted = (state?.accepted ?? []).flatMap(({ finding }) => {
    const one = known.get(finding);
    return one ? [[finding, { ...one, says: findingOf(one.group, world, system, []).says }] as const] : [];
  });
  return judgeContacts(state?.accepted ?? [], new Map(wanted));
}

/** Planned parts nobody has said how to fit: their hours are in no sum. */
const unplannedOf = ({ worldBefore: { present, library } }: Job): Plan['not_planned'] => [
  ...new Map(
    present
      .filter(({ state, kind }) => state === 'planned' && fittingFor(library, kind) === undefined)
      .map(
        (part) =>
          [
            part.group,
            { part: part.group, name: part.name, why: `no work is known that fits a \`${part.kind}\`: its hours are not in the plan` },
          ] as const,
      ),
  ).values(),
];

function timeOf(ordered: OrderedJob, periods: readonly Period[]): PlanTime {
  const all = [...ordered.operations, ...ordered.visits.flatMap(({ operations }) => operations)];
  const spread = (contingent: boolean) => {
    const work = all.filter(({ step }) => step.contingent === contingent).map(({ step }) => step.asked.work.hours);
    const setups = periods
      .filter((period) => period.contingent === contingent)
      .flatMap(({ here: { setup } }) => [setup.make, setup.unmake]);
    return spreadOf(estimateSum([...work, ...setups]));
  };
  const bySkill = new Map<string, Operation[]>();
  for (const operation of all.filter(({ step }) => !step.contingent)) {
    const { skills, planning } = operation.step.asked.work;
    const skill = planning.sentOut ? 'sent-out' : (skills[0] ?? 'mechanical');
    bySkill.set(skill, [...(bySkill.get(skill) ?? []), operation]);
  }
  const setups = periods.filter(({ contingent }) => !contingent).flatMap(({ here: { setup } }) => [setup.make, setup.unmake]);
  return {
    method:
      'three-point estimates as beta distributions, mean (low + 4 likely + high) / 6 and deviation (high - low) / 6; means are added; 10 % and 90 % with operations erring independently, and erring together',
    sure: spread(false),
    if_needed: spread(true),
    by_skill: [
      ...[...bySkill].map(([skill, operations]) => ({
        skill,
        ...spreadOf(estimateSum(operations.map(({ step }) => step.asked.work.hours))),
      })),
      ...(setups.length > 0 ? [{ skill: 'set-ups', ...spreadOf(estimateSum(setups)) }] : []),
    ],
  };
}

const HOUR = 3600;

function spreadOf(estimate: TimeEstimate): PlanTime['sure'] {
  const hours = (seconds: number): number => Math.round((Math.max(0, seconds) / HOUR) * 100) / 100;
  return {
    expected: hours(estimate.mean),
    deviation: hours(estimate.deviation),
    independent: { low: hours(quantile(estimate, 0.1, false)), high: hours(quantile(estimate, 0.9, false)) },
    together: { low: hours(quantile(estimate, 0.1, true)), high: hours(quantile(estimate, 0.9, true)) },
    unit: 'h',
  };
}

function estimate(
  ordered: OrderedJob,
  periods: readonly Period[],
  job: Job,
  check: Answer,
  input: EstimateInput,
  system: System,
): Plan['estimate'] {
  const { worldBefore: world } = job;
  const because = new Map(check.work.steps.map((step) => [step.id, step.because]));
  return estimateOf(
    {
      ordered,
      periods,
      world,
      open: check.work.not_known + unplannedOf(job).length,
      titleOf: ({ step }) => titleOf(step.asked, world, system),
      setupTitle: ({ here }) => setupTitle(here.setup.title, here.of, world),
      becauseOf: ({ step }) => because.get(stepId(step.asked, world)) ?? [],
    },
    input,
  );
}

/** What steps cost when they are a job of their own: a stage. */
function priceSteps(input: EstimateInput | undefined, system: System): PriceSteps | undefined {
  return (
    input &&
    ((steps, job) => {
      const ordered = orderJob(steps, job);
      const priced = estimateOf(
        {
          ordered,
          periods: periodsOf(ordered),
          world: job.worldBefore,
          open: 0,
          titleOf: ({ step }) => titleOf(step.asked, job.worldBefore, system),
          setupTitle: ({ here }) => setupTitle(here.setup.title, here.of, job.worldBefore),
          becauseOf: () => [],
        },
        input,
      );
      return { currency: input.currency, total: priced.totals.total, complete: priced.complete };
    })
  );
}

/** What must be there before the vehicle is taken apart: planned parts that steps fit, and what sure steps buy. */
function waitsOf(input: EstimateInput | undefined, { operations }: OrderedJob, world: Job['worldBefore']): PriceInput[] {
  const sure = operations.filter(({ step }) => !step.contingent);
  const parts = new Set(sure.flatMap(({ step }) => [...step.fits].map((subject) => world.partOf(subject)?.group ?? '')));
  const bought = new Set(
    sure.flatMap(({ step }) => step.asked.work.planning.parts.flatMap((what) => [what, `${stepId(step.asked, world)}/${what}`])),
  );
  const named = (of: Readonly<Record<string, PriceInput>> | undefined, which: ReadonlySet<string>): PriceInput[] =>
    Object.entries(of ?? {}).flatMap(([name, given]) => (which.has(name) ? [given] : []));
  return [...named(input?.parts, parts), ...named(input?.buys, bought)];
}

/** The groups asked for; parts that no group names come with the last. */
function groupsOf({ stages }: PlanRequest, { parts }: Assembly) {
  const planned = parts.filter(({ state }) => state === 'planned');
  const groups = (stages?.groups ?? []).map(({ name, parts: ids, budget }) => ({
    name,
    ...(budget !== undefined && { budget }),
    parts: planned.filter(({ group }) => ids.includes(group)),
  }));
  const left = planned.filter(({ group }) => !stages?.groups.some(({ parts: ids }) => ids.includes(group)));
  return left.length > 0 ? [...groups, { name: 'the rest', parts: left }] : groups;
}
