/** An answer for a person at a terminal: the verdict first, then what is wrong and why, the work, and what to measure. */

import type { Answer, AnswerBasis, Finding, Margin, Step, ToMeasure } from '../workshop/index.ts';
import { marginText } from '../workshop/margin-text.ts';
import { isToDo } from '../workshop/verdicts.ts';
import { alternativeTexts } from './print-alternatives.ts';

const WIDTH = 100;
const MOST_MEASURES = 8;
const MOST_UNUSED = 4;
const MOST_NARROWED = 3;

export interface PrintOptions {
  /** The whole list of what to measure. */
  readonly all?: boolean;
}

/** Wraps words; every line after the first is indented. */
function wrap(text: string, indent: string): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/)) {
    if (line !== '' && indent.length + line.length + 1 + word.length > WIDTH) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line].map((each) => indent + each).join('\n');
}

const WORDS = { conflict: 'CONFLICT', unknown: 'NOT KNOWN', close: 'TOO CLOSE TO CALL', clear: 'CLEAR' } as const;

/** How sure the ends of the worst case are, and the band by root sum of squares beside it. */
function bandText(margin: Margin | null): string[] {
  if (!margin?.rss || margin.plus_minus === undefined) return [];
  const { low_is, high_is, rss, drawing_at_worst: drawn, unit } = margin;
  const sure = low_is === high_is ? low_is : `${low_is} below, ${high_is} above`;
  const rough = rss.near_linear ? '' : ', roughly: it does not move in a straight line';
  const band = ({ low, high }: { readonly low: number; readonly high: number }): string =>
    `${low} to ${high}${unit === '1' ? '' : ` ${unit}`}`;
  const drawing = drawn ? `, the drawing by root sum of squares; ${band(drawn)} with it at its worst too` : '';
  return [wrap(`worst case ${sure}${drawing}; by root sum of squares ${band(rss)}${rough}`, '    ')];
}

/** What a one is worth in the last decimal that any of the numbers is rounded to. */

export function printAnswer(answer: Answer, title: string, { all = false }: PrintOptions = {}): string {
  const open = answer.findings.filter(isToDo);
  const asBefore = answer.findings.filter(({ verdict, as_before }) => as_before && verdict !== 'clear' && verdict !== 'conflict');
  const clear = answer.findings.filter(({ verdict }) => verdict === 'clear');
  return [
    `${title}: ${WORDS[answer.verdict]}`,
    wrap(answer.summary, '  '),
    ...byCause(open).map((alike) => (alike.length > 1 ? sameCause(alike) : finding(alike[0] as Finding))),
    ...(clear.length > 0 ? [`\nClear (${clear.length}), nearest first:\n${nearest(clear).join('\n')}`] : []),
    ...(asBefore.length > 0
      ? [`\nOpen as before, not changed by these parts (${asBefore.length}):\n${asBefore.map(standing).join('\n')}`]
      : []),
    work(answer),
    measures(answer, all),
    cautions(answer),
    ...(answer.assumptions.length > 0 ? [`\nAssumed:\n${answer.assumptions.map((text) => wrap(text, '  ')).join('\n')}`] : []),
    `\nComputed from rules ${answer.versions.rules}, catalogue ${answer.versions.catalogue}, engine ${answer.versions.engine}, models ${answer.versions.models}.`,
  ]
    .filter((part) => part !== '')
    .join('\n');
}

function finding({ verdict, hazard, title, margin, says, numbers, basis, alternatives = [] }: Finding): string {
  const band = margin ? `margin ${marginText(margin, 'in full')}` : 'no margin';
  const known = numbers.filter(({ value }) => typeof value === 'number');
  const rows = known.map(
    ({ title: name, value, unit, plus_minus, origin }) =>
      `      ${name}: ${value}${plus_minus === undefined ? '' : ` ± ${plus_minus}`}${unit === undefined || unit === '1' ? '' : ` ${unit}`} (${origin})`,
  );
  return [
    `\n${WORDS[verdict]} · ${hazard} · ${title}`,
    ...(verdict === 'unknown' ? [] : [`    ${band}`, ...bandText(margin)]),
    wrap(says, '    '),
    ...(rows.length > 0 ? ['    from', ...rows] : []),
    ...basis.map((source) => wrap(`rests on ${basisText(source)}`, '    ')),
    ...alternativeTexts(alternatives).map((text) => wrap(text, '    ')),
  ].join('\n');
}

