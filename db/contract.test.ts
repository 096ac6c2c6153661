/** One suite over the embedded database in memory, the same on disk, and a real PostgreSQL server. */
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { sql } from 'drizzle-orm';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CataloguePart } from '../services/vehicle/request.ts';
import { getAnswer, listAnswers, type SavedAnswer, saveAnswer } from './answers.ts';
import {
  type BuildDocument,
  createBuild,
  deleteBuild,
  getDeleted,
  getMeasurements,
  getRevision,
  listBuilds,
  listRevisions,
  measureBuild,
  reviseBuild,
} from './builds.ts';
import { getEntry, listEntries, type NewEntry, putEntries, searchCatalogue } from './catalogue.ts';
import { Conflict } from './conflict.ts';
import { forgetOldReplies, KeyReused, once, type Reply } from './once.ts';
import { type Database, isAway, openDatabase, rowsOf, type Where } from './open.ts';
import type { Page } from './pages.ts';
import { startPostgres } from './testing.ts';

const part = (id: string, more: Partial<CataloguePart> = {}): NewEntry => ({
  id,
  kind: 'tyre',
  name: `Tyre ${id}`,
  attributes: { overall_diameter: '800 mm' },
  ...more,
});

let server: Awaited<ReturnType<typeof startPostgres>>;
beforeAll(async () => {
  server = await startPostgres();
});
afterAll(() => server.stop());

const databases: readonly [string, () => Where][] = [
  ['the embedded database', () => ({ dir: mkdtempSync(join(tmpdir(), 'fettle-db-')) })],
  ['PostgreSQL', () => ({ url: server.url })],
];

const document: BuildDocument = { vehicle: { from: 'catalogue', vehicle: 'ghyll' }, parts: [], load: { occupants: 2 } };
const changed: BuildDocument = { ...document, load: { occupants: 3 } };
const writer = { key: 'shop', by: 'Ada', note: 'first' };
const taken = {
  quantity: 'tyre_gap',
  of: 'top-liners',
  value: '26 mm ± 4',
  date: '2026-10-03',
  tool: 'stick gauge',
  suspension: 'full bump',
};

/** Every item of a list, page by page. */
async function everything<T>(list: (after: Page<T>['next']) => Promise<Page<T>>): Promise<T[]> {
  const all: T[] = [];
  let after: Page<T>['next'];
  do {
    const page = await list(after);
    all.push(...page.items);
    after = page.next;
  } while (after);
  return all;
}

