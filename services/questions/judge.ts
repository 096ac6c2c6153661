/**
 * Which of four answers a check allows. `no` and `yes_with_work` follow from what the check says holds after all stated work:
 * work that puts another part in the place of one asked about does not make that part fit, and nothing that rests on a class
 * alone is a yes.
 */
import type { CheckRequest } from '../vehicle/index.ts';
import type { Answer, Finding, Step } from '../workshop/index.ts';
import { counts } from '../workshop/verdicts.ts';
import type { Question } from './read.ts';

/** Works that put another part in the place of one, and of which kinds that is. */
export type Swaps = Readonly<Record<string, readonly string[]>>;

/** What the words say of works and rules. */
export interface Knows {
  readonly swaps: Swaps;
  /** By kind of part, and for `load`: the rules that are about it, where no finding has it among its parts. */
  readonly own_rules: Readonly<Record<string, readonly string[]>>;
  /** Kinds of part of which it is asked what they may touch. */
  readonly shapes: readonly string[];
}

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
  /** Of what was asked about first: of the findings on that part itself, or on the load, the worst. It is told whatever else decides. */
  readonly own?: Finding;
  /** What a reading of the question itself comes to: the worst of the findings that rest on it, and the reading in words. */
  readonly withReading?: { readonly finding: Finding; readonly said: string };
  /** Nothing is certain, and what decides is likely not met with no stated work to clear it. */
  readonly likelyNo?: true;
  /** Another part than one asked about cures the deciding conflict. */
  readonly instead: readonly Step[];
  /** A yes that rests on defaults of the class. */
  readonly onClass: boolean;
}

export function judge(question: Question, answer: Answer, knows: Knows): Judged {
  const judged = verdictOf(question, answer, knows.swaps);
  const own = ownOf(question, answer, knows);
  const withReading = readingOf(question, answer, judged.controlling);
  return { ...judged, ...(own && own.rule !== judged.controlling?.rule && { own }), ...(withReading && { withReading }) };
}

/** What a reading that stands in the text is noted as. */
export const OF_QUESTION = 'as the question says';

/** Whoever gives a reading is told what it comes to, though something else decides. */
function readingOf({ build }: Question, answer: Answer, controlling: Finding | undefined): Judged['withReading'] {
  const given = build?.vehicle.measured?.findLast(({ note, quantity }) => note === OF_QUESTION && quantity !== 'cut_back');
  if (given?.of === undefined) return undefined;
  const { quantity, of, value } = given;
  const isOn = ({ parts }: Finding): boolean => parts.some(({ id }) => id === of || id.split('@')[0] === of);
  const isFrom = (finding: Finding): boolean => restsOn(finding, answer, (_, id) => placeless(id) === `${quantity}(${of})`) ?? false;
  const resting = answer.findings.filter((finding) => isOn(finding) && finding.margin !== null && isFrom(finding));
  const finding = resting.find(({ id }) => id === controlling?.id) ?? worstFirst(resting)[0];
  return finding && { finding, said: typeof value === 'string' ? value : '' };
}

/** Of a part what is open of it, else what it has least to spare; of a load what its ratings have. */
function ownOf(
  { focus: [first] = [], asksLoad, askedRules, build, kinds }: Question,
  { findings }: Answer,
  { own_rules, shapes }: Knows,
): Finding | undefined {
  const part = (build?.parts ?? []).find(({ id }) => id === first);
  const kind = asksLoad ? 'load' : part?.from === 'inline' ? part.kind : kinds?.get(part?.part ?? '');
  const rules = askedRules ?? own_rules[kind ?? ''];
  // Of a tyre or a lift what it may touch is what is asked: the contact that decides is its own.
  if (!rules && kind !== undefined && shapes.includes(kind)) return undefined;
  const isOf = ({ rule, parts }: Finding): boolean => (rules ? rules.includes(rule) : parts.some(({ id }) => id.split('@')[0] === first));
  const own = findings.filter(
    (finding) => (rules || !finding.as_before) && isOf(finding) && (finding.margin !== null || finding.verdict !== 'clear'),
  );
  const told = own.filter(({ verdict, margin }) => verdict !== 'unknown' && margin !== null);
  return worstFirst(told.length > 0 ? told : own)[0];
}