/** What is not known for want of the same thing is told once, where the first of it stands. */
function byCause(findings: readonly Finding[]): readonly (readonly Finding[])[] {
  const groups = new Map<string, Finding[]>();
  for (const each of findings) {
    const cause = each.verdict === 'unknown' && each.missing.length > 0 ? each.missing.join() : each.id;
    groups.set(cause, [...(groups.get(cause) ?? []), each]);
  }
  return [...groups.values()];
}

function sameCause(findings: readonly Finding[]): string {
  const [{ says, hazard }] = findings as [Finding];
  return [
    `\nNOT KNOWN · ${hazard} · ${findings.length} findings, all for want of the same`,
    wrap(says, '    '),
    ...findings.map(({ title, subject }) => wrap(`- ${title} [${subject}]`, '    ')),
  ].join('\n');
}

function basisText({ kind, title, clause, read, on, note }: AnswerBasis): string {
  const source =
    kind === 'common-practice'
      ? title
      : `${title}${clause ? `, ${clause}` : ''} (${read === 'memory' ? 'from memory' : read}${on ? `, ${on}` : ''})`;
  return note && !source.includes(note) ? `${source}: ${note}` : source;
}

const standing = ({ verdict, title, subject }: Finding): string => wrap(`${WORDS[verdict]}: ${title} [${subject}]`, '  ');

function nearest(findings: readonly Finding[]): string[] {
  return findings.map(({ title, margin, subject }) => `  ${title} [${subject}]${margin ? `: ${marginText(margin)} to spare` : ''}`);
}

function work({ findings, work, after_work }: Answer): string {
  const { steps } = work;
  if (steps.length === 0) return '';
  const { broken } = after_work;
  return [
    `\n${hoursText(work)}`,
    ...inOrder(steps),
    onTheWay(
      'What that work itself breaks on the way (its cure is in the list)',
      broken.filter(({ verdict }) => verdict !== 'unknown'),
    ),
    onTheWay(
      'To be gauged again once that work is done',
      broken.filter(({ verdict }) => verdict === 'unknown'),
    ),
    `\nWith the work done: ${WORDS[after_work.verdict]}${after_work.remaining.length > 0 ? '; still open:' : ''}`,
    ...after_work.remaining.map((left) =>
      stillOpen(
        left,
        [...findings, ...after_work.broken].find(({ id }) => id === left.id),
      ),
    ),
  ]
    .filter((line) => line !== '')
    .join('\n');
}

/** What is sure apart from what may be needed; where something is not known, that there may be more. */
function hoursText({ sure, if_needed, not_known, steps }: Answer['work']): string {
  const certain = steps.some(({ contingent }) => !contingent);
  const open =
    not_known === 0 ? '' : `; ${not_known} ${not_known === 1 ? 'finding is' : 'findings are'} not known yet and may ask for more`;
  const more = if_needed.high > 0 ? `; ${if_needed.low} to ${if_needed.high} h more if measuring asks for it` : '';
  const told = certain
    ? `${sure.likely} h likely (${sure.low} to ${sure.high} h)`
    : not_known > 0
      ? 'cannot be told yet'
      : 'nothing is sure to be needed';
  return wrap(`The work, in order: ${told}${more}${open}`, '');
}

/** Sure steps by number; one that measuring may ask for in its place between them. */
function inOrder(steps: readonly Step[]): string[] {
  let number = 0;
  return steps.map((step) => (step.contingent ? stepText(step, '?', ['if measured so']) : stepText(step, `${++number}.`)));
}

function onTheWay(what: string, findings: readonly Finding[]): string {
  const told = findings.map(({ title, subject, verdict, says }) =>
    wrap(`- ${verdict === 'unknown' ? `${title} [${subject}]: ${says.replace(UNKNOWN, '')}` : says}`, '  '),
  );
  return told.length === 0 ? '' : `\n${what}:\n${told.join('\n')}`;
}

/** What is no conflict was told above: a line with its margin, or, where the work moved that, with the better end it has now. */
function stillOpen({ verdict, says }: Answer['after_work']['remaining'][number], told: Finding | undefined): string {
  const named = told ? `${told.title} [${told.subject}]: ` : '';
  return wrap(`- ${WORDS[verdict]}: ${named}${verdict === 'close' && told ? closeText(says, told) : says.replace(UNKNOWN, '')}`, '  ');
}

function closeText(says: string, { says: before, margin }: Finding): string {
  if (says === before && margin) return `margin ${marginText(margin)}`;
  return says.slice(Math.max(0, says.lastIndexOf(BETTER_END))).replace(/^A/, 'a');
}

