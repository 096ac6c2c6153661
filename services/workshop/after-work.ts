/** What stated work leaves open, for an answer and for a what-if alike. */
import { type Evaluation, worst } from '../engine/evaluate.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { Finding, Verdict } from './answer.ts';
import { evaluationId } from './evaluation-id.ts';
import { type Grouped, groupEvaluations } from './findings.ts';
import type { Job } from './job.ts';
import { unreachedFindings } from './law-reach.ts';
import { boundFindings, disagreementFindings, unfilledFindings } from './own-findings.ts';
import type { System } from './show.ts';
import { isToDo } from './verdicts.ts';

/** Findings that no rule makes. */
export function ownFindings(evaluations: readonly Evaluation[], world: VehicleWorld, system: System): Finding[] {
  const reads = new Set(evaluations.flatMap((evaluation) => evaluation.reads));
  return [
    ...unfilledFindings(world),
    ...unreachedFindings(evaluations, world, system),
    ...disagreementFindings(reads, world, system),
    ...boundFindings(world, system),
  ];
}

/** What is not clear with all the work done, of what counts. */
export const openAfter = ({ after, worldAfter, standing }: Job): Grouped[] =>
  groupEvaluations(after, worldAfter, standing).filter(({ verdict, asBefore }) => isToDo({ verdict, as_before: asBefore }));

export const verdictAfter = (open: readonly Grouped[], own: readonly Finding[]): Verdict =>
  worst([...open, ...own].map(({ verdict }) => verdict));

/** By the id of each evaluation, with all the work done. */
export const verdictsAfter = ({ after, worldAfter }: Job): ReadonlyMap<string, Evaluation['verdict']> =>
  new Map(after.map((evaluation) => [evaluationId(evaluation, worldAfter), evaluation.verdict]));

/** By finding: what the work makes of it. What no longer applies is settled. */
export interface WorkedOut {
  readonly verdict: Verdict;
  readonly of: (id: string) => Verdict;
}

/** Nothing, where no work is stated. */
export function workedOut(job: Job): WorkedOut | undefined {
  if (job.rounds === 0) return undefined;
  const { before, worldBefore } = job;
  const verdicts = verdictsAfter(job);
  const of = (id: string): Verdict => {
    const verdict = verdicts.get(id) ?? 'not-applicable';
    return verdict === 'not-applicable' ? 'clear' : verdict;
  };
  return { verdict: verdictAfter(openAfter(job), ownFindings(before, worldBefore, 'metric')), of };
}