function verdictOf(question: Question, answer: Answer, swaps: Swaps): Judged {
  const nearness = nearnessIn(answer, question.focus ?? []);
  const hard = hardConflicts(answer, question, swaps, nearness);
  const onClass = answer.assumptions.some((text) => text.startsWith('Defaults of the class'));
  const failing = [...hard, ...remainingConflicts(answer).map((finding) => ({ finding, instead: [] }))];
  const refusals = failing.map(({ finding, instead }) => refusal(finding, instead, question, answer));
  // One that is certain settles it, whatever else only may fail.
  const settled = refusals.find(({ verdict }) => verdict === 'no') ?? refusals[0];
  if (settled) return settled;
  const broken = brokenByWork(answer);
  if (broken && !isSizedByDoubt(answer)) return { ...refusal(broken, [], question, answer), byWork: true };
  if (broken) return { verdict: 'cant_tell', why: 'work-breaks', controlling: broken, byWork: true, instead: [], onClass };
  const leaning = likelyNoOf(answer, nearness);
  const controlling = leaning ?? controllingOf(answer, nearness);
  const common = { ...(controlling && { controlling }), ...(leaning && { likelyNo: true as const }), instead: [], onClass };
  const would = answer.verdict === 'clear' ? 'yes' : answer.after_work.verdict === 'clear' ? 'yes_with_work' : undefined;
  const why = OPEN[question.vehicle];
  if (would === undefined) return { verdict: 'cant_tell', why, ...common };
  if (why !== 'not-measured') return { verdict: 'cant_tell', otherwise: would, why, ...common };
  if (isPartlyRead(question)) return { verdict: 'cant_tell', otherwise: would, why: 'not-understood', ...common };
  return { verdict: would, ...common };
}

/**
 * What a class says of its trucks is nobody's reading of this one: a conflict that rests on it is a no only where a truck is named or
 * its class is, and where it would be one if the class left twice as much open.
 */
function refusal(controlling: Finding, instead: readonly Step[], question: Question, answer: Answer): Judged {
  const onClass = restsOnClass(controlling, answer, new Set(question.standIns));
  const common = { controlling, instead, onClass };
  if (!onClass || (question.vehicle !== 'assumed' && isBeyondDoubt(controlling, question.vehicle))) return { verdict: 'no', ...common };
  return { verdict: 'cant_tell', otherwise: 'no', why: OPEN[question.vehicle], ...common };
}

/** Why it is not to be told of a vehicle that is known so well. */
const OPEN = { assumed: 'vehicle-assumed', class: 'class-only', named: 'not-measured' } as const;

/** Of a class alone all that is open is counted twice; of a truck that is named what its class leaves open, the rest is of what was said. */
function isBeyondDoubt({ margin, on_defaults }: Finding, vehicle: Question['vehicle']): boolean {
  if (margin === null) return false;
  const band = margin.plus_minus ?? 0;
  if (vehicle !== 'named') return margin.value + 2 * band < 0;
  const best = margin.high ?? margin.value + band;
  return best + (on_defaults?.share ?? 0) * (best - margin.value) < 0;
}

/** Links, mentions and names are of no matter; a number or word that is not understood may be a part. */
const isPartlyRead = ({ reading }: Question): boolean => reading.not_understood.some(({ why }) => !why.startsWith('links'));

/** A conflict that no stated work clears, and the steps that would clear it with another part than was asked about. */
interface Hard {
  readonly finding: Finding;
  readonly instead: readonly Step[];
}

/** Conflicts that no stated work clears while the parts asked about stay, and those that are said to stay as they came, those the parts cause first. */
function hardConflicts({ findings, work }: Answer, { build, keeps = [], kinds }: Question, swaps: Swaps, nearness: Nearness): Hard[] {
  const steps = new Map(work.steps.map((step) => [step.id, step]));
  const kindOf = new Map((build?.parts ?? []).map((part) => [part.id ?? '', part.from === 'inline' ? part.kind : kinds?.get(part.part)]));
  const isHeld = ({ work: does, parts }: Step): boolean =>
    (swaps[does] ?? []).some((kind) => keeps.includes(kind) || parts.some(({ id }) => kindOf.get(id.split('@')[0] ?? id) === kind));
  const swapping = (finding: Finding): Step[] =>
    finding.work.flatMap(({ step }) => {
      const found = steps.get(step);
      return found && isHeld(found) ? [found] : [];
    });
  return findings
    .filter((finding) => finding.verdict === 'conflict' && (finding.work.length === 0 || swapping(finding).length > 0))
    .sort((a, b) => Number(a.as_before) - Number(b.as_before) || nearness(a) - nearness(b))
    .map((finding) => ({ finding, instead: swapping(finding) }));
}

