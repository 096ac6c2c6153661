/** One suite over a client in process and a client over a real socket. */

import { readFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, expectTypeOf, it } from 'vitest';
import type { App } from '../../services/api/app.ts';
import { testApp } from '../../services/api/testing.ts';
import { type Answer, type CheckRequest, createFettle, type Fettle, FettleProblem, FettleUnreachable, inches, kg, mm } from './index.ts';

let app: App;
let base = '';
beforeAll(async () => {
  app = await testApp({ keys: [{ name: 'shop', secret: 'a-key-of-some-length' }] });
  await app.listen({ port: 0, host: '127.0.0.1' });
  base = `http://127.0.0.1:${(app.server.address() as AddressInfo).port}`;
});
afterAll(() => app.close());

const key = 'a-key-of-some-length';
const request: CheckRequest = {
  vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll', measured: [{ quantity: 'cab_mount_gap', of: 'front', value: mm(24, 3) }] },
  parts: [{ from: 'catalogue', part: 'orrisbeck-trail-265', at: 'all', replaces: 'fitted' }],
};

/** A fetch that asks the service in process. */
const inProcess: typeof fetch = async (input, init) => {
  const asked = new Request(input, init);
  const { pathname, search } = new URL(asked.url);
  const payload = asked.method === 'GET' ? undefined : await asked.text();
  const reply = await app.inject({
    method: asked.method as 'GET',
    url: pathname + search,
    headers: Object.fromEntries(asked.headers),
    ...(payload !== undefined && { payload }),
  });
  return new Response(reply.body, { status: reply.statusCode, headers: reply.headers as Record<string, string> });
};

const clients: [string, () => Fettle][] = [
  ['in process', () => createFettle({ baseUrl: 'http://inside', key, fetch: inProcess })],
  ['over a socket', () => createFettle({ baseUrl: base, key })],
];

describe.each(clients)('the client %s', (_, make) => {
  it('checks', async () => {
    const answer = await make().check(request);
    expectTypeOf(answer).toEqualTypeOf<Answer>();
    expectTypeOf(answer.verdict).toEqualTypeOf<'conflict' | 'unknown' | 'close' | 'clear'>();
    expect(answer.findings.some(({ rule }) => rule === 'cab-mount-gap')).toBe(true);
  });

  it('throws the problem, with its faults', async () => {
    const failed = await make()
      .check({ vehicle: { from: 'inline', class: 'nothing' } })
      .catch((error: unknown) => error);
    expect(failed).toBeInstanceOf(FettleProblem);
    expect(failed).toMatchObject({ status: 422, code: 'BUILD_INVALID', faults: [{ pointer: '/vehicle/class' }] });
    expect((failed as Error).message).toContain('/vehicle/class');
  });

  it('goes through pages', async () => {
    const ids: string[] = [];
    for await (const part of make().parts.list({ kind: 'tyre', pageSize: 2 })) ids.push(part.id);
    expect(ids.length).toBeGreaterThan(3);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('reads the dictionary', async () => {
    const fettle = make();
    expect((await fettle.rules.get('brake-hose-reach')).hazard).toBe('safety');
    expect((await fettle.kinds.list()).length).toBeGreaterThan(20);
    expect((await fettle.vehicles.get('merrowdale-ghyll')).class).toBe('midsize_independent_front');
    expect((await fettle.quantities.get('hose_route')).measure?.tool).toContain('string');
    expect((await fettle.works.get('trim-cab-mount')).irreversible).toBe(true);
  });

  it('is cancelled', async () => {
    const stop = new AbortController();
    stop.abort();
    await expect(make().check(request, { signal: stop.signal })).rejects.toThrow(expect.objectContaining({ name: 'AbortError' }));
  });
});

describe('trying again', () => {
  const counting = (answers: readonly (Response | Error)[]) => {
    const waits: number[] = [];
    let calls = 0;
    const fetch_: typeof fetch = async () => {
      const answer = answers[Math.min(calls++, answers.length - 1)] as Response | Error;
      if (answer instanceof Error) throw answer;
      return answer.clone();
    };
    const fettle = createFettle({ baseUrl: 'http://x', fetch: fetch_, retry: { sleep: async (ms) => void waits.push(ms) } });
    return { fettle, waits, calls: () => calls };
  };
  const busy = new Response('{}', { status: 503, headers: { 'retry-after': '3' } });
  const fine = new Response(JSON.stringify({ items: [] }), { status: 200, headers: { 'content-type': 'application/json' } });

  it('waits as long as it is asked, then goes on', async () => {
    const { fettle, waits, calls } = counting([busy, busy, fine]);
    expect(await fettle.kinds.list()).toEqual([]);
    expect([calls(), waits]).toEqual([3, [3000, 3000]]);
  });

  it('waits longer each time when the network fails, and gives up after four tries', async () => {
    const { fettle, waits, calls } = counting([new Error('no route')]);
    await expect(fettle.kinds.list()).rejects.toBeInstanceOf(FettleUnreachable);
    expect(calls()).toBe(4);
    expect(waits[0]).toBeLessThan(waits[2] ?? 0);
  });

  it('does not try again what is wrong', async () => {
    const wrong = new Response(JSON.stringify({ type: 'x', title: 'x', status: 422, code: 'BUILD_INVALID', detail: 'x', faults: [] }), {
      status: 422,
      headers: { 'content-type': 'application/problem+json' },
    });
    const { fettle, calls } = counting([wrong]);
    await expect(fettle.check(request)).rejects.toBeInstanceOf(FettleProblem);
    expect(calls()).toBe(1);
  });

  it('something that is not the service is unreachable', async () => {
    const { fettle } = counting([new Response('<html>', { status: 404 })]);
    await expect(fettle.check(request)).rejects.toBeInstanceOf(FettleUnreachable);
  });
});

describe('quantities', () => {
  it('carry their unit and tolerance', () => {
    expect([mm(24, 3), inches(2.5), kg(-4)]).toEqual(['24 mm ± 3 mm', '2.5 in', '-4 kg']);
    expect(() => mm(Number.NaN)).toThrow(RangeError);
  });
});

describe('README', () => {
  it('its example runs against the service', async () => {
    const source = readFileSync(new URL('../README.md', import.meta.url), 'utf8');
    const code = /```ts\n([\s\S]*?)```/.exec(source)?.[1] ?? '';
    const { transform } = await import('esbuild');
    const { code: plain } = await transform(
      code
        .replace(/import \{([^}]*)\} from '@fettle\/sdk';/, 'const {$1} = sdk;')
        .replace("baseUrl: 'http://127.0.0.1:4750'", 'baseUrl: base, key'),
      { loader: 'ts' },
    );
    const lines: unknown[][] = [];
    const run = new Function('sdk', 'base', 'key', 'console', `return (async () => { ${plain} })();`);
    await run(await import('./index.ts'), base, key, { log: (...words: unknown[]) => lines.push(words) });
    expect(lines[0]?.[0]).toMatch(/^(conflict|unknown|close|clear)$/);
    expect(lines.length).toBeGreaterThan(1);
  });
});
