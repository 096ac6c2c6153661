/** One suite over a client in process and a client over a real socket. */

import { execFile } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, expectTypeOf, it, vi } from 'vitest';
import type { App } from '../../services/api/app.ts';
import { testApp } from '../../services/api/testing.ts';
import {
  type Answer,
  type CataloguePart,
  type CheckRequest,
  type Comparison,
  createFettle,
  type Fettle,
  FettleProblem,
  FettleUnreachable,
  inches,
  kg,
  mm,
  type Revision,
  type SavedBuild,
} from './index.ts';

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
  vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll', measured: [{ quantity: 'tyre_gap', of: 'cab-mounts', value: mm(24, 3) }] },
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
  return new Response(reply.statusCode === 204 ? null : reply.body, {
    status: reply.statusCode,
    headers: reply.headers as Record<string, string>,
  });
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
    expect((await fettle.jurisdictions.list()).map(({ id }) => id)).toContain('us-oh');
    expect((await fettle.jurisdictions.get('us-oh')).limits[0]?.rules).toEqual(['legal-bumper-front', 'legal-bumper-rear']);
  });

  it('reads tyres and compares them', async () => {
    const { tyres } = make();
    expect((await tyres.get('LT285/70R17 121/118Q E', { units: 'us' })).rating.load_index).toBe(121);
    expect((await tyres.compare('265/65R17', '285/70R17')).differences.overall_diameter?.value).toBe(56);
    await expect(tyres.get('265/17R70')).rejects.toMatchObject({ code: 'TYRE_UNREADABLE' });
  });

  it('saves a build, changes it, measures it, checks it and compares', async () => {
    const fettle = make();
    const { vehicle, parts = [] } = request;
    const first = await fettle.builds.create({ name: 'Client tender', build: { vehicle }, by: 'Ada' });
    expectTypeOf(first).toEqualTypeOf<SavedBuild>();
    const second = await fettle.builds.change(first, { name: 'Client tender', build: { vehicle, parts }, note: 'trail tyres' });
    expect([first.revision, second.revision, second.note]).toEqual([1, 2, 'trail tyres']);
    const overtaken = await fettle.builds.change(first, { name: 'x', build: { vehicle } }).catch((error: unknown) => error);
    expect(overtaken).toMatchObject({ status: 412, code: 'PRECONDITION_FAILED' });
    const measured = await fettle.builds.measure(first.id, {
      quantity: 'tyre_gap',
      of: 'top-liners',
      value: mm(26, 4),
      date: '2026-10-03',
      tool: 'stick gauge',
    });
    const dropped = await fettle.builds.dropMeasurement(measured, measured.measurements[0]?.id ?? '');
    const restored = await fettle.builds.restore(dropped, { revision: 3 });
    expect([measured.measurements.length, dropped.measurements.length, restored.measurements.length]).toEqual([1, 0, 1]);
    const revisions: Revision[] = [];
    for await (const revision of fettle.builds.revisions(first.id, { pageSize: 2 })) revisions.push(revision);
    expect(revisions.map(({ what }) => what)).toEqual(['restored', 'unmeasured', 'measured', 'changed', 'created']);
    expect(await fettle.builds.revision(first.id, 2)).toEqual(second);
    const checked = await fettle.builds.check(first.id, { units: 'us' });
    expect(await fettle.builds.savedCheck(first.id, checked.id)).toEqual(checked);
    for await (const { id } of fettle.builds.checks(first.id)) expect(id).toBe(checked.id);
    const turns = await fettle.compare({ before: { build: first.id, revision: 1 }, after: { build: first.id, revision: 2 } });
    expect(turns.changes.map(({ pointer }) => pointer)).toEqual(['/build/parts']);
    for await (const { name } of fettle.builds.list({ search: 'client tender', vehicle: 'merrowdale-ghyll' }))
      expect(name).toBe('Client tender');
    expect(await fettle.builds.delete(restored)).toBeUndefined();
    await expect(fettle.builds.get(first.id)).rejects.toMatchObject({ status: 410, code: 'GONE' });
  });

  it('writes the catalogue, one entry or many', async () => {
    const fettle = make();
    const id = `client-${crypto.randomUUID()}`;
    const part = { kind: 'winch', name: 'Client winch', attributes: { mass: kg(38) } };
    const added = await fettle.parts.add({ id, ...part });
    const changed = await fettle.parts.change(added, { ...part, attributes: { mass: kg(40) } });
    expect([added.version, changed.version]).toEqual([1, 2]);
    expect(await fettle.parts.get(id, { version: 1 })).toEqual(added);
    expect(await fettle.parts.import([{ id, ...part }])).toMatchObject({ rows: 1, changed: 1 });
    expect(await fettle.parts.import(`id,kind,name,mass [kg]\n${id},winch,Client winch,38`)).toMatchObject({ unchanged: 1 });
    const refused = await fettle.parts.import(`id,kind,name,mass\n${id},winch,Client winch,38`).catch((error: unknown) => error);
    expect(refused).toMatchObject({ code: 'IMPORT_INVALID', faults: [{ row: 1, column: 'mass', code: 'UNIT_MISSING' }] });
    expect(await fettle.vehicles.import([])).toMatchObject({ rows: 0 });
  });

  it('stops asking for pages when the reader stops', async () => {
    const fettle = make();
    for await (const { id } of fettle.parts.list({ pageSize: 1 })) {
      expect(id).toEqual(expect.any(String));
      break;
    }
    const stop = new AbortController();
    const reading = (async () => {
      for await (const _ of fettle.parts.list({ pageSize: 1, signal: stop.signal })) stop.abort();
    })();
    await expect(reading).rejects.toThrow(expect.objectContaining({ name: 'AbortError' }));
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

  it('waits as long as it is asked, but not longer than its caller would', async () => {
    const in45 = new Response('{}', { status: 503, headers: { 'retry-after': '45' } });
    const patient = counting([in45, fine]);
    expect(await patient.fettle.kinds.list()).toEqual([]);
    expect(patient.waits).toEqual([45_000]);
    const body = { type: 'x', title: 'x', status: 429, code: 'TOO_MANY_REQUESTS', detail: 'x', faults: [] };
    const in90 = new Response(JSON.stringify(body), {
      status: 429,
      headers: { 'retry-after': '90', 'content-type': 'application/problem+json' },
    });
    const impatient = counting([in90, fine]);
    await expect(impatient.fettle.kinds.list()).rejects.toMatchObject({ code: 'TOO_MANY_REQUESTS' });
    expect([impatient.calls(), impatient.waits]).toEqual([1, []]);
  });

  it('an answer that is cut off is asked for again, a write with its key', async () => {
    const keys: (string | null)[] = [];
    const cut: typeof fetch = async (input, init) => {
      keys.push((input as Request).headers.get('idempotency-key'));
      const response = await inProcess(input, init);
      if (keys.length > 1) return response;
      const torn = new ReadableStream({ start: (controller) => controller.error(new Error('cut off')) });
      return new Response(torn, { status: response.status, headers: response.headers });
    };
    const fettle = createFettle({ baseUrl: 'http://inside', key, fetch: cut, retry: { sleep: async () => {} } });
    const build = await fettle.builds.create({ name: `Cut ${crypto.randomUUID()}`, build: { vehicle: request.vehicle } });
    expect([build.revision, keys.length, keys[0] === keys[1]]).toEqual([1, 2, true]);
  });

  it('a call cancelled with a reason rejects with that reason, and is no outage', async () => {
    const reason = { is: 'mine' };
    const stop = new AbortController();
    const hanging: typeof fetch = (input, init) =>
      new Promise((_, failed) => {
        const { signal } = new Request(input, init);
        signal.addEventListener('abort', () => failed(new TypeError('fetch failed')));
        setTimeout(() => stop.abort(reason), 5);
      });
    const fettle = createFettle({ baseUrl: 'http://x', fetch: hanging });
    await expect(fettle.check(request, { signal: stop.signal })).rejects.toBe(reason);
  });

  it('has keys of its own where the page has no randomUUID', async () => {
    const keys: (string | null)[] = [];
    const noting: typeof fetch = async (input, init) => {
      keys.push(new Request(input, init).headers.get('idempotency-key'));
      return new Response('{}', { status: 201, headers: { 'content-type': 'application/json' } });
    };
    vi.stubGlobal('crypto', { getRandomValues: (into: Uint8Array) => globalThis.structuredClone(into).map((_, i) => i) });
    try {
      const fettle = createFettle({ baseUrl: 'http://x', fetch: noting });
      await fettle.builds.create({ name: 'x', build: { vehicle: request.vehicle } });
    } finally {
      vi.unstubAllGlobals();
    }
    expect(keys).toEqual(['000102030405060708090a0b0c0d0e0f']);
  });

  it('a write whose answer was lost is sent again with its key, and done once', async () => {
    let lost = 0;
    const losing: typeof fetch = async (input, init) => {
      const response = await inProcess(input, init);
      if (lost++ === 0) throw new Error('the answer was lost');
      return response;
    };
    const fettle = createFettle({ baseUrl: 'http://inside', key, fetch: losing, retry: { sleep: async () => {} } });
    const name = `Lost ${crypto.randomUUID()}`;
    const build = await fettle.builds.create({ name, build: { vehicle: request.vehicle } });
    const found: string[] = [];
    for await (const { id } of fettle.builds.list({ search: name })) found.push(id);
    expect([lost > 1, found[0], build.revision]).toEqual([true, build.id, 1]);
    expect(found.filter((id) => id === build.id)).toHaveLength(1);
    const named = await Promise.all(found.map((id) => fettle.builds.get(id)));
    expect(named.filter((one) => one.name === name)).toHaveLength(1);
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

describe.each(clients)('asking %s', (_, client) => {
  it('answers a question in words, with a build that is checked as it is', { timeout: 120_000 }, async () => {
    const fettle = client();
    const { verdict, answer, build } = await fettle.ask('33x12.50R15 on 17x8.5 -10');
    expect([verdict, answer]).toEqual(['no', expect.stringMatching(/^No[,:] /)]);
    expectTypeOf(build).toEqualTypeOf<CheckRequest | null>();
    if (build) expect((await fettle.check(build)).verdict).toBe('conflict');
    await expect(fettle.ask({ text: 'x', length: 0 })).rejects.toMatchObject({ code: 'REQUEST_INVALID' });
  });
});

describe('types', () => {
  it('say what a problem is and what a call takes', () => {
    expectTypeOf<FettleProblem['code']>().extract<'PRECONDITION_FAILED' | 'BUILD_INVALID' | 'UNAVAILABLE'>().not.toBeNever();
    expectTypeOf<FettleProblem['code']>().extract<'NO_SUCH_CODE'>().toBeNever();
    expectTypeOf<FettleProblem['faults'][number]['row']>().toEqualTypeOf<number | undefined>();
    expectTypeOf<Comparison['fixed'][number]['before']>().toEqualTypeOf<'conflict' | 'unknown' | 'close' | 'clear' | null>();
    expectTypeOf<Fettle['parts']['list']>().returns.toEqualTypeOf<AsyncGenerator<CataloguePart, void, undefined>>();
    expectTypeOf<Parameters<Fettle['builds']['change']>[0]>().toEqualTypeOf<Pick<SavedBuild, 'id' | 'revision'>>();
    const wrong = { vehicle: { from: 'elsewhere' } } as const;
    // @ts-expect-error a vehicle is from the catalogue or inline
    expectTypeOf(wrong).toExtend<CheckRequest>();
  });
});

describe('the package', () => {
  const root = fileURLToPath(new URL('..', import.meta.url));
  const monorepo = join(root, '..');
  /** The package's files as they are in a fresh clone, packed, and put into an empty folder beside what it depends on. */
  const installed = async (): Promise<string> => {
    const clone = mkdtempSync(join(tmpdir(), 'fettle-sdk-'));
    const source = join(clone, 'sdk');
    for (const file of ['package.json', 'tsconfig.json', 'README.md', 'LICENSE', 'src'])
      cpSync(join(root, file), join(source, file), { recursive: true });
    cpSync(join(monorepo, 'tsconfig.json'), join(clone, 'tsconfig.json'));
    symlinkSync(join(monorepo, 'node_modules'), join(clone, 'node_modules'));
    const folder = join(clone, 'empty');
    const packages = join(folder, 'node_modules');
    mkdirSync(join(packages, '@fettle/sdk'), { recursive: true });
    const { stdout } = await promisify(execFile)('npm', ['pack', '--json', '--pack-destination', folder], { cwd: source });
    const [{ filename, files }] = JSON.parse(stdout.slice(stdout.indexOf('['))) as [{ filename: string; files: { path: string }[] }];
    const paths = files.map(({ path }) => path);
    expect(paths.filter((path) => !/^(dist\/\w+\.(js|d\.ts)|README\.md|LICENSE|package\.json)$/.test(path))).toEqual([]);
    expect(paths).toEqual(expect.arrayContaining(['dist/index.js', 'dist/index.d.ts', 'LICENSE']));
    const name = join(folder, filename.replace('@', '').replace('/', '-'));
    await promisify(execFile)('tar', ['-xzf', name, '-C', join(packages, '@fettle/sdk'), '--strip-components=1']);
    for (const needed of ['openapi-fetch', 'openapi-typescript-helpers'])
      symlinkSync(join(monorepo, 'node_modules', needed), join(packages, needed));
    writeFileSync(join(folder, 'package.json'), '{ "type": "module" }');
    return folder;
  };

  it('packed from a clean clone and put into an empty folder, is typed under strict TypeScript and works in plain Node', async () => {
    const folder = await installed();
    const code = `import { createFettle, FettleProblem, mm, type Answer } from '@fettle/sdk';
      const fettle = createFettle({ baseUrl: ${JSON.stringify(base)}, key: ${JSON.stringify(key)} });
      const answer: Answer = await fettle.check({
        vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll', measured: [{ quantity: 'tyre_gap', of: 'cab-mounts', value: mm(24, 3) }] },
      });
      try {
        await fettle.builds.get('none');
      } catch (error) {
        if (!(error instanceof FettleProblem)) throw error;
        // @ts-expect-error there is no such code
        if (error.code === 'NO_SUCH_CODE') throw error;
        const pointers: string[] = error.faults.map(({ pointer }) => pointer);
        if (error.code === 'NOT_FOUND') console.log(answer.verdict, pointers.length);
      }
      // @ts-expect-error a check needs a vehicle
      const wrong: Parameters<typeof fettle.check>[0] = {};
      void wrong;`;
    writeFileSync(join(folder, 'use.ts'), code);
    const options = {
      module: 'nodenext',
      target: 'es2023',
      lib: ['es2023', 'dom', 'dom.iterable'],
      strict: true,
      types: [],
      skipLibCheck: false,
    };
    const strictest = { noUncheckedIndexedAccess: true, exactOptionalPropertyTypes: true };
    writeFileSync(join(folder, 'tsconfig.json'), JSON.stringify({ compilerOptions: { ...options, ...strictest }, files: ['use.ts'] }));
    const tsc = join(monorepo, 'node_modules/typescript/bin/tsc');
    await promisify(execFile)(process.execPath, [tsc, '-p', folder]).catch((error: { stdout: string }) => {
      throw new Error(error.stdout);
    });
    const { stdout } = await promisify(execFile)(process.execPath, [join(folder, 'use.js')]);
    expect(stdout.trim()).toMatch(/^(conflict|unknown|close|clear) 0$/);
  });

  it('has the licence of the whole', () =>
    expect(readFileSync(join(root, 'LICENSE'), 'utf8')).toBe(readFileSync(join(monorepo, 'LICENSE'), 'utf8')));

  it('is small, and asks for nothing that a browser lacks', async () => {
    const { build } = await import('esbuild');
    const bundled = await build({
      entryPoints: [`${root}/src/index.ts`],
      bundle: true,
      minify: true,
      format: 'esm',
      platform: 'browser',
      write: false,
    });
    expect(bundled.outputFiles[0]?.contents.length).toBeLessThan(20_000);
    expect(bundled.outputFiles[0]?.text).not.toMatch(/['"]node:|\brequire\(/);
  });
});

describe('quantities', () => {
  it('carry their unit and tolerance', () => {
    expect([mm(24, 3), inches(2.5), kg(-4)]).toEqual(['24 mm ± 3 mm', '2.5 in', '-4 kg']);
    expect(() => mm(Number.NaN)).toThrow(RangeError);
  });
});

describe('README', () => {
  const examples = [...readFileSync(new URL('../README.md', import.meta.url), 'utf8').matchAll(/```ts\n([\s\S]*?)```/g)];

  it.each(examples.map(([, code], i) => [i + 1, code as string] as const))('its example %i runs against the service', async (_, code) => {
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
    expect(lines.length).toBeGreaterThan(1);
    if (code.includes('fettle.sheets')) {
      expect(lines[0]?.[0]).toMatch(/^(queued|running|done)$/);
      expect(lines.at(-2)?.[0]).toMatch(
        /^build,vehicle,front lift \[mm\],verdict,.*\nTender 1,merrowdale-ghyll,50,(conflict|unknown|close|clear),/,
      );
      expect(lines.at(-1)?.[0]).toMatch(
        /^=WEBSERVICE\("http:\/\/127\.0\.0\.1:4750\/v1\/cells\/mass-front\?token=[\w.-]+&vehicle=merrowdale-ghyll&/,
      );
      return;
    }
    expect(lines[0]?.[0]).toEqual(
      code.includes('revisions') ? 3 : expect.stringMatching(/^(conflict|unknown|close|clear|yes|yes_with_work|no|cant_tell)$/),
    );
  });
});
