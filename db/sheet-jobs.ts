/**
 * Tables of builds in the making. A job moves on by one transaction at a time, which holds the rows that were done, the answers they
 * rest on and how far it is, and only by the worker who has it: whoever lost it in the meantime writes nothing.
 */
import { and, asc, desc, eq, gt, inArray, lt, or, sql } from 'drizzle-orm';
import { v7 as newId } from 'uuid';
import { rowsOf, type Tables } from './open.ts';
import { sheetAnswers, sheetJobs, sheetPieces, sheetRows } from './schema.ts';

export type SheetJob = typeof sheetJobs.$inferSelect;
export type JobState = SheetJob['state'];
export type NewSheetJob = Pick<SheetJob, 'name' | 'form' | 'asked' | 'columns' | 'rows' | 'gathered' | 'once' | 'request' | 'key'>;
export type Counts = Readonly<Record<string, number>>;

/** Keeps the file with its job; with a key that came before, that job is given, and nothing kept. */
export async function createSheetJob(tables: Tables, job: NewSheetJob, pieces: AsyncIterable<Uint8Array>): Promise<SheetJob> {
  return tables.transaction(async (inside) => {
    const [added] = await inside
      .insert(sheetJobs)
      .values({ id: newId(), state: 'queued', ...job })
      .onConflictDoNothing({ target: sheetJobs.once })
      .returning();
    if (!added)
      return (
        await inside
          .select()
          .from(sheetJobs)
          .where(eq(sheetJobs.once, job.once as string))
      )[0] as SheetJob;
    let n = 0;
    for await (const bytes of pieces) await inside.insert(sheetPieces).values({ job: added.id, n: n++, bytes });
    return added;
  });
}

export async function getSheetJob(tables: Tables, id: string): Promise<SheetJob | undefined> {
  const [found] = await tables.select().from(sheetJobs).where(eq(sheetJobs.id, id));
  return found;
}

/** Newest first, one more than asked for to know whether there is a next page. */
export const listSheetJobs = (tables: Tables, after: string | undefined, limit: number): Promise<SheetJob[]> =>
  tables
    .select()
    .from(sheetJobs)
    .where(after === undefined ? undefined : lt(sheetJobs.id, after))
    .orderBy(desc(sheetJobs.id))
    .limit(limit + 1);

/** The file's bytes, a piece in memory at a time. */
export async function* sheetBytes(tables: Tables, job: string): AsyncGenerator<Uint8Array, void, undefined> {
  for (let n = 0; ; n++) {
    const [piece] = await tables
      .select({ bytes: sheetPieces.bytes })
      .from(sheetPieces)
      .where(and(eq(sheetPieces.job, job), eq(sheetPieces.n, n)));
    if (!piece) return;
    yield piece.bytes;
  }
}

/** The job is the worker's from now on, unless it is over or another has said something within the silence allowed. */
export async function claimSheetJob(tables: Tables, id: string, worker: string, silenceSeconds: number): Promise<SheetJob | undefined> {
  const silent = sql`${sheetJobs.beat} < now() - make_interval(secs => ${silenceSeconds}::float8)`;
  const [claimed] = await tables
    .update(sheetJobs)
    .set({ state: 'running', worker, beat: sql`now()` })
    .where(
      and(
        eq(sheetJobs.id, id),
        inArray(sheetJobs.state, ['queued', 'running']),
        or(sql`${sheetJobs.worker} is null`, eq(sheetJobs.worker, worker), silent),
      ),
    )
    .returning();
  return claimed;
}

/** Lets another take over at once. */
export const releaseSheetJob = async (tables: Tables, id: string, worker: string): Promise<void> =>
  void (await tables
    .update(sheetJobs)
    .set({ worker: null })
    .where(and(eq(sheetJobs.id, id), eq(sheetJobs.worker, worker))));

/** Open jobs that nobody works on. */
export async function abandonedSheetJobs(tables: Tables, silenceSeconds: number): Promise<string[]> {
  const rows = await tables
    .select({ id: sheetJobs.id })
    .from(sheetJobs)
    .where(
      and(
        inArray(sheetJobs.state, ['queued', 'running']),
        or(
          sql`coalesce(${sheetJobs.beat}, ${sheetJobs.at}) < now() - make_interval(secs => ${silenceSeconds}::float8)`,
          and(eq(sheetJobs.state, 'running'), sql`${sheetJobs.worker} is null`),
        ),
      ),
    )
    .orderBy(asc(sheetJobs.id))
    .limit(100);
  return rows.map(({ id }) => id);
}

/** The job was cancelled, or taken over, while its worker was at it. */
export class JobLost extends Error {
  override readonly name = 'JobLost';
}

