/** A plan as a workbook: the job, the estimate with live sums, the calendar, the sheet that is handed over. */
import ExcelJS from 'exceljs';
import type { Line } from '../plan/estimate.ts';
import type { Plan } from '../plan/plan.ts';
import { type Beside, besideTheJob, handedOver } from './beside.ts';
import { harmless } from './cells.ts';
import { momentText } from './rows.ts';

type Sheet = ExcelJS.Worksheet;
type Cell = string | number | boolean | null | { readonly formula: string; readonly result: number };

/** No moment of making it is written, so that the same plan is the same workbook. */
const WHEN = new Date(Date.UTC(2000, 0, 1));

export async function planWorkbook(plan: Plan): Promise<Uint8Array> {
  const book = new ExcelJS.Workbook();
  book.created = WHEN;
  book.modified = WHEN;
  jobSheet(book.addWorksheet('Job'), plan);
  if (plan.estimate) estimateSheet(book.addWorksheet('Estimate'), plan.estimate);
  calendarSheet(book.addWorksheet('Calendar'), plan);
  besideSheet(book.addWorksheet('Hand-over'), handedOver(plan));
  besideSheet(book.addWorksheet('Beside the job'), besideTheJob(plan));
  return timeless(new Uint8Array(await book.xlsx.writeBuffer()));
}

const [END, ENTRY, LOCAL] = [0x06054b50, 0x02014b50, 0x04034b50];

