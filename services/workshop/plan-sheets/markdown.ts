/** A plan to be read: Markdown. */
import type { Plan } from '../plan/plan.ts';
import { momentText } from './rows.ts';

/** User data cannot open a table cell, a heading or markup of its own. */
const safe = (text: string): string =>
  text
    .replace(/[\\`*_{}[\]<>|#]/g, '\\$&')
    // Nor a link or a mention that a reader of Markdown makes by itself.
    .replace(/\b(https?|ftp|mailto):(\/\/)?/gi, '$1 ')
    .replace(/\bwww\./gi, 'www ')
    .replace(/@/g, '(at)')
    .replace(/\s+/g, ' ');

/** An id, to be copied as it is. */
const code = (id: string): string => `\`${id.replace(/[`|\s]+/g, ' ')}\``;

export function planMarkdown(plan: Plan): string {
  const parts = [
    head(plan),
    inspection(plan),
    confirm(plan),
    job(plan),
    calendar(plan),
    money(plan),
    variation(plan),
    stages(plan),
    asBuilt(plan),
    contacts(plan),
    handOver(plan),
  ];
  return `${parts.filter((part) => part !== '').join('\n\n')}\n`;
}

const section = (title: string, lines: readonly string[]): string => (lines.length === 0 ? '' : `## ${title}\n\n${lines.join('\n')}`);

function head({ hand_over, check, time, not_planned }: Plan): string {
  const { sure, if_needed } = time;
  return [
    `# Plan: ${safe(hand_over.vehicle)}`,
    '',
    `${check.summary}`,
    '',
    `Sure: ${sure.expected} h expected (${sure.together.low} to ${sure.together.high} h). If measuring asks for it: ${if_needed.expected} h more.`,
    ...(check.work.not_known > 0
      ? ['', `${check.work.not_known} findings are not known yet and may ask for more: what that takes cannot be told.`]
      : []),
    ...(check.work.order.exact
      ? ['', `Set-ups take ${check.work.order.set_up.value} h likely; no order takes less.`]
      : ['', `Set-ups take ${check.work.order.set_up.value} h likely; no order takes less than ${check.work.order.at_least.value} h.`]),
    ...not_planned.map(({ name, why }) => `- ${safe(name)}: ${safe(why)}`),
    ...check.work.rings.map(
      (ring) => `- Rules contradict each other: ${ring.map(({ step }) => safe(step)).join(' before ')} before itself`,
    ),
  ].join('\n');
}

const inspection = ({ inspection: points }: Plan): string =>
  section(
    'Look over first',
    points.map(
      ({ title, verdict, says, how, accept }) =>
        `- **${safe(title)}** (${verdict}): ${safe(says)}. How: ${safe(how)}. Good enough: ${safe(accept)}.`,
    ),
  );

const confirm = ({ risks }: Plan): string =>
  section(
    'Confirm before anything is cut',
    risks.confirm_first.map(
      ({ title, contingent, confirm: what }) =>
        `- [ ] ${safe(title)}${contingent ? ' (only if measuring asks for it)' : ''}: ${what.map(safe).join('; ')}`,
    ),
  );

function job({ check: { work } }: Plan): string {
  const titles = new Map(work.steps.map((step) => [step.id, step]));
  const lines = work.steps.flatMap((step, i) => {
    const mark = `${i + 1}.${step.contingent ? ' If measured so:' : ''}`;
    const notes = [
      `${step.hours.low} to ${step.hours.high} h`,
      ...(step.who.length > 0 ? step.who : step.skills),
      ...(step.crew > 1 ? [`${step.crew} people`] : []),
      ...(step.irreversible ? ['cannot be undone'] : []),
      ...(step.sent_out ? [`away ${step.sent_out.days} days`] : []),
      ...(step.settling ? [`then ${step.settling.hours} h: ${step.settling.why}`] : []),
    ];
    const wrong = reasonsOf(step, titles);
    return [
      `- **${mark} ${safe(step.title)}** (${notes.map(safe).join('; ')})`,
      ...wrong.map((text) => `  - ${safe(text)}`),
      ...(step.verify
        ? [`  - ${step.safety_critical ? '[ ] **sign:** ' : ''}${safe(step.verify.check)}: ${safe(step.verify.accept)}`]
        : []),
    ];
  });
  return section('The job, in order', lines);
}

type Step = Plan['check']['work']['steps'][number];

/** What goes wrong in another order, once each: the last of the steps it is said of that is sure, and how many more. */
function reasonsOf({ after }: Step, steps: ReadonlyMap<string, Step>): string[] {
  const place = new Map([...steps.keys()].map((id, i) => [id, i]));
  const late = ({ step }: Step['after'][number]): number => (steps.get(step)?.contingent ? -1 : 1) * ((place.get(step) ?? -1) + 1);
  return [...new Set(after.map(({ why }) => why))].map((why) => {
    const said = after.filter((one) => one.why === why).sort((a, b) => late(b) - late(a));
    const [last, ...more] = said.map(({ step }) => step);
    const others = more.length > 0 ? `, nor before ${numbersOf(more.map((id) => (place.get(id) ?? 0) + 1))}` : '';
    return `not before ${(place.get(last ?? '') ?? 0) + 1} (${steps.get(last ?? '')?.title ?? last})${others}: ${why}`;
  });
}

