/** Sheets as the service takes them: the queue that works them off, with the catalogue and the checks behind it. */
import { LRUCache } from 'lru-cache';
import type { SheetJob } from '../../db/sheet-jobs.ts';
import { type JobColumns, openKept } from '../jobs/sheet-files.ts';
import { type SheetQueue, sheetQueue, type Times } from '../jobs/sheet-queue.ts';
import { HEADINGS_FILE } from '../paths.ts';
import { reportOf } from '../sheets/columns.ts';
import { readHeadings } from '../sheets/headings.ts';
import type { RowReader } from '../sheets/row-request.ts';
import type { CheckRequest } from '../vehicle/index.ts';
import type { Checked } from '../workshop/index.ts';
import type { AppParts } from './app.ts';
import { entriesFor, type Lookup } from './catalogue.ts';
import { CHECK_THREADS, runCheck } from './checks.ts';
import { ApiError } from './errors.ts';
import { storedNames } from './names.ts';
import { storedLookup } from './stored-catalogue.ts';

const BUSY_MS = 250;
const VERSIONS_REMEMBERED = 500;
/** A row tells the next one. */
export const READINGS_A_ROW = 1;

export interface Sheets {
  readonly queue: SheetQueue;
  /** A reader that remembers names for as long as it lives. */
  reader(): RowReader;
}

type Needed = Pick<AppParts, 'database' | 'library' | 'checks'> & {
  readonly times?: Partial<Times>;
  readonly onError?: (error: unknown) => void;
};

export function sheetsOf({ database, library, checks, times, onError }: Needed): Sheets {
  const { tables } = database;
  const lookup = storedLookup(tables);
  const headings = readHeadings(HEADINGS_FILE, library);
  const reader = (): RowReader => ({ headings, library, names: storedNames(tables, library) });
  const queue = sheetQueue({
    database,
    tables,
    reader,
    versions: () => versionsIn(library.hash, lookup),
    // As many at once as there are workers: requests in between wait for one check, not for the sheet.
    threads: CHECK_THREADS,
    check: async (request) => {
      const entries = await entriesFor(request, lookup);
      return patiently(() => runCheck(checks, { ...request, most_readings: READINGS_A_ROW }, entries), onError);
    },
    open: (job) => openKept(tables, job),
    ...(times && { times }),
    ...(onError && { onError }),
  });
  return { queue, reader };
}

/** What the rules and the entries that a request names are at, as far as a run knows: it asks for each set of names once. */
function versionsIn(rules: string, lookup: Lookup): (request: CheckRequest) => Promise<string> {
  const known = new LRUCache<string, Promise<string>>({ max: VERSIONS_REMEMBERED });
  return ({ vehicle, parts = [] }) => {
    const named = [vehicle, ...parts].map((one) => (one.from === 'inline' ? '' : 'vehicle' in one ? one.vehicle : one.part));
    const key = JSON.stringify(named);
    const found = known.get(key) ?? entriesFor({ vehicle, parts }, lookup).then(({ hash }) => `${rules} ${hash}`);
    known.set(key, found);
    return found;
  };
}

/** Requests come first: a full queue of checks is waited for. A check that fails costs its row, not the sheet. */
async function patiently(check: () => Promise<Checked>, onError: (error: unknown) => void = () => {}): Promise<Checked> {
  for (;;) {
    try {
      return await check();
    } catch (error) {
      if (!(error instanceof ApiError && error.code === 'UNAVAILABLE')) {
        onError(error);
        return FAILED;
      }
      await new Promise((done) => setTimeout(done, BUSY_MS));
    }
  }
}

const FAILED: Checked = {
  ok: false,
  faults: [
    { pointer: '', code: 'INTERNAL', message: 'the service failed at this build', help: 'it is our fault; tell whoever runs the service' },
  ],
};

export function jobView({ id, name, form, state, rows, done, counts, asked, columns, problem, at, finishedAt, key }: SheetJob) {
  const { found } = columns as unknown as JobColumns;
  return {
    id,
    name,
    form,
    state,
    rows: { total: rows, done },
    rows_are: found.rows,
    builds: { conflict: 0, unknown: 0, close: 0, clear: 0, not_checked: 0, ...counts },
    units: (asked as { units: 'metric' | 'us' }).units,
    columns: reportOf(found),
    problem,
    created_at: at.toISOString(),
    finished_at: finishedAt?.toISOString() ?? null,
    key,
  };
}
