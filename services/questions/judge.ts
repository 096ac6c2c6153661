/**
 * Which of four answers a check allows. `no` and `yes_with_work` follow from what the check says holds after all stated work:
 * work that puts another part in the place of one asked about does not make that part fit, and nothing that rests on a class
 * alone is a yes.
 */
import type { CheckRequest } from '../vehicle/index.ts';
import type { Answer, Finding, Step } from '../workshop/index.ts';
import type { Question } from './read.ts';

export type ShortVerdict = 'yes' | 'yes_with_work' | 'no' | 'cant_tell';

export interface Judged {
  readonly verdict: ShortVerdict;
  /** What it would be, were the class that was taken the truck asked about, or what was not understood of no matter. */
  readonly otherwise?: Exclude<ShortVerdict, 'cant_tell'>;
  /** The deciding finding fails only once the stated work is done. */
  readonly byWork?: boolean;
  readonly why?: 'work-breaks' | 'vehicle-assumed' | 'class-only' | 'not-understood' | 'not-measured' | 'nothing-read';
  /** The finding that decides; the nearest one where all are clear. */
  readonly controlling?: Finding;
  /** Another part than one asked about cures the deciding conflict. */
  readonly instead: readonly Step[];
  /** A yes that rests on defaults of the class. */
  readonly onClass: boolean;
}

/** What the planned parts leave as it was counts only where it is a conflict. */
export const counts = ({ verdict, as_before }: Finding): boolean => verdict === 'clear' || verdict === 'conflict' || !as_before;

export function judge(question: Question, answer: Answer, swaps: ReadonlySet<string>): Judged {
  const asked = new Set((question.build?.parts ?? []).map(({ id }) => id ?? ''));
  const nearness = nearnessIn(answer, question.focus ?? []);
  const hard = hardConflicts(answer, asked, swaps, nearness);
  const worst = hard.findings[0] ?? remainingConflict(answer);
  const onClass = answer.assumptions.some((text) => text.startsWith('Defaults of the class'));
  if (worst) return refusal(worst, hard.instead, question, answer);
  const broken = brokenByWork(answer);
  if (broken && !isSizedByDoubt(answer)) return { ...refusal(broken, [], question, answer), byWork: true };
  if (broken) return { verdict: 'cant_tell', why: 'work-breaks', controlling: broken, byWork: true, instead: [], onClass };
  const controlling = controllingOf(answer, nearness);
  const common = { ...(controlling && { controlling }), instead: [], onClass };
  const would = answer.verdict === 'clear' ? 'yes' : answer.after_work.verdict === 'clear' ? 'yes_with_work' : undefined;
  if (would === undefined) return { verdict: 'cant_tell', why: 'not-measured', ...common };
  if (question.vehicle === 'assumed') return { verdict: 'cant_tell', otherwise: would, why: 'vehicle-assumed', ...common };
  if (question.vehicle === 'class') return { verdict: 'cant_tell', otherwise: would, why: 'class-only', ...common };
  if (isPartlyRead(question)) return { verdict: 'cant_tell', otherwise: would, why: 'not-understood', ...common };
  return { verdict: would, ...common };
}

/** A conflict on a truck that nobody named is a no only where nothing of the class goes into it. */
function refusal(controlling: Finding, instead: readonly Step[], question: Question, answer: Answer): Judged {
  const onClass = restsOnClass(controlling, answer);
  const common = { controlling, instead, onClass };
  if (question.vehicle === 'assumed' && onClass) {
    return { verdict: 'cant_tell', otherwise: 'no', why: 'vehicle-assumed', ...common };
  }
  return { verdict: 'no', ...common };
}

/** Links, mentions and names are of no matter; a number or word that is not understood may be a part. */
const isPartlyRead = ({ reading }: Question): boolean => reading.not_understood.some(({ why }) => !why.startsWith('links'));

interface Hard {
  readonly findings: readonly Finding[];
  readonly instead: readonly Step[];
}

/** Conflicts that no stated work clears while the parts asked about stay, those the parts cause first. */
function hardConflicts({ findings, work }: Answer, asked: ReadonlySet<string>, swaps: ReadonlySet<string>, nearness: Nearness): Hard {
  const steps = new Map(work.steps.map((step) => [step.id, step]));
  const swapping = (finding: Finding): Step[] =>
    finding.work.flatMap(({ step }) => {
      const found = steps.get(step);
      return found && swaps.has(found.work) && found.parts.some(({ id }) => asked.has(id.split('@')[0] ?? id)) ? [found] : [];
    });
  const hard = findings.filter((finding) => finding.verdict === 'conflict' && (finding.work.length === 0 || swapping(finding).length > 0));
  const sorted = [...hard].sort((a, b) => Number(a.as_before) - Number(b.as_before) || nearness(a) - nearness(b));
  return { findings: sorted, instead: sorted[0] ? swapping(sorted[0]) : [] };
}

/** A conflict that is there before the work and with all of it done. */
function remainingConflict({ findings, after_work }: Answer): Finding | undefined {
  const left = new Set(stillConflicts(after_work).flatMap(({ id }) => evaluationsOf(id)));
  return findings.find(({ id, verdict }) => verdict === 'conflict' && evaluationsOf(id).some((one) => left.has(one)));
}

