/** Sheets beside the engine alone, and what memory they take at ten and a hundred thousand rows. */
import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { openDatabase } from '../../db/open.ts';
import { startPostgres } from '../../db/testing.ts';
import { plainAnswer, testSheets } from '../../services/jobs/testing.ts';
import type { CheckRequest } from '../../services/vehicle/index.ts';
import { checker, demoCatalogue } from '../../services/workshop/testing.ts';
import { rate, report } from './timing.ts';

const DISTINCT = 12;
const root = fileURLToPath(new URL('../..', import.meta.url));
const table = (rows: number, distinct: number): string =>
  `build,class,people,top speed [km/h]\n${Array.from({ length: rows }, (_, i) => `b${i},midsize_independent_front,${(i % distinct) % 20},${60 + Math.floor((i % distinct) / 20)}`).join('\n')}\n`;

export async function benchSheets(): Promise<void> {
  const server = await startPostgres();
  const database = await openDatabase({ url: server.url });
  try {
    const requests: CheckRequest[] = [];
    const sheets = testSheets(database, {
      check: async (request) => {
        requests.push(request);
        return checker.check(request, demoCatalogue);
      },
    });
    const run = async (text: string): Promise<number> => {
      const { id } = await sheets.add(text);
      const start = performance.now();
      if (!(await sheets.queue.work(id, 3600))) throw new Error('it did not end');
      return performance.now() - start;
    };
    // The first warms up; the checks of the second are then done again without a sheet round them.
    await run(table(2, 2));
    requests.length = 0;
    const sheet = await run(table(DISTINCT, DISTINCT));
    const start = performance.now();
    for (const request of requests) checker.check(request, demoCatalogue);
    const engine = performance.now() - start;
    report(
      'rows of a sheet, each another build, against the engine alone',
      engine / sheet,
      0.7,
      `${rate((DISTINCT * 1000) / sheet)} against ${rate((DISTINCT * 1000) / engine)}`,
    );
    const equal = await run(table(20_000, 2));
    console.log(`  20 000 rows of two builds: ${rate(20_000_000 / equal)}`);
    await sheets.queue.close();
    const [small, large] = [10_000, 100_000].map((rows) => peakOf(server.url, rows)) as [number, number];
    report(
      'memory at 10 000 rows against 100 000, every build another',
      small / large,
      0.75,
      `${small.toFixed(0)} MB against ${large.toFixed(0)} MB`,
    );
  } finally {
    await database.close();
    await server.stop();
  }
}

/** Megabytes at the peak of a process that works a sheet off with checks that cost nothing, and reads the answered sheet. */
const peakOf = (url: string, rows: number): number =>
  Number(
    execFileSync(process.execPath, ['--import', 'tsx', 'tests/bench/sheets.ts', url, String(rows)], { cwd: root, encoding: 'utf8' }).trim(),
  );

async function tellPeak(url: string, rows: number): Promise<void> {
  const database = await openDatabase({ url });
  const sheets = testSheets(database, { check: async (request) => plainAnswer(request), keepsChecked: false });
  const job = await sheets.add(table(rows, rows));
  if (!(await sheets.queue.work(job.id, 3600))) throw new Error('it did not end');
  let lines = 0;
  for await (const piece of sheets.bytes(job)) lines += piece.filter((byte) => byte === 10).length;
  if (lines !== rows + 1) throw new Error(`${lines} lines`);
  await sheets.queue.close();
  await database.close();
  console.log(process.resourceUsage().maxRSS / 1024);
}

const [, script, url, rows] = process.argv;
if (script?.endsWith('bench/sheets.ts') && url !== undefined) await tellPeak(url, Number(rows));
