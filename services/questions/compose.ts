/** Puts a verdict into a short answer: what it is, the contact that decides, what was assumed, the work, what to measure, what to mind. */
import type { Library } from '../engine/index.ts';
import { type Answer, type Finding, prose, type Step, type ToMeasure } from '../workshop/index.ts';
import { marginText } from '../workshop/margin-text.ts';
import { counts } from '../workshop/verdicts.ts';
import { type Fitted, fitSegments, type Segment } from './fit.ts';
import type { Judged } from './judge.ts';
import { restsOn } from './judge.ts';
import type { Lexicon } from './lexicon.ts';
import { ELECTRICS } from './put-together.ts';
import type { Question } from './read.ts';
import { escapeMarkdown, harmless, lowerFirst } from './tidy.ts';

export type Format = 'text' | 'markdown';

export interface Composing {
  readonly question: Question;
  readonly judged: Judged;
  /** Absent where nothing was checked. */
  readonly answer?: Answer;
  readonly library: Library;
  readonly lexicon: Lexicon;
  readonly format: Format;
  readonly length: number;
}

/** Which segment gives way next; each time it stands here it takes its next shorter form. */
const GIVES_WAY = [
  'minor',
  'example',
  'besides',
  'besides',
  'work',
  'measure',
  'assumed',
  'contact',
  'asked',
  'names',
  'law',
  'missed',
  'work',
  'measure',
  'contact',
  'work',
  'missed',
  'names',
  'contact',
  'asked',
  'reading',
  'law',
  'missed',
  'names',
  'measure',
  'reading',
  'head',
];

/** Of all verdicts the one that is told in the fewest letters, and what to mind where nothing can hurt: no answer about a build has less. */
const SHORTEST_HEAD = "Can't tell yet.";
const NO_APPROVAL = 'This is no approval: local law decides.';

/**
 * Letters without which no answer does, known before anything is checked: of any answer, or of one to this question, whose assumptions
 * and what was not understood of it are told with every verdict.
 */
export function leastLength(format: Format, question?: Question): number {
  const texts = [
    SHORTEST_HEAD,
    ...(question ? [briefly(question), missedOf(question).at(-1) ?? '', namesOf(question).at(-1) ?? ''] : []),
    NO_APPROVAL,
  ];
  const segments = texts.map((text, i): Segment => ({ id: i === 0 ? 'head' : 'more', variants: [harmless(text)] }));
  const fitted = fitSegments(format === 'markdown' ? segments.map(marked) : segments, [], 0, joined[format]);
  return fitted.ok ? 0 : fitted.least;
}

const briefly = ({ assumptions }: Question): string => {
  const flips = assumptions.filter(({ flips: could }) => could);
  return flips.length === 0 ? '' : `Assumed: ${unique(flips.map(({ text, brief }) => brief ?? text)).join('; ')}.`;
};

const joined: Readonly<Record<Format, (texts: readonly string[]) => string>> = {
  text: (texts) => texts.join(' '),
  markdown: (texts) => texts.join('\n'),
};

export function compose(composing: Composing): Fitted {
  const { judged, question, answer, format, length } = composing;
  const segments: Segment[] = [
    { id: 'head', variants: shortened(withLaw(headOf(judged, question), composing)) },
    { id: 'law', variants: lawOf(composing) },
    { id: 'asked', variants: askedOf(composing) },
    { id: 'contact', variants: contactOf(judged) },
    { id: 'reading', variants: readingOf(judged) },
    { id: 'assumed', variants: assumedOf(composing) },
    { id: 'work', variants: workOf(composing) },
    { id: 'measure', variants: measureOf(judged, answer) },
    { id: 'missed', variants: missedOf(question) },
    { id: 'besides', variants: besidesOf(composing) },
    { id: 'caution', variants: [cautionOf(composing)] },
    { id: 'minor', variants: minorOf(question) },
    { id: 'names', variants: namesOf(question) },
    { id: 'example', variants: question.build ? [''] : ['Write such as: 285/70R17 on 17x8.5 ET10, 2 in lift, and the vehicle.', ''] },
  ];
  // The part that would do instead is what can be acted on: with a no it goes after all else that may.
  const order = judged.verdict === 'no' ? [...GIVES_WAY.filter((id) => id !== 'work' && id !== 'head'), 'work', 'work', 'head'] : GIVES_WAY;
  const plain = segments.map(({ id, variants }) => ({ id, variants: variants.map(harmless) }));
  return fitSegments(format === 'markdown' ? plain.map(marked) : plain, order, length, joined[format]);
}

