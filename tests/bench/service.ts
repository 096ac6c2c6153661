/** The service over HTTP beside an echo of the same sizes, an import of 100 000 parts, and searches among them, on PostgreSQL. */
import fastify from 'fastify';
import { openDatabase } from '../../db/open.ts';
import { startPostgres } from '../../db/testing.ts';
import { type App, createApp } from '../../services/api/app.ts';
import { readDemo } from '../../services/api/catalogue.ts';
import { inlineRunner } from '../../services/api/checks.ts';
import { CheckRequest } from '../../services/api/schemas/request.ts';
import { beginWithDemo } from '../../services/api/stored-catalogue.ts';
import { DEMO_FOLDER } from '../../services/paths.ts';
import { checker, demoBuild } from '../../services/workshop/testing.ts';
import { rate, report } from './timing.ts';

const ROWS = 100_000;
const ROUNDS = 5;
const ROUND_MS = 400;
const json = { 'content-type': 'application/json' };
const median = (xs: readonly number[]): number => [...xs].sort((a, b) => a - b)[Math.floor(xs.length / 2)] as number;

export async function benchService(): Promise<void> {
  const server = await startPostgres();
  const database = await openDatabase({ url: server.url });
  await beginWithDemo(database.tables, readDemo(DEMO_FOLDER));
  const app = await createApp({ library: checker.library, checks: inlineRunner(checker), database });
  try {
    await benchCheck(app);
    await benchImport(app);
    await benchSearch(app);
  } finally {
    await app.close();
    await server.stop();
  }
}

/** A check, against reading the same request with zod and answering with as many bytes. */
async function benchCheck(app: App): Promise<void> {
  const body = JSON.stringify(demoBuild('modest'));
  const answer = (await app.inject({ method: 'POST', url: '/v1/checks', headers: json, payload: body })).body;
  const echo = fastify();
  echo.post('/', async (request, reply) => {
    CheckRequest.parse(request.body);
    return reply.type('application/json').send(answer);
  });
  const addresses = await Promise.all([app, echo].map((one) => (one as App).listen({ port: 0, host: '127.0.0.1' })));
  const urls = [`${addresses[0]}/v1/checks`, `${addresses[1]}/`];
  const rates: number[][] = [[], []];
  for (let i = 0; i <= ROUNDS; i++)
    for (const [which, url] of urls.entries()) {
      const measured = await callsASecond(url, body);
      // The first round warms up.
      if (i > 0) rates[which]?.push(measured);
    }
  await echo.close();
  const [ours, bare] = rates.map(median) as [number, number];
  const sizes = `${(body.length / 1024).toFixed(1)} KiB in, ${(answer.length / 1024).toFixed(0)} KiB out`;
  report('a check over HTTP, against a zod echo of its sizes', ours / bare, undefined, `${rate(ours)} against ${rate(bare)} (${sizes})`);
}

async function callsASecond(url: string, body: string): Promise<number> {
  const start = performance.now();
  let calls = 0;
  do {
    await (await fetch(url, { method: 'POST', headers: json, body })).arrayBuffer();
    calls++;
  } while (performance.now() - start < ROUND_MS);
  return (calls * 1000) / (performance.now() - start);
}

const WORDS = ['fell', 'beck', 'scar', 'tarn', 'ghyll', 'rigg', 'moss', 'thwaite', 'howe', 'crag'] as const;
const word = (i: number): string => WORDS[i % WORDS.length] as string;

async function benchImport(app: App): Promise<void> {
  const rows = Array.from(
    { length: ROWS },
    (_, i) => `bench-${i},tyre,${word(i)}${word(i >> 3)} ${i % 997} ${word(i >> 5)},Maker ${i % 89},${18 + (i % 20)},${700 + (i % 200)} mm`,
  );
  const payload = ['id,kind,name,maker,mass [kg],overall_diameter', ...rows].join('\n');
  const importing = async (): Promise<number> => {
    const start = performance.now();
    const response = await app.inject({ method: 'POST', url: '/v1/imports/parts', headers: { 'content-type': 'text/csv' }, payload });
    if (response.json().rows !== ROWS) throw new Error(response.body.slice(0, 500));
    return performance.now() - start;
  };
  const [first, again] = [await importing(), await importing()];
  console.log(
    `  import of ${ROWS} parts from CSV (${(payload.length / 1e6).toFixed(1)} MB): ${seconds(first)} new, ${seconds(again)} unchanged`,
  );
}

const seconds = (ms: number): string => `${(ms / 1000).toFixed(1)} s`;

async function benchSearch(app: App): Promise<void> {
  const searches = { 'one part': 'bench-77777', 'a few': 'thwaitecrag 500', 'ten thousands': 'fell', misspelt: 'thwaitcrag 50' };
  for (const [name, search] of Object.entries(searches)) {
    const times: number[] = [];
    for (let i = 0; i < 15; i++) {
      const start = performance.now();
      await app.inject({ url: `/v1/parts?limit=20&search=${encodeURIComponent(search)}` });
      times.push(performance.now() - start);
    }
    console.log(`  search among ${ROWS} parts, ${name} (\`${search}\`): ${median(times).toFixed(1)} ms`);
  }
}
