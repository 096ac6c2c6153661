/** Keys that stand in the address of a cell. The secret is told once; only its hash is kept. */
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { and, desc, eq, isNull, lt, sql } from 'drizzle-orm';
import { v7 as newId } from 'uuid';
import type { Tables } from './open.ts';
import { cellTokens } from './schema.ts';

export type CellToken = typeof cellTokens.$inferSelect;

const SECRET_BYTES = 24;
const digest = (secret: string): string => createHash('sha256').update(secret).digest('hex');

export async function createCellToken(
  tables: Tables,
  { name, key }: Pick<CellToken, 'name' | 'key'>,
): Promise<CellToken & { readonly token: string }> {
  const secret = randomBytes(SECRET_BYTES).toString('base64url');
  const [made] = await tables
    .insert(cellTokens)
    .values({ id: newId(), name, key, hash: digest(secret) })
    .returning();
  return { ...(made as CellToken), token: `${made?.id}.${secret}` };
}

/** Newest first, one more than asked for. */
export const listCellTokens = (tables: Tables, after: string | undefined, limit: number): Promise<CellToken[]> =>
  tables
    .select()
    .from(cellTokens)
    .where(after === undefined ? undefined : lt(cellTokens.id, after))
    .orderBy(desc(cellTokens.id))
    .limit(limit + 1);

/** From now on it opens nothing; undefined when there is none. */
export async function revokeCellToken(tables: Tables, id: string): Promise<CellToken | undefined> {
  await tables
    .update(cellTokens)
    .set({ revokedAt: sql`now()` as never })
    .where(and(eq(cellTokens.id, id), isNull(cellTokens.revokedAt)));
  return (await tables.select().from(cellTokens).where(eq(cellTokens.id, id)))[0];
}

const NO_HASH = digest('');

/** Whether a token is known and has not been taken back. The hashes are compared in constant time, a token that is not there too. */
export async function cellTokenHolds(tables: Tables, token: string): Promise<boolean> {
  const [id = '', secret = ''] = token.split('.');
  const [found] = /^[0-9a-f-]{36}$/.test(id) ? await tables.select().from(cellTokens).where(eq(cellTokens.id, id)) : [];
  const same = timingSafeEqual(Buffer.from(digest(secret), 'hex'), Buffer.from(found?.hash ?? NO_HASH, 'hex'));
  return same && found !== undefined && found.revokedAt === null;
}
