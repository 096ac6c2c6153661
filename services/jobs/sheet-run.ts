/**
 * Works a table of builds off, from wherever it is: reads the file, checks each build that is new to the job, and commits rows in their
 * order. What is committed is the whole of the progress, so that a run may end at any moment and another go on behind it.
 */
import { createHash } from 'node:crypto';
import { setImmediate } from 'node:timers/promises';
import { LRUCache } from 'lru-cache';
import type { Tables } from '../../db/open.ts';
import {
  beat,
  bringTogether,
  type Counts,
  commitBuilds,
  type DoneBuild,
  finishSheetJob,
  type GatheredRow,
  gatherRows,
  knownAnswers,
  type NewAnswerCells,
  nextBuilds,
  type SheetJob,
} from '../../db/sheet-jobs.ts';
import type { Columns } from '../sheets/columns.ts';
import { isBuildRow, isNote, isTotals } from '../sheets/open-sheet.ts';
import { answerCells } from '../sheets/row-answer.ts';
import { type Asking, type ReadBuild, type RowFault, type RowReader, readBuild } from '../sheets/row-request.ts';
import type { TableReader, TableRow } from '../sheets/table.ts';
import type { CheckRequest } from '../vehicle/index.ts';
import type { Checked } from '../workshop/index.ts';

export interface SheetRunParts {
  readonly tables: Tables;
  /** A new one for each run: it remembers what it found in the catalogue. */
  readonly reader: () => RowReader;
  readonly check: (request: CheckRequest) => Promise<Checked>;
  /** What else than the request an answer hangs on, as it is now: rules, and the entries it names. A new one for each run. */
  readonly versions?: () => (request: CheckRequest) => Promise<string>;
  /** Checks under way at once. */
  readonly threads: number;
}

export interface Run {
  readonly job: SheetJob;
  readonly worker: string;
  readonly table: TableReader;
  /** Whether to stop at the next row. */
  readonly stop: () => boolean;
}

/** Builds read and looked up together: few enough to be gone before the collector takes them for lasting, so that it is not they who grow the heap. */
const BUILDS_A_CHUNK = 100;
/** Rows are committed at least so often, so that little is done again and progress is seen. */
const COMMIT_MS = 1500;
const COMMIT_BUILDS = 200;
/** Hashes whose answers are known to be kept; beyond them the database is asked. */
const REMEMBERED = 500;
export const MOST_ROWS_A_BUILD = 200;

/** Says whether the job is over. Throws `JobLost` when it was cancelled or taken over. */
export async function runSheet(parts: SheetRunParts, run: Run): Promise<boolean> {
  return new SheetRun(parts, run).toTheEnd();
}

interface Build {
  readonly first: number;
  readonly rows: readonly TableRow[];
  /** Known before anything is read of it. */
  readonly faults: readonly RowFault[];
}

interface Outcome {
  readonly answer: string | null;
  readonly verdict: string;
  readonly faults: readonly RowFault[];
}

class SheetRun {
  readonly #parts: SheetRunParts;
  readonly #run: Run;
  readonly #columns: Columns;
  readonly #asking: Asking;
  readonly #reader: RowReader;
  readonly #versionOf: (request: CheckRequest) => Promise<string>;
  readonly #verdicts = new LRUCache<string, string>({ max: REMEMBERED });
  #at: number;
  #counts: Record<string, number>;
  #committed = performance.now();
  #builds: DoneBuild[] = [];
  #answers = new Map<string, NewAnswerCells>();
  #over = false;

  constructor(parts: SheetRunParts, run: Run) {
    this.#parts = parts;
    this.#run = run;
    this.#reader = parts.reader();
    this.#versionOf = parts.versions?.() ?? (async () => '');
    this.#columns = (run.job.columns as { readonly found: Columns }).found;
    this.#asking = run.job.asked as unknown as Asking;
    this.#at = run.job.atRow;
    this.#counts = { ...run.job.counts };
  }

  get #mine() {
    return { id: this.#run.job.id, worker: this.#run.worker, from: this.#at };
  }

  async toTheEnd(): Promise<boolean> {
    try {
      return await this.#goOn();
    } finally {
      // Checks that wait their turn for a job that was lost are not begun.
      this.#over = true;
    }
  }

  readonly #stop = (): boolean => this.#over || this.#run.stop();

