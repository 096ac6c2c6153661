/**
 * The queue of tables to work off, in the service's own database: any copy of the service takes what is next. A job is worked on for a
 * while, then goes behind the others; one whose worker fell silent is taken up by another. What a job has done is in its rows, not in
 * the queue, so a message that comes twice, or not at all, does no harm.
 */
import { randomUUID } from 'node:crypto';
import PgBoss from 'pg-boss';
import type { Database, Plain } from '../../db/open.ts';
import { abandonedSheetJobs, claimSheetJob, finishSheetJob, JobLost, releaseSheetJob } from '../../db/sheet-jobs.ts';
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
    const over = await work(job, times.turnSeconds).catch((error: unknown) => {
      failed(error);
      // The sweep brings it back, after a silence in which whatever failed may mend.
      return true;
    });
    if (!over && !closing) await sendTo(on, job);
  };

  const work = async (id: string, seconds: number): Promise<boolean> => {
    const working = workOnce(id, seconds);
    underWay.add(working);
    return working.finally(() => underWay.delete(working));
  };

  async function workOnce(id: string, seconds: number): Promise<boolean> {
    const worker = randomUUID();
    const job = await claimSheetJob(parts.tables, id, worker, times.silenceSeconds);
    if (!job) return true;
    const until = performance.now() + seconds * 1000;
    let table: TableReader | undefined;
    try {
      table = await parts.open(id);
      return await runSheet(parts, { job, worker, table, stop: () => closing || performance.now() > until });
    } catch (error) {
      if (error instanceof JobLost) return true;
      if (!(error instanceof SheetRefused)) throw error;
      await finishSheetJob(parts.tables, { id, worker, from: job.atRow }, `${error.message}; ${error.help}`);
      return true;
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