/** Of no moment in particular: a pack holds when each of its pieces was packed, twice; the same plan gives the same bytes. */
function timeless(pack: Uint8Array): Uint8Array {
  const view = new DataView(pack.buffer, pack.byteOffset, pack.byteLength);
  let end = pack.length - 22;
  while (end > 0 && view.getUint32(end, true) !== END) end--;
  let at = view.getUint32(end + 16, true);
  for (let left = view.getUint16(end + 10, true); left > 0; left--) {
    const local = view.getUint32(at + 42, true);
    if (view.getUint32(at, true) !== ENTRY || view.getUint32(local, true) !== LOCAL)
      throw new Error('the workbook is no pack that is known');
    view.setUint32(at + 12, NO_MOMENT, true);
    view.setUint32(local + 10, NO_MOMENT, true);
    at += 46 + view.getUint16(at + 28, true) + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return pack;
}

/** Midnight of 1 January 2000, as packs write it. */
const NO_MOMENT = (((2000 - 1980) << 9) | (1 << 5) | 1) << 16;

const plain = (value: Cell): Cell => (typeof value === 'string' ? harmless(value) : value);
const addRow = (sheet: Sheet, cells: readonly Cell[]): ExcelJS.Row => sheet.addRow(cells.map(plain));

function heading(sheet: Sheet, names: readonly string[], widths: readonly number[]): void {
  addRow(sheet, names).font = { bold: true };
  widths.forEach((width, i) => {
    sheet.getColumn(i + 1).width = width;
  });
  sheet.views = [{ state: 'frozen', ySplit: 1 }];
}

function jobSheet(sheet: Sheet, { check: { work } }: Plan): void {
  heading(
    sheet,
    ['No', 'Step', 'If needed', 'Low [h]', 'Likely [h]', 'High [h]', 'Who', 'Safety', 'Cannot be undone', 'Check', 'Accept', 'Because'],
    [5, 60, 10, 9, 9, 9, 30, 8, 10, 40, 40, 40],
  );
  work.steps.forEach((step, i) => {
    const { low, likely, high } = step.hours;
    const who = step.who.join('; ') || step.skills.join('; ');
    addRow(sheet, [
      i + 1,
      step.title,
      step.contingent ? 'yes' : 'no',
      low,
      likely,
      high,
      who,
      step.safety_critical ? 'yes' : '',
      step.irreversible ? 'yes' : '',
      step.verify?.check ?? '',
      step.verify?.accept ?? '',
      step.because.join('; '),
    ]);
  });
  work.setups.forEach(({ title, contingent, make, unmake }) => {
    addRow(sheet, [
      '',
      `Set-up: ${title}`,
      contingent ? 'yes' : '',
      make.low + unmake.low,
      make.likely + unmake.likely,
      make.high + unmake.high,
    ]);
  });
  const last = sheet.rowCount;
  const sum = (column: string, condition: string, of: 'low' | 'likely' | 'high', contingent: boolean): Cell => ({
    formula: `SUMIF(C2:C${last},"${condition}",${column}2:${column}${last})`,
    result:
      work.steps.filter((step) => step.contingent === contingent).reduce((all, { hours }) => all + hours[of], 0) +
      work.setups.filter((setup) => setup.contingent === contingent).reduce((all, { make, unmake }) => all + make[of] + unmake[of], 0),
  });
  if (last < 2) return;
  addRow(sheet, [
    '',
    'Sure, each visit once',
    '',
    sum('D', 'no', 'low', false),
    sum('E', 'no', 'likely', false),
    sum('F', 'no', 'high', false),
  ]).font = { bold: true };
  addRow(sheet, ['', 'If needed', '', sum('D', 'yes', 'low', true), sum('E', 'yes', 'likely', true), sum('F', 'yes', 'high', true)]).font =
    { bold: true };
}

/** Which sum of the totals a line belongs to. */
const GROUPS: readonly { readonly title: string; readonly kinds: readonly Line['kind'][]; readonly taxed: string }[] = [
  { title: 'Labour', kinds: ['labour', 'set-up'], taxed: 'labour' },
  { title: 'Parts', kinds: ['part', 'bought'], taxed: 'parts' },
  { title: 'Supplies', kinds: ['consumable', 'supplies'], taxed: 'supplies' },
  { title: 'Sent out', kinds: ['sent-out'], taxed: 'sent_out' },
];

function estimateSheet(sheet: Sheet, estimate: NonNullable<Plan['estimate']>): void {
  const { digits, totals, lines, currency } = estimate;
  heading(
    sheet,
    ['Kind', 'Text', 'Quantity', 'Unit', `Price [${currency}]`, `Amount [${currency}]`, 'Because'],
    [12, 70, 10, 6, 14, 14, 50],
  );
  for (const line of lines)
    addRow(sheet, [
      line.kind,
      line.note ? `${line.text} (${line.note})` : line.text,
      Number(line.quantity),
      line.unit,
      line.price === null ? 'no price' : Number(line.price),
      amountCell(line, sheet.rowCount + 1, digits),
      line.because.join('; '),
    ]);
  const last = sheet.rowCount;
  const at = new Map<string, number>();
  const total = (title: string, name: string, formula: string, result: string): void => {
    addRow(sheet, ['', title, '', '', '', { formula, result: Number(result) }]).font = { bold: true };
    at.set(name, sheet.rowCount);
  };
  const range = (column: string): string => `${column}2:${column}${Math.max(2, last)}`;
  const results: Readonly<Record<string, string>> = {
    labour: totals.labour,
    parts: totals.parts,
    supplies: totals.supplies,
    sent_out: totals.sent_out,
  };
  for (const { title, kinds, taxed } of GROUPS)
    total(title, taxed, kinds.map((kind) => `SUMIF(${range('A')},"${kind}",${range('F')})`).join('+'), results[taxed] as string);
  const sums = GROUPS.map(({ taxed }) => `F${at.get(taxed)}`).join('+');
  addRow(sheet, ['', 'Contingency, % of the sums above', Number(estimate.contingency_rate), '%']);
  const rate = `C${sheet.rowCount}`;
  total('Contingency', 'contingency', `ROUND((${sums})*${rate}/100,${digits})`, totals.contingency);
  total('Net', 'net', `${sums}+F${at.get('contingency')}`, totals.net);
  const taxes = totals.tax.map(({ name, rate: text, groups, on, amount }, i) => {
    addRow(sheet, [
      '',
      `${name}: on`,
      Number(text.replace(/\s*%$/, '')),
      '%',
      { formula: groups.map((group) => `F${at.get(group)}`).join('+'), result: Number(on) },
    ]);
    const row = sheet.rowCount;
    total(name, `tax${i}`, `ROUND(E${row}*C${row}/100,${digits})`, amount);
    return `F${at.get(`tax${i}`)}`;
  });
  total(
    estimate.complete ? 'Total (estimate)' : 'Total so far (estimate; something is open)',
    'total',
    [`F${at.get('net')}`, ...taxes].join('+'),
    totals.total,
  );
  sheet.getColumn(6).numFmt = `#,##0${digits > 0 ? `.${'0'.repeat(digits)}` : ''}`;
  for (const text of [
    estimate.wording,
    ...estimate.exclusions.map((one) => `Not in it: ${one}`),
    `It holds for ${estimate.valid_days} days.`,
  ])
    addRow(sheet, ['', text]);
}

const amountCell = ({ unit, amount }: Line, row: number, digits: number): Cell =>
  amount === null ? 'no price' : { formula: `ROUND(C${row}*E${row}${unit === '%' ? '/100' : ''},${digits})`, result: Number(amount) };

function calendarSheet(sheet: Sheet, { calendar, check: { work } }: Plan): void {
  heading(sheet, ['What', 'From', 'To', 'Ready', 'Text'], [45, 20, 20, 20, 60]);
  const titles = new Map(work.steps.map(({ id, title }) => [id, title]));
  for (const { what, from, to, ready } of calendar.entries)
    addRow(sheet, [what, momentText(from), momentText(to), ready ? momentText(ready) : '', titles.get(what) ?? '']);
  for (const { after, date, steps } of calendar.visits)
    addRow(sheet, [`Visit after ${after.value} ${after.unit}`, date ?? '', '', '', steps.map((id) => titles.get(id) ?? id).join('; ')]);
}

const TOLD = ['Section', 'What', 'Of', 'Value', 'Unit', '±', 'As read', 'Text'];

function besideSheet(sheet: Sheet, lines: readonly Beside[]): void {
  heading(sheet, TOLD, [28, 50, 24, 14, 10, 10, 20, 80]);
  for (const { section, what, of, value, unit, plusMinus, text } of lines)
    addRow(sheet, [section, what, of, value ?? '', unit, plusMinus ?? '', '', text]);
}
