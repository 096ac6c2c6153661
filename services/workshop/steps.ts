/** The job's steps in the order they are done. */

import { frameOf } from '../engine/frame.ts';
import { resolve } from '../engine/layout.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { AnswerWorkCall, Hours, Step, WorkAmount } from './answer.ts';
import type { AskedWork } from './asked-work.ts';
import { describePart, fill, nameSubjects } from './describe.ts';
import type { JobStep } from './job.ts';
import { type System, show } from './show.ts';

/** The step's id, which is its work and what it is done to. */
export const stepId = ({ work, subjects }: AskedWork, world: VehicleWorld): string =>
  [work.id, ...subjects.map((subject) => world.idOf(subject))].join(':');

export function amountsOf({ amounts }: AskedWork, system: System): Record<string, WorkAmount> {
  return Object.fromEntries(
    [...amounts].map(([name, { parameter, value, nominal }]) => {
      if (parameter.type.is !== 'number') return [name, { value, nominal, unit: '1' }];
      const shown = show(parameter.unit, parameter.type.dimension, system);
      const towards = parameter.merge === 'least' ? 'down' : 'up';
      return [name, { value: shown.rounded(value, towards), nominal: shown.rounded(nominal, 'nearest'), unit: shown.unit.symbol }];
    }),
  );
}

export function titleOf({ work, subjects, amounts }: AskedWork, world: VehicleWorld, system: System): string {
  const parameters = new Map([...amounts].map(([name, { value }]) => [name, value]));
  return fill(work.title, {
    frame: frameOf(work.scope, subjects, world, { parameters }),
    world,
    system,
    scope: work.scope,
    givenUnits: new Map(work.takes.flatMap(({ name, unit }) => (unit === undefined ? [] : [[name, unit] as const]))),
    nameOf: (ref) => nameSubjects([resolve(ref, subjects, world)], world),
  });
}

export const workCallOf = (asked: AskedWork, world: VehicleWorld, system: System): AnswerWorkCall => ({
  work: asked.work.id,
  title: titleOf(asked, world, system),
  amounts: amountsOf(asked, system),
  step: stepId(asked, world),
});

interface Edge {
  readonly from: string;
  readonly why: string;
}

/** What comes before each step: what the works say of each other, and what brings a step with it. */
function edgesOf(steps: ReadonlyMap<string, JobStep>): Map<string, Edge[]> {
  const edges = new Map<string, Edge[]>();
  for (const [key, { asked, broughtBy }] of steps) {
    const brought = [...broughtBy].map((from) => ({ from, why: 'it follows from this work' }));
    const named = [...steps]
      .filter(([other, step]) => other !== key && asked.work.after.some(({ work }) => work === step.asked.work.id))
      .map(([from, step]) => ({
        from,
        why: asked.work.after.find(({ work }) => work === step.asked.work.id)?.otherwise ?? 'this order saves doing it twice',
      }));
    edges.set(key, [...brought, ...named.filter(({ from }) => !broughtBy.has(from))]);
  }
  return edges;
}

/** Earliest first; where the order is free, as first asked for. Works that wait for each other in a ring keep that order too. */
function ordered(steps: ReadonlyMap<string, JobStep>, edges: ReadonlyMap<string, readonly Edge[]>): string[] {
  const left = new Set(steps.keys());
  const order: string[] = [];
  while (left.size > 0) {
    const free = [...left].find((key) => (edges.get(key) ?? []).every(({ from }) => !left.has(from))) ?? ([...left][0] as string);
    left.delete(free);
    order.push(free);
  }
  return order;
}

const HOUR = 3600;
const hours = (low: number, likely: number, high: number): Hours => ({
  low: tenths(low),
  likely: tenths(likely),
  high: tenths(high),
  unit: 'h',
});
const tenths = (seconds: number): number => Math.round((seconds / HOUR) * 10) / 10;

export function stepsOf(steps: ReadonlyMap<string, JobStep>, world: VehicleWorld, system: System): { steps: Step[]; hours: Hours } {
  const edges = edgesOf(steps);
  const id = (key: string): string => stepId((steps.get(key) as JobStep).asked, world);
  const list = ordered(steps, edges).map((key): Step => {
    const { asked, findings, broughtBy, fits, contingent } = steps.get(key) as JobStep;
    const { work, subjects } = asked;
    return {
      id: id(key),
      work: work.id,
      title: titleOf(asked, world, system),
      parts: [...new Set([...subjects, ...fits])].map((subject) => describePart(subject, world)).filter((part) => part !== undefined),
      amounts: amountsOf(asked, system),
      skills: work.skills,
      hours: hours(work.hours.low, work.hours.likely, work.hours.high),
      tools: work.tools,
      irreversible: work.irreversible,
      contingent,
      because: [...findings, ...[...broughtBy].filter((other) => steps.has(other)).map(id), ...fittedParts(fits, world)],
      after: (edges.get(key) ?? []).map(({ from, why }) => ({ step: id(from), why })),
      prerequisites: work.prerequisites,
      verify: work.verify ? { check: work.verify.check, accept: work.verify.accept } : null,
      cautions: work.cautions.map((caution) => world.library.cautions.get(caution) ?? caution),
    };
  });
  return { steps: list, hours: totalHours(steps) };
}

/** The planned parts a step puts on, as they are called in the request. */
const fittedParts = (fits: ReadonlySet<number>, world: VehicleWorld): string[] => [
  ...new Set([...fits].map((subject) => `part:${world.partOf(subject)?.group ?? world.idOf(subject)}`)),
];

/** Steps that may turn out not to be needed count towards the most it can take only. */
function totalHours(steps: ReadonlyMap<string, JobStep>): Hours {
  const total = (of: 'low' | 'likely' | 'high', contingent: boolean): number =>
    [...steps.values()].filter((step) => contingent || !step.contingent).reduce((sum, { asked }) => sum + asked.work.hours[of], 0);
  return hours(total('low', false), total('likely', false), total('high', true));
}
