/** Starts the service: `npm start`. The only place that reads the environment for it. */

import { collectDefaultMetrics, Registry } from 'prom-client';
import { forgetOldReplies } from '../../db/once.ts';
import { openDatabase } from '../../db/open.ts';
import { forgetOldSheets } from '../../db/sheet-jobs.ts';
import { DEMO_FOLDER, RULES_FOLDER } from '../paths.ts';
import { loadRules } from '../workshop/index.ts';
import { createApp } from './app.ts';
import { readDemo } from './catalogue.ts';
import { pooledRunner } from './checks.ts';
import { readSettings } from './settings.ts';
import { beginWithDemo } from './stored-catalogue.ts';

const read = readSettings(process.env);
if (!read.ok) {
  for (const fault of read.faults) console.error(`setting ${fault}`);
  process.exit(2);
}
const { settings } = read;
const library = loadRules(RULES_FOLDER);
const { DATABASE_URL: url, DATABASE_PASSWORD: password, DATA_DIR: dir } = settings;
const where = url === undefined ? { dir } : { url, ...(password !== undefined && { password }) };
const database = await openDatabase(where).catch(refuse);
await beginWithDemo(database.tables, readDemo(DEMO_FOLDER)).catch(refuse);

/** What cannot be opened is said in a line, without a trace of where in the code. */
function refuse(error: unknown): never {
  console.error(`the database cannot be opened: ${error instanceof Error ? error.message : String(error)}`);
  process.exit(1);
}

const metrics = new Registry();
collectDefaultMetrics({ register: metrics });
const forgetting = setInterval(
  () => void Promise.all([forgetOldReplies(database.tables), forgetOldSheets(database.tables)]).catch(() => {}),
  3_600_000,
).unref();

const app = await createApp({
  library,
  database,
  checks: pooledRunner(RULES_FOLDER),
  keys: settings.API_KEYS,
  origins: settings.ALLOWED_ORIGINS,
  metrics,
  worksSheets: true,
  ...(settings.RATE_LIMIT > 0 && { rateLimit: settings.RATE_LIMIT }),
  logger: { level: 'info', redact: ['req.headers.authorization'] },
});

for (const signal of ['SIGINT', 'SIGTERM'] as const) {
  process.once(signal, () => {
    clearInterval(forgetting);
    // What is under way is finished; nothing new is taken.
    app.close().then(
      () => process.exit(0),
      () => process.exit(1),
    );
  });
}

await app.listen({ port: settings.PORT, host: settings.HOST });
