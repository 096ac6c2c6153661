/** Sheets over a real database with checks that cost nothing, for tests and for the process that they kill. */
import type { Database } from '../../db/open.ts';
import { createSheetJob, type SheetJob } from '../../db/sheet-jobs.ts';
import { inspect, openSheet } from '../sheets/open-sheet.ts';
import type { Names } from '../sheets/row-request.ts';
import type { TableReader } from '../sheets/table.ts';
import { bytesOf, fileOf, headings, library } from '../sheets/testing.ts';
import type { CheckRequest } from '../vehicle/index.ts';
import type { Answer, Checked } from '../workshop/index.ts';
import { answeredSheet, openKept, piecesOf } from './sheet-files.ts';
import { type SheetQueue, sheetQueue, type Times } from './sheet-queue.ts';

/** An answer that says how many people it was asked with, so that each row's can be told from the others'. */
export const plainAnswer = ({ load }: CheckRequest): Checked =>
  ({
    ok: true,
    answer: {
      verdict: 'clear',
      checked: { as_before: 0 },
      findings: [],
      measure: [],
      work: { steps: [], hours: { low: load?.occupants ?? 0, likely: load?.occupants ?? 0, high: load?.occupants ?? 0, unit: 'h' } },
      values: {},
    } as unknown as Answer,
  }) satisfies Checked;

const CLASSES_ALONE: Names = {
  part: async () => undefined,
  like: async () => [],
  vehicle: async (id) => (library.classes.has(id) ? { from: 'class', id } : undefined),
};

export interface TestSheets {
  readonly queue: SheetQueue;
  /** Requests that were checked, in their order. */
  readonly checked: CheckRequest[];
  readonly errors: unknown[];
  add(text: string): Promise<SheetJob>;
  addFile(path: string): Promise<SheetJob>;
  result(job: SheetJob): Promise<string>;
  bytes(job: SheetJob): AsyncIterable<Uint8Array>;
}

export function testSheets(
  database: Database,
  {
    check = async (request) => plainAnswer(request),
    times,
    keepsChecked = true,
    opens,
    versions,
  }: {
    check?: (request: CheckRequest) => Promise<Checked>;
    times?: Partial<Times>;
    keepsChecked?: boolean;
    opens?: (job: string) => Promise<TableReader>;
    versions?: () => (request: CheckRequest) => Promise<string>;
  } = {},
): TestSheets {
  const { tables } = database;
  const checked: CheckRequest[] = [];
  const errors: unknown[] = [];
  const queue = sheetQueue({
    database,
    tables,
    reader: () => ({ headings, library, names: CLASSES_ALONE }),
    threads: 2,
    check: (request) => {
      if (keepsChecked) checked.push(request);
      return check(request);
    },
    open: opens ?? ((job) => openKept(tables, job)),
    onError: (error) => errors.push(error),
    ...(times && { times }),
    ...(versions && { versions }),
  });
  const addFile = async (file: string): Promise<SheetJob> => {
    const table = await openSheet(file);
    const found = await inspect(table, headings, undefined);
    return createSheetJob(
      tables,
      {
        name: 'test',
        form: table.form,
        asked: { units: 'metric' },
        columns: { found: found.columns, width: found.width },
        rows: found.rows,
        gathered: found.columns.rows !== 'part',
        once: null,
        request: '',
        key: 'test',
      },
      piecesOf(file),
    );
  };
  return {
    queue,
    checked,
    errors,
    add: (text) => addFile(fileOf(text)),
    addFile,
    bytes: (job) => answeredSheet(tables, job),
    result: async (job) => (await bytesOf(answeredSheet(tables, job))).toString(),
  };
}
