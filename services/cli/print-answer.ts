/** An answer for a person at a terminal: the verdict first, then what is wrong and why, the work, and what to measure. */
import type { Amount, Answer, AnswerBasis, Finding, Step, ToMeasure } from '../workshop/index.ts';

const WIDTH = 100;
const MOST_MEASURES = 8;

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

const amount = ({ value, unit, plus_minus }: Amount): string => `${value}${plus_minus === undefined ? '' : ` ± ${plus_minus}`} ${unit}`;

export function printAnswer(answer: Answer, title: string): string {
  const open = answer.findings.filter(({ verdict, as_before }) => verdict === 'conflict' || (verdict !== 'clear' && !as_before));
  const asBefore = answer.findings.filter(({ verdict, as_before }) => as_before && verdict !== 'clear' && verdict !== 'conflict');
  const clear = answer.findings.filter(({ verdict }) => verdict === 'clear');
  return [
    `${title}: ${WORDS[answer.verdict]}`,
    wrap(answer.summary, '  '),
    ...open.map(finding),
    ...(clear.length > 0 ? [`\nClear (${clear.length}), nearest first:\n${nearest(clear).join('\n')}`] : []),
    ...(asBefore.length > 0
      ? [`\nOpen as before, not changed by these parts (${asBefore.length}):\n${asBefore.map(standing).join('\n')}`]
      : []),
    work(answer),
    measures(answer.measure),
    cautions(answer),
    ...(answer.assumptions.length > 0 ? [`\nAssumed:\n${answer.assumptions.map((text) => wrap(text, '  ')).join('\n')}`] : []),
    `\nComputed from rules ${answer.versions.rules}, catalogue ${answer.versions.catalogue}, engine ${answer.versions.engine}, models ${answer.versions.models}.`,
  ]
    .filter((part) => part !== '')
    .join('\n');
}

function finding({ verdict, hazard, title, margin, says, numbers, basis }: Finding): string {
  const band = margin ? `margin ${amount(margin)} (${margin.low ?? 'no end'} to ${margin.high ?? 'no end'} ${margin.unit})` : 'no margin';
  const known = numbers.filter(({ value }) => typeof value === 'number');
  const rows = known.map(
    ({ title: name, value, unit, plus_minus, origin }) =>
      `      ${name}: ${value}${plus_minus === undefined ? '' : ` ± ${plus_minus}`}${unit === undefined || unit === '1' ? '' : ` ${unit}`} (${origin})`,
  );
  return [
    `\n${WORDS[verdict]} · ${hazard} · ${title}`,
    ...(verdict === 'unknown' ? [] : [`    ${band}`]),
    wrap(says, '    '),
    ...(rows.length > 0 ? ['    from', ...rows] : []),
    ...basis.map((source) => wrap(`rests on ${basisText(source)}`, '    ')),
  ].join('\n');
}

function basisText({ kind, title, clause, read, note }: AnswerBasis): string {
  const source =
    kind === 'common-practice' ? title : `${title}${clause ? `, ${clause}` : ''} (${read === 'memory' ? 'from memory' : read})`;
  return note ? `${source}: ${note}` : source;
}

const standing = ({ verdict, title, subject }: Finding): string => wrap(`${WORDS[verdict]}: ${title} [${subject}]`, '  ');

function nearest(findings: readonly Finding[]): string[] {
  return findings.map(({ title, margin, subject }) => `  ${title} [${subject}]${margin ? `: ${amount(margin)} to spare` : ''}`);
}

function work({ work: { steps, hours }, after_work }: Answer): string {
  if (steps.length === 0) return '';
  const certain = steps.filter(({ contingent }) => !contingent);
  const perhaps = steps.filter(({ contingent }) => contingent);
  return [
    `\nThe work, in order: ${hours.likely} h likely (${hours.low} to ${hours.high} h)`,
    ...certain.map((step, i) => stepText(step, `${i + 1}.`)),
    ...(perhaps.length > 0 ? ['\nOnly if measuring shows that it is needed:', ...perhaps.map((step) => stepText(step, '?'))] : []),
    after_work.broken.length > 0
      ? `\nWhat that work itself breaks on the way (its cure is in the list):\n${after_work.broken.map(({ says }) => wrap(`- ${says}`, '  ')).join('\n')}`
      : '',
    `\nWith the work done: ${WORDS[after_work.verdict]}${after_work.remaining.length > 0 ? '; still open:' : ''}`,
    ...after_work.remaining.map(({ verdict, says }) => wrap(`- ${WORDS[verdict]}: ${says}`, '  ')),
  ]
    .filter((line) => line !== '')
    .join('\n');
}

function stepText({ title, hours, irreversible, skills, verify, prerequisites }: Step, mark: string): string {
  const notes = [`${hours.low} to ${hours.high} h`, skills.join(', '), ...(irreversible ? ['CANNOT BE UNDONE'] : [])].filter(
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
  const open = findings.filter(({ verdict, as_before }) => verdict === 'conflict' || (verdict !== 'clear' && !as_before));
  const all = [...new Set([...open, ...steps].flatMap((each) => each.cautions))];
  return all.length === 0 ? '' : `\nMind:\n${all.map((caution) => wrap(`! ${caution}`, '  ')).join('\n')}`;
}

function measures(list: readonly ToMeasure[]): string {
  if (list.length === 0) return '';
  const rows = list.slice(0, MOST_MEASURES).map(({ title, subject, how, tool, suspension, steering, minutes, why }, i) => {
    const position = [suspension, steering].filter(Boolean).join(', ');
    const details = [tool, position, minutes === undefined ? '' : `${minutes} min`]
      .filter((detail) => detail !== '' && detail !== 'none')
      .join('; ');
    return wrap(`${i + 1}. ${title} of ${subject}: ${how}${details ? ` [${details}]` : ''}. Why: ${why}.`, '  ');
  });
  const more = list.length > MOST_MEASURES ? [`  and ${list.length - MOST_MEASURES} more`] : [];
  return [`\nMeasure next, most telling first:`, ...rows, ...more].join('\n');
}
