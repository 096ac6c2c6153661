/** What the container files say, as far as it can be held without an engine of containers: the image's files run as they are. */
import { type ChildProcess, spawn } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';
import { parse } from 'yaml';
import { settingDocs } from '../services/api/settings.ts';
import { demoDatabaseUrl } from '../services/api/testing.ts';

const root = fileURLToPath(new URL('..', import.meta.url));
const dockerfile = readFileSync(`${root}/services/api/Dockerfile`, 'utf8');
const ignored = readFileSync(`${root}/.dockerignore`, 'utf8').split('\n').filter(Boolean);
const compose = parse(readFileSync(`${root}/docker-compose.yml`, 'utf8')) as {
  services: Record<
    string,
    {
      build?: { context: string; dockerfile: string };
      image?: string;
      environment: Record<string, string>;
      healthcheck: { test: string[] };
      depends_on?: Record<string, { condition: string }>;
      volumes?: string[];
    }
  >;
  volumes: Record<string, unknown>;
};
const steps = (name: string): string[] => [...dockerfile.matchAll(new RegExp(`^${name} (.+)$`, 'gm'))].map(([, rest]) => rest as string);
const copies = steps('COPY').map((line) => ({ from: line.split(' ').slice(0, -1), to: line.split(' ').at(-1) as string }));

let child: ChildProcess | undefined;
const image = mkdtempSync(join(tmpdir(), 'fettle-image-'));
afterAll(() => {
  child?.kill('SIGKILL');
  rmSync(image, { recursive: true, force: true });
});

it('the image copies what there is, none of what is left out, and runs as nobody special', () => {
  for (const from of copies.flatMap((copy) => copy.from)) {
    expect(existsSync(join(root, from)), from).toBe(true);
    expect(ignored).not.toContain(from.split('/')[0]);
  }
  expect(steps('USER')).toEqual(['node']);
  const [, folder] = /^DATA_DIR=(\S+)$/.exec(steps('ENV')[0] ?? '') ?? [];
  expect(steps('RUN')).toContain(`mkdir ${folder} && chown node:node ${folder}`);
  expect(settingDocs().map(({ name }) => name)).toContain('DATA_DIR');
  expect(Number(/node:(\d+)/.exec(steps('FROM')[0] ?? '')?.[1])).toBeGreaterThanOrEqual(20);
});

it('what the image holds answers, started as the image starts it', async () => {
  for (const { from, to } of copies)
    for (const one of from) {
      const target = to.endsWith('/') ? join(image, to, one.split('/').at(-1) as string) : join(image, to);
      mkdirSync(dirname(target), { recursive: true });
      cpSync(join(root, one), target, { recursive: true });
    }
  symlinkSync(join(root, 'node_modules'), join(image, 'node_modules'));
  const [command, ...args] = JSON.parse(steps('CMD')[0] ?? '') as [string, ...string[]];
  expect(command).toBe('node');
  const started = spawn(process.execPath, args, {
    cwd: image,
    env: { PATH: process.env['PATH'] ?? '', PORT: '0', DATABASE_URL: await demoDatabaseUrl() },
  });
  child = started;
  const url = await new Promise<string>((done, failed) => {
    let out = '';
    started.stdout.on('data', (text) => {
      out += text;
      const listening = /"msg":"Server listening at (http:[^"]+)"/.exec(out)?.[1];
      if (listening) done(listening);
    });
    started.on('exit', (code) => failed(new Error(`it ended with ${code}: ${out}`)));
  });
  expect((await fetch(`${url}/readyz`)).status).toBe(200);
  expect((await fetch(`${url}/v1/parts?limit=1`)).status).toBe(200);
});

it('the composition starts that image with settings that there are, after a healthy database that keeps its data', () => {
  const { fettle, database } = compose.services;
  expect(existsSync(join(root, fettle?.build?.context ?? '', fettle?.build?.dockerfile ?? ''))).toBe(true);
  const settings = settingDocs().map(({ name }) => name);
  for (const name of Object.keys(fettle?.environment ?? {})) expect(settings).toContain(name);
  expect(fettle?.healthcheck.test.join(' ')).toContain('/readyz');
  expect(fettle?.depends_on).toEqual({ database: { condition: 'service_healthy' } });
  const address = new URL((fettle?.environment['DATABASE_URL'] ?? '').replace(/\$\{[^}]*\}/, 'secret'));
  expect([address.hostname, address.username, address.pathname.slice(1)]).toEqual([
    'database',
    database?.environment['POSTGRES_USER'],
    database?.environment['POSTGRES_DB'],
  ]);
  expect(fettle?.environment['DATABASE_PASSWORD']).toBe(database?.environment['POSTGRES_PASSWORD']);
  expect(address.password).toBe('');
  const volume = database?.volumes?.[0]?.split(':')[0] ?? '';
  expect(Object.keys(compose.volumes)).toContain(volume);
});
