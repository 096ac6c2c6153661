/** The job's steps in the order they are done, as an answer tells them. */

import { frameOf } from '../engine/frame.ts';
import { resolve } from '../engine/layout.ts';
import type { Spread } from '../engine/planning.ts';
import type { TemplatePiece } from '../engine/tree.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { AnswerSetup, AnswerWork, AnswerWorkCall, Hours, Step, WorkAmount } from './answer.ts';
import type { AskedWork } from './asked-work.ts';
import { describePart, fill, nameSubjects } from './describe.ts';
import type { Job } from './job.ts';
import { type Operation, type OrderedJob, orderJob } from './plan/operations.ts';
import { type Period, periodsOf } from './plan/periods.ts';
import { sumSpreads } from './plan/time.ts';
import { type System, show, shownDistance } from './show.ts';
import { stepId } from './step-id.ts';
import { textIn } from './texts.ts';

/** Which way an amount is rounded so that it is enough. */
const TOWARDS = { greatest: 'up', sum: 'up', least: 'down', exact: 'nearest' } as const;

export function amountsOf({ amounts }: AskedWork, system: System): Record<string, WorkAmount> {
  return Object.fromEntries(
    [...amounts].map(([name, { parameter, value, nominal }]) => {
      if (parameter.type.is !== 'number') return [name, { value, nominal, unit: '1' }];
      const shown = show(parameter.unit, parameter.type.dimension, system);
      const towards = TOWARDS[parameter.merge];
      return [name, { value: shown.rounded(value, towards), nominal: shown.rounded(nominal, 'nearest'), unit: shown.unit.symbol }];
    }),
  );
}

export const titleOf = (asked: AskedWork, world: VehicleWorld, system: System): string => wordsOf(asked.work.title, asked, world, system);

/** A text of a work, with its subjects and amounts. */
export function wordsOf(
  pieces: readonly TemplatePiece[],
  { work, subjects, amounts }: AskedWork,
  world: VehicleWorld,
  system: System,
): string {
  const parameters = new Map([...amounts].map(([name, { value }]) => [name, value]));
  const words = fill(pieces, {
    frame: frameOf(work.scope, subjects, world, { parameters }),
    world,
    system,
    scope: work.scope,
    givenUnits: new Map(work.takes.flatMap(({ name, unit }) => (unit === undefined ? [] : [[name, unit] as const]))),
    nameOf: (ref) => nameSubjects([resolve(ref, subjects, world)], world),
  });
  return textIn(words, system);
}

export const workCallOf = (asked: AskedWork, world: VehicleWorld, system: System): AnswerWorkCall => ({
  work: asked.work.id,
  title: titleOf(asked, world, system),
  amounts: amountsOf(asked, system),
  step: stepId(asked, world),
});

const HOUR = 3600;
const tenths = (seconds: number): number => Math.round((seconds / HOUR) * 10) / 10;
export const hoursOf = ({ low, likely, high }: Spread): Hours => ({
  low: tenths(low),
  likely: tenths(likely),
  high: tenths(high),
  unit: 'h',
});

/** The work of an answer: its steps in order, the set-ups they share, and how long it takes. */
export function workOf(job: Job, system: System): AnswerWork {
  const { worldBefore: world } = job;
  const ordered = orderJob(job.steps, job);
  const periods = periodsOf(ordered);
  const due = [...new Set(ordered.visits.flatMap(({ operations }) => operations))];
  const steps = [...ordered.operations, ...due].map((operation) => stepOf(operation, ordered, world, system));
  const [sure, perhaps] = [false, true].map((contingent) => spreadOf([...ordered.operations, ...due], periods, contingent)) as [
    Spread,
    Spread,
  ];
  const { setup, risk } = ordered.found;
  return {
    steps,
    hours: hoursOf({ ...sure, high: sure.high + perhaps.high }),
    sure: hoursOf(sure),
    if_needed: hoursOf(perhaps),
    not_known: job.before.filter(({ verdict, rule }) => verdict === 'unknown' && rule.work.length > 0).length,
    setups: periods.map((period) => setupOf(period, world)),
    order: {
      set_up: { value: tenths(setup.cost), unit: 'h' },
      at_least: { value: tenths(setup.bound), unit: 'h' },
      exact: setup.exact,
      rework_at_risk: { value: tenths(risk * HOUR), unit: 'h' },
    },
    rings: ordered.rings.map((ring) =>
      ring.map(({ key, why }) => ({ step: idAt(key, job, world), why, because: [...(job.steps.get(key)?.findings ?? [])] })),
    ),
  };
}

