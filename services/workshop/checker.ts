/** A check from end to end: request in, answer out. Pure and synchronous; the same request gives the same bytes. */
import { createHash } from 'node:crypto';
import { VERDICTS, worst } from '../engine/evaluate.ts';
import type { Library } from '../engine/tree.ts';
import { type Assembly, assemble, type Catalogue } from '../vehicle/assembly.ts';
import type { CheckRequest, RequestFault, WhatIfRequest } from '../vehicle/request.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import { openAfter, ownFindings, verdictAfter, verdictsAfter, workedOut } from './after-work.ts';
import { faultsOfAlso, slotsAskedFor } from './also.ts';
import type { AfterWork, Answer, Finding, Verdict } from './answer.ts';
import { codeVersions } from './code-version.ts';
import { Cures } from './cures.ts';
import { joinWords, lowerFirst } from './describe.ts';
import { evaluationId } from './evaluation-id.ts';
import { findingOf, type Grouped, groupEvaluations } from './findings.ts';
import { fitToReadings } from './fit-readings.ts';
import { type Job, planJob, workFor } from './job.ts';
import { planMeasuring } from './measure.ts';
import type { PlanRequest } from './plan/request.ts';
import { type Planned, planFor } from './planner.ts';
import { makeRuleSet, type RuleSet } from './rule-set.ts';
import type { System } from './show.ts';
import { workCallOf, workOf } from './steps.ts';
import { valueGraph } from './values-out.ts';
import { readVary } from './vary.ts';
import { counts } from './verdicts.ts';
import { searchTurns } from './what-if.ts';
import { type WhatIf, whatIfAnswer } from './what-if-answer.ts';

export type Checked = { readonly ok: true; readonly answer: Answer } | { readonly ok: false; readonly faults: readonly RequestFault[] };

export type WhatIfChecked =
  | { readonly ok: true; readonly answer: WhatIf }
  | { readonly ok: false; readonly faults: readonly RequestFault[] };

export interface Checker {
  readonly library: Library;
  check(request: CheckRequest, catalogue: Catalogue): Checked;
  whatIf(request: WhatIfRequest, catalogue: Catalogue): WhatIfChecked;
  plan(request: PlanRequest, catalogue: Catalogue): Planned;
}

export function createChecker(library: Library): Checker {
  const rules = makeRuleSet(library);
  return {
    library,
    check(request, catalogue) {
      const assembled = assemble(request, catalogue, library);
      const asked = faultsOfAlso(request, library);
      if (asked.length > 0) return { ok: false, faults: [...(assembled.ok ? [] : assembled.faults), ...asked] };
      if (!assembled.ok) return assembled;
      if (!request.fit_to_readings) return { ok: true, answer: answerFor(request, assembled.assembly, rules, catalogue) };
      const fitted = fitToReadings(assembled.assembly, rules, request.units ?? 'metric');
      return fitted.ok ? { ok: true, answer: { ...answerFor(request, fitted.assembly, rules, catalogue), fit: fitted.fit } } : fitted;
    },
    whatIf(request, catalogue) {
      const read = readVary(request, catalogue, library);
      if (!read.ok) return read;
      const found = searchTurns(rules, read.vary);
      const worked = (at: number) => workedOut(planJob(rules, read.vary.assemblyAt(at)));
      return { ok: true, answer: whatIfAnswer(read.vary, found, worked, request.units ?? 'metric', versionsOf(rules, catalogue)) };
    },
    plan: (request, catalogue) =>
      planFor(request, { rules, catalogue, answerOf: (asked, assembly, job) => answerFor(asked, assembly, rules, catalogue, job) }),
  };
}

function answerFor(
  request: CheckRequest,
  assembly: Assembly,
  rules: RuleSet,
  catalogue: Catalogue,
  job = planJob(rules, assembly),
): Answer {
  const system: System = request.units ?? 'metric';
  const { before, worldBefore: world } = job;
  const groups = groupEvaluations(before, world, job.standing);
  const reads = new Set(before.flatMap((evaluation) => evaluation.reads));
  const own = ownFindings(before, world, system);
  const cures = request.alternatives ? new Cures(rules, assembly, job, system) : undefined;
  const plan = planMeasuring(groups, rules, world, { system, most: request.most_readings, fitted: request.fit_to_readings });
  // A list that was cut short is asked for by who wants no more of it.
  const listed = request.most_readings === undefined ? new Set(plan.measure.flatMap(({ ids }) => ids)) : undefined;
  const told = groups.map((group): Finding => {
    const alternatives = cures?.of(group);
    return { ...findingOf(group, world, system, workCallsOf(group, job, system), listed), ...(alternatives && { alternatives }) };
  });
  const findings = sortByVerdict([...told, ...own]);
  const verdict = worst(findings.filter(counts).map((finding) => finding.verdict));
  const count = (of: Verdict): number => findings.filter((finding) => finding.verdict === of).length;
  const notApplicable = before.filter((evaluation) => evaluation.verdict === 'not-applicable').length;
  const shown =
    request.values === 'all'
      ? reads
      : new Set(before.filter((e) => e.verdict !== 'clear' && e.verdict !== 'not-applicable').flatMap((e) => e.reads));
  const also = slotsAskedFor(request, world);
  const afterWork = afterWorkOf(job, own, system);
  return {
    verdict,
    summary: summaryOf(findings, verdict, afterWork),
    checked: {
      rules: rules.compiled.length,
      applied: before.length - notApplicable,
      not_applicable: notApplicable + rules.compiled.filter(({ rule }) => !before.some((e) => e.rule === rule)).length,
      conflict: count('conflict'),
      unknown: count('unknown'),
      close: count('close'),
      clear: count('clear'),
      as_before: findings.filter((finding) => !counts(finding)).length,
    },
    findings,
    work: workOf(job, system),
    after_work: afterWork,
    ...plan,
    assumptions: [...assembly.assumptions, ...assumed(reads, world)],
    values: valueGraph([...shown, ...also], world, system),
    versions: versionsOf(rules, catalogue),
  };
}