/** `1, 3 to 6, 9` */
function numbersOf(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const n of [...numbers].sort((a, b) => a - b)) {
    const run = runs.at(-1);
    if (run && n === run[1] + 1) run[1] = n;
    else runs.push([n, n]);
  }
  return runs.map(([from, to]) => (from === to ? `${from}` : `${from} to ${to}`)).join(', ');
}

function calendar({ calendar: dates, check: { work } }: Plan): string {
  const titles = new Map(work.steps.map(({ id, title }) => [id, title]));
  const setups = new Map(work.setups.map(({ id, title }) => [id, title]));
  const told = (what: string): string => {
    const [, change, id = ''] = /^(un)?make:(.*)$/.exec(what) ? [what, what.startsWith('un'), what.replace(/^(un)?make:/, '')] : [];
    return change === undefined ? (titles.get(what) ?? what) : `${change ? 'back from' : 'set up'}: ${setups.get(id) ?? id}`;
  };
  const rows = dates.entries.map(
    ({ what, from, to, ready }) =>
      `| ${momentText(from)} | ${momentText(to)} | ${safe(told(what))}${ready ? `; what follows waits until ${momentText(ready)}` : ''} |`,
  );
  const visits = dates.visits.map(
    ({ after, date, steps }) =>
      `- after ${after.value} ${after.unit}${date ? ` (about ${date})` : ''}: ${steps.map((id) => safe(titles.get(id) ?? id)).join('; ')}`,
  );
  if (rows.length === 0) return '';
  return section('Calendar', [
    `${dates.people} ${dates.people === 1 ? 'person' : 'people'}, ${dates.hours_per_day} h a day; begins ${momentText(dates.begins)}: ${dates.begins.why}.`,
    '',
    '| from | to | what |',
    '|--|--|--|',
    ...rows,
    '',
    ...visits,
  ]);
}

function money({ estimate, check: { work } }: Plan): string {
  if (!estimate) return '';
  const titles = new Map(work.steps.map(({ id, title }) => [id, title]));
  const { totals, currency } = estimate;
  const rows = estimate.lines.map(
    ({ kind, text, quantity, unit, price, amount, note }) =>
      `| ${kind} | ${safe(note ? `${text} (${note})` : text)} | ${quantity} ${unit} | ${price ?? 'no price'} | ${amount ?? 'open'} |`,
  );
  const sums = [
    ['Labour', totals.labour],
    ['Parts', totals.parts],
    ['Supplies', totals.supplies],
    ['Sent out', totals.sent_out],
    ['Contingency', totals.contingency],
    ['Net', totals.net],
    ...totals.tax.map(({ name, rate, amount }) => [`${safe(name)} ${rate}`, amount]),
  ].map(([title, amount]) => `| | ${title} | | | ${amount} |`);
  return section(`Estimate in ${safe(currency)}`, [
    estimate.wording,
    '',
    '| kind | what | quantity | price | amount |',
    '|--|--|--|--|--|',
    ...rows,
    ...sums,
    `| | **${estimate.complete ? 'Total' : 'Total so far'}** | | | **${totals.total}** |`,
    '',
    `From ${estimate.range.low} to ${estimate.range.high}: ${estimate.range.method}. It holds for ${estimate.valid_days} days.`,
    ...(estimate.unpriced.length > 0 ? ['', `Without a price: ${estimate.unpriced.map(safe).join('; ')}.`] : []),
    '',
    ...estimate.exclusions.map((text) => `- Not in it: ${safe(text)}`),
    ...estimate.if_needed.map(
      ({ step, net, unpriced }) =>
        `- If needed, ${safe(titles.get(step) ?? step)}: ${net}${unpriced.length > 0 ? ` without: ${unpriced.map(safe).join('; ')} (no price)` : ''}`,
    ),
  ]);
}

const variation = ({ variation: change }: Plan): string =>
  change === null
    ? ''
    : section('Variation', [
        ...(change.note ? [safe(change.note), ''] : []),
        ...change.added.map((step) => `- more: ${code(step)}`),
        ...change.dropped.map((step) => `- no longer: ${code(step)}`),
        ...change.changed.map((step) => `- otherwise: ${code(step)}`),
        `- hours ${change.hours.before} before, ${change.hours.after} after`,
        ...(change.price
          ? [`- price ${change.price.before} before, ${change.price.after} after: ${change.price.difference} ${change.price.currency}`]
          : []),
        `- ${change.approval}`,
      ]);