describe.each(databases)('%s', (_, where) => {
  let database: Database;
  let place: Where;
  beforeAll(async () => {
    place = where();
    database = await openDatabase(place);
  });
  afterAll(() => database.close());
  const put = (...entries: NewEntry[]) => putEntries(database.tables, 'part', entries);
  const get = (id: string, version?: number) => getEntry<CataloguePart>(database.tables, 'part', id, version);

  describe('the catalogue', () => {
    it('gives back what was put in, to the last character', async () => {
      const odd = part('odd', { name: 'Ünïcode ± "quoted" \\ back', attributes: { mass: '20 kg ± 0.5', passenger: true, n: 3 } });
      expect(await put(odd)).toEqual({ added: 1, changed: 0, unchanged: 0 });
      expect(await get('odd')).toEqual({ ...odd, version: 1 });
    });

    it('keeps every version, never changes one, and makes none where nothing changed', async () => {
      await put(part('v'));
      expect(await put(part('v'), part('w'))).toEqual({ added: 1, changed: 0, unchanged: 1 });
      expect(await put(part('v', { name: 'second' }))).toEqual({ added: 0, changed: 1, unchanged: 0 });
      expect((await get('v', 1))?.name).toBe('Tyre v');
      expect(await get('v')).toMatchObject({ name: 'second', version: 2 });
      expect(await put(part('v'))).toMatchObject({ changed: 1 });
      expect(await get('v')).toMatchObject({ name: 'Tyre v', version: 3 });
      expect(await get('v', 4)).toBeUndefined();
      expect(await getEntry(database.tables, 'vehicle', 'v')).toBeUndefined();
    });

    it('writes only over the version that the writer has seen', async () => {
      const expecting = (version: number, name: string) => putEntries(database.tables, 'part', [part('seen', { name })], version);
      await expecting(0, 'one');
      await expecting(1, 'two');
      await expect(expecting(1, 'other')).rejects.toMatchObject({ name: 'Conflict', current: 2 });
      await expect(expecting(0, 'other')).rejects.toBeInstanceOf(Conflict);
      expect(await get('seen')).toMatchObject({ name: 'two', version: 2 });
    });

    it('lists current versions in pages by id, filtered', async () => {
      await put(part('b-1', { kind: 'winch', maker: 'Hallrigg' }), part('b-2', { kind: 'winch' }), part('B-3', { kind: 'winch' }));
      const list = (limit: number) =>
        everything<CataloguePart>((after) => listEntries(database.tables, 'part', { limit, kind: 'winch', ...(after && { after }) }));
      for (const limit of [1, 2, 3, 4]) expect((await list(limit)).map(({ id }) => id)).toEqual(['B-3', 'b-1', 'b-2']);
    });

    it('searches for every word, and where nothing has them for what is spelt alike, in pages too', async () => {
      await put(
        part('s-1', { kind: 'winch', name: 'Skelbeck 100% rope', maker: 'Hallrigg' }),
        part('s-2', { name: 'Skelbeck rope' }),
        part('s-3', { name: 'Skellbeck rop' }),
        part('s-4', { name: 'Old' }),
      );
      await put(part('s-4', { name: 'New' }));
      const search = async (words: string, limit = 10) =>
        (
          await everything<CataloguePart>((after) =>
            listEntries(database.tables, 'part', { limit, search: words, ...(after && { after }) }),
          )
        ).map(({ id }) => id);
      expect(await search('skelbeck rope')).toEqual(['s-1', 's-2']);
      expect(await search('skelbeck rope', 1)).toEqual(['s-1', 's-2']);
      const near = await search('skelbek');
      expect(near).toEqual(expect.arrayContaining(['s-1', 's-2']));
      expect(await search('skelbek', 1)).toEqual(near);
      expect(await search('rope hallr')).toContain('s-1');
      expect(await search('0% ro')).toEqual(['s-1']);
      for (const slip of ['sklebeck', 'skelbekc', 'hallrgi']) {
        const found = await search(slip);
        expect([slip, found.slice(0, 2).some((id) => id.startsWith('s-'))]).toEqual([slip, true]);
        expect(await search(slip, 1)).toEqual(found);
      }
      expect(await search('_')).toEqual([]);
      expect(await search('Old')).toEqual([]);
      // Many at once find what each finds by itself.
      const several = ['skelbeck rope', 'skelbek', '0% ro', 'sklebeck', 'hallrgi', '_', 'Old', 'rope hallr'];
      const sought = several.map((words) => ({ noun: 'part' as const, search: words, limit: 3 }));
      const atOnce = (await searchCatalogue(database.tables, sought)).map((found) => found.map(({ id }) => id).sort());
      const alone = await Promise.all(several.map(async (words) => (await search(words)).slice(0, 3).sort()));
      expect(atOnce).toEqual(alone);
      expect(await searchCatalogue(database.tables, [{ noun: 'vehicle', search: 'skelbeck rope', limit: 3 }])).toEqual([[]]);
      expect(await searchCatalogue(database.tables, [])).toEqual([]);
    });

    it('adds all or none', async () => {
      const broken = { ...part('half-2'), name: null as unknown as string };
      await expect(put(part('half-1'), broken)).rejects.toThrow();
      expect(await get('half-1')).toBeUndefined();
    });

    it('that grew by thousands is searched through its index, each id looked up by itself', async () => {
      const many = Array.from({ length: 6000 }, (_, i) => part(`many-${i}`, { kind: 'shackle', name: `Shackle ${i} ${i % 7}` }));
      let turns = 0;
      const others = setInterval(() => turns++, 0);
      expect(await put(...many)).toEqual({ added: 6000, changed: 0, unchanged: 0 });
      clearInterval(others);
      expect(turns).toBeGreaterThan(6);
      const plan = await database.tables.execute(
        sql`explain select id from catalogue where noun = 'part' and current and words ilike '%many-4321%' order by id limit 21`,
      );
      expect(JSON.stringify(rowsOf(plan))).toContain('catalogue_words');
      const renamed = many.slice(0, 2500).map((one) => ({ ...one, maker: 'Hallrigg' }));
      expect(await put(...renamed, ...many.slice(2500, 3000))).toEqual({ added: 0, changed: 2500, unchanged: 500 });
      expect(await get('many-0')).toMatchObject({ maker: 'Hallrigg', version: 2 });
      expect(await get('many-0', 1)).toMatchObject({ version: 1 });
    });

    it('counts versions without gaps when two write at once', async () => {
      await Promise.all(Array.from({ length: 6 }, (_, i) => put(part('busy', { name: `by ${i}` }))));
      expect((await get('busy'))?.version).toBe(6);
    });
  });

  describe('builds', () => {
    const create = (name = 'Truck') => createBuild(database.tables, name, document, writer);
    const change = (id: string, expected?: number) =>
      reviseBuild(database.tables, id, expected, { key: 'shop' }, ({ name, measurements }) => ({
        what: 'changed',
        name,
        document: changed,
        measurements,
      }));

    it('are what was sent, with the keys in their order', async () => {
      const { build } = await create();
      const read = await getRevision(database.tables, build);
      expect(JSON.stringify(read?.document)).toBe(JSON.stringify(document));
      expect(read).toMatchObject({ revision: 1, what: 'created', name: 'Truck', measurements: [], writer });
      expect(Math.abs(Date.parse(read?.at ?? '') - Date.now())).toBeLessThan(600_000);
      expect(await getRevision(database.tables, 'none')).toBeUndefined();
      expect(await change('none')).toBeUndefined();
    });

    it('change by revisions that are all kept', async () => {
      const { build } = await create();
      expect(await change(build, 1)).toMatchObject({ revision: 2, document: changed, writer: { key: 'shop' } });
      expect((await getRevision(database.tables, build, 1))?.document).toEqual(document);
      const all = await listRevisions(database.tables, build, undefined, 5);
      expect(all.map(({ revision, what }) => [revision, what])).toEqual([
        [2, 'changed'],
        [1, 'created'],
      ]);
      expect((await listRevisions(database.tables, build, 1, 5)).map(({ revision }) => revision)).toEqual([1]);
    });

    it('of two writers who saw the same revision, one is told of the other', async () => {
      const { build } = await create();
      const outcomes = await Promise.allSettled([change(build, 1), change(build, 1)]);
      expect(outcomes.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
      expect(outcomes.find((outcome) => outcome.status === 'rejected')?.reason).toMatchObject({ name: 'Conflict', current: 2 });
      expect((await getRevision(database.tables, build))?.revision).toBe(2);
    });

    it('are measured, each measurement from its revision on', async () => {
      const { build } = await create();
      const measured = await measureBuild(database.tables, build, undefined, taken, writer);
      await change(build);
      const [held] = await getMeasurements(database.tables, (await getRevision(database.tables, build))?.measurements ?? []);
      expect(held).toEqual({ ...taken, id: measured?.measurements[0], recorded: { at: expect.any(String), key: 'shop' } });
      expect((await getRevision(database.tables, build, 1))?.measurements).toEqual([]);
    });

    it('a revision that cannot be made whole leaves nothing', async () => {
      const { build } = await create();
      const failing = reviseBuild(database.tables, build, 1, writer, () => ({
        what: 'changed',
        name: null as never,
        document,
        measurements: [],
      }));
      await expect(failing).rejects.toThrow();
      await expect(measureBuild(database.tables, build, 1, { ...taken, tool: null as never }, writer)).rejects.toThrow();
      expect(await listRevisions(database.tables, build, undefined, 5)).toHaveLength(1);
    });

    it('are listed newest first, by vehicle, and searched by name', async () => {
      const made = [];
      for (const name of ['Fellside tender', 'Fellside scout', 'Other']) made.push((await create(name)).build);
      const list = async (query: object, limit: number) =>
        (await everything((after) => listBuilds(database.tables, { limit, ...query, ...(after && { after }) }))).map(({ id }) => id);
      const all = await list({ vehicle: 'ghyll' }, 2);
      expect(all.slice(0, 3)).toEqual([...made].reverse());
      expect(new Set(all).size).toBe(all.length);
      expect((await list({ search: 'fellside' }, 1)).sort()).toEqual(made.slice(0, 2));
      expect(await list({ search: 'felside scout' }, 5)).toContain(made[1]);
      expect(await list({ vehicle: 'none' }, 5)).toEqual([]);
    });

    it('keep answers with what they rest on; the same once', async () => {
      const { build } = await create();
      const answer = {
        build,
        revision: 1,
        depends: 'x',
        verdict: 'clear',
        versions: { rules: '1' },
        entries: [{ noun: 'part' as const, id: 'v', version: 1 }],
        answer: '{"verdict":"clear"}\n',
        key: 'shop',
      };
      const first = (await saveAnswer(database.tables, answer)) as SavedAnswer;
      expect((await saveAnswer(database.tables, answer))?.id).toBe(first.id);
      const other = (await saveAnswer(database.tables, { ...answer, depends: 'y' })) as SavedAnswer;
      expect(await getAnswer(database.tables, build, first.id)).toEqual(first);
      expect(first.answer).toBe(answer.answer);
      expect(await getAnswer(database.tables, 'other', first.id)).toBeUndefined();
      expect((await listAnswers(database.tables, build, undefined, 1)).map(({ id }) => id)).toEqual([other.id, first.id]);
      expect((await listAnswers(database.tables, build, other.id, 1)).map(({ id }) => id)).toEqual([first.id]);
      expect(await saveAnswer(database.tables, { ...answer, revision: 9 })).toBeUndefined();
    });
  });

  describe('a build that is deleted', () => {
    const count = async (table: string, build: string): Promise<number> => {
      const found = await database.tables.execute(sql.raw(`select count(*)::int as n from ${table} where build = '${build}'`));
      return rowsOf<{ n: number }>(found)[0]?.n ?? Number.NaN;
    };
    const answered = async (build: string) =>
      saveAnswer(database.tables, {
        build,
        revision: 1,
        depends: 'x',
        verdict: 'clear',
        versions: {},
        entries: [],
        answer: '{}',
        key: 'shop',
      });

    it('is gone with all that is of it, and that it was there is kept', async () => {
      const { build } = await createBuild(database.tables, 'To go', document, writer);
      const other = await createBuild(database.tables, 'To stay', document, writer);
      for (const id of [build, other.build]) {
        await measureBuild(database.tables, id, undefined, taken, writer);
        await answered(id);
      }
      await expect(deleteBuild(database.tables, build, 1, writer)).rejects.toMatchObject({ name: 'Conflict', current: 2 });
      expect(await getDeleted(database.tables, build)).toBeUndefined();
      expect(await deleteBuild(database.tables, build, 2, writer)).toBe(true);
      expect(await getRevision(database.tables, build)).toBeUndefined();
      for (const table of ['revisions', 'measurements', 'answers'])
        expect([table, await count(table, build), (await count(table, other.build)) > 0]).toEqual([table, 0, true]);
      expect(await getDeleted(database.tables, build)).toEqual({ revision: 2, key: 'shop', at: expect.any(String) });
      expect(await deleteBuild(database.tables, build, undefined, writer)).toBe(false);
      expect(await reviseBuild(database.tables, build, undefined, writer, (current) => current)).toBeUndefined();
    });

    it('while it was checked keeps no answer', async () => {
      const { build } = await createBuild(database.tables, 'To go', document, writer);
      await deleteBuild(database.tables, build, undefined, writer);
      expect(await answered(build)).toBeUndefined();
    });

    it('by one and changed by another at once is one or the other', async () => {
      for (let i = 0; i < 5; i++) {
        const { build } = await createBuild(database.tables, 'Torn', document, writer);
        const [deleted, measured, kept] = await Promise.all([
          deleteBuild(database.tables, build, undefined, writer),
          measureBuild(database.tables, build, undefined, taken, writer),
          answered(build),
        ]);
        expect([deleted, measured?.revision ?? 2, kept?.revision ?? 1]).toEqual([true, 2, 1]);
        for (const table of ['revisions', 'measurements', 'answers']) expect([table, await count(table, build)]).toEqual([table, 0]);
      }
    });
  });

  describe('a write with a key', () => {
    const asked = { caller: 'shop', key: 'k', request: 'hash' };
    const creating = async (inside: Database['tables']): Promise<Reply> => ({
      status: 201,
      headers: { etag: '"1"' },
      body: (await createBuild(inside, 'Once', document, writer)).build,
    });
    const built = async () => (await listBuilds(database.tables, { limit: 100, search: 'Once' })).items.length;

    it('is done once, however often and however many at once', async () => {
      const replies = await Promise.all(Array.from({ length: 5 }, () => once(database.tables, asked, creating)));
      replies.push(await once(database.tables, asked, creating));
      expect(new Set(replies.map(({ body }) => body)).size).toBe(1);
      expect(replies[5]).toEqual(replies[0]);
      expect(await built()).toBe(1);
    });

    it('is refused for another request, and is another write for another caller', async () => {
      await expect(once(database.tables, { ...asked, request: 'other' }, creating)).rejects.toBeInstanceOf(KeyReused);
      await once(database.tables, { ...asked, caller: 'other' }, creating);
      expect(await built()).toBe(2);
    });

    it('leaves nothing when it fails, and may be sent again', async () => {
      const again = { ...asked, key: 'fails' };
      const failing = async (inside: Database['tables']): Promise<Reply> => {
        await creating(inside);
        throw new Error('stopped');
      };
      await expect(once(database.tables, again, failing)).rejects.toThrow('stopped');
      expect(await built()).toBe(2);
      expect((await once(database.tables, again, creating)).status).toBe(201);
    });

    it('is kept while it is young', async () => {
      await forgetOldReplies(database.tables);
      await once(database.tables, asked, () => Promise.reject(new Error('done again')));
    });
  });

  it('answers a ping', async () => expect(await database.ping()).toBeUndefined());

  it('opened again has what it had', async () => {
    if (place.dir !== undefined) await database.close();
    const again = await openDatabase(place);
    expect(await getEntry(again.tables, 'part', 'odd')).toBeDefined();
    expect((await listBuilds(again.tables, { limit: 1 })).items).toHaveLength(1);
    if (place.dir !== undefined) database = again;
    else await again.close();
  });
});

describe('a server that is away', () => {
  it('is told from a question that is wrong', async () => {
    const away = await openDatabase({ url: server.url.replace(/:\d+\//, ':1/') }).catch((error: unknown) => error);
    const database = await openDatabase({ url: server.url });
    const wrong = await database.tables.execute('select nothing').catch((error: unknown) => error);
    await database.close();
    expect([isAway(away), isAway(wrong)]).toEqual([true, false]);
  });
});

describe('a connection that ends', () => {
  const endIt = async (tables: Database['tables'], inside: Database['tables']): Promise<void> => {
    const [mine] = rowsOf<{ pid: number }>(await inside.execute('select pg_backend_pid() as pid'));
    await tables.execute(`select pg_terminate_backend(${mine?.pid}, 5000)`);
    await setTimeout(50);
  };

  it.each<[string, (inside: Database['tables']) => unknown]>([
    ['says no more', () => 'done'],
    ['asks more', (inside) => inside.execute('select 1')],
    ['asks more and goes on whatever the answer', (inside) => inside.execute('select 1').catch(() => 'done')],
    ['throws', () => Promise.reject(new Error('mine'))],
    ['opens one inside', (inside) => inside.transaction((within) => within.execute('select 1'))],
  ])('under a transaction that then %s is told as being away, and replaced', async (_, then) => {
    const database = await openDatabase({ url: server.url });
    const { tables } = database;
    const fate = await tables
      .transaction(async (inside) => {
        await endIt(tables, inside);
        return then(inside);
      })
      .catch((error: unknown) => error);
    expect(isAway(fate)).toBe(true);
    await Promise.all(Array.from({ length: 12 }, () => tables.transaction((inside) => inside.execute('select pg_sleep(0.05)'))));
    await database.close();
  });
});

describe('two at once', () => {
  it('two services bring the tables of one server up to date without harm', async () => {
    const both = await Promise.all([openDatabase({ url: server.url }), openDatabase({ url: server.url })]);
    await Promise.all(both.map((database) => database.close()));
    expect(both).toHaveLength(2);
  });
});
