/**
 * `npm run -s sheet -- FILE [--to FILE] [--units metric|us] [--rows build|part] [--sheet NAME] [--vehicle ID]`: checks a table of builds
 * without a server, against the demo catalogue. What the headings were taken for goes to standard error, the sheet to the file named,
 * or a CSV to standard output. Ends with 0, or 2 for a sheet that cannot be taken.
 */
import { createWriteStream } from 'node:fs';
import { basename } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { parseArgs } from 'node:util';
import { openDatabase } from '../../db/open.ts';
import { createSheetJob, getSheetJob, type SheetJob } from '../../db/sheet-jobs.ts';
import { readDemo } from '../api/catalogue.ts';
import { pooledRunner } from '../api/checks.ts';
import { jobView, sheetsOf } from '../api/sheets.ts';
import { beginWithDemo } from '../api/stored-catalogue.ts';
import { answeredSheet, piecesOf } from '../jobs/sheet-files.ts';
import { DEMO_FOLDER, RULES_FOLDER } from '../paths.ts';
import { inspect, openSheet } from '../sheets/open-sheet.ts';
import { SheetRefused } from '../sheets/table.ts';
import { loadRules } from '../workshop/index.ts';
import { runCommand } from './command.ts';
import { whyUnread } from './read-build.ts';

const BAD_INPUT = 2;
const USAGE = 'usage: npm run -s sheet -- FILE [--to FILE] [--units metric|us] [--rows build|part] [--sheet NAME] [--vehicle ID]';
const DAY_SECONDS = 86_400;
const OPTIONS = {
  to: { type: 'string' },
  units: { type: 'string' },
  rows: { type: 'string' },
  sheet: { type: 'string' },
  vehicle: { type: 'string' },
} as const;

interface Asked {
  readonly file: string;
  readonly to?: string;
  readonly units: 'metric' | 'us';
  readonly rows?: 'build' | 'part';
  readonly sheet?: string;
  readonly vehicle?: string;
}

function readArguments(args: readonly string[]): Asked | undefined {
  try {
    const { values, positionals } = parseArgs({ args: [...args], options: OPTIONS, allowPositionals: true });
    const [file] = positionals;
    const { units = 'metric', rows } = values;
    if (file === undefined || positionals.length > 1 || !/^(metric|us)$/.test(units) || !/^(build|part)?$/.test(rows ?? ''))
      return undefined;
    return { ...values, file, units: units as Asked['units'], ...(rows !== undefined && { rows: rows as 'build' | 'part' }) } as Asked;
  } catch {
    return undefined;
  }
}

async function main(args: readonly string[]): Promise<number> {
  const asked = readArguments(args);
  if (!asked) {
    console.error(USAGE);
    return BAD_INPUT;
  }
  const database = await openDatabase({});
  const checks = pooledRunner(RULES_FOLDER);
  try {
    await beginWithDemo(database.tables, readDemo(DEMO_FOLDER));
    const sheets = sheetsOf({ database, checks, library: loadRules(RULES_FOLDER), onError: console.error });
    const table = await openSheet(asked.file, asked.sheet);
    const found = await inspect(table, sheets.reader().headings, asked.rows).finally(() => table.close());
    if (table.form === 'xlsx' && asked.to === undefined)
      throw new SheetRefused('TO_MISSING', 'a workbook goes to a file', 'say which with --to FILE');
    const made = await createSheetJob(database.tables, jobOf(asked, table.form, found), piecesOf(asked.file));
    tell(made);
    await sheets.queue.work(made.id, DAY_SECONDS);
    const job = (await getSheetJob(database.tables, made.id)) as SheetJob;
    const bytes = Readable.from(answeredSheet(database.tables, job), { objectMode: false });
    await pipeline(bytes, asked.to === undefined ? process.stdout : createWriteStream(asked.to), { end: asked.to !== undefined });
    console.error(JSON.stringify(jobView(job).builds));
    return 0;
  } catch (error) {
    if (!(error instanceof SheetRefused) && (error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    console.error(
      error instanceof SheetRefused ? `${asked.file}: ${error.message}\n  ${error.help}` : `\`${asked.file}\` ${whyUnread(error)}`,
    );
    return BAD_INPUT;
  } finally {
    await checks.close();
    await database.close();
  }
}

type Inspected = Awaited<ReturnType<typeof inspect>>;

const jobOf = ({ file, units, vehicle, sheet }: Asked, form: 'csv' | 'xlsx', { columns, width, rows }: Inspected) => ({
  name: basename(file),
  form,
  asked: { units, ...(vehicle !== undefined && { vehicle }) },
  columns: { found: columns, width, ...(sheet !== undefined && { sheet }) },
  rows,
  gathered: columns.rows !== 'part',
  once: null,
  request: '',
  key: 'anyone',
});

function tell(job: SheetJob): void {
  const { columns, rows, rows_are } = jobView(job);
  console.error(`${rows.total} rows, each a ${rows_are}`);
  for (const { heading, read_as, unit } of columns)
    if (heading !== '') console.error(`  ${heading}: ${read_as ?? 'not read'}${unit === undefined ? '' : ` [${unit}]`}`);
}

await runCommand(USAGE, main);
