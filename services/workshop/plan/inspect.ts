/** What was looked over before the job: findings of its own, and the work they ask for. */
import type { Inspection } from '../../engine/planning.ts';
import type { Library } from '../../engine/tree.ts';
import type { Faults } from '../../vehicle/faults.ts';
import { suggestFrom } from '../../vehicle/faults.ts';
import type { Hazard, Verdict } from '../answer.ts';
import { type JobStep, plainly, type Start } from '../job.ts';
import type { System } from '../show.ts';
import { textIn } from '../texts.ts';
import type { InspectionInput } from './request.ts';

export interface InspectionFinding {
  readonly id: string;
  readonly point: string;
  readonly title: string;
  readonly hazard: Hazard;
  /** `unknown` until somebody has looked. */
  readonly verdict: Verdict;
  readonly says: string;
  readonly how: string;
  readonly tool: string;
  readonly accept: string;
  readonly minutes: number;
  /** Steps that wait for it; none where nothing of the job does. */
  readonly before: readonly string[];
  readonly work: readonly string[];
  readonly by: string | null;
  readonly date: string | null;
  readonly note: string | null;
  readonly photos: readonly string[];
}

export const inspectionId = (point: string): string => `inspection:${point}`;

/** Faults of points that there are not; the work that what was found asks for. */
export function askedByInspection(given: readonly InspectionInput[], library: Library, faults: Faults): NonNullable<Start['alsoAsked']> {
  return given.flatMap(({ point, result }, i) => {
    const inspection = library.inspections.get(point);
    if (!inspection) {
      faults
        .in(i, 'point')
        .add('POINT_UNKNOWN', `there is no point of inspection \`${point}\``, suggestFrom(point, library.inspections.keys()));
      return [];
    }
    if (result !== 'worn' && result !== 'unsafe') return [];
    return inspection.works.flatMap((id) => {
      const work = library.works.get(id);
      return work ? [{ asked: plainly(work), finding: inspectionId(point) }] : [];
    });
  });
}

const VERDICT: Readonly<Record<InspectionInput['result'], Verdict>> = {
  sound: 'clear',
  worn: 'close',
  unsafe: 'conflict',
  not_looked_at: 'unknown',
};
const SAYS: Readonly<Record<InspectionInput['result'], string>> = {
  sound: 'Looked over and found sound',
  worn: 'Found worn: what it asks for is in the job',
  unsafe: 'Found unsafe: not to be driven, and nothing built on it, before it is put right',
  not_looked_at: 'Not looked at yet, so nothing is known of it',
};

/** What was said of a point last. */
const lastOf = (id: string, given: readonly InspectionInput[]): InspectionInput | undefined =>
  given.filter(({ point }) => point === id).at(-1);

export function inspectionFindings(
  given: readonly InspectionInput[],
  steps: ReadonlyMap<string, JobStep>,
  { inspections }: Library,
  idOf: (key: string) => string,
  system: System,
): InspectionFinding[] {
  return [...inspections.values()].map((inspection) => {
    const last = lastOf(inspection.id, given);
    const result = last?.result ?? 'not_looked_at';
    return {
      id: inspectionId(inspection.id),
      point: inspection.id,
      title: inspection.title,
      hazard: inspection.hazard,
      verdict: VERDICT[result],
      says: SAYS[result],
      how: textIn(inspection.how, system),
      tool: inspection.tool,
      accept: textIn(inspection.accept, system),
      minutes: inspection.minutes,
      before: waitingFor(inspection, steps).map(idOf),
      work: [...steps].filter(([, { findings }]) => findings.has(inspectionId(inspection.id))).map(([key]) => idOf(key)),
      by: last?.by ?? null,
      date: last?.date ?? null,
      note: last?.note ?? null,
      photos: last?.photos ?? [],
    };
  });
}

export interface OpenPoint {
  readonly id: string;
  readonly verdict: Verdict;
  readonly hazard: Hazard;
  readonly title: string;
}

/** Points that nobody has looked at, and what was found on others and is not put right by that work. */
export function openPoints(given: readonly InspectionInput[], { inspections }: Library, works: ReadonlySet<string>): OpenPoint[] {
  return [...inspections.values()].flatMap(({ id, title, hazard, works: mending }) => {
    const verdict = VERDICT[lastOf(id, given)?.result ?? 'not_looked_at'];
    const mended = mending.length > 0 && mending.every((work) => works.has(work));
    const open = verdict === 'unknown' || (verdict !== 'clear' && !mended);
    return open ? [{ id: inspectionId(id), verdict, hazard, title }] : [];
  });
}

const waitingFor = ({ skills }: Inspection, steps: ReadonlyMap<string, JobStep>): string[] =>
  [...steps]
    .filter(
      ([, { asked }]) =>
        asked.work.planning.visits.length === 0 && (skills.length === 0 || asked.work.skills.some((skill) => skills.includes(skill))),
    )
    .map(([key]) => key);
