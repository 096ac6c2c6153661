/** Opens a table by what its bytes are, and reads it through once: its headings, how wide and how long it is, and whether it can be read to the end. */
import { createHash } from 'node:crypto';
import { open } from 'node:fs/promises';
import { type Columns, findColumns } from './columns.ts';
import { openCsv } from './csv.ts';
import type { Headings, RowsAre } from './headings.ts';
import { MOST_ROWS, SheetRefused, type TableReader, type TableRow } from './table.ts';
import { openXlsx } from './xlsx.ts';

const SAVE_AS = 'save it as .xlsx or CSV';

export async function openSheet(file: string, sheet?: string): Promise<TableReader> {
  const start = await firstBytes(file);
  if (start.length === 0)
    throw new SheetRefused('SHEET_EMPTY', 'there is nothing in the file', 'send a table whose first row names the columns');
  if (start.subarray(0, 4).equals(ZIP)) return openXlsx(file, sheet);
  if (start.subarray(0, 4).equals(COMPOUND))
    throw new SheetRefused('XLSX_LOCKED', 'the workbook has a password, or is of the old form .xls', SAVE_AS);
  if (start.subarray(0, 5).toString('latin1') === '%PDF-') throw new SheetRefused('SHEET_NOT_TEXT', 'this is a PDF', SAVE_AS);
  return openCsv(file);
}

const ZIP = Buffer.from([0x50, 0x4b, 0x03, 0x04]);
const COMPOUND = Buffer.from([0xd0, 0xcf, 0x11, 0xe0]);

async function firstBytes(file: string): Promise<Buffer> {
  const handle = await open(file);
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(8), 0, 8, 0);
    return buffer.subarray(0, bytesRead);
  } finally {
    await handle.close();
  }
}

export interface Inspected {
  readonly columns: Columns;
  /** Cells of the widest row; ours come behind. */
  readonly width: number;
  /** Rows below the headings that say something. */
  readonly rows: number;
}

const FIRST_ROWS = 10;

/** Throws `SheetRefused` for a table that cannot be read to its end, or says nothing of builds. */
export async function inspect(table: TableReader, headings: Headings, asked: RowsAre | undefined): Promise<Inspected> {
  const first: TableRow[] = [];
  let [width, rows] = [0, 0];
  let columns: Columns | undefined;
  const names = new BuildNames();
  const count = (row: TableRow, found: Columns): void => {
    if (!isBuildRow(row, found)) return;
    if (++rows > MOST_ROWS) throw new SheetRefused('SHEET_TOO_LONG', `the sheet has more than ${MOST_ROWS} rows`, 'send it in parts');
    names.add(row, found);
  };
  const begin = (): Columns => {
    const found = findColumns(first, headings, asked);
    for (const row of first) count(row, found);
    return found;
  };
  for await (const row of table.rows()) {
    width = Math.max(width, row.cells.length);
    if (columns) count(row, columns);
    else if (first.push(row) >= FIRST_ROWS) columns = begin();
  }
  columns ??= begin();
  if (rows === 0) throw new SheetRefused('SHEET_EMPTY', 'there is no row below the headings', 'write a build in each row', columns.row);
  return { columns: { ...columns, ...(names.repeats && { repeats: names.repeats }) }, width, rows };
}

/** Names of builds, where each row is one, and which stand there again. Of a name a short hash is kept: texts would keep their file. */
class BuildNames {
  repeats: Record<number, number> | undefined;
  readonly #rows = new Map<string, number>();
  #told = 0;

  add({ n, cells }: TableRow, { rows, all }: Columns): void {
    const name = (rows === 'build' && cells[all.find(({ target }) => target?.is === 'build')?.index ?? -1]?.trim()) || '';
    if (name === '') return;
    const key = createHash('sha256').update(name.toLowerCase()).digest('base64url').slice(0, 12);
    const before = this.#rows.get(key);
    if (before === undefined) this.#rows.set(key, n);
    else if (this.#told++ < MOST_REPEATS) {
      this.repeats ??= {};
      this.repeats[n] = before;
    }
  }
}

/** Rows of the same name that are told of; a sheet has more only where the column names no builds. */
const MOST_REPEATS = 1000;

const NUMBER = /^[-+−(]?[$€£¥]?\s?[-+−]?[\d.,\s'’]*\d[\d.,]*\s*(?:\p{L}{1,3}|%|[)€£]|±.*)?$/u;

const LONGEST_NUMBER = 40;

/** A row of sums below the builds, which a spreadsheet's owner puts there: its name, and numbers. */
export function isTotals({ cells }: TableRow, { totals }: Headings): boolean {
  const [label = '', ...others] = cells.map((cell) => cell.trim()).filter((cell) => cell !== '');
  return (
    totals.has(label.toLowerCase().replace(/[\s:]+$/, '')) && others.every((cell) => cell.length < LONGEST_NUMBER && NUMBER.test(cell))
  );
}

/** A note below the table, alone in its row. */
export function isNote({ cells }: TableRow, { notes }: Headings): boolean {
  const said = cells.map((cell) => cell.trim()).filter((cell) => cell !== '');
  const [word = ''] = /^[^\s:.]+(?=[:.])/.exec(said[0]?.toLowerCase() ?? '') ?? [];
  return said.length === 1 && (notes.has(word) || /^\*/.test(said[0] as string));
}

/** Below the headings, with something in it that is not the headings again, as they stand on each page of some. */
export const isBuildRow = ({ n, cells }: TableRow, { row, all }: Columns): boolean =>
  n > row && cells.some((cell) => cell.trim() !== '') && !all.every(({ heading, index }) => (cells[index] ?? '').trim() === heading.trim());
