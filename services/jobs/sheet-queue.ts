/**
 * The queue of tables to work off, in the service's own database: any copy of the service takes what is next. A job is worked on for a
 * while, then goes behind the others; one whose worker fell silent is taken up by another. What a job has done is in its rows, not in
 * the queue, so a message that comes twice, or not at all, does no harm.
 */
import { randomUUID } from 'node:crypto';
import { setTimeout } from 'node:timers/promises';
import { LRUCache } from 'lru-cache';
import PgBoss from 'pg-boss';
import { type Database, isAway, type Plain } from '../../db/open.ts';
import { abandonedSheetJobs, claimSheetJob, finishSheetJob, getSheetJob, JobLost, releaseSheetJob } from '../../db/sheet-jobs.ts';
import type { TableReader } from '../sheets/table.ts';
import { SheetRefused } from '../sheets/table.ts';
import { runSheet, type SheetRunParts } from './sheet-run.ts';

export interface SheetQueueParts extends SheetRunParts {
  readonly database: Database;
  /** The job's table, from the file that is kept with it. */
  readonly open: (job: string) => Promise<TableReader>;
  readonly onError?: (error: unknown) => void;
  readonly times?: Partial<Times>;
}

export interface Times {
  /** One job before the next has its turn. */
  readonly turnSeconds: number;
  /** After which a worker counts as gone. */
  readonly silenceSeconds: number;
  readonly sweepSeconds: number;
}

const TIMES: Times = { turnSeconds: 20, silenceSeconds: 20, sweepSeconds: 10 };
const QUEUE = 'sheets';
const POLL_SECONDS = 0.5;
const STOP_MS = 20_000;

/** Over, to be gone on with, or in another's hands. */
type Worked = 'over' | 'more' | 'elsewhere';

const MOST_FAILURES = 3;
const WAIT_MS = 250;
const FAILED = 'the service failed at this sheet three times; it is our fault: tell whoever runs the service, and resume it then';

export interface SheetQueue {
  /** Begins to work off what is there. */
  start(): Promise<void>;
  /** Has the job worked on as soon as it is its turn. */
  send(job: string): Promise<void>;
  /** Works on the job here and now; says whether it is over. */
  work(job: string, seconds: number): Promise<boolean>;
  close(): Promise<void>;
}

export function sheetQueue(parts: SheetQueueParts): SheetQueue {
  const times = { ...TIMES, ...parts.times };
  const failed = parts.onError ?? (() => {});
  let boss: Promise<PgBoss> | undefined;
  let sweep: NodeJS.Timeout | undefined;
  let closing = false;
  const underWay = new Set<Promise<unknown>>();
  const failures = new LRUCache<string, { readonly at: number; readonly times: number }>({ max: 1000 });

  const start = async (): Promise<PgBoss> => {
    const made = new PgBoss({ ...connectionOf(parts.database.plain), schedule: false, maintenanceIntervalSeconds: 60 });
    made.on('error', failed);
    await made.start();
    await made.createQueue(QUEUE, { name: QUEUE, policy: 'short' });
    await made.work<{ job: string }>(QUEUE, { batchSize: 1, pollingIntervalSeconds: POLL_SECONDS }, async ([message]) => {
      if (message) await turn(made, message.data.job);
    });
    const look = async (): Promise<void> => {
      for (const job of await abandonedSheetJobs(parts.tables, times.silenceSeconds)) await sendTo(made, job);
    };
    await look();
    sweep = setInterval(() => void look().catch(failed), times.sweepSeconds * 1000).unref();
    return made;
  };
  /** One message a job waits at a time; a copy of it adds nothing. */
  const sendTo = async (to: PgBoss, job: string): Promise<void> =>
    void (await to.send(QUEUE, { job }, { singletonKey: job, expireInSeconds: Math.ceil(times.turnSeconds) * 2 + 60, retryLimit: 0 }));
  const started = (): Promise<PgBoss> => (boss ??= start());

  const turn = async (on: PgBoss, job: string): Promise<void> => {
    const worked = await begin(job, times.turnSeconds).catch((error: unknown) => {
      failed(error);
      // The sweep brings it back, after a silence in which whatever failed may mend.
      return 'elsewhere' as const;
    });
    if (worked === 'more' && !closing) await sendTo(on, job);
  };

  const begin = async (id: string, seconds: number): Promise<Worked> => {
    const working = workOnce(id, seconds);
    underWay.add(working);
    return working.finally(() => underWay.delete(working));
  };

  /** Where another works on it already, that one is waited for. */
  const work = async (id: string, seconds: number): Promise<boolean> => {
    const until = performance.now() + seconds * 1000;
    let worked = await begin(id, seconds);
    while (worked === 'elsewhere' && performance.now() < until && !closing) {
      await setTimeout(WAIT_MS);
      if (await isOver(id)) return true;
      worked = await begin(id, (until - performance.now()) / 1000);
    }
    return worked === 'over';
  };

  const isOver = async (id: string): Promise<boolean> => {
    const state = (await getSheetJob(parts.tables, id))?.state;
    return state !== 'queued' && state !== 'running';
  };

  /** A job that fails again and again where it stands is at an end: nobody should wait for it, nor it take others' turns. */
  async function countFailure(id: string, worker: string): Promise<void> {
    const at = (await getSheetJob(parts.tables, id))?.atRow ?? 0;
    const before = failures.get(id);
    const times = before?.at === at ? before.times + 1 : 1;
    failures.set(id, { at, times });
    if (times >= MOST_FAILURES) await finishSheetJob(parts.tables, { id, worker, from: at }, FAILED);
  }

  async function workOnce(id: string, seconds: number): Promise<Worked> {
    const worker = randomUUID();
    const job = await claimSheetJob(parts.tables, id, worker, times.silenceSeconds);
    if (!job) return (await isOver(id)) ? 'over' : 'elsewhere';
    const until = performance.now() + seconds * 1000;
    let table: TableReader | undefined;
    try {
      table = await parts.open(id);
      const over = await runSheet(parts, { job, worker, table, stop: () => closing || performance.now() > until });
      if (over) failures.delete(id);
      return over ? 'over' : 'more';
    } catch (error) {
      if (error instanceof JobLost) return (await isOver(id)) ? 'over' : 'elsewhere';
      if (!(error instanceof SheetRefused)) {
        if (!isAway(error)) await countFailure(id, worker).catch(failed);
        throw error;
      }
      await finishSheetJob(parts.tables, { id, worker, from: job.atRow }, `${error.message}; ${error.help}`);
      return 'over';
    } finally {
      await table?.close();
      await releaseSheetJob(parts.tables, id, worker).catch(failed);
    }
  }

  return {
    start: async () => void (await started()),
    send: async (job) => sendTo(await started(), job),
    work,
    close: async () => {
      closing = true;
      clearInterval(sweep);
      await Promise.allSettled([...underWay]);
      if (boss) await (await boss.catch(() => undefined))?.stop({ graceful: true, wait: true, timeout: STOP_MS });
    },
  };
}

const connectionOf = (plain: Plain): PgBoss.ConstructorOptions =>
  'run' in plain ? { db: { executeSql: (text, values) => plain.run(text, values) } } : { connectionString: plain.connectionString, max: 2 };
