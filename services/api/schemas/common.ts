/** Forms that several nouns share: pages, cursors, and the headers of writes. */
import { z } from 'zod';
import type { Page, PlaceInList } from '../../../db/pages.ts';
import { ApiError } from '../errors.ts';

export const MOST_A_PAGE = 200;

export const pageQuery = {
  cursor: z.string().min(1).max(400).optional().describe('`next` of the page before.'),
  limit: z.coerce.number().int().min(1).max(MOST_A_PAGE).default(50),
};
export const searchQuery = z
  .string()
  .trim()
  .min(1)
  .max(100)
  .optional()
  .describe('Words to find, in any order. Where nothing has all of them, what is spelt much like them is found, the nearest first.');

export const pageSchema = <T extends z.ZodType>(items: T) =>
  z.object({ items: z.array(items), next: z.string().nullable().describe('Cursor of the next page; null on the last.') });

const Place = z.tuple([z.int().min(0).max(999_999_999), z.string().max(200)]);

export const cursorAt = ({ rank, id }: PlaceInList): string => Buffer.from(JSON.stringify([rank, id])).toString('base64url');

/** The place a cursor stands for, spread into a query; nothing on the first page. */
export function placeAt(cursor: string | undefined): { readonly after?: PlaceInList } {
  if (cursor === undefined) return {};
  const [rank, id] = Place.catch(() => wrongCursor()).parse(jsonIn(cursor));
  return { after: { rank, id } };
}

function jsonIn(cursor: string): unknown {
  try {
    return JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8').replaceAll('\0', ''));
  } catch {
    return wrongCursor();
  }
}

function wrongCursor(): never {
  throw new ApiError('REQUEST_INVALID', undefined, [
    {
      pointer: '/cursor',
      code: 'VALUE_WRONG',
      message: 'this is no cursor of this list',
      help: 'send `next` of the page before, as it was',
    },
  ]);
}

export const pageView = <T, V>({ items, next }: Page<T>, view: (item: T) => V): { items: V[]; next: string | null } => ({
  items: items.map(view),
  next: next ? cursorAt(next) : null,
});

/** Of a number and an id that counts down, such as revisions: one more than the page holds was read. */
export function pageOfNewest<T, V>(found: readonly T[], limit: number, place: (item: T) => string, view: (item: T) => V) {
  const items = found.slice(0, limit);
  const last = found.length > limit ? items.at(-1) : undefined;
  return { items: items.map(view), next: last === undefined ? null : cursorAt({ rank: 0, id: place(last) }) };
}

const etag = z.string().regex(/^(\*|"\d{1,9}")$/, 'an `etag` as it was given, such as `"3"`, or `*` is expected');
const idempotencyKey = z
  .string()
  .regex(/^[\x21-\x7e]{1,200}$/, '1 to 200 visible ASCII characters are expected')
  .optional()
  .describe('A text of your own, new for each write. The same write sent again with it within 24 hours is answered, not done again.');
const ifMatch = etag
  .optional()
  .describe('The `etag` of what the change rests on; 412 when somebody has changed it since. `*` for whatever is there.');

export const writeHeaders = z.looseObject({ 'idempotency-key': idempotencyKey });
export const changeHeaders = z.looseObject({ 'idempotency-key': idempotencyKey, 'if-match': ifMatch });
export const readHeaders = z.looseObject({
  'if-none-match': z.string().max(200).optional().describe('The `etag` you have; 304 when it is still the current one.'),
});

export const etagOf = (version: number): string => `"${version}"`;

/** The version a write expects; undefined when it takes whatever is there. */
export function expectedVersion(ifMatchHeader: string | undefined): number | undefined {
  if (ifMatchHeader === undefined) throw new ApiError('PRECONDITION_MISSING');
  return ifMatchHeader === '*' ? undefined : Number(ifMatchHeader.slice(1, -1));
}
