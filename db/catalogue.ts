/** The catalogue of vehicles and parts: read by id and version, listed in pages, added to by new versions only. */
import { setImmediate } from 'node:timers/promises';
import { and, eq, inArray, or, sql } from 'drizzle-orm';
import type { CataloguePart, CatalogueVehicle } from '../services/vehicle/request.ts';
import { Conflict } from './conflict.ts';
import { rowsOf, type Tables } from './open.ts';
import { findAll, findPage, type Page, type PageQuery, pageOf, paging, type Search, type Sought } from './pages.ts';
import { catalogue } from './schema.ts';

export type Noun = 'vehicle' | 'part';
export type Entry = CataloguePart | CatalogueVehicle;
/** An entry as its author writes it; storage counts its versions. */
export type NewEntry = Omit<CataloguePart, 'version'> | Omit<CatalogueVehicle, 'version'>;

export interface EntryQuery extends PageQuery {
  readonly kind?: string;
}

/** The version of that number, or the current one. */
export async function getEntry<T>(tables: Tables, noun: Noun, id: string, version?: number): Promise<T | undefined> {
  const which = version === undefined ? eq(catalogue.current, true) : eq(catalogue.version, version);
  const [row] = await tables
    .select({ document: catalogue.document })
    .from(catalogue)
    .where(and(eq(catalogue.noun, noun), eq(catalogue.id, id), which));
  return row?.document as T | undefined;
}

/** Of each id named its current version, and those of the numbers asked for; in no order. */
export async function findEntries<T>(
  tables: Tables,
  noun: Noun,
  refs: readonly { readonly id: string; readonly version?: number }[],
): Promise<T[]> {
  if (refs.length === 0) return [];
  const ids = [...new Set(refs.map(({ id }) => id))];
  const versions = [...new Set(refs.flatMap(({ version }) => version ?? []))];
  const rows = await tables
    .select({ document: catalogue.document })
    .from(catalogue)
    .where(
      and(
        eq(catalogue.noun, noun),
        inArray(catalogue.id, ids),
        or(eq(catalogue.current, true), versions.length > 0 ? inArray(catalogue.version, versions) : undefined),
      ),
    );
  return rows.map(({ document }) => document as T);
}

/** Current versions in the order of their ids; searched in id, name, maker and kind, the nearest first. */
export const listEntries = <T>(tables: Tables, noun: Noun, query: EntryQuery): Promise<Page<T>> =>
  findPage(tables, query, (from, how) => searchEntries(from, noun, query, how));

async function searchEntries<T>(tables: Tables, noun: Noun, query: EntryQuery, how: Search): Promise<Page<T>> {
  const { where, rank, orderBy, limit } = paging(catalogue.id, catalogue.words, query, how);
  const rows = await tables
    .select({ id: catalogue.id, rank, document: catalogue.document })
    .from(catalogue)
    .where(
      and(
        eq(catalogue.noun, noun),
        eq(catalogue.current, true),
        query.kind === undefined ? undefined : eq(catalogue.kind, query.kind),
        where,
      ),
    )
    .orderBy(...orderBy)
    .limit(limit);
  return pageOf(rows, query.limit, ({ document }) => document as T);
}

/** One of several searches, among vehicles or parts. */
export interface SoughtEntry extends Sought {
  readonly noun: Noun;
}

/** For each search the current versions it finds, as many as it asks for. */
export const searchCatalogue = (tables: Tables, sought: readonly SoughtEntry[]): Promise<Entry[][]> =>
  findAll(tables, sought, {
    words: catalogue.words,
    select: (rank, place, where, { noun, limit }) => sql`
      select ${place}::int as place, ${rank} as rank, ${catalogue.document} as item from ${catalogue}
      where ${and(eq(catalogue.noun, noun), sql`${catalogue.current}`, where)} order by 2 desc, ${catalogue.id} limit ${limit}`,
  });

