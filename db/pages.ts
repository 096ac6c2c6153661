/** Lists in pages, and search by trigrams: what holds every word, and only where nothing does, what is spelt much like it. */
import { and, asc, desc, eq, gt, ilike, lt, or, type SQL, sql } from 'drizzle-orm';
import type { PgColumn } from 'drizzle-orm/pg-core';

/** Where in a list a page ended. */
export interface PlaceInList {
  /** How near to what was searched for. */
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

/** How a page is searched: for every word, or for what is nearly that. */
export type Search = 'words' | 'nearly';

/** A page of what is found. The search for what is nearly right costs more, and is made only when nothing has every word. */
export async function findPage<T>({ after, search }: PageQuery, list: (how: Search) => Promise<Page<T>>): Promise<Page<T>> {
  if (search === undefined) return list('words');
  if (after) return list(after.rank === EVERY_WORD ? 'words' : 'nearly');
  const page = await list('words');
  return page.items.length > 0 ? page : list('nearly');
}

/** Conditions and order of one page of a table, by its id and the column that is searched in. */
export function paging(id: PgColumn, words: PgColumn, query: PageQuery, how: Search, order: 'up' | 'down' = 'up'): Paging {
  const { after, search } = query;
  const limit = query.limit + 1;
  const beyond = (place: PlaceInList): SQL => (order === 'up' ? gt(id, place.id) : lt(id, place.id));
  const byId = order === 'up' ? asc(id) : desc(id);
  if (search === undefined || how === 'words') {
    const every = search
      ?.trim()
      .split(/\s+/)
      .map((word) => ilike(words, `%${escapeLike(word)}%`));
    return { where: and(...(every ?? []), after && beyond(after)), rank: sql<number>`${EVERY_WORD}::int`, orderBy: [byId], limit };
  }
  const rank = sql<number>`floor(word_similarity(${search}, ${words}) * ${EVERY_WORD - 1}::int)::int`;
  const left = after && or(lt(rank, after.rank), and(eq(rank, after.rank), beyond(after)));
  return { where: and(sql`${words} %> ${search}`, left), rank, orderBy: [desc(rank), byId], limit };
}

export function pageOf<R extends PlaceInList, T>(rows: readonly R[], limit: number, item: (row: R) => T): Page<T> {
  const last = rows.length > limit ? rows[limit - 1] : undefined;
  return { items: rows.slice(0, limit).map(item), ...(last && { next: { rank: Number(last.rank), id: last.id } }) };
}
