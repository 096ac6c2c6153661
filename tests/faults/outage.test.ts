/** The database is stopped and started while the service is asked without pause. */
import type { AddressInfo } from 'node:net';
import { setTimeout } from 'node:timers/promises';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openDatabase } from '../../db/open.ts';
import { startPostgres, type TestServer } from '../../db/testing.ts';
import type { App } from '../../services/api/app.ts';
import { readDemo } from '../../services/api/catalogue.ts';
import { beginWithDemo } from '../../services/api/stored-catalogue.ts';
import { problemFault, testApp } from '../../services/api/testing.ts';
import { DEMO_FOLDER } from '../../services/paths.ts';
import { thorough } from './random.ts';

const OUTAGES = thorough ? 10 : 2;
const ASKERS = 6;

let server: TestServer;
let app: App;
let base = '';
beforeAll(async () => {
  server = await startPostgres();
  const database = await openDatabase({ url: server.url });
  await beginWithDemo(database.tables, readDemo(DEMO_FOLDER));
  app = await testApp({ database });
  await app.listen({ port: 0, host: '127.0.0.1' });
  base = `http://127.0.0.1:${(app.server.address() as AddressInfo).port}`;
});
afterAll(async () => {
  await app.close();
  await server.stop();
});

const build = { vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll' } };
const json = { 'content-type': 'application/json' };

it('answers 503 with when to come back while it is away, is right again after, and keeps what it acknowledged', async () => {
  const counts = { fine: 0, away: 0 };
  const wrong: string[] = [];
  const saved: string[] = [];
  let stopping = false;
  let n = 0;

  const askOnce = async (): Promise<void> => {
    const name = `outage ${++n}`;
    const writing = n % 2 === 0;
    const response = writing
      ? await fetch(`${base}/v1/builds`, {
          method: 'POST',
          headers: { ...json, 'idempotency-key': name.replace(' ', '-') },
          body: JSON.stringify({ name, build }),
        })
      : await fetch(`${base}/v1/parts?limit=3`);
    const body = await response.text();
    if (response.ok) {
      counts.fine++;
      if (writing) saved.push((JSON.parse(body) as { id: string }).id);
      return;
    }
    const problem = problemFault({ json: () => JSON.parse(body) } as never);
    if (response.status === 503 && Number(response.headers.get('retry-after')) > 0 && problem === undefined) counts.away++;
    else wrong.push(`${response.status} ${body}`);
  };
  const asker = async (): Promise<void> => {
    while (!stopping) await askOnce().catch((error: unknown) => wrong.push(String(error)));
  };
  const grown = async (count: () => number): Promise<void> => {
    const from = count();
    while (count() < from + 10) await setTimeout(20);
  };

  const askers = Array.from({ length: ASKERS }, asker);
  await grown(() => counts.fine);
  for (let i = 0; i < OUTAGES; i++) {
    await server.halt();
    await grown(() => counts.away);
    expect((await fetch(`${base}/readyz`)).status).toBe(503);
    expect((await fetch(`${base}/livez`)).status).toBe(200);
    await server.resume();
    await grown(() => counts.fine);
    expect((await fetch(`${base}/readyz`)).status).toBe(200);
  }
  stopping = true;
  await Promise.all(askers);

  expect(wrong).toEqual([]);
  for (const id of saved) expect((await fetch(`${base}/v1/builds/${id}`)).status).toBe(200);
  expect(saved.length).toBeGreaterThan(OUTAGES);
}, 300_000);