const BETTER_END = 'At the better end';
/** What the verdict in front has said. */
const UNKNOWN = /^Cannot be told yet\. /;

function stepText({ title, hours, irreversible, skills, verify, prerequisites }: Step, mark: string, more: readonly string[] = []): string {
  const notes = [...more, `${hours.low} to ${hours.high} h`, skills.join(', '), ...(irreversible ? ['CANNOT BE UNDONE'] : [])].filter(
    (note) => note !== '',
  );
  return [
    wrap(`${mark} ${title} [${notes.join('; ')}]`, '  '),
    ...prerequisites.map((text) => wrap(`first: ${text}`, '       ')),
    ...(verify ? [wrap(`then check ${verify.check}: ${verify.accept}`, '       ')] : []),
  ].join('\n');
}

/** Every caution that a finding not clear or a step carries, once. */
function cautions({ findings, work: { steps } }: Answer): string {
  const open = findings.filter(isToDo);
  const all = [...new Set([...open, ...steps].flatMap((each) => each.cautions))];
  return all.length === 0 ? '' : `\nMind:\n${all.map((caution) => wrap(`! ${caution}`, '  ')).join('\n')}`;
}

/** All that safety hangs on and is missing leads the list; of the rest, the first few. All of them are told by position. */
function measures(answer: Answer, all: boolean): string {
  return [takenText(answer, all), toMeasure(answer, all)].filter((part) => part !== '').join('\n');
}

/** Of each reading that was given, what it settled, and what rests on it and is open; in short, those on which nothing rests, and why. */
function takenText({ measuring, findings }: Answer, all: boolean): string {
  if (!all) return unusedText(measuring);
  const titles = new Map(findings.map(({ id, title }) => [id, title]));
  const verdicts = new Map(findings.map(({ id, title, verdict }) => [id, `${title} (${verdict})`]));
  const told = measuring.taken.map(({ title, subject, settled, open, remark }) => {
    if (remark !== undefined) return wrap(`- ${title} [${subject}]: ${remark}`, '  ');
    const did = settled.length === 0 ? 'settled nothing that would be open without it' : `settled ${namedFew(settled, verdicts)}`;
    const still = open.length === 0 ? '' : `; still open: ${namedFew(open, titles)}`;
    return wrap(`- ${title} [${subject}]: ${did}${still}`, '  ');
  });
  return told.length === 0 ? '' : `\nRead so far:\n${told.join('\n')}`;
}

function unusedText({ taken }: Answer['measuring']): string {
  const unused = taken.filter(({ remark }) => remark !== undefined);
  if (unused.length === 0) return '';
  const told = unused.slice(0, MOST_UNUSED).map(({ title, subject, remark }) => wrap(`- ${title} [${subject}]: ${remark}`, '  '));
  const more = unused.length - told.length;
  return [
    '\nRead, and nothing that was asked rests on it:',
    ...told,
    ...(more > 0 ? [`  and ${more} more: \`--all\` prints them`] : []),
  ].join('\n');
}

function toMeasure(answer: Answer, all: boolean): string {
  const { measure, measuring, findings } = answer;
  if (measure.length === 0) return '';
  const safety = new Set(findings.filter(({ verdict, hazard }) => verdict === 'unknown' && hazard === 'safety').map(({ id }) => id));
  const needed = measure.findLastIndex((each) => each.findings.some((id) => safety.has(id))) + 1;
  const shown = measure.slice(0, all ? measure.length : Math.max(MOST_MEASURES, needed));
  const rows = all ? byPosition(answer) : shown.flatMap((each) => reading(each, answer));
  const more = measure.length > shown.length ? [`  and ${measure.length - shown.length} more: \`--all\` prints them`] : [];
  return [
    `\nMeasure next, most telling first; each is sent as that line under \`measured\` of the vehicle. ${measuringText(measuring, measure.length)}`,
    ...rows,
    ...more,
  ].join('\n');
}

function measuringText({ minutes, decide, settles, tells, leaves_open }: Answer['measuring'], count: number): string {
  const { length } = decide.readings;
  const which = decide.readings.every((order, i) => order === i + 1) ? `the first ${length}` : decide.readings.join(', ');
  const few =
    length < count && length > 0 ? `; ${which} decide most, in ${decide.minutes} min where those of one position share the way there` : '';
  const whole = `${count} ${count === 1 ? 'reading' : 'readings'}, ${minutes} min${few}`;
  const effects = [
    ...(tells.length > 0 ? [`lets ${tells.length} be told that are not known`] : []),
    ...(settles.length > 0 ? [`is expected to settle ${settles.length} that are too close`] : []),
    ...(leaves_open.length > 0 ? [`leaves ${leaves_open.length} open`] : []),
  ];
  return `${whole}; all of it ${effects.join(', ')}.`;
}

