import { readFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { createConfig, lintFromString } from '@redocly/openapi-core';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { OPENAPI_FILE, RULES_FOLDER } from '../paths.ts';
import { demoBuild } from '../workshop/testing.ts';
import type { App } from './app.ts';
import { type CheckRunner, pooledRunner } from './checks.ts';
import { EXAMPLE_REQUEST } from './docs-page.ts';
import { ERROR_CODES, ERRORS } from './errors.ts';
import { callerOf } from './keys.ts';
import { readSettings } from './settings.ts';
import { parseJson } from './strict-json.ts';
import { contractFault, demoDatabase, testApp } from './testing.ts';

let app: App;
beforeAll(async () => {
  app = await testApp();
});
afterAll(() => app.close());

const post = (payload: unknown) =>
  app.inject({
    method: 'POST',
    url: '/v1/checks',
    headers: { 'content-type': 'application/json' },
    payload: typeof payload === 'string' ? payload : JSON.stringify(payload),
  });
const get = (url: string) => app.inject({ method: 'GET', url });
const faultsAt = (response: { json(): { faults: { pointer: string; code: string }[] } }) =>
  new Map(response.json().faults.map(({ pointer, code }) => [pointer, code]));

const failingWith = (message: string): CheckRunner => {
  const fail = (): Promise<never> => Promise.reject(new Error(message));
  return { run: fail, whatIf: fail, plan: fail, close: async () => {} };
};

describe('POST /v1/checks', () => {
  it.each(['modest', 'bolder', 'bold', 'bare'] as const)('answers the %s build as the contract says', async (name) => {
    const response = await post(demoBuild(name));
    expect(response.statusCode).toBe(200);
    expect(response.headers['content-type']).toContain('application/json');
    expect(contractFault('/v1/checks', 'post', response)).toBeUndefined();
  });

  it('and the contract would refuse an answer of another form', async () => {
    const response = await post(demoBuild('modest'));
    const wrong = { ...response, statusCode: 200, json: () => ({ ...response.json(), verdict: 'fine' }) };
    expect(contractFault('/v1/checks', 'post', wrong as never)).toContain('verdict');
  });

  it('answers the same bytes to the same request', async () => {
    expect((await post(demoBuild('bold'))).body).toBe((await post(demoBuild('bold'))).body);
  });

  it('works over a real socket too', async () => {
    await app.listen({ port: 0, host: '127.0.0.1' });
    const { port } = app.server.address() as AddressInfo;
    const response = await supertest(`http://127.0.0.1:${port}`).post('/v1/checks').send(EXAMPLE_REQUEST).expect(200);
    expect(response.body.verdict).toMatch(/^(conflict|unknown|close|clear)$/);
  });

  it('names every field that is wrong, at once, with its fix', async () => {
    const response = await post({
      vehicle: { from: 'catalog', vehicle: 'x' },
      prats: [],
      parts: [{ from: 'inline', knid: 'tyre' }, 7],
      load: { occupants: 2.5, items: [{ name: 'bag', mass: 40 }] },
    });
    expect(response.statusCode).toBe(400);
    expect(response.headers['content-type']).toContain('application/problem+json');
    expect(contractFault('/v1/checks', 'post', response)).toBeUndefined();
    const at = faultsAt(response);
    expect(at.get('/vehicle/from')).toBe('VALUE_UNKNOWN');
    expect(at.get('/prats')).toBe('FIELD_UNKNOWN');
    expect(at.get('/parts/0/kind')).toBe('FIELD_MISSING');
    expect(at.get('/parts/0/knid')).toBe('FIELD_UNKNOWN');
    expect(at.get('/parts/1')).toBeDefined();
    expect(at.get('/load/occupants')).toBeDefined();
    expect(at.get('/load/items/0/mass')).toBe('TYPE_WRONG');
    expect(at.get('/load/items/0/behind_front_axle')).toBe('FIELD_MISSING');
    const help = response.json().faults.find(({ pointer }: { pointer: string }) => pointer === '/prats').help;
    expect(help).toBe('did you mean `parts`?');
  });

  it('says what of the build cannot be put together', async () => {
    const response = await post({ vehicle: { from: 'inline', class: 'midsize' }, parts: [] });
    expect(response.statusCode).toBe(422);
    expect(contractFault('/v1/checks', 'post', response)).toBeUndefined();
    expect(faultsAt(response).get('/vehicle/class')).toBe('CLASS_UNKNOWN');
  });

  it('counts a load at the height it is loaded at', async () => {
    const factor = async (height: string) => {
      const item = { name: 'chest', mass: '200 kg', behind_front_axle: '2.5 m', height };
      const response = await post({ vehicle: EXAMPLE_REQUEST.vehicle, load: { items: [item] }, values: 'all' });
      return response.json().values.stability_factor.value as number;
    };
    expect(await factor('1.9 m')).toBeLessThan(await factor('0.7 m'));
  });

  it('calls a fitted part as the class does, where the vehicle names it by its id alone', async () => {
    const fitted = { from: 'inline', id: 'factory-tyres', kind: 'tyre', at: 'all', attributes: { designation: '265/65R17 112T' } };
    const named = async (more: object) => {
      const vehicle = { from: 'inline', class: 'midsize_independent_front', fitted: [{ ...fitted, ...more }] };
      const { findings } = (await post({ vehicle })).json() as { findings: { parts: { id: string; name: string }[] }[] };
      return findings.flatMap(({ parts }) => parts).find(({ id }) => id.startsWith('factory-tyres'))?.name;
    };
    expect(await named({})).toContain('Factory tyres');
    expect(await named({ name: 'Rock ramblers' })).toContain('Rock ramblers');
  });

  it('escapes pointers', async () => {
    const response = await post({ ...EXAMPLE_REQUEST, parts: [{ from: 'inline', kind: 'winch', attributes: { 'a/b~c': '1 kg' } }] });
    expect(faultsAt(response).get('/parts/0/attributes/a~1b~0c')).toBe('ATTRIBUTE_UNKNOWN');
  });

  it.each([
    ['{', 400, 'JSON_MALFORMED'],
    ['', 400, 'JSON_MALFORMED'],
    ['{"vehicle": {"from": "inline", "from": "catalogue"}}', 400, 'JSON_DUPLICATE_KEY'],
    ['[]', 400, 'REQUEST_INVALID'],
    ['null', 400, 'REQUEST_INVALID'],
    [`{"x": "${'y'.repeat(1 << 20)}"}`, 413, 'BODY_TOO_LARGE'],
  ])('refuses %.40s', async (body, status, code) => {
    const response = await post(body);
    expect([response.statusCode, response.json().code]).toEqual([status, code]);
  });

  it('reads JSON only', async () => {
    const response = await app.inject({ method: 'POST', url: '/v1/checks', headers: { 'content-type': 'text/plain' }, payload: 'hello' });
    expect([response.statusCode, response.json().code]).toEqual([415, 'CONTENT_TYPE_WRONG']);
  });

  it('says it is busy, and when to come back, when too many checks wait', async () => {
    const busy = await testApp({ checks: failingWith('Task queue is at limit') });
    const response = await busy.inject({ method: 'POST', url: '/v1/checks', payload: EXAMPLE_REQUEST });
    expect([response.statusCode, response.json().code, response.headers['retry-after']]).toEqual([503, 'UNAVAILABLE', '1']);
    expect(response.json().detail).toContain('Try again in 1 s.');
    await busy.close();
  });

  it('works nothing out that nobody waits for any more', async () => {
    const late = await testApp({ checks: pooledRunner(RULES_FOLDER, 1, -1) });
    const response = await late.inject({ method: 'POST', url: '/v1/checks', payload: EXAMPLE_REQUEST });
    expect([response.statusCode, response.json().code, response.headers['retry-after']]).toEqual([503, 'UNAVAILABLE', '1']);
    await late.close();
  });

  it('a failure of ours says nothing of itself', async () => {
    const failing = await testApp({ checks: failingWith('secret path /etc') });
    const response = await failing.inject({ method: 'POST', url: '/v1/checks', payload: EXAMPLE_REQUEST });
    expect([response.statusCode, response.json().code]).toEqual([500, 'INTERNAL']);
    expect(response.body).not.toContain('secret');
    await failing.close();
  });
});

describe('reading', () => {
  it.each(['vehicles', 'parts', 'kinds', 'rules', 'works', 'quantities', 'sources', 'classes'])(
    '%s: a list, and each of it by its id, as the contract says',
    async (noun) => {
      const list = await get(`/v1/${noun}`);
      expect(contractFault(`/v1/${noun}`, 'get', list)).toBeUndefined();
      const items = list.json().items as { id?: string; name?: string }[];
      expect(items.length).toBeGreaterThan(0);
      for (const item of items.slice(0, 60)) {
        const one = await get(`/v1/${noun}/${item.id ?? item.name}`);
        expect([one.statusCode, contractFault(`/v1/${noun}/{id}`, 'get', one)]).toEqual([200, undefined]);
        expect(one.json()).toEqual(item);
      }
      const none = await get(`/v1/${noun}/nothing-like-it`);
      expect([none.statusCode, none.json().code, contractFault(`/v1/${noun}/{id}`, 'get', none)]).toEqual([404, 'NOT_FOUND', undefined]);
    },
  );

  it('pages through a list without losing or repeating', async () => {
    const seen: string[] = [];
    let cursor: string | null = null;
    do {
      const page: { items: { id: string }[]; next: string | null } = (
        await get(`/v1/parts?limit=7${cursor ? `&cursor=${cursor}` : ''}`)
      ).json();
      seen.push(...page.items.map(({ id }) => id));
      cursor = page.next;
    } while (cursor);
    const all = (await get('/v1/parts?limit=200')).json().items.map(({ id }: { id: string }) => id);
    expect(seen).toEqual(all);
    expect(all.length).toBeGreaterThanOrEqual(30);
  });

  it('filters by kind and searches by name', async () => {
    const tyres = (await get('/v1/parts?kind=tyre')).json().items as { kind: string }[];
    expect(tyres.length).toBeGreaterThan(2);
    expect(tyres.every(({ kind }) => kind === 'tyre')).toBe(true);
    expect((await get('/v1/parts?search=raft')).json().items).toHaveLength(1);
  });

  it('refuses a query it does not know', async () => {
    const response = await get('/v1/parts?limt=3');
    expect([response.statusCode, faultsAt(response).get('/limt')]).toEqual([400, 'FIELD_UNKNOWN']);
  });

  it('suggests the nearest id', async () =>
    expect((await get('/v1/kinds/brake_hoze')).json().detail).toContain('did you mean `brake_hose`?'));
});

describe('the service itself', () => {
  it('lives and is ready; without its database it is not', async () => {
    expect([(await get('/livez')).statusCode, (await get('/readyz')).statusCode]).toEqual([200, 200]);
    const database = await demoDatabase();
    const away = await testApp({ database: { ...database, ping: () => Promise.reject(new Error('away')) } });
    const response = await away.inject('/readyz');
    expect([response.statusCode, response.headers['retry-after'], contractFault('/readyz', 'get', response)]).toEqual([
      503,
      '2',
      undefined,
    ]);
    await away.close();
  });

  it('answers a path it does not have, and a method it does not take', async () => {
    expect((await get('/v2')).json().code).toBe('NOT_FOUND');
    const response = await app.inject({ method: 'DELETE', url: '/v1/checks' });
    expect([response.statusCode, response.json().code, response.headers.allow]).toEqual([405, 'METHOD_WRONG', 'POST']);
  });

  it('serves the committed contract', async () => {
    const served = await get('/openapi.json');
    expect(served.json()).toEqual(JSON.parse(readFileSync(OPENAPI_FILE, 'utf8')));
    expect(served.json().openapi).toBe('3.1.0');
  });

  it('and the contract has nothing that a linter of OpenAPI objects to', async () => {
    const config = await createConfig({ extends: ['recommended'] });
    const problems = await lintFromString({ source: readFileSync(OPENAPI_FILE, 'utf8'), config });
    // What is asked of these two cannot be wrong.
    const cannotBeWrong = /^#\/paths\/~1(livez|readyz)\//;
    expect(
      problems
        .map(({ ruleId, location }) => `${ruleId} ${location[0]?.pointer}`)
        .filter((line) => !cannotBeWrong.test(line.split(' ')[1] ?? '')),
    ).toEqual([]);
    const broken = await lintFromString({ source: JSON.stringify({ openapi: '3.1.0', info: {}, paths: {} }), config });
    expect(broken.some(({ severity }) => severity === 'error')).toBe(true);
  });

  it('errors are the same in the catalogue, the contract and the page of documents', async () => {
    const page = (await get('/docs')).body;
    const listed = [...page.matchAll(/<tr id="([A-Z_]+)">/g)].map((match) => match[1]);
    const contract = (await get('/openapi.json')).json().components.schemas.Problem.properties.code.enum;
    expect(listed).toEqual(ERROR_CODES);
    expect(contract).toEqual(ERROR_CODES);
    expect(Object.keys(ERRORS)).toEqual(ERROR_CODES);
  });

  it('the example of the page of documents works', async () => {
    expect((await get('/docs')).body).toContain('merrowdale-ghyll');
    expect((await post(EXAMPLE_REQUEST)).statusCode).toBe(200);
  });
});

describe('keys', () => {
  const KEY = 'a-key-of-some-length';

  it('are asked for under /v1 when there are any', async () => {
    const guarded = await testApp({
      keys: [
        { name: 'other', secret: 'another-key-of-length' },
        { name: 'shop', secret: KEY },
      ],
    });
    const ask = (authorization?: string) =>
      guarded.inject({ method: 'GET', url: '/v1/kinds', headers: authorization ? { authorization } : {} });
    expect((await ask()).json().code).toBe('KEY_MISSING');
    expect((await ask('Bearer wrong')).json().code).toBe('KEY_UNKNOWN');
    expect((await ask(`Bearer ${KEY}`)).statusCode).toBe(200);
    expect((await guarded.inject('/livez')).statusCode).toBe(200);
    for (const url of ['/%761/kinds', '/v%31/kinds', '/%76%31/kinds', '/v1%2Fkinds', '//v1/kinds', '/v1/nothing']) {
      const { statusCode } = await guarded.inject({ method: 'GET', url });
      expect([url, statusCode === 401 || statusCode === 404]).toEqual([url, true]);
    }
    await guarded.close();
  });

  it('are not asked for when there are none', () => expect(callerOf([])({} as never).name).toBe('anyone'));
});

describe('requests', () => {
  it('have an id each, in the answer, in a problem and in the log, and the log has no secret', async () => {
    const lines: string[] = [];
    const secret = 'a-key-of-some-length';
    const logged = await testApp({
      keys: [{ name: 'shop', secret }],
      logger: { level: 'info', stream: { write: (line: string) => void lines.push(line) } },
    });
    const headers = { authorization: `Bearer ${secret}` };
    const fine = await logged.inject({ method: 'GET', url: '/v1/kinds', headers });
    const wrong = await logged.inject({ method: 'GET', url: '/v1/kinds/none', headers });
    const refused = await logged.inject({ method: 'GET', url: '/v1/kinds', headers: { authorization: `Bearer ${secret}-other` } });
    await logged.close();
    const ids = [fine, wrong, refused].map((response) => response.headers['x-request-id'] as string);
    expect(new Set(ids).size).toBe(3);
    expect(wrong.json().request_id).toBe(ids[1]);
    const parsed = lines.map((line) => JSON.parse(line));
    for (const id of ids) expect(parsed.filter(({ reqId }) => reqId === id).length).toBeGreaterThan(1);
    expect(lines.join('')).not.toContain(secret);
  });

  it('beyond the limit wait, each caller for itself', async () => {
    const keys = ['one', 'two'].map((name) => ({ name, secret: `secret-of-caller-${name}` }));
    const limited = await testApp({ keys, rateLimit: 3 });
    const ask = async (name: string, url = '/v1/classes') => {
      const response = await limited.inject({ method: 'GET', url, headers: { authorization: `Bearer secret-of-caller-${name}` } });
      return [response.statusCode, response.json().code, Number(response.headers['retry-after']) > 0];
    };
    const asked = [];
    for (let i = 0; i < 4; i++) asked.push((await ask('one'))[0]);
    expect(asked).toEqual([200, 200, 200, 429]);
    expect(await ask('one')).toEqual([429, 'TOO_MANY_REQUESTS', true]);
    expect((await ask('two'))[0]).toBe(200);
    expect((await ask('one', '/livez'))[0]).toBe(200);
    await limited.close();
  });

  it('with wrong keys wait as well, by address, and hold up nobody who has one', async () => {
    const secret = 'a-key-of-some-length';
    const limited = await testApp({ keys: [{ name: 'shop', secret }], rateLimit: 3 });
    const ask = async (key: string) =>
      (await limited.inject({ method: 'GET', url: '/v1/classes', headers: { authorization: `Bearer ${key}` } })).statusCode;
    const asked = [];
    for (let i = 0; i < 4; i++) asked.push(await ask(`guess-number-${i}-of-many`));
    expect(asked).toEqual([401, 401, 401, 429]);
    expect(await ask(secret)).toBe(200);
    await limited.close();
  });

  it('from pages of allowed origins are answered with what a browser asks for, and from others without', async () => {
    const origin = 'https://shop.example';
    const open = await testApp({ origins: [origin], keys: [{ name: 'shop', secret: 'a-key-of-some-length' }] });
    const preflight = { origin, 'access-control-request-method': 'PUT', 'access-control-request-headers': 'authorization,if-match' };
    const asked = await open.inject({ method: 'OPTIONS', url: '/v1/builds/x', headers: preflight });
    expect([asked.statusCode, asked.headers['access-control-allow-origin']]).toEqual([204, origin]);
    expect(asked.headers['access-control-allow-headers']).toContain('if-match');
    const refused = await open.inject({ method: 'GET', url: '/v1/kinds', headers: { origin } });
    expect([refused.statusCode, refused.headers['access-control-allow-origin']]).toEqual([401, origin]);
    expect(refused.headers['access-control-expose-headers']).toContain('etag');
    const other = await open.inject({ method: 'GET', url: '/v1/kinds', headers: { origin: 'https://elsewhere.example' } });
    expect(other.headers['access-control-allow-origin']).toBeUndefined();
    await open.close();
    expect((await get('/v1/kinds')).headers['access-control-allow-origin']).toBeUndefined();
  });

  it('are counted and timed by route, without ids, for those with a key', async () => {
    const secret = 'a-key-of-some-length';
    const counted = await testApp({ keys: [{ name: 'shop', secret }] });
    const headers = { authorization: `Bearer ${secret}` };
    for (const id of ['tyre', 'winch', 'none']) await counted.inject({ method: 'GET', url: `/v1/kinds/${id}`, headers });
    const text = (await counted.inject({ method: 'GET', url: '/metrics', headers })).body;
    const counts = (status: number) =>
      new RegExp(
        `^fettle_http_request_duration_seconds_count\\{method="GET",route="/v1/kinds/:id",status="${status}"\\} (\\d+)$`,
        'm',
      ).exec(text)?.[1];
    expect([counts(200), counts(404)]).toEqual(['2', '1']);
    expect(text).not.toContain('winch');
    expect((await counted.inject('/metrics')).statusCode).toBe(401);
    await counted.close();
  });

  it.each([
    ['/v1/parts/%00', 400],
    ['/v1/parts?search=a%00b', 400],
    ['/v1/parts/%zz', 400],
    ['/v1/parts/%ff%fe', 400],
    [`/v1/parts/${'x'.repeat(300)}`, 400],
    ['/v1/parts/x?version=99999999999', 400],
    ['/v1/parts?search=%20', 400],
    ['/v1/parts?limit=1&limit=2', 400],
    ['/v1/parts/a%2Fb', 404],
  ])('for %.60s are answered with a problem', async (url, status) => {
    const response = await get(url);
    expect([response.statusCode, response.headers['content-type'], response.json().status]).toEqual([
      status,
      expect.stringContaining('application/problem+json'),
      status,
    ]);
  });

  it.each(['\\u0000', '\\ud83d', '\\uDE00x'])('with the text %s in them are refused, with its place', async (odd) => {
    const response = await post(`{"vehicle": {"from": "inline", "class": "a/${odd}"}}`);
    expect([response.statusCode, faultsAt(response).get('/vehicle/class')]).toEqual([400, 'TEXT_WRONG']);
  });

  it('with a whole character in escapes are read', async () => {
    const response = await post('{"vehicle": {"from": "inline", "class": "\\ud83d\\ude00"}}');
    expect(faultsAt(response).get('/vehicle/class')).toBe('CLASS_UNKNOWN');
  });
});

describe('settings', () => {
  const read = (env: Record<string, string>) => readSettings(env);

  it('bind to loopback unless told otherwise', () =>
    expect(read({})).toMatchObject({ ok: true, settings: { HOST: '127.0.0.1', PORT: 4750 } }));
  it('refuse to listen elsewhere without keys', () => {
    expect(read({ HOST: '0.0.0.0' })).toEqual({ ok: false, faults: [expect.stringContaining('refused without API_KEYS')] });
    expect(read({ HOST: '0.0.0.0', API_KEYS: 'a-key-of-some-length' }).ok).toBe(true);
  });
  it('have no password in what is said of them', () => {
    const read = readSettings({ DATABASE_URL: 'postgres://fettle:se/cr#et@database/fettle' });
    expect(read).toEqual({ ok: false, faults: [expect.stringContaining('DATABASE_PASSWORD')] });
    expect(JSON.stringify(read)).not.toMatch(/se\/|cr#|et@/);
  });
  it.each([
    { ALLOWED_ORIGINS: '*' },
    { ALLOWED_ORIGINS: 'https://shop.example/page' },
    { PORT: 'many' },
    { PORT: '70000' },
    { DATABASE_URL: 'mysql://x' },
    { API_KEYS: 'short' },
  ])('refuse %j', (env) => expect(read(env as never).ok).toBe(false));
});

describe('strict JSON', () => {
  it.each([
    ['{"a": 1, "a": 2}', '/a'],
    ['{"a": [{"b": 1}, {"c": {"d": 1, "e": 2, "d": 3}}]}', '/a/1/c/d'],
    ['{"x/y": {"~": 1, "~": 2}}', '/x~1y/~0'],
    ['{"a": "b\\"", "a": 1}', '/a'],
  ])('%s', (text, pointer) =>
    expect(() => parseJson(text)).toThrow(expect.objectContaining({ faults: [expect.objectContaining({ pointer })] })),
  );
  it.each(['{"a": {"a": {"a": 1}}}', '[{"a": 1}, {"a": 1}]', '"a"', '{"a": "{\\"a\\": 1, \\"a\\": 2}"}'])('takes %s', (text) =>
    expect(parseJson(text)).toEqual(JSON.parse(text)),
  );
});
