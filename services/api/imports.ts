/** Many entries at once, with a report by row and column: all or nothing, or the good rows, in one transaction. */
import { setImmediate } from 'node:timers/promises';
import type { z } from 'zod';
import { type NewEntry, type Noun, type Put, putEntries } from '../../db/catalogue.ts';
import type { Tables } from '../../db/open.ts';
import type { RequestFault } from '../vehicle/index.ts';
import { ApiError, type Fault } from './errors.ts';
import type { RawRow, Rows } from './import-csv.ts';
import { faultsOf } from './validation.ts';

export const MOST_ROWS = 200_000;
export const MOST_FAULTS = 1000;
/** Rows read between two looks at what else the service has to do. */
const ROWS_A_TURN = 200;

export interface Importing {
  readonly noun: Noun;
  readonly schema: z.ZodType;
  /** What the form cannot say. */
  readonly faults: (entry: NewEntry) => Promise<readonly RequestFault[]> | readonly RequestFault[];
}

export interface Read {
  readonly rows: number;
  readonly entries: readonly NewEntry[];
  readonly refused: number;
  /** The first of them. */
  readonly faults: readonly Fault[];
  readonly faultsFound: number;
}

export interface ImportReport extends Put {
  readonly rows: number;
  readonly refused: number;
  readonly faults: readonly Fault[];
  readonly faults_left_out: number;
}

/** Rows of a list in JSON; a column of theirs is the path to the value. */
export const readList = (items: readonly unknown[]): Rows => ({ rows: listed(items), faults: [] });

async function* listed(items: readonly unknown[]): AsyncGenerator<RawRow, void, undefined> {
  const columnOf = (pointer: string): string => pointer.slice(1).replaceAll('/', '.').replaceAll('~1', '/').replaceAll('~0', '~');
  for (const entry of items) yield { entry, columnOf };
}

/** Reads every row, whatever is wrong with others and with the heading. Throws the problem with the heading, and all else, at the end. */
export async function readRows(raw: Rows, { schema, faults: faultsOfEntry }: Importing): Promise<Read> {
  const entries: NewEntry[] = [];
  const faults: Fault[] = [...raw.faults];
  const seen = new Map<string, number>();
  let [rows, refused, faultsFound] = [0, 0, raw.faults.length];
  for await (const { entry, fault, sheetRow, columnOf } of raw.rows) {
    const row = ++rows;
    if (rows % ROWS_A_TURN === 0) await setImmediate();
    if (rows > MOST_ROWS) throw new ApiError('BODY_TOO_LARGE', `An import takes ${MOST_ROWS} rows; send it in parts.`);
    const parsed = fault ? undefined : schema.safeParse(entry, { reportInput: true });
    const found: Omit<Fault, 'row'>[] = fault ? [{ pointer: '', ...fault }] : [...faultsOf(parsed?.error?.issues ?? [], schema, entry)];
    const good = parsed?.success ? (parsed.data as NewEntry) : undefined;
    if (good) {
      found.push(...(await faultsOfEntry(good)));
      const before = seen.get(good.id);
      if (before !== undefined) found.push(twice(good.id, before));
      else seen.set(good.id, row);
    }
    if (good && found.length === 0) {
      entries.push(good);
      continue;
    }
    refused++;
    faultsFound += found.length;
    for (const one of found.slice(0, MOST_FAULTS - faults.length))
      faults.push({
        ...one,
        pointer: `/${row - 1}${one.pointer}`,
        row,
        ...(sheetRow !== undefined && { sheet_row: sheetRow }),
        ...(one.pointer && { column: columnOf(one.pointer) }),
      });
  }
  if (raw.faults.length > 0)
    throw new ApiError('IMPORT_INVALID', `${listOf(raw.faults)} cannot be taken. Nothing was taken.`, faults.slice(0, MOST_FAULTS));
  return { rows, entries, refused, faults, faultsFound };
}

const listOf = (faults: readonly Fault[]): string =>
  `${faults.length === 1 ? 'The column' : 'The columns'} ${faults.map(({ column }) => `\`${column}\``).join(', ')}`;

const twice = (id: string, before: number): RequestFault => ({
  pointer: '/id',
  code: 'ID_TWICE',
  message: `\`${id}\` already stands in row ${before}`,
  help: 'keep one of the two, or give them ids of their own',
});

/** Takes what was read, all or none of it; rows with faults are left out when only the good ones are asked for. */
export async function takeRows(tables: Tables, noun: Noun, read: Read, take: 'all' | 'good'): Promise<ImportReport> {
  const { rows, entries, refused, faults, faultsFound } = read;
  if (take === 'all' && refused > 0)
    throw new ApiError(
      'IMPORT_INVALID',
      `${refused} of ${rows} rows cannot be taken, with ${faultsFound} faults. Nothing was taken.`,
      faults,
    );
  const put = await putEntries(tables, noun, entries);
  return { rows, ...put, refused, faults, faults_left_out: faultsFound - faults.length };
}