/** What was no conflict, and is one once the work is done: as it stands then. */
function brokenByWork({ after_work }: Answer): Finding | undefined {
  const left = new Set(stillConflicts(after_work).flatMap(({ id }) => evaluationsOf(id)));
  return after_work.broken.find(({ id, verdict }) => verdict === 'conflict' && evaluationsOf(id).some((one) => left.has(one)));
}

const stillConflicts = ({ remaining }: Answer['after_work']) => remaining.filter(({ verdict }) => verdict === 'conflict');
/** A finding of several places has the ids of all of them. */
const evaluationsOf = (id: string): string[] => id.split('+');

/** Amounts of work are enough at the worse end of the tolerances: with readings they may be less, and break nothing. */
const isSizedByDoubt = ({ work }: Answer): boolean =>
  work.steps.some(({ contingent, amounts }) => !contingent && Object.values(amounts).some(({ value, nominal }) => value !== nominal));

/**
 * Whether a default of the class is among what the finding's numbers come from. A margin without a tolerance has none in it that has
 * one: where they go in, they go out again.
 */
function restsOnClass({ numbers, parts, margin }: Finding, { values }: Answer): boolean {
  const isExact = margin !== null && margin.plus_minus === undefined;
  const seen = new Set<string>();
  const open = numbers.flatMap(({ id }) => (id === undefined ? [] : [id]));
  if (open.length === 0) return parts.length === 0;
  for (let id = open.pop(); id !== undefined; id = open.pop()) {
    if (seen.has(id)) continue;
    seen.add(id);
    const value = values[id];
    if (value === undefined) return true;
    if (value.origin.kind === 'class-default' && !(isExact && value.plus_minus !== undefined)) return true;
    open.push(...value.from);
  }
  return false;
}

/** What can hurt somebody first. */
const hazards: readonly Finding['hazard'][] = ['safety', 'damage', 'legal', 'comfort'];

/** How near a finding is to what was asked: 0 where the part asked about first is in it or moves a number of it. */
export type Nearness = (finding: Finding) => number;

/** `focus` are ids of the planned parts, the one asked about first. */
export function nearnessIn({ values }: Pick<Answer, 'values'>, focus: readonly string[]): Nearness {
  const known = new Map<string, number>();
  const place = (part: string): number => {
    const found = focus.indexOf(part.split('@')[0] ?? part);
    return found < 0 ? focus.length : found;
  };
  // Of a value: its own part, and those of all it was worked out from. Values hang on each other without circles.
  const of = (id: string): number => {
    const before = known.get(id);
    if (before !== undefined) return before;
    known.set(id, focus.length);
    const subject = /\((.+)\)$/.exec(id)?.[1] ?? '';
    const near = Math.min(...subject.split(',').map((one) => place(one.trim())), ...(values[id]?.from ?? []).map(of));
    known.set(id, near);
    return near;
  };
  return ({ parts, numbers }) =>
    Math.min(focus.length, ...parts.map(({ id }) => place(id)), ...numbers.flatMap(({ id }) => (id === undefined ? [] : [of(id)])));
}

const share = ({ margin }: Finding): number =>
  margin ? margin.value / Math.max(margin.plus_minus ?? 0, Math.abs(margin.value) * 1e-3, 1e-9) : 0;

/** Of several first what the part asked about moves. What is still open with all certain work done, what is not known before what is close to failing; where nothing is, the worst conflict that work clears, or the nearest to spare. */
function controllingOf({ findings, after_work }: Answer, nearness: Nearness): Finding | undefined {
  const least = (among: readonly Finding[]): Finding | undefined => [...among].sort((a, b) => share(a) - share(b))[0];
  const nearest = (among: readonly Finding[]): Finding[] => {
    const near = Math.min(...among.map(nearness));
    return among.filter((finding) => nearness(finding) === near);
  };
  const counted = findings.filter(counts);
  const left = new Set(after_work.remaining.map(({ id }) => id));
  const open = nearest(counted.filter(({ id, verdict }) => verdict !== 'clear' && left.has(id)));
  const of = (among: readonly Finding[], verdict: Finding['verdict']): Finding[] => among.filter((finding) => finding.verdict === verdict);
  const clear = of(counted, 'clear').filter(({ margin, as_before }) => margin !== null && !as_before);
  return (
    of(open, 'unknown').sort((a, b) => hazards.indexOf(a.hazard) - hazards.indexOf(b.hazard))[0] ??
    least(of(open, 'close').filter(({ margin }) => margin)) ??
    open[0] ??
    nearest(of(counted, 'conflict'))[0] ??
    nearest(counted.filter(({ verdict }) => verdict !== 'clear'))[0] ??
    least(nearest(clear))
  );
}

/** Of a bare class nothing is known but its defaults. */
export const isBareClass = (vehicle: CheckRequest['vehicle']): boolean =>
  vehicle.from === 'inline' &&
  Object.keys(vehicle.values ?? {}).length === 0 &&
  (vehicle.fitted ?? []).length === 0 &&
  (vehicle.measured ?? []).length === 0;
