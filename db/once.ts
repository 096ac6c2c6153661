/** Writes that come with a key of their own are done once: the reply is kept in the transaction that does the work. */
import { and, eq, lt, sql } from 'drizzle-orm';
import type { Tables } from './open.ts';
import { replies } from './schema.ts';

export interface Reply {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
}

export interface OnceKey {
  readonly caller: string;
  readonly key: string;
  /** Hash of the request: another request with the same key is a mistake. */
  readonly request: string;
}

export class KeyReused extends Error {
  override readonly name = 'KeyReused';
}

/**
 * Does the work in a transaction and keeps its reply under the key, or gives the reply that is kept. Two at once with one key
 * follow one another. Work that throws leaves nothing behind, the key included. Throws `KeyReused` when the key came with another request.
 */
export function once(tables: Tables, asked: OnceKey | undefined, work: (inside: Tables) => Promise<Reply>): Promise<Reply> {
  return tables.transaction(async (inside) => {
    if (asked === undefined) return work(inside);
    const mine = and(eq(replies.caller, asked.caller), eq(replies.key, asked.key));
    const taken = await inside.insert(replies).values(asked).onConflictDoNothing().returning({ key: replies.key });
    if (taken.length === 0) {
      const [kept] = await inside.select().from(replies).where(mine);
      if (kept?.request !== asked.request) throw new KeyReused();
      return { status: kept.status as number, headers: kept.headers ?? {}, body: kept.body ?? '' };
    }
    const reply = await work(inside);
    await inside.update(replies).set(reply).where(mine);
    return reply;
  });
}

export const REPLIES_KEPT_HOURS = 24;

export const forgetOldReplies = async (tables: Tables): Promise<void> =>
  void (await tables.delete(replies).where(lt(replies.at, sql`now() - make_interval(hours => ${REPLIES_KEPT_HOURS}::int)`)));