const stages = ({ stages: spread }: Plan): string =>
  spread === null
    ? ''
    : section('Stages', [
        ...spread.stages.map(
          ({ name, hours, money: cost, safe_to_drive, verdict, again }, i) =>
            `${i + 1}. **${safe(name)}**: ${hours} h; ${cost ? `${cost.complete ? '' : 'at least '}${cost.total} ${cost.currency}${cost.over ? ` (${cost.over} beyond its budget of ${cost.budget})` : ''}; ` : ''}${verdict}; safe to drive: ${safe_to_drive.replace('_', ' ')}${again.length > 0 ? `; done again: ${again.map(code).join(', ')}` : ''}`,
        ),
        '',
        `${spread.hours} h in stages, ${spread.hours_at_once} h at once.`,
      ]);

const asBuilt = ({ as_built }: Plan): string =>
  section(
    'As built',
    as_built.map(({ step, by, date, closed, open, readings }) => {
      const read = readings.map(
        ({ title, read: { value, unit }, predicted }) =>
          `${safe(title)} ${value} ${unit}${predicted ? ` (predicted ${predicted.value} ${predicted.unit})` : ''}`,
      );
      return `- ${code(step)}: ${closed ? 'closed' : `open: ${open.map(safe).join('; ')}`}; ${safe(by)}, ${date}${read.length > 0 ? `; ${read.join('; ')}` : ''}`;
    }),
  );

const contacts = ({ contacts: { accepted, refused } }: Plan): string =>
  section('What the customer accepts', [
    ...accepted.map(({ title, says, by, date }) => `- accepted by ${safe(by)}, ${date}: ${safe(title)}: ${safe(says)}`),
    ...refused.map(({ finding, why }) => `- refused: ${code(finding)}: ${safe(why)}`),
  ]);

const amountText = (
  amount: { readonly value: number; readonly unit: string; readonly plus_minus?: number } | null,
  none: string,
): string => (amount === null ? none : `${amount.value} ${amount.unit}${amount.plus_minus ? ` ± ${amount.plus_minus}` : ''}`);

const alignmentLines = ({ alignment }: Plan['hand_over']): string[] =>
  alignment.map(
    ({ title, target, says, sides_within }) =>
      `- **${title}: ${amountText(target, 'maker’s sheet')}**${sides_within ? `, sides within ${amountText(sides_within, '')}` : ''}: ${safe(says)}; as read: ____`,
  );

function wiringLines({ wiring: { circuits, rule, source } }: Plan['hand_over']): string[] {
  if (circuits.length === 0) return ['- nothing electric is on it beyond what it came with, as far as is stated'];
  const rows = circuits.map(({ name, state, current, cable, needs, fuse, drop, says, asked }) => {
    const chosen = cable.area
      ? amountText(cable.area, '')
      : needs
        ? `at least ${needs.area.value} ${needs.area.unit} (${needs.gauge})`
        : 'not stated';
    const rating = fuse.fitted ? amountText(fuse.fitted, '') : fuse.choose ? `${amountText(fuse.choose, '')}, to fit` : 'not stated';
    const said = `${state === 'conflict' ? '**conflict:** ' : ''}${safe(says)}${asked.length > 0 ? `; asked for: ${asked.map(safe).join(', ')}` : ''}`;
    return `| ${safe(name)} | ${amountText(current, 'not stated')} | ${amountText(cable.length, 'not stated')} | ${chosen} | ${rating} | ${amountText(drop, '')} | ${said} |`;
  });
  return [
    '| what | draws | cable, one way | copper | fuse at the tap | lost | |',
    '|--|--|--|--|--|--|--|',
    ...rows,
    '',
    `${rule} ${source}.`,
  ];
}

function handOver({ hand_over: sheet }: Plan): string {
  const lines = sheet.sections.flatMap(({ id, title, values, by_hand }) => [
    `### ${title}`,
    '',
    ...(id === 'alignment' ? alignmentLines(sheet) : id === 'wiring' ? [...wiringLines(sheet), ''] : []),
    ...values.map(
      (value) =>
        `- ${value.title} (${safe(value.subject)}): ${value.value ?? 'not known'}${value.unit ? ` ${value.unit}` : ''}${value.plus_minus ? ` ± ${value.plus_minus}` : ''}`,
    ),
    ...by_hand.map((text) => `- ${text}: ____`),
    '',
  ]);
  const list = (title: string, texts: readonly string[]): string[] =>
    texts.length === 0 ? [] : [`### ${title}`, '', ...texts.map((text) => `- ${text}`), ''];
  return section('Hand-over', [
    ...lines,
    ...list(
      'Known contacts',
      sheet.known_contacts.map(({ says, by, date }) => `${safe(says)} (accepted by ${safe(by)}, ${date})`),
    ),
    ...list(
      'Still open',
      sheet.still_open.map(({ verdict, says }) => `${verdict}: ${safe(says)}`),
    ),
    ...list('Parts taken off', sheet.parts_taken_off.map(safe)),
    ...list('Mind', sheet.cautions),
  ]);
}
