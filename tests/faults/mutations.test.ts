/** Requests that are nearly right, thousands of them: every one is answered, none with a failure, and nothing piles up. */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { App } from '../../services/api/app.ts';
import { testApp } from '../../services/api/testing.ts';
import { demoBuild } from '../../services/workshop/testing.ts';
import { type Random, random, thorough } from './random.ts';

const REQUESTS = thorough ? 20_000 : 500;
/** What takes a thousand times as long as the rest comes less often, so that there can be many of the rest. */
const HEAVY_ONE_IN = thorough ? 20 : 5;
/** What is remembered of fronts, moved both ways, is bounded by number, and is not yet full half way through a short run. */
const GROWTH_ALLOWED = 32 << 20;
const LONGEST_MS = 20_000;
const processorMs = (): number => process.cpuUsage().user / 1000;

let app: App;
beforeAll(async () => {
  // How long an answer takes is counted in time of the processor, which a machine that is shared does not stretch.
  app = await testApp({ answerWithinMs: 600_000 });
});
afterAll(() => app.close());

interface Asked {
  readonly method: string;
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly payload?: string;
}

const json = { 'content-type': 'application/json' };
const post = (url: string, body: unknown, headers: Record<string, string> = {}, method = 'POST'): Asked => ({
  method,
  url,
  headers: { ...json, ...headers },
  payload: JSON.stringify(body),
});
const get = (url: string, headers: Record<string, string> = {}): Asked => ({ method: 'GET', url, headers });

const BODY_LIFT = {
  vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll' },
  parts: [{ from: 'inline', kind: 'body_lift', id: 'lift', attributes: { height: '25 mm' } }],
};
const SHEET = 'build,vehicle,tyre,front lift [mm],note\nA,merrowdale-ghyll,LT265/70R17,50,=1+1\nB,merrowdale-ghyll,285/75R16,,"x, y"\n';

/** Those that read and write, and those that have a vehicle worked out. */
function requestsOf(id: string, measurement: string): Record<'light' | 'heavy', Asked[]> {
  const reading = { quantity: 'tyre_gap', of: 'top-liners', value: '26 mm ± 4', date: '2026-10-03', tool: 'gauge' };
  const part = { kind: 'tyre', name: 'T', attributes: { mass: '20 kg', overall_diameter: '800 mm ± 2' } };
  const table = 'id,kind,name,mass [kg],overall_diameter\nm-1,tyre,"A, b",20 ± 1,800 mm\nm-2,winch,B,38,\n';
  const light = [
    post('/v1/builds', { name: 'M', build: demoBuild('modest'), by: 'A', note: 'b' }, { 'idempotency-key': 'k' }),
    get('/v1/builds?search=tender&limit=3&vehicle=merrowdale-ghyll'),
    get(`/v1/builds/${id}`, { 'if-none-match': '"1"' }),
    post(`/v1/builds/${id}`, { name: 'M', build: demoBuild('bare') }, { 'if-match': '*' }, 'PUT'),
    post(`/v1/builds/${id}/restore`, { revision: 1 }, { 'if-match': '*' }),
    get(`/v1/builds/${id}/revisions?limit=2&cursor=WzMsIiJd`),
    get(`/v1/builds/${id}/revisions/2`),
    post(`/v1/builds/${id}/measurements`, reading),
    { method: 'DELETE', url: `/v1/builds/${id}/measurements/${measurement}`, headers: { 'if-match': '"1"' } },
    get(`/v1/builds/${id}/checks?limit=1`),
    { method: 'DELETE', url: `/v1/builds/${id}`, headers: { 'if-match': '"1"' } },
    post('/v1/parts', { id: 'mutated', ...part }),
    post('/v1/parts/orrisbeck-trail-265', part, { 'if-match': '*' }, 'PUT'),
    get('/v1/parts?search=trail&kind=tyre&limit=5'),
    get('/v1/parts/orrisbeck-trail-265?version=1'),
    get('/v1/vehicles/merrowdale-ghyll'),
    { method: 'POST', url: '/v1/imports/parts?take=good', headers: { 'content-type': 'text/csv' }, payload: table },
    post('/v1/imports/parts', [{ id: 'm-3', ...part }]),
    post('/v1/imports/vehicles?take=good', [{ id: 'm-v', name: 'V', class: 'midsize_independent_front', values: { wheelbase: '3 m' } }]),
    get('/v1/kinds/tyre'),
    get('/v1/rules'),
    get('/v1/tyres/LT285%2F70R17%20121%2F118Q%20E'),
    get('/v1/tyres/255%2F85R16/compare/33x12.50-15'),
    get('/v1/sheets?limit=2'),
    post('/v1/cell-tokens', { name: 'A sheet' }),
  ];
  const heavy = [
    post('/v1/checks', demoBuild('modest')),
    post('/v1/checks', demoBuild('bare')),
    post(`/v1/builds/${id}/checks`, { revision: 1, units: 'us' }),
    post('/v1/comparisons', { before: { build: id, revision: 1 }, after: { build: id } }),
    post('/v1/plans', demoBuild('bare')),
    post('/v1/plans/sheet?form=csv', demoBuild('bare')),
    post('/v1/what-ifs', { ...BODY_LIFT, vary: { quantity: 'height', of: 'lift', from: '0 mm', to: '90 mm', step: '45 mm' } }),
    post('/v1/questions', { text: '285/70R17 on a merrowdale ghyll, 2.5" lift, 17x8.5 -10?', length: 300, format: 'markdown' }),
    { method: 'POST', url: '/v1/sheets/check?units=us', headers: { 'content-type': 'text/csv' }, payload: SHEET },
    get('/v1/cells/verdict?vehicle=merrowdale-ghyll&tyre=LT265%2F70R17&front_lift_mm=50'),
  ];
  return { light, heavy };
}