const idAt = (key: string, { steps }: Pick<Job, 'steps'>, world: VehicleWorld): string => {
  const step = steps.get(key);
  return step ? stepId(step.asked, world) : key;
};

/** Hours of what is sure to be done, or of what may be needed beyond it; visits count as often as they are due. */
export function spreadOf(operations: readonly Operation[], periods: readonly Period[], contingent: boolean): Spread {
  const work = operations
    .filter(({ step }) => step.contingent === contingent)
    .flatMap(({ step: { asked } }) => new Array<Spread>(Math.max(1, asked.work.planning.visits.length)).fill(asked.work.hours));
  const setups = periods.filter((period) => period.contingent === contingent).flatMap(({ here: { setup } }) => [setup.make, setup.unmake]);
  return sumSpreads([...work, ...setups]);
}

function setupOf({ here: { key, setup, of }, first, last, contingent }: Period, world: VehicleWorld): AnswerSetup {
  return {
    id: key,
    title: setupTitle(setup.title, of, world),
    from: stepId(first.step.asked, world),
    to: stepId(last.step.asked, world),
    make: hoursOf(setup.make),
    unmake: hoursOf(setup.unmake),
    crew: setup.crew,
    contingent,
    cautions: setup.cautions.map((caution) => world.library.cautions.get(caution) ?? caution),
  };
}

export const setupTitle = (title: string, of: number | undefined, world: VehicleWorld): string =>
  title.replace('{of}', of === undefined ? 'vehicle' : (world.partOf(of)?.name ?? world.placeName(of)));

export function stepOf({ key, step, setups }: Operation, { before }: OrderedJob, world: VehicleWorld, system: System): Step {
  const { asked, findings, broughtBy, ifDone, fits, contingent } = step;
  const { work, subjects } = asked;
  const { planning } = work;
  const known = (id: string): boolean => before.has(id);
  const idOf = (other: string): string => [other.split('|')[0], ...subjectsIn(other).map((subject) => world.idOf(subject))].join(':');
  const told = (text: string): string => textIn(text, system);
  return {
    id: stepId(asked, world),
    work: work.id,
    title: titleOf(asked, world, system),
    parts: [...new Set([...subjects, ...fits])].map((subject) => describePart(subject, world)).filter((part) => part !== undefined),
    amounts: amountsOf(asked, system),
    skills: work.skills,
    who: work.skills.flatMap((skill) => {
      const found = world.library.skills.get(skill);
      return found?.restricted ? [found.who] : [];
    }),
    crew: planning.crew,
    hours: hoursOf(work.hours),
    tools: work.tools.map(told),
    setups,
    irreversible: work.irreversible,
    safety_critical: planning.safetyCritical,
    contingent,
    because: [...findings, ...[...broughtBy, ...[...ifDone].filter(known)].map(idOf), ...fittedParts(fits, world)],
    after: (before.get(key) ?? []).map(({ key: earlier, why }) => ({ step: idOf(earlier), why: told(why) })),
    prerequisites: work.prerequisites.map(told),
    settling: planning.settling ? { hours: planning.settling.time / HOUR, why: planning.settling.why } : null,
    sent_out: planning.sentOut ?? null,
    visits: planning.visits.map((distance) => shownDistance(distance, system)),
    fasteners: planning.fasteners.map(({ what, singleUse, atRideHeight, torque }) => ({
      what,
      single_use: singleUse,
      at_ride_height: atRideHeight,
      ...(torque && { torque }),
    })),
    buys: planning.parts,
    consumables: planning.consumables,
    verify: work.verify ? { check: told(work.verify.check), accept: told(work.verify.accept) } : null,
    cautions: work.cautions.map((caution) => told(world.library.cautions.get(caution) ?? caution)),
  };
}

/** The planned parts a step puts on, as they are called in the request. */
const fittedParts = (fits: ReadonlySet<number>, world: VehicleWorld): string[] => [
  ...new Set([...fits].map((subject) => `part:${world.partOf(subject)?.group ?? world.idOf(subject)}`)),
];

const subjectsIn = (key: string): number[] => (key.split('|')[1] ?? '').split(',').filter(Boolean).map(Number);
