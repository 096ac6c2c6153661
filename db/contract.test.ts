/** One suite over the embedded database in memory, the same on disk, and a real PostgreSQL server. */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CataloguePart } from '../services/vehicle/request.ts';
import { addEntries, getEntry, listEntries } from './catalogue.ts';
import { FolderInUse, lockFolder } from './lock.ts';
import { type Database, openDatabase, type Where } from './open.ts';
import { startPostgres } from './testing.ts';

const part = (id: string, version = 1, more: Partial<CataloguePart> = {}): CataloguePart => ({
  id,
  version,
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
  ['embedded, in memory', () => ({})],
  ['embedded, on disk', () => ({ dir: mkdtempSync(join(tmpdir(), 'fettle-db-')) })],
  ['PostgreSQL', () => ({ url: server.url })],
];

describe.each(databases)('the catalogue on %s', (_, where) => {
  let database: Database;
  let place: Where;
  beforeAll(async () => {
    place = where();
    database = await openDatabase(place);
  });
  afterAll(() => database.close());

  it('gives back what was put in, to the last character', async () => {
    const odd = part('odd', 1, { name: 'Ünïcode ± "quoted" \\ back', attributes: { mass: '20 kg ± 0.5', passenger: true, n: 3 } });
    expect(await addEntries(database.tables, 'part', [odd])).toBe(1);
    expect(await getEntry(database.tables, 'part', 'odd')).toEqual(odd);
  });

  it('keeps every version, and never changes one', async () => {
    await addEntries(database.tables, 'part', [part('v', 1), part('v', 2, { name: 'second' })]);
    expect(await addEntries(database.tables, 'part', [part('v', 1, { name: 'changed' })])).toBe(0);
    expect(((await getEntry(database.tables, 'part', 'v', 1)) as CataloguePart).name).toBe('Tyre v');
    expect(((await getEntry(database.tables, 'part', 'v')) as CataloguePart).name).toBe('second');
    expect(await getEntry(database.tables, 'part', 'v', 3)).toBeUndefined();
    expect(await getEntry(database.tables, 'vehicle', 'v')).toBeUndefined();
  });

  it('lists current versions in pages by id, filtered and searched', async () => {
    await addEntries(database.tables, 'part', [
      part('b-1', 1, { kind: 'winch', maker: 'Hallrigg' }),
      part('b-2', 1, { kind: 'winch', name: '100% steel' }),
      part('B-3', 1, { kind: 'winch' }),
    ]);
    const list = async (query: Parameters<typeof listEntries>[2]) =>
      (await listEntries<CataloguePart>(database.tables, 'part', query)).map(({ id }) => id);
    expect(await list({ limit: 10, kind: 'winch' })).toEqual(['B-3', 'b-1', 'b-2']);
    expect(await list({ limit: 1, kind: 'winch', after: 'B-3' })).toEqual(['b-1']);
    expect(await list({ limit: 10, search: 'hallr' })).toEqual(['b-1']);
    expect(await list({ limit: 10, search: '0% st' })).toEqual(['b-2']);
    expect(await list({ limit: 10, search: '_' })).toEqual([]);
    expect(await list({ limit: 10, search: 'second' })).toEqual(['v']);
  });

  it('adds all or none', async () => {
    const broken = { ...part('half-2'), name: null as unknown as string };
    await expect(addEntries(database.tables, 'part', [part('half-1'), broken])).rejects.toThrow();
    expect(await getEntry(database.tables, 'part', 'half-1')).toBeUndefined();
  });

  it('answers a ping', async () => expect(await database.ping()).toBeUndefined());

  it('opened again has what it had', async () => {
    if (place.url === undefined && place.dir === undefined) return expect(place).toEqual({});
    if (place.dir !== undefined) await database.close();
    const again = await openDatabase(place);
    expect(await getEntry(again.tables, 'part', 'odd')).toBeDefined();
    if (place.dir !== undefined) database = again;
    else await again.close();
  });
});

describe('two at once', () => {
  it('two services bring the tables of one server up to date without harm', async () => {
    const both = await Promise.all([openDatabase({ url: server.url }), openDatabase({ url: server.url })]);
    await Promise.all(both.map((database) => database.close()));
    expect(both).toHaveLength(2);
  });

  it('a second process is refused the embedded folder, with who has it; the lock of one that is gone is taken over', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'fettle-lock-'));
    const release = lockFolder(folder);
    expect(() => lockFolder(folder)).toThrow(FolderInUse);
    expect(() => lockFolder(folder)).toThrow(String(process.pid));
    release();
    writeFileSync(join(folder, 'fettle.lock'), '999999999');
    lockFolder(folder)();
    const database = await openDatabase({ dir: folder });
    await expect(openDatabase({ dir: folder })).rejects.toThrow(FolderInUse);
    await database.close();
  });
});