const ODD: readonly unknown[] = [
  null,
  true,
  0,
  -1,
  1e308,
  1.5,
  '',
  ' ',
  'x'.repeat(5000),
  '\u0000',
  '\ud800',
  '😀',
  '../../etc',
  "'; drop table builds; --",
  '%s%n',
  '1e999 mm',
  '-0 mm',
  '5 mm ± -1',
  '∞ kg',
  '9'.repeat(400),
  [],
  {},
  [[[[[]]]]],
  { from: 'inline' },
  { from: 'catalogue', vehicle: 7 },
  '__proto__',
  { __proto__: null, constructor: 1 },
];

type Json = Record<string, unknown> | unknown[];

/** Every object and list in a value. */
function inner(value: unknown, found: Json[] = []): Json[] {
  if (typeof value !== 'object' || value === null) return found;
  found.push(value as Json);
  for (const below of Object.values(value)) inner(below, found);
  return found;
}

function mutateJson(text: string, chance: Random): string {
  const value = JSON.parse(text) as unknown;
  const at = chance.pick(inner(value).length > 0 ? inner(value) : [{}]) as Record<string, unknown>;
  const keys = Object.keys(at);
  const key = keys.length > 0 ? chance.pick(keys) : 'x';
  switch (chance.below(5)) {
    case 0:
      delete at[key];
      break;
    case 1:
      at[chance.pick(['x', '', '__proto__', 'a/b~c', 'toString', key.slice(1), key.toUpperCase()])] = chance.pick(ODD);
      break;
    case 2:
      at[key] = inner(value)[chance.below(3)] === at ? chance.pick(ODD) : structuredClone(chance.pick(inner(value)));
      break;
    default:
      at[key] = chance.pick(ODD);
  }
  return JSON.stringify(value) ?? '';
}

function mutateText(text: string, chance: Random): string {
  const at = chance.below(text.length + 1);
  const to = Math.min(text.length, at + chance.below(12));
  switch (chance.below(5)) {
    case 0:
      return text.slice(0, at);
    case 1:
      return text.slice(0, at) + text.slice(to);
    case 2:
      return text.slice(0, to) + text.slice(at);
    case 3:
      return (
        text.slice(0, at) + chance.pick(['"', '\\', '{', ']', ',', '\n', '\u0000', '\\ud800', '\ufeff', 'é', ';', '±']) + text.slice(at)
      );
    default:
      return text.slice(0, at) + String.fromCharCode(32 + chance.below(96)) + text.slice(at + 1);
  }
}

const HEADERS: readonly (readonly [string, string])[] = [
  ['content-type', 'text/csv'],
  ['content-type', 'application/json; charset=latin1'],
  ['content-type', 'multipart/form-data'],
  ['if-match', '3'],
  ['if-match', 'W/"1"'],
  ['if-match', '"999999999"'],
  ['if-none-match', '*'],
  ['idempotency-key', 'é'],
  ['idempotency-key', 'k'],
  ['authorization', 'Bearer '],
  ['accept', 'text/html'],
  ['content-length', '3'],
  ['expect', '100-continue'],
];