interface Mine {
  readonly id: string;
  readonly worker: string;
  /** Where the worker thinks it is. */
  readonly from: number;
}

/** Moves the job on, first thing in a transaction, so that nothing of a lost job is written. Throws `JobLost`. */
async function moveOn(inside: Tables, { id, worker, from }: Mine, set: Partial<typeof sheetJobs.$inferInsert>): Promise<void> {
  const moved = await inside
    .update(sheetJobs)
    .set({ ...set, beat: sql`now()` as never })
    .where(and(eq(sheetJobs.id, id), eq(sheetJobs.state, 'running'), eq(sheetJobs.worker, worker), eq(sheetJobs.atRow, from)))
    .returning({ id: sheetJobs.id });
  if (moved.length === 0) throw new JobLost(`job ${id} is not at row ${from} with ${worker} any more`);
}

export interface GatheredRow {
  readonly row: number;
  readonly build: string | null;
  readonly cells: string;
}

/** Keeps rows that are parts until all of their builds are there. */
export const gatherRows = (tables: Tables, mine: Mine, rows: readonly GatheredRow[]): Promise<void> =>
  tables.transaction(async (inside) => {
    await moveOn(inside, mine, { atRow: rows.at(-1)?.row ?? mine.from });
    await inside.execute(sql`
      insert into sheet_rows (job, row, first, build, cells, done)
      select ${mine.id}, r.row, r.row, r.build, r.cells, false
      from jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) as r(row int, build text, cells text)`);
  });

/** Each row gets the first row of its build; a row that names none stands alone. */
export const bringTogether = (tables: Tables, mine: Mine): Promise<void> =>
  tables.transaction(async (inside) => {
    await moveOn(inside, mine, { gathered: true, atRow: 0 });
    await inside.execute(sql`
      update sheet_rows r set first = f.first
      from (select build, min(row) as first from sheet_rows where job = ${mine.id} and build is not null group by build) f
      where r.job = ${mine.id} and r.build = f.build and r.first <> f.first`);
  });

export interface GatheredBuild {
  readonly first: number;
  readonly rows: readonly { readonly row: number; readonly cells: string; readonly build: string | null }[];
}

/** The next builds behind a row, by their first rows, each with as many rows as asked for at most. */
export async function nextBuilds(tables: Tables, id: string, after: number, builds: number, mostRows: number): Promise<GatheredBuild[]> {
  const found = rowsOf<{ first: number; row: number; build: string | null; cells: string }>(
    await tables.execute(sql`
      select first, row, build, cells from (
        select r.first, r.row, r.build, r.cells, row_number() over (partition by r.first order by r.row) as n
        from sheet_rows r
        where r.job = ${id} and r.first in (
          select distinct first from sheet_rows where job = ${id} and first > ${after} order by first limit ${builds}::int)) b
      where n <= ${mostRows}::int order by first, row`),
  );
  const byFirst = new Map<number, GatheredBuild['rows'][number][]>();
  for (const { first, ...row } of found) byFirst.set(first, [...(byFirst.get(first) ?? []), row]);
  return [...byFirst].map(([first, rows]) => ({ first, rows }));
}

export interface DoneBuild {
  readonly first: number;
  /** Hash of its answer; none where a fault kept it from being checked. */
  readonly answer: string | null;
  readonly faults: readonly { readonly row: number; readonly faults: string }[];
}

export interface NewAnswerCells {
  readonly hash: string;
  readonly verdict: string;
  readonly cells: string;
}

/** Writes what became of builds, with the answers that are new. Where rows are builds, their rows begin here. */
export const commitBuilds = (
  tables: Tables,
  mine: Mine,
  {
    builds,
    answers,
    gathered,
    counts,
  }: { builds: readonly DoneBuild[]; answers: readonly NewAnswerCells[]; gathered: boolean; counts: Counts },
): Promise<number> =>
  tables.transaction(async (inside) => {
    const last = builds.at(-1)?.first ?? mine.from;
    await moveOn(inside, mine, { atRow: last, counts });
    if (answers.length > 0)
      await inside.execute(sql`
        insert into sheet_answers (job, hash, verdict, cells)
        select ${mine.id}, a.hash, a.verdict, a.cells
        from jsonb_to_recordset(${JSON.stringify(answers)}::jsonb) as a(hash text, verdict text, cells text)
        on conflict do nothing`);
    const list = JSON.stringify(builds.map(({ first, answer }) => ({ first, answer })));
    const written = gathered
      ? await inside.execute(sql`
          update sheet_rows r set done = true, answer = b.answer, cells = null
          from jsonb_to_recordset(${list}::jsonb) as b(first int, answer text)
          where r.job = ${mine.id} and r.first = b.first and not r.done returning r.row`)
      : await inside.execute(sql`
          insert into sheet_rows (job, row, first, done, answer)
          select ${mine.id}, b.first, b.first, true, b.answer from jsonb_to_recordset(${list}::jsonb) as b(first int, answer text)
          returning row`);
    const faults = builds.flatMap((build) => build.faults);
    if (faults.length > 0)
      await inside.execute(sql`
        update sheet_rows r set faults = f.faults
        from jsonb_to_recordset(${JSON.stringify(faults)}::jsonb) as f(row int, faults text) where r.job = ${mine.id} and r.row = f.row`);
    const done = rowsOf(written).length;
    await inside
      .update(sheetJobs)
      .set({ done: sql`${sheetJobs.done} + ${done}` as never })
      .where(eq(sheetJobs.id, mine.id));
    return done;
  });

