/** Lists in pages, and search by trigrams: what holds every word, and only where nothing does, what is spelt like it. */
import { and, asc, desc, eq, gt, ilike, lt, or, type SQL, sql } from 'drizzle-orm';
import type { PgColumn } from 'drizzle-orm/pg-core';
import { rowsOf, type Tables } from './open.ts';

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

/** Whether the column holds every word. */
const holdsEveryWord = (words: PgColumn, search: string): SQL | undefined =>
  and(
    ...search
      .trim()
      .split(/\s+/)
      .map((word) => ilike(words, `%${escapeLike(word)}%`)),
  );
/** How near what is searched for is to the column, in thousandths less one: what holds every word is nearer. */
const nearness = (words: PgColumn, search: string): SQL<number> =>
  sql<number>`floor(word_similarity(${search}, ${words}) * ${EVERY_WORD - 1}::int)::int`;
/** How a page is searched: for every word, for what is spelt much like them, or for what is spelt somewhat like them. */
export type Search = 'words' | 'nearly' | 'vaguely';

/** How much of what is searched for must be found, as pg_trgm counts: at 0.3 `trial` finds `trail`, and much besides. */
const THRESHOLDS = { nearly: 0.6, vaguely: 0.3 } as const;

/** A page of what is found. What is not quite right costs more to look for, and is looked for only when nothing has every word. */
export async function findPage<T>(
  tables: Tables,
  { after, search }: PageQuery,
  list: (from: Tables, how: Search) => Promise<Page<T>>,
): Promise<Page<T>> {
  const near = (how: keyof typeof THRESHOLDS): Promise<Page<T>> => spelling(tables, how, (inside) => list(inside, how));
  if (search === undefined || after?.rank === EVERY_WORD) return list(tables, 'words');
  if (after) return near(after.rank < Math.floor(THRESHOLDS.nearly * (EVERY_WORD - 1)) ? 'vaguely' : 'nearly');
  const exact = await list(tables, 'words');
  if (exact.items.length > 0) return exact;
  const likely = await near('nearly');
  return likely.items.length > 0 ? likely : near('vaguely');
}

/** Runs a search with what `%>` takes for alike. */
const spelling = <T>(tables: Tables, how: keyof typeof THRESHOLDS, run: (inside: Tables) => Promise<T>): Promise<T> =>
  tables.transaction(async (inside) => {
    await inside.execute(sql`select set_config('pg_trgm.word_similarity_threshold', ${String(THRESHOLDS[how])}, true)`);
    return run(inside);
  });

/** One of several searches that are made at once. */
export interface Sought {
  readonly search: string;
  readonly limit: number;
}

/** What each search found, as `findPage` finds it: all of them in one statement, and those that nothing has every word of in one more. */
export async function findAll<S extends Sought, T>(
  tables: Tables,
  sought: readonly S[],
  { words, select }: { readonly words: PgColumn; select(rank: SQL<number>, place: number, where: SQL | undefined, one: S): SQL },
): Promise<T[][]> {
  const found: T[][] = sought.map(() => []);
  const run = async (from: Tables, part: (one: S, place: number) => SQL, open: readonly number[]): Promise<Hit<T>[]> => {
    const parts = open.map((place) => sql`(${part(sought[place] as S, place)})`);
    return parts.length === 0 ? [] : [...rowsOf<Hit<T>>(await from.execute(sql.join(parts, sql` union all `)))];
  };
  const exact = ({ search }: S): SQL | undefined => holdsEveryWord(words, search);
  const all = sought.map((_, place) => place);
  const put = (hits: readonly Hit<T>[]): void => {
    for (const { place, item } of hits) found[Number(place)]?.push(item);
  };
  put(await run(tables, (one, place) => select(sql<number>`${EVERY_WORD}::int`, place, exact(one), one), all));
  const missed = all.filter((place) => found[place]?.length === 0);
  if (missed.length === 0) return found;
  const like = (one: S, place: number): SQL => select(nearness(words, one.search), place, sql`${words} %> ${one.search}`, one);
  const hits = await spelling(tables, 'vaguely', (inside) => run(inside, like, missed));
  const least = Math.floor(THRESHOLDS.nearly * (EVERY_WORD - 1));
  const best = new Map<number, number>();
  for (const { place, rank } of hits) best.set(Number(place), Math.max(best.get(Number(place)) ?? 0, Number(rank)));
  put(hits.filter(({ place, rank }) => (best.get(Number(place)) ?? 0) < least || Number(rank) >= least));
  return found;
}

/** A row of several searches: of which it is, and how near. */
interface Hit<T> {
  readonly place: number;
  readonly rank: number;
  readonly item: T;
}

/** Conditions and order of one page of a table, by its id and the column that is searched in. */
export function paging(id: PgColumn, words: PgColumn, query: PageQuery, how: Search, order: 'up' | 'down' = 'up'): Paging {
  const { after, search } = query;
  const limit = query.limit + 1;
  const beyond = (place: PlaceInList): SQL => (order === 'up' ? gt(id, place.id) : lt(id, place.id));
  const byId = order === 'up' ? asc(id) : desc(id);
  if (search === undefined || how === 'words') {
    const every = search === undefined ? undefined : holdsEveryWord(words, search);
    return { where: and(every, after && beyond(after)), rank: sql<number>`${EVERY_WORD}::int`, orderBy: [byId], limit };
  }
  const rank = nearness(words, search);
  const left = after && or(lt(rank, after.rank), and(eq(rank, after.rank), beyond(after)));
  return { where: and(sql`${words} %> ${search}`, left), rank, orderBy: [desc(rank), byId], limit };
}

export function pageOf<R extends PlaceInList, T>(rows: readonly R[], limit: number, item: (row: R) => T): Page<T> {
  const last = rows.length > limit ? rows[limit - 1] : undefined;
  return { items: rows.slice(0, limit).map(item), ...(last && { next: { rank: Number(last.rank), id: last.id } }) };
}
