/** The catalogue of vehicles and parts: read by id and version, listed in pages, added to by new versions only. */
import { and, asc, eq, gt, ilike, inArray, sql } from 'drizzle-orm';
import type { CataloguePart, CatalogueVehicle } from '../services/vehicle/request.ts';
import type { Tables } from './open.ts';
import { catalogue } from './schema.ts';

type Noun = 'vehicle' | 'part';

export interface ListQuery {
  readonly after?: string;
  readonly limit: number;
  readonly kind?: string;
  readonly search?: string;
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

/** Current versions in the order of their ids. `search` finds part of an id, a name or a maker. */
export async function listEntries<T>(tables: Tables, noun: Noun, { after, limit, kind, search }: ListQuery): Promise<T[]> {
  const rows = await tables
    .select({ document: catalogue.document })
    .from(catalogue)
    .where(
      and(
        eq(catalogue.noun, noun),
        eq(catalogue.current, true),
        after === undefined ? undefined : gt(sql`${catalogue.id} collate "C"`, after),
        kind === undefined ? undefined : eq(catalogue.kind, kind),
        search === undefined ? undefined : ilike(catalogue.words, `%${search.replace(/[\\%_]/g, '\\$&')}%`),
      ),
    )
    .orderBy(asc(sql`${catalogue.id} collate "C"`))
    .limit(limit);
  return rows.map(({ document }) => document as T);
}

/** Adds versions that are not there yet, all or none; what is there is never changed. Gives how many were added. */
export async function addEntries(tables: Tables, noun: Noun, entries: readonly (CataloguePart | CatalogueVehicle)[]): Promise<number> {
  if (entries.length === 0) return 0;
  const rows = entries.map((document) => ({
    noun,
    id: document.id,
    version: document.version,
    current: false,
    kind: 'kind' in document ? document.kind : null,
    name: document.name,
    words: [document.id, document.name, document.maker ?? ''].join(' '),
    document,
  }));
  return tables.transaction(async (inside) => {
    const added = await inside.insert(catalogue).values(rows).onConflictDoNothing().returning({ id: catalogue.id });
    const newest = sql`${catalogue.version} = (select max(other.version) from catalogue other where other.noun = ${catalogue.noun} and other.id = ${catalogue.id})`;
    await inside
      .update(catalogue)
      .set({ current: newest })
      .where(and(eq(catalogue.noun, noun), inArray(catalogue.id, [...new Set(entries.map(({ id }) => id))])));
    return added.length;
  });
}
