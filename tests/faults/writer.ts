/**
 * A process that writes until it is killed. Told on a line of its input where the database is and a seed, it first says what it finds there, whole or not,
 * then writes at random; each write is said before it is asked for (`ask`) and when it is acknowledged (`done`), a line of JSON each.
 */
import { once as happened } from 'node:events';
import { writeSync } from 'node:fs';
import { setTimeout } from 'node:timers/promises';
import { sql } from 'drizzle-orm';
import { createBuild, deleteBuild, getRevision, measureBuild, reviseBuild } from '../../db/builds.ts';
import { putEntries } from '../../db/catalogue.ts';
import { once } from '../../db/once.ts';
import { openDatabase, rowsOf, type Tables, type Where } from '../../db/open.ts';
import { random } from './random.ts';

export const IMPORT_ROWS = 40;
/** So many builds there are before any is deleted. */
const KEPT = 4;

export interface Found {
  /** What should not be, in words. */
  readonly broken: readonly string[];
  /** Newest revision of each build, by its name. */
  readonly builds: Readonly<Record<string, number>>;
  /** Rows that each import left. */
  readonly imports: Readonly<Record<string, number>>;
}
export type Line =
  | { readonly found: Found }
  | { readonly ask: Write; readonly n: number }
  | { readonly done: Write; readonly n: number; readonly revision?: number };
export type Write =
  | { readonly is: 'create'; readonly name: string }
  | { readonly is: 'change' | 'measure' | 'delete'; readonly name: string }
  | { readonly is: 'import'; readonly batch: string };

const [told] = (await happened(process.stdin, 'data')) as [Buffer];
const [where, seed, pending] = JSON.parse(told.toString()) as [Where, number, Write | null];
const say = (line: Line): void => void writeSync(1, `${JSON.stringify(line)}\n`);
const { tables } = await openDatabase(where);
const chance = random(seed);
const writer = { key: 'writer' };
const document = { vehicle: { from: 'catalogue' as const, vehicle: 'ghyll' }, load: { occupants: 1 } };
const reading = { quantity: 'tyre_gap', of: 'top-liners', value: '20 mm', date: '2026-10-03', tool: 'gauge' };

await settled();
say({ found: await look(tables) });
// What was under way when the last one was killed is sent again, with its key.
if (pending?.is === 'create') {
  say({ ask: pending, n: -1 });
  await create(pending.name);
  say({ done: pending, n: -1, revision: 1 });
}
const names = (await rows<{ name: string }>(tables, 'select name from builds')).map(({ name }) => name);
for (let n = 0; ; n++) {
  const name = names.length > 0 ? chance.pick(names) : undefined;
  const kind = chance.below(10);
  const write: Write =
    name === undefined || kind < 2
      ? { is: 'create', name: `b-${seed}-${n}` }
      : kind < 3
        ? { is: 'import', batch: `i-${seed}-${n}` }
        : { is: kind < 6 ? 'change' : kind < 9 || names.length < KEPT ? 'measure' : 'delete', name };
  say({ ask: write, n });
  const revision = await perform(write);
  say({ done: write, n, ...(revision !== undefined && { revision }) });
  if (write.is === 'create') names.push(write.name);
  if (write.is === 'delete') names.splice(names.indexOf(write.name), 1);
}

/** A server may still be at what a killed process asked of it: waits until its connections are gone. */
async function settled(): Promise<void> {
  const older = `select from pg_stat_activity where datname = current_database() and backend_type = 'client backend'
    and backend_start < (select backend_start from pg_stat_activity where pid = pg_backend_pid())`;
  while ((await rows<object>(tables, older)).length > 0) await setTimeout(5);
}

async function perform(write: Write): Promise<number | undefined> {
  switch (write.is) {
    case 'create':
      await create(write.name);
      return 1;
    case 'import':
      await putEntries(
        tables,
        'part',
        Array.from({ length: IMPORT_ROWS }, (_, i) => ({ id: `${write.batch}.${i}`, kind: 'winch', name: write.batch, attributes: {} })),
      );
      return undefined;
    case 'delete':
      await deleteBuild(tables, await idOf(write.name), undefined, writer);
      return undefined;
    default: {
      const id = await idOf(write.name);
      const made =
        write.is === 'measure'
          ? await measureBuild(tables, id, undefined, reading, writer)
          : await reviseBuild(tables, id, undefined, writer, ({ name, revision, measurements }) => ({
              what: 'changed',
              name,
              document: { ...document, load: { occupants: revision % 9 } },
              measurements,
            }));
      return made?.revision;
    }
  }
}

async function create(name: string): Promise<void> {
  await once(tables, { caller: 'writer', key: name, request: name }, async (inside) => {
    const { build } = await createBuild(inside, name, document, writer);
    return { status: 201, headers: {}, body: build };
  });
}

async function rows<T>(from: Tables, query: string): Promise<readonly T[]> {
  return rowsOf<T>(await from.execute(sql.raw(query)));
}

async function idOf(name: string): Promise<string> {
  const [row] = await rows<{ id: string }>(tables, `select id from builds where name = '${name}'`);
  return row?.id ?? '';
}

/** Everything that must hold of what is stored, whatever was killed when. */
async function look(from: Tables): Promise<Found> {
  const broken: string[] = [];
  const none = async (what: string, query: string): Promise<void> => {
    const found = await rows<object>(from, query);
    if (found.length > 0) broken.push(`${what}: ${JSON.stringify(found.slice(0, 3))}`);
  };
  await none(
    'a build without all its revisions',
    `select b.id, b.revision, count(r.revision)::int as revisions from builds b left join revisions r on r.build = b.id
     group by b.id having count(r.revision) <> b.revision or max(r.revision) <> b.revision`,
  );
  await none(
    'a revision with a measurement that is not there',
    `select r.build, r.revision from revisions r cross join lateral jsonb_array_elements_text(r.measurements) as m(id)
     left join measurements s on s.id = m.id and s.build = r.build where s.id is null`,
  );
  await none(
    'a measurement in no revision',
    'select s.id from measurements s where not exists (select from revisions r where r.build = s.build and r.measurements ? s.id)',
  );
  await none('a key without its reply', 'select key from replies where status is null or body is null');
  await none(
    'a reply without its build',
    `select r.key from replies r left join builds b on b.id = r.body left join deleted_builds d on d.id = r.body
     where b.id is null and d.id is null`,
  );
  await none('a build that is there and is deleted', 'select id from builds join deleted_builds using (id)');
  for (const table of ['revisions', 'measurements', 'answers'])
    await none(`${table} of no build`, `select build from ${table} where not exists (select from builds b where b.id = build)`);
  await none('two builds of one key', 'select name from builds group by name having count(*) > 1');
  await none(
    'an entry without one current version, its newest',
    `select id from catalogue group by noun, id
     having count(*) filter (where current) <> 1 or max(version) <> count(*) or max(version) filter (where current) <> max(version)`,
  );
  const builds = await rows<{ id: string; name: string; revision: number }>(from, 'select id, name, revision from builds');
  const [some] = builds;
  if (some && (await getRevision(from, some.id))?.revision !== some.revision) broken.push(`build ${some.id} cannot be read`);
  const imports = await rows<{ name: string; n: number }>(
    from,
    'select name, count(*)::int as n from catalogue where current group by name',
  );
  return {
    broken,
    builds: Object.fromEntries(builds.map(({ name, revision }) => [name, revision])),
    imports: Object.fromEntries(imports.map(({ name, n }) => [name, n])),
  };
}