function mutate(asked: Asked, chance: Random): Asked {
  const { payload } = asked;
  switch (chance.below(payload === undefined ? 4 : 10)) {
    case 0:
      return { ...asked, url: `/${mutateText(asked.url.slice(1), chance).replace(/[^\x21-\x7e]/g, (c) => encodeURIComponent(c))}` };
    case 1:
      return {
        ...asked,
        url: asked.url + chance.pick(['%00', '%', '%ff', '?limit=-1', '&cursor=e30', '&cursor=WzEsIngiXQ', '/..', '?x[]=1', '#a', '//']),
      };
    case 2: {
      const [name, value] = chance.pick(HEADERS);
      return { ...asked, headers: { ...asked.headers, [name]: value } };
    }
    case 3:
      return { ...asked, method: chance.pick(['GET', 'POST', 'PUT', 'DELETE', 'PATCH', 'HEAD', 'OPTIONS']) };
    case 4:
    case 5:
    case 6:
      return { ...asked, payload: mutateText(payload as string, chance) };
    default:
      return {
        ...asked,
        payload:
          asked.headers['content-type'] === json['content-type']
            ? mutateJson(payload as string, chance)
            : mutateText(payload as string, chance),
      };
  }
}

/** Bytes of the heap that are in use once all that can be let go is. */
function heapInUse(): number {
  setFlagsFromString('--expose-gc');
  (runInNewContext('gc') as () => void)();
  return process.memoryUsage().heapUsed;
}

it(`${REQUESTS} mutated requests are all answered, none of them with a failure, in flat memory`, { timeout: 3_600_000 }, async () => {
  const made = (await app.inject({ ...post('/v1/builds', { name: 'Base', build: demoBuild('modest') }) } as never)).json() as {
    id: string;
  };
  const reading = { quantity: 'tyre_gap', of: 'top-liners', value: '26 mm', date: '2026-10-03', tool: 'gauge' };
  const measured = await app.inject(post(`/v1/builds/${made.id}/measurements`, reading) as never);
  const requests = requestsOf(made.id, (measured.json() as { measurements: { id: string }[] }).measurements[0]?.id ?? '');
  const statuses = new Map<number, number>();
  const failures: unknown[] = [];
  let slowest: { ms: number; seed: number; asked: string }[] = [];
  const ask = async (seed: number): Promise<void> => {
    const chance = random(seed);
    const asked = Array.from({ length: 1 + chance.below(2) }).reduce<Asked>(
      (one) => {
        try {
          return mutate(one, chance);
        } catch {
          // A body that an earlier mutation made unreadable is not mutated as JSON again.
          return one;
        }
      },
      chance.pick(chance.below(HEAVY_ONE_IN) === 0 ? requests.heavy : requests.light),
    );
    const from = processorMs();
    const response = await app.inject(asked as never);
    const took = processorMs() - from;
    slowest = [...slowest, { ms: Math.round(took), seed, asked: `${asked.method} ${asked.url} ${asked.payload ?? ''}`.slice(0, 400) }]
      .sort((a, b) => b.ms - a.ms)
      .slice(0, 5);
    statuses.set(response.statusCode, (statuses.get(response.statusCode) ?? 0) + 1);
    if (response.statusCode >= 500) failures.push({ seed, asked, answered: response.body.slice(0, 300) });
  };
  // By then everything that is remembered for later requests is: what grows on is a leak.
  const warm = Math.floor(REQUESTS / 2);
  for (let seed = 1; seed <= warm; seed++) await ask(seed);
  const before = heapInUse();
  for (let seed = warm + 1; seed <= REQUESTS; seed++) await ask(seed);
  const growth = heapInUse() - before;
  console.log(
    `answered ${JSON.stringify(Object.fromEntries([...statuses].sort()))}, heap grew ${(growth / 1024 / 1024).toFixed(1)} MiB, slowest in ms of processor`,
    slowest,
  );
  expect(failures.slice(0, 3)).toEqual([]);
  expect(growth).toBeLessThan(GROWTH_ALLOWED);
  expect(slowest[0]?.ms).toBeLessThan(LONGEST_MS);
  const total = [...statuses.values()].reduce((sum, n) => sum + n, 0);
  expect(total).toBe(REQUESTS);
  // Mutations that are all refused alike would test one check.
  expect([200, 400, 404, 422].filter((status) => (statuses.get(status) ?? 0) < REQUESTS / 100)).toEqual([]);
});
