/** `npm run generate`: rewrites the OpenAPI document and the client's types; with `--check` it only compares. */
import { readFileSync, writeFileSync } from 'node:fs';
import openapiTS, { astToString } from 'openapi-typescript';
import { OPENAPI_FILE, RULES_FOLDER, SDK_SCHEMA_FILE } from '../paths.ts';
import { createChecker, loadRules } from '../workshop/index.ts';
import { createApp } from './app.ts';
import { inlineRunner } from './checks.ts';

const library = loadRules(RULES_FOLDER);
/** Nothing is asked, so nothing is opened. */
const database = { tables: undefined as never, plain: { connectionString: '' }, ping: async () => {}, close: async () => {} };
const app = await createApp({ library, database, checks: inlineRunner(createChecker(library)) });
const document = app.swagger();
await app.close();

const types = astToString(await openapiTS(JSON.stringify(document)));
const wanted = new Map([
  [OPENAPI_FILE, `${JSON.stringify(document, null, 2)}\n`],
  [SDK_SCHEMA_FILE, `/** Made by \`npm run generate\` from the OpenAPI document; do not edit. */\n${types}`],
]);

const current = (file: string): string | undefined => {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return undefined;
  }
};
const stale = [...wanted].filter(([file, text]) => current(file) !== text);
if (process.argv.includes('--check')) {
  for (const [file] of stale) console.error(`${file} is not what the code says; run \`npm run generate\``);
  process.exitCode = stale.length > 0 ? 1 : 0;
} else for (const [file, text] of stale) writeFileSync(file, text);
console.log(
  stale.length === 0
    ? 'the OpenAPI document and the client types are as the code says'
    : `${stale.length} files differ${process.argv.includes('--check') ? '' : ' and were rewritten'}`,
);