export interface Put {
  /** Ids that are new. */
  readonly added: number;
  /** Ids that have a new version. */
  readonly changed: number;
  /** Ids that already said the same. */
  readonly unchanged: number;
}

/** Any number that is ours: writers of the catalogue follow one another, so that versions are counted without gaps. */
const CATALOGUE_LOCK = 471_100_202;
/** Few enough that the embedded database, which works in this process, holds it up for a tenth of a second at most. */
const ROWS_A_STATEMENT = 500;
/** So many new rows are a mass of them. */
const MASS = 2000;

/**
 * Makes each entry the current version of its id, all or none; one that says what the current version says adds nothing.
 * Ids are distinct. `expected` is the version that the writer of a single entry has seen, 0 for none; when it is not the
 * current one, nothing is written and `Conflict` is thrown.
 */
export function putEntries(tables: Tables, noun: Noun, entries: readonly NewEntry[], expected?: number): Promise<Put> {
  return tables.transaction(async (inside) => {
    await inside.execute(sql`select pg_advisory_xact_lock(${CATALOGUE_LOCK})`);
    if (expected !== undefined) await expectVersion(inside, noun, entries[0]?.id ?? '', expected);
    const put = { added: 0, changed: 0, unchanged: 0 };
    for (let from = 0; from < entries.length; from += ROWS_A_STATEMENT) {
      const rows = entries.slice(from, from + ROWS_A_STATEMENT);
      const written = await putRows(inside, noun, rows);
      const added = written.filter((version) => version === 1).length;
      put.added += added;
      put.changed += written.length - added;
      put.unchanged += rows.length - written.length;
      // Whoever else waits for this process has a turn.
      await setImmediate();
    }
    if (put.added + put.changed >= MASS) await refreshPlans(inside);
    return put;
  });
}

/**
 * After many rows at once: counts them anew, without which searches go through all of the table, and sorts in what the index of words
 * keeps unsorted. A server does both in its own time, the embedded database never.
 */
async function refreshPlans(inside: Tables): Promise<void> {
  await inside.execute(sql`analyze catalogue`);
  await inside.execute(sql`select gin_clean_pending_list('catalogue_words')`);
}

async function expectVersion(inside: Tables, noun: Noun, id: string, expected: number): Promise<void> {
  const current = (await getEntry<Entry>(inside, noun, id))?.version ?? 0;
  if (current !== expected) throw new Conflict(current);
}

/** Versions that were written: an entry without a current version gets the next one. */
async function putRows(inside: Tables, noun: Noun, entries: readonly NewEntry[]): Promise<number[]> {
  const rows = entries.map((document) => {
    const kind = 'kind' in document ? document.kind : null;
    const words = [document.id, document.name, document.maker, kind].filter(Boolean).join(' ');
    return { id: document.id, kind, name: document.name, words, document };
  });
  const given = sql`jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) as given(id text, kind text, name text, words text, document jsonb)`;
  // Each id is looked up by itself (`limit 1`, `ctid`), whatever the planner believes of a table that has just grown.
  const newest = sql`(
    select ctid, version, current, document from catalogue as old
    where old.noun = ${noun} and old.id = given.id order by version desc limit 1
  ) as newest`;
  const outdated = sql`
    select newest.ctid from ${given} cross join lateral ${newest}
    where newest.current and newest.document - 'version' <> given.document`;
  await inside.execute(sql`update catalogue set current = false where ctid = any(array(${outdated}))`);
  const fresh = sql`
    select ${noun}::text, given.id, next.version, true, given.kind, given.name, given.words,
      given.document || jsonb_build_object('version', next.version)
    from ${given} left join lateral ${newest} on true
    cross join lateral (select coalesce(newest.version, 0) + 1 as version) as next
    where newest.current is not true`;
  const written = await inside.execute(
    sql`insert into catalogue (noun, id, version, current, kind, name, words, document) ${fresh} returning version`,
  );
  return rowsOf<{ version: number }>(written).map(({ version }) => version);
}
