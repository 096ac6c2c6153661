/** Sheets beside the engine alone, and what memory they take at ten and a hundred thousand rows. */
import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { openDatabase } from '../../db/open.ts';
import { startPostgres } from '../../db/testing.ts';
import { plainAnswer, testSheets } from '../../services/jobs/testing.ts';
import { fileOf } from '../../services/sheets/testing.ts';
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
    const peaks = MEMORY_ROWS.map((rows) => peakOf(server.url, rows));
    report(
      `memory at 10 000 rows against 100 000, in a heap of ${HEAP_MB} MB`,
      Math.min(...peaks) / Math.max(...peaks),
      0.9,
      `every row another build; ${MEMORY_ROWS.map((rows, i) => `${(peaks[i] as number).toFixed(0)} MB at ${rows}`).join(', ')}`,
    );
  } finally {
    await database.close();
    await server.stop();
  }
}

const MEMORY_ROWS = [10_000, 30_000, 100_000];
/**
 * Twice what the process holds once it has begun. Without a bound the collector lets garbage lie as long as the machine has room, and
 * what is measured is the machine; with one, a process that kept its rows would end for want of memory.
 */
const HEAP_MB = 96;

/** Megabytes at the peak of a process that works a sheet off with checks that cost nothing, and reads the answered sheet. */
function peakOf(url: string, rows: number): number {
  const bound = `--max-old-space-size=${HEAP_MB}`;
  const args = [bound, '--import', 'tsx', 'tests/bench/sheets.ts', url, fileOf(table(rows, rows)), String(rows)];
  return Number(execFileSync(process.execPath, args, { cwd: root, encoding: 'utf8' }).trim());
}

async function tellPeak(url: string, file: string, rows: number): Promise<void> {
  const database = await openDatabase({ url });
  const sheets = testSheets(database, { check: async (request) => plainAnswer(request), keepsChecked: false });
  const job = await sheets.addFile(file);
  if (!(await sheets.queue.work(job.id, 3600))) throw new Error('it did not end');
  let lines = 0;
  for await (const piece of sheets.bytes(job)) lines += piece.filter((byte) => byte === 10).length;
  if (lines !== rows + 1) throw new Error(`${lines} lines`);
  await sheets.queue.close();
  await database.close();
  console.log(process.resourceUsage().maxRSS / 1024);
}

const [, script, url, file, rows] = process.argv;
if (script?.endsWith('bench/sheets.ts') && url !== undefined && file !== undefined) await tellPeak(url, file, Number(rows));
