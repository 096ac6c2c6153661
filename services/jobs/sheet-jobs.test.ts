/** Sheets as jobs, over the embedded database and PostgreSQL: every row once, whatever stops the job and whenever. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type Database, openDatabase, type Where } from '../../db/open.ts';
import { claimSheetJob, commitBuilds, finishSheetJob, getSheetJob, JobLost, type SheetJob, setJobState } from '../../db/sheet-jobs.ts';
import { demoDatabaseUrl } from '../api/testing.ts';
import type { CheckRequest } from '../vehicle/index.ts';
import { plainAnswer, type TestSheets, testSheets } from './testing.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const databases: readonly [string, () => Promise<Where>][] = [
  ['the embedded database', async () => ({ dir: mkdtempSync(join(tmpdir(), 'fettle-sheets-')) })],
  ['PostgreSQL', async () => ({ url: await demoDatabaseUrl() })],
];
const running: ChildProcess[] = [];
afterEach(() => {
  for (const child of running.splice(0)) child.kill('SIGKILL');
});

const CLASS = 'midsize_independent_front';
const table = (rows: readonly (readonly (string | number)[])[]): string => `${rows.map((row) => row.join(',')).join('\n')}\n`;
const builds = (n: number, people: (i: number) => number): string =>
  table([['build', 'class', 'people'], ...Array.from({ length: n }, (_, i) => [`b${i}`, CLASS, people(i)])]);
const lines = (text: string): string[][] =>
  text
    .trimEnd()
    .split('\n')
    .map((line) => line.split(','));

describe.each(databases)('%s', (_, where) => {
  let database: Database;
  let sheets: TestSheets;
  beforeAll(async () => {
    database = await openDatabase(await where());
  });
  afterAll(() => database.close());
  afterEach(() => sheets.queue.close());

  const job = async ({ id }: SheetJob): Promise<SheetJob> => (await getSheetJob(database.tables, id)) as SheetJob;
  const until = async (one: SheetJob, state: string): Promise<SheetJob> => {
    for (let i = 0; i < 400; i++, await setTimeout(50)) {
      const now = await job(one);
      if (now.state === state) return now;
    }
    throw new Error(`it is ${(await job(one)).state}, not ${state}: ${sheets.errors.join(' ')}`);
  };

  it('every row is answered in its place, and equal builds are checked once', async () => {
    sheets = testSheets(database);
    const added = await sheets.add(builds(1203, (i) => i % 7));
    await sheets.queue.send(added.id);
    const done = await until(added, 'done');
    expect([done.done, done.rows, done.counts]).toEqual([1203, 1203, { clear: 1203 }]);
    expect(sheets.checked).toHaveLength(7);
    const back = lines(await sheets.result(done));
    expect(back).toHaveLength(1204);
    expect(back.slice(1).map((cells) => [cells[0], cells[3], cells[8]])).toEqual(
      Array.from({ length: 1203 }, (_, i) => [`b${i}`, 'clear', String(i % 7)]),
    );
    expect(sheets.errors).toEqual([]);
  });

  it('equal rows of another version of the catalogue are checked anew', async () => {
    let version = 1;
    sheets = testSheets(database, { versions: () => async () => `v${Math.ceil(version++ / 2)}` });
    const added = await sheets.add(builds(4, () => 1));
    await sheets.queue.work(added.id, 60);
    expect(sheets.checked).toHaveLength(2);
    expect((await job(added)).counts).toEqual({ clear: 4 });
  });

  it('a row that cannot be checked says why, and the others are answered', async () => {
    sheets = testSheets(database);
    const added = await sheets.add(
      table([
        ['build', 'class', 'people', 'top speed [km/h]'],
        ['a', CLASS, 2, 100],
        ['b', 'nosuch', 2, 100],
        ['c', CLASS, 'many', 100],
        [],
        ['d', '', 2, ''],
        ['e', CLASS, 2, 100],
      ]),
    );
    expect(added.rows).toBe(5);
    expect(await sheets.queue.work(added.id, 60)).toBe(true);
    const done = await job(added);
    const back = lines(await sheets.result(done));
    expect(back.slice(1).map((cells) => cells[4] ?? '')).toEqual(['clear', 'clear', 'not checked', '', 'not checked', 'clear']);
    expect(back[3]?.at(-2)).toContain('`many` is not a number of people');
    expect(back[5]?.join(',')).toContain('no vehicle is named');
    expect(done).toMatchObject({ state: 'done', done: 5, counts: { clear: 3, not_checked: 2 } });
  });

  it('rows that are parts are brought together by their build, wherever they stand', async () => {
    sheets = testSheets(database);
    const added = await sheets.add(
      table([
        ['build', 'class', 'kind', 'mass [kg]', 'at'],
        ['a', CLASS, 'winch', 30, ''],
        ['b', CLASS, 'body lift', 5, ''],
        ['a', '', 'light bar', 6, ''],
        ['', '', 'winch', 30, ''],
        ['b', '', 'nonsense', 5, ''],
        ['a', CLASS, 'tyre', 20, 'all'],
        ['c', CLASS, 'winch', 30, 'roof'],
      ]),
    );
    await sheets.queue.work(added.id, 60);
    expect(sheets.checked).toHaveLength(1);
    expect(sheets.checked[0]?.parts).toEqual([
      { from: 'inline', kind: 'winch', attributes: { mass: '30 kg' } },
      { from: 'inline', kind: 'light_bar', attributes: { mass: '6 kg' } },
      { from: 'inline', kind: 'tyre', at: 'all', replaces: 'fitted', attributes: { mass: '20 kg' } },
    ]);
    const back = lines(await sheets.result(await job(added)));
    const [verdict, item, fault] = [5, 6, -2];
    expect(back.slice(1).map((cells) => cells[verdict])).toEqual([
      'clear',
      'not checked',
      'clear',
      'not checked',
      'not checked',
      'clear',
      'not checked',
    ]);
    expect([back[3]?.[item], back[6]?.[item]]).toEqual(['with row 2', 'with row 2']);
    expect(back[2]?.at(fault)).toBe('a further row of this build has a fault');
    expect(back[4]?.join(',')).toContain('does not say of which build');
    expect(back[5]?.join(',')).toContain('`nonsense` is no kind of part');
    expect(back[7]?.join(',')).toContain('`roof` is no place on a vehicle');
    expect(await job(added)).toMatchObject({ state: 'done', done: 7, counts: { clear: 1, not_checked: 3 } });
  });

  it('is cancelled between rows, keeps what it did, and goes on from there', async () => {
    let slow = true;
    sheets = testSheets(database, { check: async (request) => (slow ? setTimeout(30, plainAnswer(request)) : plainAnswer(request)) });
    const added = await sheets.add(builds(400, (i) => i % 21));
    const different = await sheets.add(
      table([
        ['build', 'class', 'people', 'top speed [km/h]'],
        ...Array.from({ length: 400 }, (_, i) => [`b${i}`, CLASS, i % 21, 60 + Math.floor(i / 21)]),
      ]),
    );
    await sheets.queue.send(different.id);
    while ((await job(different)).done === 0) await setTimeout(20);
    const cancelled = (await setJobState(database.tables, different.id, 'cancelled', ['queued', 'running'])) as SheetJob;
    expect(cancelled.done).toBeGreaterThan(0);
    expect(cancelled.done).toBeLessThan(400);
    // Until its worker notices.
    await setTimeout(2500);
    expect((await job(different)).done).toBe(cancelled.done);
    const part = lines(await sheets.result(await job(different)));
    expect(part).toHaveLength(401);
    expect(part.filter((cells) => cells[4] === 'clear')).toHaveLength(cancelled.done);
    expect(part.at(-1)?.at(-2)).toBe('cancelled before this row');
    slow = false;
    const before = sheets.checked.length;
    await setJobState(database.tables, different.id, 'queued', ['cancelled']);
    await sheets.queue.send(different.id);
    const done = await until(different, 'done');
    expect([done.done, done.counts]).toEqual([400, { clear: 400 }]);
    // Nothing that was committed is checked again.
    expect(sheets.checked.length - before).toBe(400 - cancelled.done);
    expect((await job(added)).state).toBe('queued');
  });

  it('a worker that lost its job writes nothing', async () => {
    sheets = testSheets(database);
    const { tables } = database;
    const { id } = await sheets.add(builds(3, () => 1));
    expect(await claimSheetJob(tables, id, 'one', 20)).toMatchObject({ state: 'running', worker: 'one' });
    expect(await claimSheetJob(tables, id, 'two', 20)).toBeUndefined();
    expect(await claimSheetJob(tables, id, 'two', 0)).toMatchObject({ worker: 'two' });
    const some = {
      builds: [{ first: 2, answer: 'h', faults: [] }],
      answers: [{ hash: 'h', verdict: 'clear', cells: '[]' }],
      gathered: false,
      counts: {},
    };
    await expect(commitBuilds(tables, { id, worker: 'one', from: 0 }, some)).rejects.toThrow(JobLost);
    expect(await commitBuilds(tables, { id, worker: 'two', from: 0 }, some)).toBe(1);
    await expect(commitBuilds(tables, { id, worker: 'two', from: 0 }, some)).rejects.toThrow(JobLost);
    await expect(finishSheetJob(tables, { id, worker: 'one', from: 2 })).rejects.toThrow(JobLost);
    expect(await getSheetJob(tables, id)).toMatchObject({ done: 1, state: 'running', atRow: 2 });
  });

  it('one that fails again and again where it stands is failed, and no longer taken up', async () => {
    sheets = testSheets(database, {
      opens: () => Promise.reject(new Error('a fault of ours')),
      times: { silenceSeconds: 0.2, sweepSeconds: 0.2 },
    });
    const added = await sheets.add(builds(3, (i) => i));
    await sheets.queue.send(added.id);
    const failed = await until(added, 'failed');
    expect(failed.problem).toMatch(/failed at this sheet three times/);
    // What went wrong is told after the job is put away, by a slow worker later than by others; a job still taken up would add some each sweep.
    const quiet = async (): Promise<boolean> => {
      const tried = sheets.errors.length;
      await setTimeout(1000);
      return sheets.errors.length === tried;
    };
    expect((await quiet()) || (await quiet()) || (await quiet())).toBe(true);
  });

  it('a check that never ends as it should costs its row alone', async () => {
    const failing = (request: CheckRequest) =>
      request.load?.occupants === 2
        ? { ok: false as const, faults: [{ pointer: '/load/occupants', code: 'X', message: 'too many', help: 'fewer' }] }
        : plainAnswer(request);
    sheets = testSheets(database, { check: async (request) => failing(request) });
    const added = await sheets.add(builds(3, (i) => i + 1));
    await sheets.queue.work(added.id, 60);
    const back = lines(await sheets.result(await job(added)));
    expect(back.slice(1).map((cells) => [cells[3], cells.at(-2)])).toEqual([
      ['clear', ''],
      ['not checked', 'too many; fewer'],
      ['clear', ''],
    ]);
  });
});

describe.each(databases)('killed without warning, %s', (_, where) => {
  it('is taken up by the next process, no row twice and none lost', async () => {
    const place = await where();
    const rows = 600;
    const distinct = 120;
    const start = (silenceSeconds: number): { child: ChildProcess; said: AsyncIterable<string> } => {
      const child = spawn(
        process.execPath,
        ['--import', 'tsx', 'services/jobs/testing-worker.ts', JSON.stringify({ place, rows, distinct, silenceSeconds })],
        { cwd: root, stdio: ['ignore', 'pipe', 'inherit'] },
      );
      running.push(child);
      return { child, said: createInterface({ input: child.stdout as NodeJS.ReadableStream }) };
    };
    const checked: string[][] = [];
    for (const lines of [25, 35]) {
      const { child, said } = start(1);
      const seen: string[] = [];
      for await (const line of said) if (line.startsWith('checked') && seen.push(line) === lines) child.kill('SIGKILL');
      checked.push(seen);
    }
    const { said } = start(1);
    const last: string[] = [];
    for await (const line of said) last.push(line);
    expect(last.at(-1)).toBe('done');
    checked.push(last.filter((line) => line.startsWith('checked')));
    // What was under way when it was killed is checked again, not what was committed before.
    const all = checked.flat();
    expect(new Set(all).size).toBe(distinct);
    expect(all.length).toBeLessThan(distinct * 1.6);
    const database = await openDatabase(place);
    const { rowOutcomes, listSheetJobs } = await import('../../db/sheet-jobs.ts');
    const [job] = (await listSheetJobs(database.tables, undefined, 10)) as [SheetJob];
    const outcomes = await rowOutcomes(database.tables, job.id, 0, 10_000);
    expect([job.state, job.done, job.counts]).toEqual(['done', rows, { clear: rows }]);
    expect(outcomes.map(({ row }) => row)).toEqual(Array.from({ length: rows }, (_, i) => i + 2));
    expect(outcomes.every(({ done, verdict }) => done && verdict === 'clear')).toBe(true);
    const back = lines((await testSheets(database).result(job)) as string);
    expect(back.slice(1).map((cells) => [cells[0], cells[9]])).toEqual(Array.from({ length: rows }, (_, i) => [`b${i}`, String(i % 20)]));
    await database.close();
  });
});
