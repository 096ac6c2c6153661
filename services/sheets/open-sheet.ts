/** Opens a table by what its bytes are, and reads it through once: its headings, how wide and how long it is, and whether it can be read to the end. */
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
  for await (const row of table.rows()) {
    width = Math.max(width, row.cells.length);
    if (!columns && first.push(row) >= FIRST_ROWS) {
      columns = findColumns(first, headings, asked);
      rows = first.filter((one) => isBuildRow(one, columns as Columns)).length;
    } else if (columns && isBuildRow(row, columns) && ++rows > MOST_ROWS)
      throw new SheetRefused('SHEET_TOO_LONG', `the sheet has more than ${MOST_ROWS} rows`, 'send it in parts');
  }
  columns ??= findColumns(first, headings, asked);
  if (first.length < FIRST_ROWS) rows = first.filter((one) => isBuildRow(one, columns as Columns)).length;
  if (rows === 0) throw new SheetRefused('SHEET_EMPTY', 'there is no row below the headings', 'write a build in each row', columns.row);
  return { columns, width, rows };
}

const NUMBER = /^[-+−]?[\d.,\s'’]*\d[\d.,]*\s*(?:\p{L}{1,3}|%|±.*)?$/u;

/** A row of sums below the builds, which a spreadsheet's owner puts there: its name, and numbers. */
export function isTotals({ cells }: TableRow, { totals }: Headings): boolean {
  const [label = '', ...others] = cells.map((cell) => cell.trim()).filter((cell) => cell !== '');
  return totals.has(label.toLowerCase().replace(/[\s:]+$/, '')) && others.every((cell) => NUMBER.test(cell));
}

/** Below the headings, with something in it. */
export const isBuildRow = ({ n, cells }: TableRow, { row }: Columns): boolean => n > row && cells.some((cell) => cell.trim() !== '');