  async #goOn(): Promise<boolean> {
    if (!this.#run.job.gathered && this.#columns.rows === 'part' && !(await this.#gather())) return false;
    let chunk: Build[] = [];
    for await (const build of this.#columns.rows === 'part' ? this.#gathered() : this.#plain()) {
      if (this.#stop()) break;
      chunk.push(build);
      if (chunk.length < BUILDS_A_CHUNK) continue;
      await this.#work(chunk);
      chunk = [];
    }
    if (!this.#stop()) await this.#work(chunk);
    await this.#commit();
    if (this.#stop()) return false;
    await finishSheetJob(this.#parts.tables, this.#mine);
    return true;
  }

  /** Rows that are builds, from where the job is. */
  async *#plain(): AsyncGenerator<Build, void, undefined> {
    for await (const row of this.#run.table.rows())
      if (row.n > this.#at && isBuildRow(row, this.#columns))
        yield { first: row.n, rows: [row], faults: [...this.#aside(row), ...this.#repeated(row)] };
  }

  #repeated({ n }: TableRow): RowFault[] {
    const first = this.#columns.repeats?.[n];
    return first === undefined ? [] : [remarkOf(n, `the same build name as row ${first}`)];
  }

  #aside(row: TableRow): RowFault[] {
    const { headings } = this.#reader;
    const taken = isTotals(row, headings) ? 'row of totals' : isNote(row, headings) ? 'note' : undefined;
    if (taken === undefined) return [];
    return [{ row: row.n, message: `taken for a ${taken}, and for no build`, help: 'leave it as it is', leftAlone: true }];
  }

  async #gather(): Promise<boolean> {
    const { tables } = this.#parts;
    const column = this.#columns.all.find(({ target }) => target?.is === 'build')?.index ?? -1;
    let rows: GatheredRow[] = [];
    const keep = async (): Promise<void> => {
      if (rows.length === 0) return;
      await gatherRows(tables, this.#mine, rows);
      this.#at = rows.at(-1)?.row as number;
      rows = [];
    };
    for await (const row of this.#run.table.rows()) {
      if (row.n <= this.#at || !isBuildRow(row, this.#columns)) continue;
      if (this.#stop()) break;
      rows.push({ row: row.n, build: (row.cells[column] ?? '').trim() || null, cells: JSON.stringify(row.cells) });
      if (rows.length >= COMMIT_BUILDS) await keep();
    }
    await keep();
    if (this.#stop()) return false;
    await bringTogether(tables, this.#mine);
    this.#at = 0;
    return true;
  }

  /** Builds whose rows are parts, from where the job is. */
  async *#gathered(): AsyncGenerator<Build, void, undefined> {
    let after = this.#at;
    for (;;) {
      const found = await nextBuilds(this.#parts.tables, this.#run.job.id, after, BUILDS_A_CHUNK, MOST_ROWS_A_BUILD + 1);
      for (const { first, rows } of found) {
        after = first;
        const faults: RowFault[] = [];
        if (rows.length > MOST_ROWS_A_BUILD)
          faults.push({
            row: first,
            message: `the build \`${rows[0]?.build}\` has more than ${MOST_ROWS_A_BUILD} rows`,
            help: 'name builds apart',
          });
        const [row] = rows;
        if (row && rows.length === 1) faults.push(...this.#aside({ n: row.row, cells: JSON.parse(row.cells) as string[] }));
        if (faults.length === 0 && rows[0]?.build === null)
          faults.push({ row: first, message: 'the row does not say of which build it is', help: 'fill in the column of the build' });
        yield { first, rows: rows.map(({ row, cells }) => ({ n: row, cells: JSON.parse(cells) as string[] })), faults };
      }
      if (found.length < BUILDS_A_CHUNK) return;
    }
  }

  /** Reads the builds, checks those that are new on all threads, and takes them in their order. */
  async #work(builds: readonly Build[]): Promise<void> {
    const read = await this.#readAll(builds);
    const hashes = await Promise.all(read.map(async ({ request }) => request && hashOf(request, await this.#versionOf(request))));
    await this.#remember(hashes.filter((hash) => hash !== undefined));
    const pending = new Map<string, () => Promise<Checked>>();
    for (const [i, hash] of hashes.entries())
      if (hash !== undefined && !this.#verdicts.has(hash) && !pending.has(hash))
        pending.set(hash, () => this.#parts.check((read[i] as ReadBuild).request as CheckRequest));
    const asked = inTurn(pending, this.#parts.threads, this.#stop);
    await this.#patiently(this.#takeAll(builds, read, hashes, asked));
  }

  async #takeAll(
    builds: readonly Build[],
    read: readonly ReadBuild[],
    hashes: readonly (string | undefined)[],
    asked: ReadonlyMap<string, Promise<Checked | undefined>>,
  ): Promise<void> {
    for (const [i, { first, faults }] of builds.entries()) {
      const { faults: unread, remarks, locate } = read[i] as ReadBuild;
      const hash = hashes[i];
      const alone = faults.filter(({ leftAlone }) => leftAlone);
      const all = alone.length > 0 ? alone : [...faults.filter(({ remark }) => !remark), ...unread];
      const found = all.length > 0 || hash === undefined ? faulty(all) : await this.#outcome(hash, asked, locate);
      if (found === undefined) return;
      const told = [...faults.filter(({ remark }) => remark), ...remarks.map((message) => remarkOf(first, message))];
      const outcome = found.answer === null ? found : { ...found, faults: told };
      this.#take(first, outcome);
      if (this.#builds.length >= COMMIT_BUILDS || performance.now() - this.#committed > COMMIT_MS) await this.#commit();
      if (this.#stop()) return;
    }
  }

  async #readAll(builds: readonly Build[]): Promise<ReadBuild[]> {
    const read: ReadBuild[] = [];
    for (const { rows } of builds) {
      read.push(await readBuild(rows, this.#columns, this.#reader, this.#asking));
      if (read.length % 50 === 0) await setImmediate();
    }
    return read;
  }

  async #remember(hashes: readonly string[]): Promise<void> {
    const unknown = [...new Set(hashes)].filter((hash) => !this.#verdicts.has(hash));
    const known = await knownAnswers(this.#parts.tables, this.#run.job.id, unknown);
    for (const [hash, verdict] of known) this.#verdicts.set(hash, verdict);
  }

  async #outcome(
    hash: string,
    asked: ReadonlyMap<string, Promise<Checked | undefined>>,
    locate: ReadBuild['locate'],
  ): Promise<Outcome | undefined> {
    const known = this.#verdicts.get(hash);
    const checking = asked.get(hash);
    if (!checking) return known === undefined ? faulty([]) : { answer: hash, verdict: known, faults: [] };
    const checked = await checking;
    if (checked === undefined) return undefined;
    if (!checked.ok) return faulty(checked.faults.map(locate));
    const { verdict } = checked.answer;
    if (!this.#verdicts.has(hash)) this.#answers.set(hash, { hash, verdict, cells: JSON.stringify(answerCells(checked.answer)) });
    this.#verdicts.set(hash, verdict);
    return { answer: hash, verdict, faults: [] };
  }

  /** A build may take longer than others wait before they take the job for abandoned. */
  async #patiently<T>(work: Promise<T>): Promise<T> {
    const waiting = setInterval(() => void beat(this.#parts.tables, this.#mine).catch(() => {}), 4000);
    try {
      return await work;
    } finally {
      clearInterval(waiting);
    }
  }

  #take(first: number, { answer, verdict, faults }: Outcome): void {
    if (!faults.some(({ leftAlone }) => leftAlone)) this.#counts[verdict] = (this.#counts[verdict] ?? 0) + 1;
    const byRow = new Map<number, RowFault[]>();
    for (const fault of faults) byRow.set(fault.row, [...(byRow.get(fault.row) ?? []), fault]);
    this.#builds.push({ first, answer, faults: [...byRow].map(([row, all]) => ({ row, faults: JSON.stringify(all) })) });
  }

  async #commit(): Promise<void> {
    this.#committed = performance.now();
    if (this.#builds.length === 0) return;
    const [builds, answers] = [this.#builds, [...this.#answers.values()]];
    this.#builds = [];
    this.#answers = new Map();
    await commitBuilds(this.#parts.tables, this.#mine, {
      builds,
      answers,
      gathered: this.#columns.rows === 'part',
      counts: this.#counts as Counts,
    });
    this.#at = builds.at(-1)?.first as number;
  }
}

/** Not one of the four verdicts: nothing was checked. */
export const NOT_CHECKED = 'not_checked';

const remarkOf = (row: number, message: string): RowFault => ({ row, message, help: '', remark: true });

const faulty = (faults: readonly RowFault[]): Outcome => ({ answer: null, verdict: NOT_CHECKED, faults });

/** The same build asked the same way of the same rules and catalogue, however its cells were written. */
const hashOf = (request: CheckRequest, version: string): string =>
  createHash('sha256')
    .update(JSON.stringify([request, version]))
    .digest('base64url')
    .slice(0, 32);

/** Starts works in their order, so many at once; after a stop the rest are not begun. */
function inTurn<T>(
  works: ReadonlyMap<string, () => Promise<T>>,
  atOnce: number,
  stop: () => boolean,
): ReadonlyMap<string, Promise<T | undefined>> {
  const settle = new Map<string, { resolve: (value: T | undefined) => void; reject: (error: unknown) => void }>();
  const promises = new Map<string, Promise<T | undefined>>();
  for (const key of works.keys()) {
    const promise = new Promise<T | undefined>((resolve, reject) => settle.set(key, { resolve, reject }));
    // Whoever waits for it hears of a failure; nobody may, when one before it failed.
    promise.catch(() => {});
    promises.set(key, promise);
  }
  const queue = [...works];
  const next = async (): Promise<void> => {
    for (let one = queue.shift(); one; one = queue.shift()) {
      const [key, work] = one;
      const { resolve, reject } = settle.get(key) as NonNullable<ReturnType<typeof settle.get>>;
      if (stop()) resolve(undefined);
      else await work().then(resolve, reject);
    }
  };
  for (let i = 0; i < atOnce; i++) void next();
  return promises;
}
