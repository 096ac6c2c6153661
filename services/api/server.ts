/** Starts the service: `npm start`. The only place that reads the environment for it. */
import { loadRules } from '../workshop/index.ts';
import { DEMO_FOLDER, RULES_FOLDER } from '../paths.ts';
import { createApp } from './app.ts';
import { memoryCatalogue, readDemo } from './catalogue.ts';
import { pooledRunner } from './checks.ts';
import { readSettings } from './settings.ts';

const read = readSettings(process.env);
if (!read.ok) {
  for (const fault of read.faults) console.error(`setting ${fault}`);
  process.exit(2);
}
const { settings } = read;
const library = loadRules(RULES_FOLDER);
const catalogue = memoryCatalogue(readDemo(DEMO_FOLDER));
const app = await createApp({
  library,
  catalogue,
  checks: pooledRunner(RULES_FOLDER, 2),
  keys: settings.API_KEYS,
  logger: { level: 'info', redact: ['req.headers.authorization'] },
});

for (const signal of ['SIGINT', 'SIGTERM'] as const) {
  process.once(signal, () => {
    // What is under way is finished; nothing new is taken.
    app.close().then(
      () => process.exit(0),
      () => process.exit(1),
    );
  });
}

await app.listen({ port: settings.PORT, host: settings.HOST });
