/** A plan as rows of one table, for CSV: steps, set-ups, lines of the estimate, totals, visits. */
import type { CalendarEntry, Moment } from '../plan/calendar.ts';
import type { Plan } from '../plan/plan.ts';
import { besideTheJob, handedOver } from './beside.ts';
import { csvOf } from './cells.ts';

type Cell = string | number | boolean | null;

const HEADING = [
  'section',
  'number',
  'id',
  'text',
  'quantity',
  'unit',
  'price',
  'amount',
  'low [h]',
  'likely [h]',
  'high [h]',
  'from',
  'to',
  'if needed',
  'safety',
  'irreversible',
  'who',
  'because',
  'after',
  'check',
  'accept',
] as const;
type Row = Partial<Record<(typeof HEADING)[number], Cell>>;

/** Hours and minutes into the working day. */
export function momentText({ day, hour, date }: Moment): string {
  const minutes = Math.round(hour * 60);
  return `${date ?? `day ${day}`} +${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`;
}

export function planCsv(plan: Plan): string {
  const rows = [...stepRows(plan), ...setupRows(plan), ...estimateRows(plan), ...visitRows(plan), ...besideRows(plan)];
  return csvOf([HEADING, ...rows.map((row) => HEADING.map((name) => row[name] ?? null))]);
}

function stepRows({ check: { work }, calendar }: Plan): Row[] {
  const when = new Map(calendar.entries.map((entry): [string, CalendarEntry] => [entry.what, entry]));
  return work.steps.map((step, i) => {
    const entry = when.get(step.id);
    return {
      section: 'step',
      number: i + 1,
      id: step.id,
      text: step.title,
      'low [h]': step.hours.low,
      'likely [h]': step.hours.likely,
      'high [h]': step.hours.high,
      from: entry ? momentText(entry.from) : null,
      to: entry ? momentText(entry.to) : null,
      'if needed': step.contingent,
      safety: step.safety_critical,
      irreversible: step.irreversible,
      who: step.who.join('; ') || step.skills.join('; '),
      because: step.because.join('; '),
      after: step.after.map(({ step: earlier, why }) => `${earlier}: ${why}`).join('; '),
      check: step.verify?.check ?? null,
      accept: step.verify?.accept ?? null,
    };
  });
}

const setupRows = ({ check: { work } }: Plan): Row[] =>
  work.setups.map((setup, i) => ({
    section: 'set-up',
    number: i + 1,
    id: setup.id,
    text: setup.title,
    'low [h]': round(setup.make.low + setup.unmake.low),
    'likely [h]': round(setup.make.likely + setup.unmake.likely),
    'high [h]': round(setup.make.high + setup.unmake.high),
    from: setup.from,
    to: setup.to,
    'if needed': setup.contingent,
  }));

const round = (hours: number): number => Math.round(hours * 10) / 10;

function estimateRows({ estimate }: Plan): Row[] {
  if (!estimate) return [];
  const { totals, currency } = estimate;
  const lines = estimate.lines.map(
    (line, i): Row => ({
      section: line.kind,
      number: i + 1,
      id: line.steps.join('; '),
      text: line.note ? `${line.text} (${line.note})` : line.text,
      quantity: Number(line.quantity),
      unit: line.unit,
      price: line.price === null ? null : Number(line.price),
      amount: line.amount === null ? 'no price' : Number(line.amount),
      because: line.because.join('; '),
    }),
  );
  const total = (text: string, amount: string): Row => ({ section: 'total', text, unit: currency, amount: Number(amount) });
  return [
    ...lines,
    total('Labour', totals.labour),
    total('Parts', totals.parts),
    total('Supplies', totals.supplies),
    total('Sent out', totals.sent_out),
    total('Contingency', totals.contingency),
    total('Net', totals.net),
    ...totals.tax.map(({ name, rate, amount }) => total(`${name} ${rate}`, amount)),
    total(estimate.complete ? 'Total (estimate)' : 'Total so far (estimate; something is open)', totals.total),
  ];
}

const visitRows = ({ calendar }: Plan): Row[] =>
  calendar.visits.map(({ after, date, steps }, i) => ({
    section: 'visit',
    number: i + 1,
    text: `after ${after.value} ${after.unit}`,
    from: date,
    id: steps.join('; '),
  }));

const besideRows = (plan: Plan): Row[] =>
  [...besideTheJob(plan), ...handedOver(plan)].map(({ section, what, of, value, unit, plusMinus, text }, i) => ({
    section,
    number: i + 1,
    id: of,
    text: [what, ...(plusMinus === null ? [] : [`± ${plusMinus} ${unit}`]), ...(text === '' ? [] : [text])].join(': '),
    quantity: value,
    unit,
  }));
