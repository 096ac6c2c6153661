/** A process that writes is killed without warning, over and over: what it acknowledged is there, and nothing is half there. */
import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Where } from '../../db/open.ts';
import { demoDatabaseUrl } from '../../services/api/testing.ts';
import { type Random, random, thorough } from './random.ts';
import type { Found, Line, Write } from './writer.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const ROUNDS = thorough ? 200 : 3;
const IMPORT_ROWS = 40;
/** Of so many rounds one is killed before the database is open, and so amid recovering from the kill before. */
const ROUNDS_AN_OPENING = 8;

/** The writer in one file of plain JavaScript: hundreds are started. Packages are found as from the root. */
const WRITER = join(root, `node_modules/.cache/writer-${process.pid}.mjs`);
/** The next writer, with its code loaded, waiting to be told what to do while another is at work. */
let waiting: ChildProcessWithoutNullStreams;
const start = (): ChildProcessWithoutNullStreams => spawn(process.execPath, [WRITER], { cwd: root });
beforeAll(async () => {
  await build({
    entryPoints: [join(root, 'tests/faults/writer.ts')],
    outfile: WRITER,
    bundle: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
    define: { 'import.meta.url': JSON.stringify(new URL('../../db/open.ts', import.meta.url).href) },
  });
  waiting = start();
});
afterAll(() => {
  waiting.kill('SIGKILL');
  rmSync(WRITER);
});

interface Round {
  /** Absent when it was killed before it had looked. */
  readonly found?: Found;
  readonly done: readonly Extract<Line, { done: Write }>[];
  /** The write under way when it was killed. */
  readonly pending: Write | null;
}

/** Lets a writer write, kills it after a while, between or amid writes, and tells what it said. */
async function round(where: Where, seed: number, pending: Write | null, chance: Random): Promise<Round> {
  const child = waiting;
  waiting = start();
  let errors = '';
  child.stderr.on('data', (text) => (errors += text));
  const ended = new Promise<string | null>((done) => child.on('close', (_code, signal) => done(signal)));
  const killSoon = (ms: number): void => void setTimeout(() => child.kill('SIGKILL'), ms);
  const opening = chance.below(ROUNDS_AN_OPENING) === 0;
  const killAfter = 2 + chance.below(40);
  const extraMs = chance.below(opening ? 400 : 8);
  child.stdin.write(`${JSON.stringify([where, seed, pending])}\n`);
  if (opening) killSoon(extraMs);
  const lines: Line[] = [];
  for await (const line of createInterface({ input: child.stdout })) {
    lines.push(JSON.parse(line) as Line);
    if (!opening && lines.length === killAfter) killSoon(extraMs);
  }
  if ((await ended) !== 'SIGKILL') throw new Error(`the writer ended by itself: ${errors}`);
  const [first, ...rest] = lines;
  if (!first) return { done: [], pending };
  if (!('found' in first)) throw new Error(`the writer wrote before it looked: ${errors}`);
  const done = rest.filter((line) => 'done' in line);
  const last = rest.at(-1);
  if (last) return { found: first.found, done, pending: 'ask' in last ? last.ask : null };
  // What it found is settled, but for a creation that is still to be sent again.
  return { found: first.found, done, pending: pending?.is === 'create' ? pending : null };
}

/** What is stored has everything acknowledged, and beyond it at most the one write that was under way. */
function expectKept(found: Found, builds: ReadonlyMap<string, number>, imports: ReadonlySet<string>, pending: Write | null): void {
  expect(found.broken).toEqual([]);
  for (const [name, revision] of builds) {
    if (pending?.is === 'delete' && pending.name === name && found.builds[name] === undefined) continue;
    const more = pending !== null && 'name' in pending && pending.name === name ? 1 : 0;
    expect([revision, revision + more], `revision of ${name}`).toContain(found.builds[name]);
  }
  for (const name of Object.keys(found.builds))
    expect(builds.has(name) || (pending?.is === 'create' && pending.name === name), `build ${name} was never asked for`).toBe(true);
  for (const batch of imports) expect(found.imports[batch], `rows of import ${batch}`).toBe(IMPORT_ROWS);
  if (pending?.is === 'import') expect([undefined, IMPORT_ROWS]).toContain(found.imports[pending.batch]);
}

const folder = (): string => mkdtempSync(join(tmpdir(), 'fettle-kill-'));
const databases: readonly [string, () => Promise<Where>][] = [
  ['the embedded database', async () => ({ dir: folder() })],
  ['PostgreSQL', async () => ({ url: await demoDatabaseUrl() })],
];

describe.each(databases)('%s', (_, place) => {
  it(`keeps what was acknowledged over ${ROUNDS} kills, and nothing by halves`, { timeout: ROUNDS * 60_000 }, async () => {
    const where = await place();
    const chance = random(4711);
    const builds = new Map<string, number>();
    const imports = new Set<string>();
    let pending: Write | null = null;
    let [writes, openings] = [0, 0];
    for (let i = 0; i < ROUNDS; i++) {
      const { found, done, pending: next }: Round = await round(where, i + 1, pending, chance);
      if (found) expectKept(found, builds, imports, pending);
      else openings++;
      if (found) builds.clear();
      for (const [name, revision] of Object.entries(found?.builds ?? {})) builds.set(name, revision);
      for (const { done: write, revision } of done) {
        if (write.is === 'import') imports.add(write.batch);
        else if (write.is === 'delete') builds.delete(write.name);
        else builds.set(write.name, revision as number);
      }
      writes += done.length;
      pending = next;
    }
    let last: Found | undefined;
    while (!last) last = (await round(where, ROUNDS + 1, pending, chance)).found;
    expectKept(last, builds, imports, pending);
    expect(writes).toBeGreaterThan(ROUNDS);
    console.log(`${ROUNDS} kills, ${openings} of them while opening, amid ${writes} writes`);
    if (where.dir !== undefined) rmSync(where.dir, { recursive: true, force: true });
  });
});