/** Values that nobody gave and rules read all the same: those of the class, and those of the trade at large. */
function assumed(reads: ReadonlySet<number>, world: VehicleWorld): string[] {
  const slots = world.values.givensOf([...reads]);
  return (['class-default', 'typical'] as const).flatMap((rank) => {
    const titles = slots.flatMap((slot) => {
      const { chosen, signature } = world.values.node(slot);
      return chosen !== undefined && chosen !== 'computed' && chosen.rank === rank && chosen.plusMinus > 0 && signature
        ? [lowerFirst(signature.title)]
        : [];
    });
    const unique = [...new Set(titles)].sort();
    const whose =
      rank === 'class-default' ? 'Defaults of the class, with their tolerances' : 'Values usual in the trade, with wide tolerances';
    return unique.length > 0 ? [`${whose}, stand in for: ${unique.join(', ')}`] : [];
  });
}

const versionsOf = ({ library }: RuleSet, { hash }: Catalogue): Answer['versions'] => ({
  ...codeVersions(),
  rules: short(library.hash),
  catalogue: short(hash),
});

const short = (hash: string): string => createHash('sha256').update(hash).digest('hex').slice(0, 16);

const sortByVerdict = (findings: readonly Finding[]): Finding[] =>
  [...findings].sort((a, b) => VERDICTS.indexOf(a.verdict) - VERDICTS.indexOf(b.verdict));

/** The work a finding asks for, with the steps it became. */
function workCallsOf({ evaluations, verdict, asBefore }: Grouped, { worldBefore, steps }: Job, system: System) {
  if (verdict !== 'conflict' && (verdict !== 'close' || asBefore)) return [];
  return evaluations
    .flatMap((evaluation) => workFor(evaluation, worldBefore))
    .filter(({ key }) => steps.has(key))
    .map((asked) => workCallOf(asked, worldBefore, system));
}

function afterWorkOf(job: Job, own: readonly Finding[], system: System): AfterWork {
  const { before, broken, worldBefore, worldAfter, rounds, standing } = job;
  const verdictBefore = new Map(before.map((evaluation) => [evaluationId(evaluation, worldBefore), evaluation.verdict]));
  const madeOf = verdictsAfter(job);
  const settled = (verdict: string | undefined): boolean => verdict === undefined || verdict === 'clear' || verdict === 'not-applicable';
  const open = openAfter(job);
  const findings = open.map((group) => findingOf(group, worldAfter, system, []));
  return {
    verdict: verdictAfter(open, own),
    rounds,
    cleared: [...verdictBefore]
      .filter(([id, verdict]) => (verdict === 'conflict' || verdict === 'close') && settled(madeOf.get(id)))
      .map(([id]) => id),
    broken: broken.flatMap(({ evaluations, world }) =>
      groupEvaluations(evaluations, world, standing).map((group) => findingOf(group, world, system, [])),
    ),
    remaining: [...findings, ...own].map(({ id, verdict, says }) => ({ id, verdict, says })),
  };
}

function summaryOf(findings: readonly Finding[], verdict: Verdict, afterWork: AfterWork): string {
  const named = (of: Verdict, what: string): string[] => {
    const n = findings.filter((finding) => finding.verdict === of && counts(finding)).length;
    return n > 0 ? [`${n} ${what}`] : [];
  };
  const open = findings.filter((finding) => !counts(finding)).length;
  const told = [
    ...named('conflict', 'in conflict'),
    ...named('unknown', 'not known'),
    ...named('close', 'too close to call'),
    ...named('clear', 'clear'),
  ];
  const before =
    open === 0 ? '' : ` ${open} more ${open === 1 ? 'is' : 'are'} open as before: these parts do not change ${open === 1 ? 'it' : 'them'}.`;
  const after = verdict === 'clear' || afterWork.rounds === 0 ? '' : ` After the stated work: ${afterWork.verdict}.`;
  return `${joinWords(told)}.${before}${after}`;
}
