/**
 * What planning needs to know of works beyond their effects: the set-ups they share, what comes first and what goes
 * wrong otherwise, who does it, how long it dries, what is thrown away. Types, and how files say it.
 */
import { findUnit, TIME } from '../units/index.ts';
import type { Checker } from './checker.ts';
import { type Report, suggest } from './diagnostics.ts';
import { expressionOf, readQuantity } from './fields.ts';
import type { Span } from './source.ts';
import type { ReadingSet, SubjectRef, SubjectType, WorkParameter } from './tree.ts';
import { Fields, type YamlText } from './yaml-reader.ts';

/** Seconds of labour: the least, the most likely and the most. */
export interface Spread {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** A state of the vehicle that works share, such as its wheels being off; made and unmade once for all that need it. */
export interface Setup {
  readonly id: string;
  /** `{of}` stands for what it is of. */
  readonly title: string;
  readonly make: Spread;
  readonly unmake: Spread;
  readonly per?: SubjectType;
  /** Set-ups that stand while this one does; of the same subject where they have one. */
  readonly needs: readonly string[];
  /** Set-ups it cannot stand beside. */
  readonly without: readonly string[];
  /** Works it brings to the job, later. */
  readonly then: readonly string[];
  readonly crew: number;
  /** What is read standing cannot be read while it stands. */
  readonly offGround: boolean;
  readonly cautions: readonly string[];
  readonly span: Span;
}

/** Who does a work, and what entitles them. */
export interface Skill {
  readonly id: string;
  readonly title: string;
  readonly who: string;
  /** Only somebody qualified, licensed or with special equipment. */
  readonly restricted: boolean;
}

/** Something of the vehicle that several works change and others must wait for, such as its ride height. */
export interface Aspect {
  readonly id: string;
  readonly title: string;
}

/** A work that comes earlier when both are in one job, and what goes wrong in the other order. */
export interface Earlier {
  readonly work: string;
  readonly otherwise?: string;
  /** It changes what the later work rests on: done again, it undoes what that one made so. */
  readonly undoes: boolean;
  readonly span: Span;
}

/** The same as files say it: works by name, all that change an aspect, or all that need a set-up. */
export interface Order {
  readonly works: readonly YamlText[];
  readonly changing?: YamlText;
  readonly needing?: YamlText;
  readonly otherwise?: string;
  readonly span: Span;
}

export interface SetupNeed {
  readonly setup: string;
  readonly of?: SubjectRef;
}

export interface Fastener {
  readonly what: string;
  readonly singleUse: boolean;
  /** Tightened with the vehicle standing on its wheels: what turns in rubber. */
  readonly atRideHeight: boolean;
  readonly torque?: string;
}

export interface Planning {
  /** Aspects it changes. */
  readonly changes: readonly string[];
  readonly setups: readonly SetupNeed[];
  /** Set-ups that must not stand while it is done. */
  readonly without: readonly string[];
  /** People it takes at once. */
  readonly crew: number;
  /** What must pass before anything that comes after it; elapsed seconds. */
  readonly settling?: { readonly time: number; readonly why: string };
  /** Metres driven after the hand-over at which it is done. */
  readonly visits: readonly number[];
  /** Done elsewhere; elapsed working days. */
  readonly sentOut?: { readonly days: number; readonly what: 'part' | 'vehicle' };
  readonly fasteners: readonly Fastener[];
  /** What is bought for it. */
  readonly parts: readonly string[];
  readonly consumables: readonly string[];
  /** A fault in it can kill: it is signed for, with readings. */
  readonly safetyCritical: boolean;
  /** Works that it leaves nothing of, where both are of the same part or place: another part is put on instead. */
  readonly standsFor: readonly YamlText[];
}

/** What is looked over before the job, and what follows where it is not sound. */
export interface Inspection {
  readonly id: string;
  readonly title: string;
  readonly how: string;
  readonly tool: string;
  readonly accept: string;
  readonly hazard: 'safety' | 'damage' | 'legal' | 'comfort';
  readonly minutes: number;
  readonly works: readonly string[];
  /** Skills whose work waits for it; all work where there are none. */
  readonly skills: readonly string[];
}

/** What is handed over: values of the vehicle as it then is, by section. */
export interface HandOver {
  readonly id: string;
  readonly title: string;
  readonly quantities: readonly string[];
  /** Of axles, the front one alone: what is drawn of it says nothing of another. */
  readonly ofFront: readonly string[];
  readonly attributes: readonly string[];
  /** What the shop writes in by hand, since nothing computes it. */
  readonly by_hand: readonly string[];
}

/** What files about planning refer to by id. */
export interface PlanningNames {
  readonly setups: ReadonlyMap<string, Setup>;
  readonly skills: ReadonlyMap<string, Skill>;
  readonly aspects: ReadonlyMap<string, Aspect>;
}

/** `{ low: 1 h, likely: 2 h, high: 4 h }`. */
export function readSpread(fields: Fields, name: string, report: Report): Spread | undefined {
  const help = `add \`${name}: { low: 1 h, likely: 2 h, high: 4 h }\``;
  const times = fields.needed(name, help) && fields.fields(name);
  const [low, likely, high] = (['low', 'likely', 'high'] as const).map(
    (key) => readQuantity(times?.neededText(key, 'a time such as `1.5 h`'), TIME, report)?.value,
  );
  times?.done();
  if (low === undefined || likely === undefined || high === undefined) return undefined;
  if (0 <= low && low <= likely && likely <= high) return { low, likely, high };
  return report.add('RULE_BAD_VALUE', fields.key(name), 'the hours are not in order', 'low is at most likely, likely at most high');
}

export function readSetup(id: string, fields: Fields, cautions: ReadonlyMap<string, string>, report: Report): Setup | undefined {
  const title = fields.neededText('title', 'name it for people; `{of}` stands for what it is of');
  const [make, unmake] = [readSpread(fields, 'make', report), readSpread(fields, 'unmake', report)];
  const per = fields.text('per')?.text;
  const of: SubjectType | undefined =
    per === undefined ? undefined : per === 'axle' || per === 'corner' ? { is: per } : { is: 'part', kind: per };
  const rest = {
    needs: fields.texts('needs').map(({ text }) => text),
    without: fields.texts('without').map(({ text }) => text),
    then: fields.texts('then').map(({ text }) => text),
    crew: readCrew(fields, report),
    offGround: fields.truth('off_the_ground') ?? false,
    cautions: fields.texts('cautions').map((text) => known(text, cautions, 'RULE_UNKNOWN_CAUTION', 'caution', report)),
  };
  if (!title || !make || !unmake) return undefined;
  return { id, title: title.text, make, unmake, ...(of && { per: of }), ...rest, span: fields.span };
}

export function readSkill(id: string, fields: Fields): Skill | undefined {
  const title = fields.neededText('title', 'name it for people');
  const who = fields.neededText('who', 'say who may do it');
  const restricted = fields.truth('restricted') ?? false;
  return title && who && { id, title: title.text, who: who.text, restricted };
}

export function readAspect(id: string, fields: Fields): Aspect | undefined {
  const title = fields.neededText('title', 'name it for people');
  return title && { id, title: title.text };
}

export function readInspection(
  id: string,
  fields: Fields,
  works: ReadonlyMap<string, readonly WorkParameter[]>,
  skills: ReadonlyMap<string, Skill>,
  report: Report,
): Inspection | undefined {
  const [title, how, tool, accept] = (['title', 'how', 'tool', 'accept'] as const).map(
    (key) => fields.neededText(key, 'say what is looked at, how, with what, and what is good enough')?.text,
  );
  const hazard = fields.oneOf('hazard', ['safety', 'damage', 'legal', 'comfort']);
  const minutes = Number(fields.neededText('minutes', 'how long a careful look takes')?.text);
  const asked = fields.texts('work').map((text) => {
    if ((works.get(text.text)?.length ?? 0) > 0)
      report.add(
        'RULE_TYPE',
        text.span,
        `\`${text.text}\` takes amounts, which an inspection does not give`,
        'name a work that takes nothing',
      );
    return known(text, works, 'RULE_UNKNOWN_WORK', 'work', report);
  });
  const waiting = fields.texts('for').map((text) => known(text, skills, 'RULE_UNKNOWN_NAME', 'skill', report));
  if (title === undefined || how === undefined || tool === undefined || accept === undefined || !hazard || !(minutes > 0)) return undefined;
  return { id, title, how, tool, accept, hazard, minutes, works: asked, skills: waiting };
}

export function readHandOver(id: string, fields: Fields, quantities: ReadonlyMap<string, unknown>, report: Report): HandOver | undefined {
  const title = fields.neededText('title', 'name the section');
  const named = fields.texts('quantities').map((text) => known(text, quantities, 'RULE_UNKNOWN_NAME', 'quantity', report));
  const ofFront = fields.texts('of_front').map((text) => known(text, quantities, 'RULE_UNKNOWN_NAME', 'quantity', report));
  const attributes = fields.texts('attributes').map(({ text }) => text);
  const by_hand = fields.texts('by_hand').map(({ text }) => text);
  return title && { id, title: title.text, quantities: named, ofFront, attributes, by_hand };
}

/** `readable`: quantities and attributes that say how they are read. */
export function readReadingSet(id: string, fields: Fields, readable: ReadonlyMap<string, unknown>, report: Report): ReadingSet | undefined {
  const title = fields.neededText('title', 'say what is read by it');
  const gives = fields.neededText('gives', 'say what its readings give together');
  const at = fields.oneOf('at', ['front', 'rear']) as ReadingSet['at'];
  const readings = fields.texts('readings').map((text) => known(text, readable, 'RULE_UNKNOWN_NAME', 'reading', report));
  const given = fields.text('stands_for');
  const standsFor = given && known(given, readable, 'RULE_UNKNOWN_NAME', 'reading', report);
  if (readings.length < 2) report.add('RULE_BAD_VALUE', fields.span, `\`${id}\` has fewer than two readings`, 'name them under `readings`');
  return title && gives && { id, title: title.text, gives: gives.text, ...(at && { at }), ...(standsFor && { standsFor }), readings };
}

export function known(
  { text, span }: YamlText,
  names: ReadonlyMap<string, unknown>,
  code: 'RULE_UNKNOWN_NAME' | 'RULE_UNKNOWN_CAUTION' | 'RULE_UNKNOWN_WORK',
  what: string,
  report: Report,
): string {
  if (!names.has(text)) report.add(code, span, `there is no ${what} \`${text}\``, suggest(text, names.keys()));
  return text;
}

function readCrew(fields: Fields, report: Report): number {
  const crew = fields.text('crew');
  if (!crew) return 1;
  const people = Number(crew.text);
  if (Number.isInteger(people) && people > 0 && people <= 4) return people;
  report.add('RULE_BAD_VALUE', crew.span, `\`${crew.text}\` is no number of people`, 'write 1, 2, 3 or 4');
  return 1;
}

/** `- work-id`, `- { works: […], otherwise: … }`, `- { changing: aspect, otherwise: … }`, or `- { needing: set-up, otherwise: … }`. */
export function readOrders(fields: Fields, key: 'after' | 'before', report: Report): Order[] {
  return fields.list(key).flatMap((node): Order[] => {
    if (node.is === 'text') return [{ works: [node], span: node.span }];
    const entry = Fields.of(node, 'an order', report);
    if (!entry) return [];
    const works = entry.texts('works');
    const [changing, needing] = [entry.text('changing'), entry.text('needing')];
    const otherwise = entry.neededText('otherwise', 'say what goes wrong in the other order');
    entry.done();
    if (works.length === 0 && !changing && !needing)
      report.add(
        'RULE_MISSING_KEY',
        entry.span,
        'nothing says what comes first',
        'give `works: […]`, `changing: <aspect>` or `needing: <set-up>`',
      );
    return [
      {
        works,
        ...(changing && { changing }),
        ...(needing && { needing }),
        ...(otherwise && { otherwise: otherwise.text }),
        span: entry.span,
      },
    ];
  });
}

/** Set-ups with all that each stands on. */
export function standingOn(ids: Iterable<string>, setups: ReadonlyMap<string, Setup>): ReadonlySet<string> {
  return withBelow(ids, (id) => setups.get(id)?.needs ?? []);
}

/** Those, what is below them, what is below that, and so on. */
export function withBelow<T>(those: Iterable<T>, below: (one: T) => Iterable<T>): ReadonlySet<T> {
  const all = new Set(those);
  for (const one of all) for (const more of below(one)) all.add(more);
  return all;
}

/** Everything of a work that planning alone reads. */
export function readPlanning(fields: Fields, checker: Checker, names: PlanningNames, report: Report): Planning {
  const settling = readSettling(fields.fields('settling'), report);
  const sentOut = readSentOut(fields.fields('sent_out'), report);
  return {
    changes: fields.texts('changes').map((text) => known(text, names.aspects, 'RULE_UNKNOWN_NAME', 'aspect', report)),
    setups: readNeeds(fields, checker, names.setups, report),
    without: fields.texts('without').map((text) => known(text, names.setups, 'RULE_UNKNOWN_NAME', 'set-up', report)),
    crew: readCrew(fields, report),
    visits: readVisits(fields, report),
    fasteners: fields.list('fasteners').flatMap((node) => readFastener(Fields.of(node, 'a fastener', report))),
    parts: fields.texts('parts').map(({ text }) => text),
    consumables: fields.texts('consumables').map(({ text }) => text),
    safetyCritical: fields.truth('safety_critical') ?? false,
    standsFor: fields.texts('stands_for'),
    ...(settling && { settling }),
    ...(sentOut && { sentOut }),
  };
}

/** `- battery-off`, or `- wheels-off: "hose.axle"` where a set-up is of something. */
function readNeeds(fields: Fields, checker: Checker, setups: ReadonlyMap<string, Setup>, report: Report): SetupNeed[] {
  return fields.list('setups').flatMap((node): SetupNeed[] => {
    const entry = node.is === 'map' ? Fields.of(node, 'a set-up', report) : undefined;
    const [name, given] = node.is === 'map' ? ([...node.entries][0] ?? []) : node.is === 'text' ? [node.text, undefined] : [];
    const span = given?.key ?? node.span;
    const setup = setups.get(name ?? '');
    if (name === undefined || !setup) {
      report.add('RULE_UNKNOWN_NAME', span, `there is no set-up \`${name ?? ''}\``, suggest(name ?? '', setups.keys()));
      return [];
    }
    const text = entry?.text(name);
    entry?.done();
    if (!setup.per) {
      if (text) report.add('RULE_TYPE', text.span, `\`${name}\` is of the whole vehicle`, `write \`- ${name}\``);
      return [{ setup: name }];
    }
    if (!text) report.add('RULE_MISSING_KEY', span, `nothing says what \`${name}\` is of`, `write \`- ${name}: "…"\``);
    const ast = expressionOf(text, report);
    const of = ast && checker.subject(ast, setup.per);
    return of ? [{ setup: name, of }] : [];
  });
}

function readSettling(fields: Fields | undefined, report: Report): Planning['settling'] {
  const time = readQuantity(fields?.neededText('time', 'how long, such as `12 h`'), TIME, report)?.value;
  const why = fields?.neededText('why', 'say what dries or settles')?.text;
  fields?.done();
  return time !== undefined && why !== undefined ? { time, why } : undefined;
}

const LENGTH = findUnit('km')?.dimension;

const readVisits = (fields: Fields, report: Report): number[] =>
  fields.texts('visits').flatMap((text) => {
    const distance = readQuantity(text, LENGTH, report)?.value;
    return distance === undefined ? [] : [distance];
  });

function readSentOut(fields: Fields | undefined, report: Report): Planning['sentOut'] {
  const text = fields?.neededText('days', 'working days away, a plain number');
  const what = fields?.oneOf('what', ['part', 'vehicle']) ?? 'part';
  fields?.done();
  if (!text) return undefined;
  const days = Number(text.text);
  if (days > 0) return { days, what };
  return report.add('RULE_BAD_VALUE', text.span, `\`${text.text}\` is no number of days`, 'write a plain number');
}

function readFastener(fields: Fields | undefined): Fastener[] {
  if (!fields) return [];
  const what = fields.neededText('what', 'name the fastener');
  const [singleUse, atRideHeight] = [fields.truth('single_use') ?? false, fields.truth('at_ride_height') ?? false];
  const torque = fields.text('torque')?.text;
  fields.done();
  return what ? [{ what: what.text, singleUse, atRideHeight, ...(torque && { torque }) }] : [];
}

/** A safety-critical work that nothing verifies could not be signed for. */
export function checkVerified(
  { safetyCritical }: Planning,
  verified: boolean,
  fields: Fields,
  takes: readonly WorkParameter[],
  report: Report,
): void {
  if (safetyCritical && !verified)
    report.add(
      'RULE_MISSING_KEY',
      fields.key('safety_critical'),
      `nothing verifies this safety-critical work${takes.length > 0 ? ' and its amounts' : ''}`,
      'add `verify: { check: …, accept: … }`',
    );
}