/** Conflicts that are there before the work and with all of it done. */
function remainingConflicts({ findings, after_work }: Answer): Finding[] {
  const left = new Set(stillConflicts(after_work).flatMap(({ id }) => evaluationsOf(id)));
  return findings.filter(({ id, verdict }) => verdict === 'conflict' && evaluationsOf(id).some((one) => left.has(one)));
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
 * Whether a default of the class, or what stands in for something the question left out, is among what the finding's numbers come from. A margin without a tolerance has none in it that has
 * one: where they go in, they go out again.
 */
const restsOnClass = (finding: Finding, answer: Answer, standIns: ReadonlySet<string>): boolean =>
  restsOn(finding, answer, ({ kind }, id, plusMinus) => {
    const isExact = finding.margin !== null && finding.margin.plus_minus === undefined;
    return standIns.has(placeless(id)) || (kind === 'class-default' && !(isExact && plusMinus !== undefined));
  }) ?? finding.parts.length === 0;

type FromWhere = (origin: Answer['values'][string]['origin'], id: string, plusMinus: number | undefined) => boolean;

/** Whether a value that is so goes into what the finding's numbers come from; undefined where it has no number. What is not among the values may. */
export function restsOn({ numbers }: Finding, { values }: Answer, isSo: FromWhere): boolean | undefined {
  const seen = new Set<string>();
  const open = numbers.flatMap(({ id }) => (id === undefined ? [] : [id]));
  if (open.length === 0) return undefined;
  for (let id = open.pop(); id !== undefined; id = open.pop()) {
    if (seen.has(id)) continue;
    seen.add(id);
    const value = values[id];
    if (value === undefined) return true;
    if (isSo(value.origin, id, value.plus_minus)) return true;
    open.push(...value.from);
  }
  return false;
}

/** `wheel.rim_width(asked-wheel@front-left)` is that of the part, wherever it is. */
const placeless = (id: string): string => id.replace(/@[^,)]*/g, '');

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

const VERDICTS = ['conflict', 'unknown', 'close', 'clear'] as const;

/** By verdict, and of one verdict by how much of the doubt about it the margin bears. */
export const worstFirst = (among: readonly Finding[]): Finding[] =>
  [...among].sort((a, b) => VERDICTS.indexOf(a.verdict) - VERDICTS.indexOf(b.verdict) || share(a) - share(b));

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

/** What is likely not met, and no stated work goes far enough for: that leans to a no whatever else is unknown. */
function likelyNoOf({ findings, after_work }: Answer, nearness: Nearness): Finding | undefined {
  const left = new Set(after_work.remaining.map(({ id }) => id));
  const leaning = findings.filter(
    (finding) =>
      counts(finding) &&
      finding.verdict === 'close' &&
      finding.leans === 'likely not met' &&
      (finding.hazard === 'safety' || finding.hazard === 'damage') &&
      finding.work.every(isCutShort) &&
      left.has(finding.id),
  );
  return leaning.sort((a, b) => nearness(a) - nearness(b) || share(a) - share(b))[0];
}

/** It goes less far than the nominal values ask for: as far as such work goes. */
const isCutShort = ({ amounts }: Finding['work'][number]): boolean => Object.values(amounts).some(({ value, nominal }) => value < nominal);

/** Of a bare class nothing is known but its defaults. */
export const isBareClass = (vehicle: CheckRequest['vehicle']): boolean =>
  vehicle.from === 'inline' &&
  Object.keys(vehicle.values ?? {}).length === 0 &&
  (vehicle.fitted ?? []).length === 0 &&
  (vehicle.measured ?? []).length === 0;