function byPosition(answer: Answer): string[] {
  const groups = answer.measuring.groups.flatMap(({ title, minutes, cautions, readings }) => [
    wrap(`${title} (${minutes} min)`, '  '),
    ...cautions.map((caution) => wrap(`! ${caution}`, '    ')),
    ...readings.flatMap((order) => answer.measure.filter((each) => each.order === order).flatMap((each) => reading(each, answer))),
  ]);
  const sets = answer.measuring.sets.flatMap(({ title, gives, quantities, readings, instead_of }) => [
    ...(readings.length > 1 ? [wrap(`${title}: ${readings.join(', ')} together give ${gives}.`, '  ')] : []),
    ...(instead_of.length > 0
      ? [wrap(`${title}: instead of ${instead_of.join(', ')}, ${quantities.join(', ')} give ${gives}.`, '  ')]
      : []),
  ]);
  return [...groups, ...sets];
}

const reading = (each: ToMeasure, { values, findings }: Answer): string[] => [
  measureText(each, `${each.order}.`, new Map(findings.map(({ id, title }) => [id, title]))),
  `       ${readingLine(each, values)}`,
];

const STATES: Readonly<Record<ToMeasure['state'], string>> = {
  'as-it-stands': 'as it stands now',
  'planned-part': 'of the planned part',
  'planned-parts-on': 'with the planned parts on',
};

function measureText(each: ToMeasure, mark: string, titles: ReadonlyMap<string, string>): string {
  const { title, subject, state, how, tool, suspension, steering, minutes, why, could_overturn, would_settle, would_tell, would_narrow } =
    each;
  const position = [suspension, steering].filter(Boolean).join(', ');
  const details = [tool, position, minutes === undefined ? '' : `${minutes} min`].filter((detail) => detail !== '' && detail !== 'none');
  const settles = would_settle.map(({ title: what, chance }) => `${what} (${Math.round(100 * chance)} in 100)`);
  const effect = [
    // Why it is read may have said so.
    would_tell.length === 0 || why.includes('be told')
      ? ''
      : ` Lets ${would_tell.length} ${would_tell.length === 1 ? 'finding' : 'findings'} be told.`,
    settles.length === 0 ? '' : ` Would settle: ${[...new Set(settles)].join('; ')}.`,
    would_narrow.length === 0 ? '' : ` Would narrow${settles.length === 0 ? ' alone' : ''}: ${namedFew(would_narrow, titles)}.`,
  ].join('');
  const told = `${mark} ${could_overturn.length > 0 ? 'COULD OVERTURN · ' : ''}${title} [${subject}], ${STATES[state]}: ${how}${details.length > 0 ? ` (${details.join('; ')})` : ''}. Why: ${why}.${effect}`;
  return wrap(told, '  ');
}

/** Findings by their titles, each once; the first few, and how many more. */
function namedFew(ids: readonly string[], titles: ReadonlyMap<string, string>): string {
  const named = [...new Set(ids.map((id) => titles.get(id) ?? id))];
  const more = named.length - MOST_NARROWED;
  return more > 1 ? `${named.slice(0, MOST_NARROWED).join('; ')}; and ${more} more` : named.join('; ');
}

/** The reading to send, but for its number. Parts of one input are read together, by the name they share. */
export function readingLine({ ids, quantity, accuracy, write_down }: ToMeasure, values: Answer['values']): string {
  const subjects = ids.map((id) => id.slice(quantity.length + 1, -1));
  const of = subjects.length > 1 ? subjects[0]?.split('@')[0] : subjects[0];
  const unit = accuracy?.unit ?? values[ids[0] ?? '']?.unit ?? '1';
  return `{ quantity: ${quantity}, ${of ? `of: ${of}, ` : ''}value: …${unit === '1' ? '' : ` ${unit}`} }${formsText(write_down)}`;
}

/** As a remark behind the line: `true or false`; beside a unit, the code that may stand there in place of a number. */
function formsText({ unit, such_as: forms = [] }: ToMeasure['write_down']): string {
  if (forms.length === 0) return '';
  return unit === undefined ? ` # ${alternatives(forms)}` : ` # or as it stands there, such as ${alternatives(forms)}`;
}

const alternatives = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;
