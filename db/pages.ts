/** Lists in pages, and search by trigrams: what holds every word first, then what is spelt much like it. */
import { and, asc, desc, eq, gt, ilike, lt, or, type SQL, sql } from 'drizzle-orm';
import type { PgColumn } from 'drizzle-orm/pg-core';

/** Where in a list a page ended. */
export interface PlaceInList {
  /** How near the search it was; 0 in a list that is not searched. */
  readonly rank: number;
  readonly id: string;
}

export interface PageQuery {
  readonly after?: PlaceInList;
  readonly limit: number;
  readonly search?: string;
}

export interface Page<T> {
  readonly items: readonly T[];
  /** Absent on the last page. */
  readonly next?: PlaceInList;
}

export interface Paging {
  readonly where: SQL | undefined;
  readonly rank: SQL<number>;
  readonly orderBy: SQL[];
  /** One more than the page holds is read, to know whether there is a next. */
  readonly limit: number;
}

const EVERY_WORD = 1000;
const escapeLike = (word: string): string => word.replace(/[\\%_]/g, '\\$&');

/** Conditions and order of one page of a table, by its id and the column that is searched in. */
export function paging(id: PgColumn, words: PgColumn, { after, limit, search }: PageQuery, order: 'up' | 'down' = 'up'): Paging {
  const beyond = (place: PlaceInList): SQL => (order === 'up' ? gt(id, place.id) : lt(id, place.id));
  const byId = order === 'up' ? asc(id) : desc(id);
  if (search === undefined) return { where: after && beyond(after), rank: sql<number>`0`, orderBy: [byId], limit: limit + 1 };
  const every = and(
    ...search
      .trim()
      .split(/\s+/)
      .map((word) => ilike(words, `%${escapeLike(word)}%`)),
  );
  const rank = sql<number>`case when ${every} then ${EVERY_WORD}::int else floor(word_similarity(${search}, ${words}) * ${EVERY_WORD}::int)::int end`;
  const found = or(every, sql`${words} %> ${search}`);
  const left = after && or(lt(rank, after.rank), and(eq(rank, after.rank), beyond(after)));
  return { where: and(found, left), rank, orderBy: [desc(rank), byId], limit: limit + 1 };
}

export function pageOf<R extends PlaceInList, T>(rows: readonly R[], limit: number, item: (row: R) => T): Page<T> {
  const last = rows.length > limit ? rows[limit - 1] : undefined;
  return { items: rows.slice(0, limit).map(item), ...(last && { next: { rank: Number(last.rank), id: last.id } }) };
}
