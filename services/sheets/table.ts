/** A table as it comes out of a file and goes back into one: rows of texts, nothing understood yet. */

export interface TableRow {
  /** As a spreadsheet counts: the first is 1, headings included. */
  readonly n: number;
  /** A cell that is not there is `''`. A number is as it was written, with a point. */
  readonly cells: readonly string[];
}

/** What we add to a row: a number, a text, or nothing. */
export type AddedCell = string | number | null;

export interface TableReader {
  readonly form: SheetForm;
  /** Rows in their order. May be read more than once. */
  rows(): AsyncIterable<TableRow>;
  /**
   * The same table with cells added behind its widest row: the bytes of a file. `added` is asked for every row in its order, with the
   * same numbers as `rows`, and gives nothing for a row that is to stay as it is.
   */
  answered(width: number, added: (n: number) => Promise<readonly AddedCell[] | undefined>): AsyncIterable<Uint8Array>;
  close(): Promise<void>;
}

export type SheetForm = 'csv' | 'xlsx';

export const MEDIA_TYPES: Readonly<Record<SheetForm, string>> = {
  csv: 'text/csv; charset=utf-8',
  xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
};

/** A table that cannot be taken, with the reason and what to do. */
export class SheetRefused extends Error {
  override readonly name = 'SheetRefused';
  readonly code: string;
  readonly help: string;
  readonly row: number | undefined;

  constructor(code: string, message: string, help: string, row?: number) {
    super(message);
    this.code = code;
    this.help = help;
    this.row = row;
  }
}

export const MOST_ROWS = 100_000;
export const MOST_COLUMNS = 500;
export const MOST_BYTES = 64 << 20;
/** A cell of a spreadsheet holds no more. */
export const LONGEST_CELL = 32_767;

/** Counts what a reader gives, and refuses what is more than is taken. */
export async function* bounded(rows: AsyncIterable<TableRow>): AsyncGenerator<TableRow, void, undefined> {
  let read = 0;
  for await (const row of rows) {
    if (++read > MOST_ROWS + 20) throw new SheetRefused('SHEET_TOO_LONG', `the sheet has more than ${MOST_ROWS} rows`, 'send it in parts');
    if (row.cells.length > MOST_COLUMNS)
      throw new SheetRefused(
        'SHEET_TOO_WIDE',
        `row ${row.n} has more than ${MOST_COLUMNS} cells`,
        'leave out columns that say nothing of a build',
        row.n,
      );
    yield row;
  }
}
