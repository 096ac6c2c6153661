/** Files of tables on disk for as long as they are read: what arrives, and what is kept with a job. */
import { createHash, type Hash } from 'node:crypto';
import { createReadStream, createWriteStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { Tables } from '../../db/open.ts';
import { getSheetJob, rowOutcomes, type SheetJob, sheetBytes } from '../../db/sheet-jobs.ts';
import { addedHeadings, type Columns } from '../sheets/columns.ts';
import { openSheet } from '../sheets/open-sheet.ts';
import { faultCells, furtherCells, leftAloneCells, remarkedCells } from '../sheets/row-answer.ts';
import type { RowFault } from '../sheets/row-request.ts';
import { type AddedCell, MOST_BYTES, SheetRefused, type TableReader } from '../sheets/table.ts';
import { NOT_CHECKED } from './sheet-run.ts';

export interface KeptFile {
  readonly path: string;
  /** SHA-256 of its bytes. */
  readonly hash: string;
  remove(): Promise<void>;
}

/** Writes bytes to a file of its own; throws `SheetRefused` past the limit, with nothing left behind. */
export async function keepFile(bytes: AsyncIterable<Uint8Array>): Promise<KeptFile> {
  const folder = await mkdtemp(join(tmpdir(), 'fettle-sheet-'));
  const path = join(folder, 'sheet');
  const remove = (): Promise<void> => rm(folder, { recursive: true, force: true });
  try {
    const hash = createHash('sha256');
    await pipeline(Readable.from(limited(bytes, hash)), createWriteStream(path));
    return { path, hash: hash.digest('base64url'), remove };
  } catch (error) {
    await remove();
    throw error;
  }
}

async function* limited(bytes: AsyncIterable<Uint8Array>, hash: Hash): AsyncGenerator<Uint8Array, void, undefined> {
  let taken = 0;
  for await (const piece of bytes) {
    taken += piece.length;
    if (taken > MOST_BYTES) throw new SheetRefused('SHEET_TOO_LARGE', `the file has more than ${MOST_BYTES >> 20} MiB`, 'send it in parts');
    hash.update(piece);
    yield piece;
  }
}

const PIECE = 256 << 10;

export const piecesOf = (path: string): AsyncIterable<Uint8Array> => createReadStream(path, { highWaterMark: PIECE });

/** The table of a job, which takes its file along when it is closed. */
export async function openKept(tables: Tables, job: string): Promise<TableReader> {
  const kept = await getSheetJob(tables, job);
  const file = await keepFile(sheetBytes(tables, job));
  try {
    const table = await openSheet(file.path, (kept?.columns as JobColumns | undefined)?.sheet);
    return {
      form: table.form,
      rows: () => table.rows(),
      answered: (width, added) => table.answered(width, added),
      close: async () => {
        await table.close();
        await file.remove();
      },
    };
  } catch (error) {
    await file.remove();
    throw error;
  }
}

export interface JobColumns {
  readonly found: Columns;
  readonly width: number;
  readonly sheet?: string;
}

const ROWS_A_PAGE = 500;

/** The sheet with what became of its rows so far. */
export async function* answeredSheet(tables: Tables, job: SheetJob): AsyncGenerator<Uint8Array, void, undefined> {
  const { found, width } = job.columns as unknown as JobColumns;
  const { units } = job.asked as { units: 'metric' | 'us' };
  const table = await openKept(tables, job.id);
  const outcomes = outcomesOf(tables, job.id);
  try {
    yield* table.answered(width, async (n) => {
      if (n < found.row) return undefined;
      if (n === found.row) return addedHeadings(found, units);
      const outcome = await outcomes(n);
      if (outcome) return outcome.done ? cellsOf(outcome) : faultCells([], unfinished(job));
      return n > job.atRow && job.state !== 'done' ? faultCells([], unfinished(job)) : undefined;
    });
  } finally {
    await table.close();
  }
}

const unfinished = ({ state }: SheetJob): string => (state === 'cancelled' ? 'cancelled before this row' : 'not reached yet');

type Outcome = Awaited<ReturnType<typeof rowOutcomes>>[number];

/** Rows are asked for in their order; a page of them is in memory. */
function outcomesOf(tables: Tables, job: string): (n: number) => Promise<Outcome | undefined> {
  let page: readonly Outcome[] = [];
  let at = 0;
  let whole = false;
  return async (n) => {
    while (page[at] && (page[at] as Outcome).row < n) at++;
    if (!page[at] && !whole) {
      page = await rowOutcomes(tables, job, n, ROWS_A_PAGE);
      whole = page.length < ROWS_A_PAGE;
      at = 0;
    }
    return page[at]?.row === n ? page[at] : undefined;
  };
}

function cellsOf({ row, first, faults, verdict, cells }: Outcome): readonly AddedCell[] {
  const all = faults === null ? [] : (JSON.parse(faults) as RowFault[]);
  if (all.some(({ leftAlone }) => leftAlone)) return leftAloneCells(all);
  if (all.some(({ remark }) => !remark)) return faultCells(all);
  if (cells === null)
    return faultCells([], row === first ? 'a further row of this build has a fault' : `not checked: row ${first} is of the same build`);
  return row === first ? remarkedCells(JSON.parse(cells) as AddedCell[], all) : furtherCells(verdict ?? NOT_CHECKED, first);
}