export async function knownAnswers(tables: Tables, job: string, hashes: readonly string[]): Promise<Map<string, string>> {
  if (hashes.length === 0) return new Map();
  const rows = await tables
    .select({ hash: sheetAnswers.hash, verdict: sheetAnswers.verdict })
    .from(sheetAnswers)
    .where(and(eq(sheetAnswers.job, job), inArray(sheetAnswers.hash, [...hashes])));
  return new Map(rows.map(({ hash, verdict }) => [hash, verdict]));
}

/** Ends a job that its worker has. */
export const finishSheetJob = (tables: Tables, mine: Mine, problem?: string): Promise<void> =>
  tables.transaction((inside) =>
    moveOn(inside, mine, {
      state: problem === undefined ? 'done' : 'failed',
      problem: problem ?? null,
      worker: null,
      finishedAt: sql`now()` as never,
    }),
  );

/** Says that the worker is still there. Throws `JobLost`. */
export const beat = (tables: Tables, mine: Mine): Promise<void> => moveOn(tables, mine, {});

/** Ends or begins again a job, whoever works on it; nothing when it is not in one of the states it can be taken from. */
export async function setJobState(
  tables: Tables,
  id: string,
  to: 'cancelled' | 'queued',
  from: readonly JobState[],
): Promise<SheetJob | undefined> {
  const finishedAt = to === 'cancelled' ? sql`now()` : sql`null`;
  const [changed] = await tables
    .update(sheetJobs)
    .set({ state: to, worker: null, beat: null, problem: null, finishedAt: finishedAt as never })
    .where(and(eq(sheetJobs.id, id), inArray(sheetJobs.state, [...from])))
    .returning();
  return changed;
}

export interface RowOutcome {
  readonly row: number;
  readonly first: number;
  readonly done: boolean;
  readonly faults: string | null;
  readonly verdict: string | null;
  readonly cells: string | null;
}

/** What became of rows, from one on, in their order. Their answers are looked up by their hashes: a join may go through all there are. */
export async function rowOutcomes(tables: Tables, job: string, from: number, limit: number): Promise<RowOutcome[]> {
  const rows = await tables
    .select({ row: sheetRows.row, first: sheetRows.first, done: sheetRows.done, faults: sheetRows.faults, answer: sheetRows.answer })
    .from(sheetRows)
    .where(and(eq(sheetRows.job, job), gt(sheetRows.row, from - 1)))
    .orderBy(asc(sheetRows.row))
    .limit(limit);
  const hashes = [...new Set(rows.flatMap(({ answer }) => answer ?? []))];
  const answers =
    hashes.length === 0
      ? []
      : await tables
          .select({ hash: sheetAnswers.hash, verdict: sheetAnswers.verdict, cells: sheetAnswers.cells })
          .from(sheetAnswers)
          .where(and(eq(sheetAnswers.job, job), inArray(sheetAnswers.hash, hashes)));
  const known = new Map(answers.map((answer) => [answer.hash, answer]));
  return rows.map(({ answer, ...row }) => {
    const found = answer === null ? undefined : known.get(answer);
    return { ...row, verdict: found?.verdict ?? null, cells: found?.cells ?? null };
  });
}

export async function deleteSheetJob(tables: Tables, id: string): Promise<boolean> {
  return (await tables.delete(sheetJobs).where(eq(sheetJobs.id, id)).returning({ id: sheetJobs.id })).length > 0;
}

export const SHEETS_KEPT_DAYS = 7;

export const forgetOldSheets = async (tables: Tables): Promise<void> =>
  void (await tables.delete(sheetJobs).where(lt(sheetJobs.at, sql`now() - make_interval(days => ${SHEETS_KEPT_DAYS}::int)`)));
