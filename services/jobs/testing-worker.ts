/** A process that works a sheet off until it is killed or done, and says each build that it checks: what the tests kill. */
import { writeSync } from 'node:fs';
import { setTimeout } from 'node:timers/promises';
import { openDatabase, type Where } from '../../db/open.ts';
import { getSheetJob, listSheetJobs } from '../../db/sheet-jobs.ts';
import { plainAnswer, testSheets } from './testing.ts';

const { place, rows, distinct, silenceSeconds } = JSON.parse(process.argv[2] as string) as {
  place: Where;
  rows: number;
  distinct: number;
  silenceSeconds: number;
};
const say = (line: string): void => void writeSync(1, `${line}\n`);
const database = await openDatabase(place);
const sheets = testSheets(database, {
  check: async (request) => {
    say(`checked ${request.load?.occupants} ${request.use?.top_speed}`);
    return setTimeout(60, plainAnswer(request));
  },
  times: { silenceSeconds, sweepSeconds: 0.3, turnSeconds: 2 },
});
const [there] = await listSheetJobs(database.tables, undefined, 1);
const row = (i: number): string => `b${i},midsize_independent_front,${i % 20},${60 + Math.floor((i % distinct) / 20)}`;
const job =
  there ?? (await sheets.add(`build,class,people,top speed [km/h]\n${Array.from({ length: rows }, (_, i) => row(i)).join('\n')}\n`));
await sheets.queue.start();
if (!there) await sheets.queue.send(job.id);
while ((await getSheetJob(database.tables, job.id))?.state !== 'done') await setTimeout(50);
await sheets.queue.close();
await database.close();
say('done');
