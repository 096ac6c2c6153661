/**
 * Transactions of postgres.js that outlive their connection. Left to itself, the driver sends `rollback` on a connection that has
 * closed, and throws from a timer of its own, where nobody can catch it.
 */
import type { Sql, TransactionSql } from 'postgres';

/** What a query of the driver is made of: the handler sends it, at the last moment. */
interface Sent {
  /** Whose connection sent it; none before that. */
  readonly state: unknown;
  handler(query: Sent): void;
  reject(error: unknown): void;
  catch(told: (error: unknown) => void): unknown;
}
type Work = (inside: TransactionSql) => Promise<unknown>;

/** Errors of the connection itself, after which nothing can be sent on it. */
const BROKEN = /^(CONNECTION_(CLOSED|ENDED|DESTROYED)|ECONN(RESET|ABORTED|REFUSED)|EPIPE|ETIMEDOUT|E(HOST|NET)(UNREACH|DOWN))$/;

const isBroken = (error: unknown): boolean => BROKEN.test(String((error as { code?: unknown }).code));

/**
 * A connection that broke while it was asked keeps that error, and on coming back gives it to whoever is next, unsent. It does so once.
 * Such an error tells of another's statement.
 */
const isStale = (error: unknown): boolean => (error as { query?: unknown }).query !== undefined;

/** The same client, whose transactions send nothing more once their outcome is known, and their connection's end is one. */
export const steady = (client: Sql): Sql =>
  over(client, {
    begin: (work: Work) => begin(client, work),
    unsafe: (...asked: Parameters<Sql['unsafe']>) => {
      const query = client.unsafe(...asked) as unknown as Sent;
      const { reject } = query;
      query.reject = (error) => (query.state === null && isStale(error) ? query.handler(query) : reject(error));
      return query;
    },
  });

function begin(client: Sql, work: Work): Promise<unknown> {
  let begun = false;
  let ended: unknown;
  const end = (error: unknown): void => {
    ended ??= error;
  };

  const guarded = (inside: TransactionSql): TransactionSql =>
    over(inside, {
      unsafe: (...asked: Parameters<TransactionSql['unsafe']>) => {
        const query = inside.unsafe(...asked) as unknown as Sent;
        const { handler } = query;
        query.handler = () => {
          if (ended) return query.reject(ended);
          query.catch((error) => isBroken(error) && end(error));
          handler(query);
        };
        return query;
      },
      savepoint: async (inner: Work) => {
        if (ended) throw ended;
        return inside.savepoint(settled(inner));
      },
    });
  // The driver tells of a connection's end whatever the work does, and sends the last word when the work settles: after that end it never does.
  const settled =
    (inner: Work): Work =>
    async (inside) => {
      const [outcome] = await Promise.allSettled([inner(guarded(inside))]);
      if (ended) return new Promise(() => {});
      if (outcome.status === 'rejected') throw outcome.reason;
      return outcome.value;
    };

  const attempt = (): Promise<unknown> =>
    client
      .begin((inside) => {
        begun = true;
        return settled(work)(inside);
      })
      .catch((error) => {
        if (begun || !isStale(error)) throw error;
        return attempt();
      });
  const outcome = attempt();
  outcome.then(() => end(new Error('the transaction is over')), end);
  return outcome;
}

/** An object with some of its parts replaced. */
const over = <T extends object>(under: T, parts: object): T =>
  new Proxy(under, { get: (target, name) => Reflect.get(Object.hasOwn(parts, name) ? parts : target, name) });