/** In markdown the verdict is bold and everything else a line of its own, with no sign of the text read as markup. */
const marked = ({ id, variants }: Segment): Segment => ({
  id,
  variants: variants.map((text) => (text === '' ? '' : id === 'head' ? `**${escapeMarkdown(text)}**` : `- ${escapeMarkdown(text)}`)),
});

/** `Can't tell yet: …` without what comes behind. */
const shortened = (head: string): string[] =>
  [':', ','].some((sign) => head.startsWith(SHORTEST_HEAD.replace('.', sign))) ? [head, SHORTEST_HEAD] : [head];

const LAW_SAYS = { conflict: 'not met', unknown: 'not known', close: 'not settled', clear: 'met' } as const;

/** Findings on the law, the worst first, where it is asked whether it is lawful and a place was named. */
function lawFindings({ question, answer }: Composing): Finding[] {
  if (!question.asksLaw || (question.build?.use?.jurisdictions ?? []).length === 0) return [];
  const order = Object.keys(LAW_SAYS);
  return (answer?.findings ?? [])
    .filter(({ hazard }) => hazard === 'legal')
    .sort((a, b) => order.indexOf(a.verdict) - order.indexOf(b.verdict));
}

/** `No as a build (law of us-oh: met): …`: of who asks about the law no verdict on the mechanics is taken for one on that. */
function withLaw(head: string, composing: Composing): string {
  const { asksLaw, build } = composing.question;
  const places = build?.use?.jurisdictions ?? [];
  if (!asksLaw || places.length === 0) return head;
  const [worst] = lawFindings(composing);
  const says = worst ? LAW_SAYS[worst.verdict] : 'nothing held is for it';
  return head.replace(
    /^(?:Yes|No|Can't tell yet)/,
    (verdict) => `${verdict} as a build (law of ${places.join(', ')}: ${says}; check the local text)`,
  );
}

function lawOf(composing: Composing): string[] {
  const found = lawFindings(composing);
  if (found.length === 0) return [''];
  const told = found.map((finding) => `${lowerFirst(finding.title)}: ${finding.margin ? marginOf(finding) : LAW_SAYS[finding.verdict]}`);
  return [...[2, 1].map((most) => `By law: ${unique(told).slice(0, most).join('; ')}.`), ''];
}

const WOULD = { yes: 'it would be clear as it is', yes_with_work: 'it would be clear after work', no: 'it would be a no' } as const;

function headOf(
  { verdict, why, otherwise, onClass, instead, controlling, likelyNo }: Judged,
  { vehicle, assumptions, reading }: Question,
): string {
  const known = reading.understood.find(({ as }) => as === 'vehicle');
  const electric = assumptions.some(({ brief }) => brief === ELECTRICS);
  switch (verdict) {
    case 'yes':
      if (electric)
        return `Yes for mass and room, not asked of the electrics${onClass ? ', if it stands as its class does' : ''}: clear as it is.`;
      return onClass ? 'Yes, if it stands as its class does: clear as it is.' : 'Yes: clear as it is.';
    case 'yes_with_work':
      return onClass ? 'Yes with work, if it stands as its class does.' : 'Yes, with work.';
    case 'no':
      return `No${controlling?.basis.length && controlling.basis.every(({ kind }) => kind === 'common-practice') ? ', by common practice' : ''}${vehicle === 'class' ? ', not on that class' : controlling?.on_defaults ? ', if it stands as its class does' : ''}: no stated work clears it${instead.length > 0 ? ' with the part asked about' : ''}.`;
    default:
      if (why === 'nothing-read' && known) return `Can't tell yet: the ${known.says} is known, and nothing was said that goes on it.`;
      if (likelyNo && controlling) return `Can't tell yet, likely no: ${lowerFirst(controlling.title)} is likely not met.`;
      return `Can't tell yet: ${REASONS[why ?? 'not-measured']}${otherwise ? `; ${ELSE[why ?? 'not-measured']} ${WOULD[otherwise]}` : ''}.`;
  }
}

const REASONS = {
  'vehicle-assumed': 'no vehicle I know was named',
  'class-only': 'only the class is known, and a class is no measurement',
  'not-understood': 'not all of it was understood',
  'work-breaks': 'the work it takes, sized for what is not measured, breaks something else',
  'not-measured': 'what decides it is not measured',
  'nothing-read': 'nothing in it was understood that could be checked',
} as const;
const ELSE = {
  'vehicle-assumed': 'on the class taken',
  'class-only': 'as the class comes',
  'not-understood': 'without the rest',
  'work-breaks': 'else',
  'not-measured': 'else',
  'nothing-read': 'else',
} as const;

/** A margin as people say it: by how much it fails or is to spare, and give or take how much. */
function marginOf({ margin, verdict }: Finding): string {
  if (!margin) return { unknown: 'not known', conflict: 'not met', close: 'not settled', clear: 'met' }[verdict];
  return `margin ${marginText(margin)}`;
}

function contactOf({ controlling: finding, byWork }: Judged): string[] {
  if (!finding) return [''];
  const told = `${byWork ? 'with the stated work done, ' : ''}${lowerFirst(finding.title)}: ${marginOf(finding)}`;
  const before = finding.as_before ? ', already as it stands' : '';
  return [
    `Decides: ${told} (${finding.subject})${before}.`,
    `Decides: ${told}.`,
    `Decides: ${finding.rule.replaceAll('-', ' ')}: ${marginOf(finding)}.`,
    '',
  ];
}

/** What the reading that the question gives comes to, where it is not what decides or says which way that leans. */
function readingOf({ withReading, controlling }: Judged): string[] {
  if (!withReading) return [''];
  const { finding, said } = withReading;
  const leans = finding.leans ? `, ${finding.leans}` : '';
  const [subject] = finding.parts.map(({ name }) => lowerFirst(name));
  if (finding.id === controlling?.id) return [`That is with your reading of ${said}${leans}.`, `With your ${said}${leans}.`];
  const told = `${marginOf(finding)}${leans}`;
  return [`With your reading of ${said}, ${lowerFirst(finding.title)}: ${told}.`, `With your ${said} (${subject}): ${told}.`];
}

/** What was asked about first, by itself: whoever asks about a winch or a load is told of that, whatever else decides. */
function askedOf({ judged: { own } }: Composing): string[] {
  if (!own) return [''];
  return [`Asked: ${lowerFirst(own.title)}: ${marginOf(own)}.`, `Asked: ${own.rule.replaceAll('-', ' ')}: ${marginOf(own)}.`, ''];
}

const MOST_BESIDES = 2;

/** What else stands against it, after what was asked about: other rules that fail, then those that are open. */
function besidesOf({ judged: { controlling }, answer }: Composing): string[] {
  const left = new Set((answer?.after_work.remaining ?? []).map(({ id }) => id));
  const open = (answer?.findings ?? []).filter(
    (finding) =>
      counts(finding) && finding.verdict !== 'clear' && left.has(finding.id) && finding.rule !== controlling?.rule && !finding.as_before,
  );
  const of = (conflict: boolean): string[] =>
    unique(open.filter(({ verdict }) => (verdict === 'conflict') === conflict).map(({ rule }) => rule.replaceAll('-', ' ')));
  const [failing, other] = [of(true), of(false)];
  if (failing.length + other.length === 0) return [''];
  const listed = (rules: readonly string[]): string =>
    `${rules.slice(0, MOST_BESIDES).join(', ')}${rules.length > MOST_BESIDES ? ` and ${rules.length - MOST_BESIDES} more` : ''}`;
  const told = [...(failing.length > 0 ? [`fails: ${listed(failing)}`] : []), ...(other.length > 0 ? [`open: ${listed(other)}`] : [])];
  const few = [...(failing.length > 0 ? [`${failing.length} fail`] : []), ...(other.length > 0 ? [`${other.length} open`] : [])];
  return [`Besides ${told.join('; ')}.`, `Besides ${few.join(', ')}.`, ''];
}

/** What an answer's own list of assumptions says of weights and the like that nobody gave. */
const USUAL = 'Values usual in the trade';

function assumedOf({ question, judged, answer }: Composing): string[] {
  const flips = question.assumptions.filter(({ flips: could }) => could);
  const told = judged.verdict !== 'cant_tell';
  const { controlling } = judged;
  // What a no rests on is the one finding; all else rests on all of them.
  const isUsed = !(judged.verdict === 'no' && controlling && answer) || restsOn(controlling, answer, ({ kind }) => kind === 'typical');
  const usual = told && isUsed && (answer?.assumptions ?? []).some((text) => text.startsWith(USUAL));
  const rests: (readonly [string, string])[] = [
    ...(judged.onClass && told ? [['what was not said of the truck is as its class has it', 'the rest as its class'] as const] : []),
    ...(usual ? [['weights and places that were not said are what is usual', 'usual weights and places'] as const] : []),
  ];
  if (flips.length + rests.length === 0) return [''];
  const whole = [...flips.map(({ text }) => text), ...rests.map(([text]) => text)];
  const brief = [...flips.map(({ text, brief: few }) => few ?? text), ...rests.map(([, few]) => few)];
  return [`Assumed: ${unique(whole).join('; ')}.`, `Assumed: ${unique(brief).join('; ')}.`];
}

function minorOf({ assumptions }: Question): string[] {
  const minor = assumptions.filter(({ flips }) => !flips);
  return minor.length === 0 ? [''] : [`Also taken: ${minor.map(({ text }) => text).join('; ')}.`, ''];
}

const MOST_NAMED = 5;
const SHORT_NAMED = 3;

function workOf({ judged: { instead, verdict, otherwise, controlling }, answer, lexicon }: Composing): string[] {
  const less = verdict === 'no' && lexicon.words.own_rules.load?.includes(controlling?.rule ?? '') ? controlling?.margin : undefined;
  if (less) return [`It would take ${Math.abs(less.low ?? less.value)} ${less.unit} less.`, ''];
  if (!answer || answer.work.steps.length === 0) return [''];
  if (otherwise === 'no') return [''];
  if (verdict === 'no')
    return instead.length === 0
      ? ['']
      : [
          `It takes another: ${unique(instead.map(({ title }) => lowerFirst(title.replace(/ \((front|rear) (?:left|right)\)/g, ' ($1)')))).join('; ')}.`,
          `It takes another: ${unique(instead.map(workName)).join('; ')}.`,
          '',
        ];
  const { steps, sure: hours, if_needed } = answer.work;
  const certain = steps.filter(({ contingent }) => !contingent);
  if (certain.length === 0) return [`No work is certain; at most ${if_needed.high} h if measuring asks for it.`, ''];
  const more = if_needed.high > 0 ? `, up to ${if_needed.high} h more if measuring asks for it` : '';
  const time = `${hours.likely} h likely, ${hours.low} to ${hours.high} h${more}`;
  const named = (most: number): string => {
    const works = unique(certain.map(workName));
    return `${works.slice(0, most).join(', ')}${works.length > most ? ` and ${works.length - most} more` : ''}`;
  };
  const what = verdict === 'yes' ? 'Fitting' : 'Work';
  return [
    `${what} (${time}): ${named(MOST_NAMED)}.`,
    `${what} (${hours.likely} h): ${named(SHORT_NAMED)}.`,
    `${what}: ${hours.likely} h.`,
    '',
  ];
}

const unique = (texts: readonly string[]): string[] => [...new Set(texts)];

/** An amount from what the nominal values ask for to what is enough at the worse end. */
function workName({ work, amounts }: Step): string {
  const [[name = '', amount] = []] = Object.entries(amounts);
  if (!amount || amount.unit === '1') return work.replaceAll('-', ' ');
  const ends = [...new Set([amount.nominal, amount.value])].sort((a, b) => a - b);
  return `${work.replaceAll('-', ' ')} (${name.replaceAll('_', ' ')} ${ends.join(' to ')} ${amount.unit})`;
}

/** `asked-front-bumper` by the name it has in the findings. */
function namedIn({ findings }: Answer, subject: string): string {
  if (subject === 'vehicle') return 'the vehicle';
  const names = new Map(findings.flatMap(({ parts }) => parts.map(({ id, name }) => [id.split('@')[0], name] as const)));
  return unique(subject.split(', ').map((id) => names.get(id.split('@')[0]) ?? id.replace(/@.*$/, '').replace(/-/g, ' '))).join(', ');
}

/** What would settle what decides; the list's own order goes on behind it. */
/** Of a no nothing is measured: it would be one whatever is read. */
function measureOf({ verdict, controlling }: Judged, answer: Answer | undefined): string[] {
  if (!answer || verdict === 'no' || answer.measure.length === 0) return [''];
  // A planned part's own number is chosen; what can be read on the vehicle before that is named first where the finding wants both.
  const isAtHand = ({ findings, state }: ToMeasure): number =>
    Number(controlling !== undefined && state === 'as-it-stands' && controlling.missing.length > 0 && findings.includes(controlling.id));
  const measure: readonly Pick<ToMeasure, 'title' | 'subject'>[] = [...answer.measure].sort((a, b) => isAtHand(b) - isAtHand(a));
  const decides = answer.measure.some(({ findings }) => controlling !== undefined && findings.includes(controlling.id));
  // None of the few that are planned is of it: then what it lacks, or what causes most of its doubt.
  const [most] = decides ? [] : [...(controlling?.missing ?? []), ...(controlling?.doubt ?? []).map(({ id }) => id)];
  const doubted = most === undefined ? undefined : answer.values[most];
  const all = doubted ? [{ title: doubted.title, subject: namedIn(answer, doubted.subject) }, ...measure] : measure;
  const named = (most: number): string =>
    unique(all.map(({ title, subject }) => `${lowerFirst(title)}, ${subject}`))
      .slice(0, most)
      .join('; ');
  const [first] = all;
  return [`Measure: ${named(2)}.`, `Measure: ${named(1)}.`, `Measure first: ${lowerFirst(first?.title ?? '')}.`, ''];
}

function missedOf({ reading }: Question): string[] {
  const missed = reading.not_understood;
  if (missed.length === 0) return [''];
  const because = ({ text, why }: (typeof missed)[number]): string => (why === 'not known' ? text : `${text} (${why})`);
  const many = missed.length > MOST_NAMED ? ` and ${missed.length - MOST_NAMED} more` : '';
  return [
    `Not understood: ${missed.slice(0, MOST_NAMED).map(because).join('; ')}${many}.`,
    `Not understood: ${missed
      .slice(0, MOST_NAMED)
      .map(({ text }) => text)
      .join('; ')}${many}.`,
    `Not understood: ${listedShort(missed.map(({ text }) => text))}.`,
    `Not understood: ${missed.length} ${missed.length === 1 ? 'thing' : 'things'}.`,
  ];
}

/** A name that is not known may be of a part that is none of those taken: it is told at every length. */
function namesOf({ reading: { names_ignored: names } }: Question): string[] {
  if (names.length === 0) return [''];
  const many = names.length > MOST_NAMED ? ` and ${names.length - MOST_NAMED} more` : '';
  return [
    `Names not known, left out: ${names.slice(0, MOST_NAMED).join(', ')}${many}.`,
    `Left out: ${listedShort(names)}.`,
    `Left out: ${names.length} ${names.length === 1 ? 'name' : 'names'}.`,
  ];
}

/** The first, and how many more there are. */
const listedShort = ([first = '', ...others]: readonly string[]): string =>
  others.length === 0 ? first : `${first} and ${others.length} more`;

/** What of the answer can hurt somebody, named: what decides, and the work it tells of; findings and steps carry each caution whole. */
function cautionOf({ question, answer, library, lexicon, judged }: Composing): string {
  const ofText = new Set(question.cautions ?? []);
  if (!answer && ofText.size === 0) return '';
  const texts: ReadonlySet<string> = answer ? cautionsOf(answer, judged) : new Set();
  const named = Object.entries(lexicon.words.cautions)
    .filter(([id]) => ofText.has(id) || SYSTEMS.some((system) => texts.has(prose(library.cautions.get(id) ?? id, system))))
    .map(([, word]) => word);
  if (named.length === 0) return NO_APPROVAL;
  return `Mind: ${joinWords(unique(named))} can hurt people: qualified hands, local law.`;
}

/** Cautions of what decides, of what fails, and of the work that is told. */
function cautionsOf(answer: Answer, { controlling, verdict, instead }: Judged): ReadonlySet<string> {
  const told = verdict === 'no' ? instead : answer.work.steps.filter(({ contingent }) => !contingent);
  const open = answer.findings.filter(
    (finding) =>
      counts(finding) &&
      (finding.verdict === 'conflict' ||
        (!finding.as_before && finding.hazard === 'safety' && (verdict === 'yes' || finding.verdict !== 'clear'))),
  );
  return new Set([...(controlling ? [controlling] : []), ...open, ...told].flatMap(({ cautions }) => cautions));
}

/** Findings have their cautions in the units they are told in. */
const SYSTEMS = ['metric', 'us'] as const;

const joinWords = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
