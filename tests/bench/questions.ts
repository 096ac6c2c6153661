/** Questions over HTTP on one core, beside a bare echo of as many bytes; and reading alone. */
import fastify from 'fastify';
import { openDatabase } from '../../db/open.ts';
import { startPostgres } from '../../db/testing.ts';
import { type App, createApp } from '../../services/api/app.ts';
import { readDemo } from '../../services/api/catalogue.ts';
import { inlineRunner } from '../../services/api/checks.ts';
import { beginWithDemo } from '../../services/api/stored-catalogue.ts';
import { DEMO_FOLDER } from '../../services/paths.ts';
import { checker } from '../../services/workshop/testing.ts';
import { held, read } from '../questions/held.ts';
import { rate, report, timeAll } from './timing.ts';

const ROUNDS = 5;
const ROUND_MS = 400;
/** Of a bare echo's rate, what reading a question and looking up its names must leave. */
const READ_FLOOR = 0.03;
const json = { 'content-type': 'application/json' };
const median = (xs: readonly number[]): number => [...xs].sort((a, b) => a - b)[Math.floor(xs.length / 2)] as number;

export async function benchQuestions(): Promise<void> {
  let i = 0;
  const { reading } = timeAll({ reading: () => read(held[i++ % held.length]?.ask ?? '') });
  console.log(`  reading a question, nothing checked: ${rate(reading.rate)}`);
  const server = await startPostgres();
  const database = await openDatabase({ url: server.url });
  await beginWithDemo(database.tables, readDemo(DEMO_FOLDER));
  const app = await createApp({ library: checker.library, checks: inlineRunner(checker), database });
  try {
    await beside(app, 'a question that asks nothing, names looked up', 'will the flurbo bracket clear?', READ_FLOOR);
    await beside(app, 'a question with its check', '100Ah LFP and a 50qt fridge, Merrowdale Ghyll', undefined);
    await beside(app, 'a question about tyres with its check', '265/70R17 115S, Merrowdale Ghyll', undefined);
  } finally {
    await app.close();
    await server.stop();
  }
}

async function beside(app: App, what: string, text: string, floor: number | undefined): Promise<void> {
  const body = JSON.stringify({ text });
  const { body: answer } = await app.inject({ method: 'POST', url: '/v1/questions', headers: json, payload: body });
  const echo = fastify();
  echo.post('/', async (_request, reply) => reply.type('application/json').send(answer));
  if (app.server.address() === null) await app.listen({ port: 0, host: '127.0.0.1' });
  const address = app.server.address();
  const ours = `http://127.0.0.1:${typeof address === 'object' ? address?.port : ''}/v1/questions`;
  const bare = await echo.listen({ port: 0, host: '127.0.0.1' });
  const rates: [number[], number[]] = [[], []];
  for (let round = 0; round <= ROUNDS; round++) {
    const [a, b] = [await callsASecond(ours, body), await callsASecond(bare, body)];
    // The first round warms up.
    if (round > 0) rates[0].push(a);
    if (round > 0) rates[1].push(b);
  }
  await echo.close();
  const [a, b] = rates.map(median) as [number, number];
  report(`${what}, against a bare echo`, a / b, floor, `${rate(a)} against ${rate(b)} (${(answer.length / 1024).toFixed(0)} KiB out)`);
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
