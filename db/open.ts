/** Opens PostgreSQL or the embedded PGlite, brings its tables up to date, and hides what differs between the two. */
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PGlite } from '@electric-sql/pglite';
import { pg_trgm } from '@electric-sql/pglite/contrib/pg_trgm';
import { sql } from 'drizzle-orm';
import type { PgDatabase, PgQueryResultHKT } from 'drizzle-orm/pg-core';
import { drizzle as drizzlePglite } from 'drizzle-orm/pglite';
import { migrate as migratePglite } from 'drizzle-orm/pglite/migrator';
import { drizzle as drizzlePostgres } from 'drizzle-orm/postgres-js';
import { migrate as migratePostgres } from 'drizzle-orm/postgres-js/migrator';
import postgres from 'postgres';
import { lockFolder } from './lock.ts';
import { steady } from './steady.ts';

export type Tables = PgDatabase<PgQueryResultHKT>;

/** What a plain statement gives: of one driver a list of rows, of the other an object that holds one. */
export const rowsOf = <T>(result: unknown): readonly T[] => (Array.isArray(result) ? result : (result as { rows: readonly T[] }).rows);

/** Where a library finds the database that brings statements of its own: an address, or a way to run them. */
export type Plain =
  | { readonly connectionString: string }
  | { readonly run: (text: string, values?: readonly unknown[]) => Promise<{ rows: unknown[] }> };

export interface Database {
  readonly tables: Tables;
  readonly plain: Plain;
  ping(): Promise<void>;
  close(): Promise<void>;
}

export interface Where {
  /** A PostgreSQL database; wins over `dir`. */
  readonly url?: string;
  /** For the URL, when it is not in there. */
  readonly password?: string;
  /** Folder of the embedded database; with neither, it lives in memory. */
  readonly dir?: string;
}

const MIGRATIONS = fileURLToPath(new URL('./migrations', import.meta.url));
/** Any number that is ours: two services starting at once bring the tables up to date one after the other. */
const MIGRATION_LOCK = 471_100_201;
const CONNECTIONS = 10;
/** A server that refuses is known at once; one that is silent, or a machine that is overloaded, is given this long. */
const CONNECT_SECONDS = 10;
/** While the server is away, callers are told soon, and are served soon after it is back. */
const LONGEST_BACKOFF_SECONDS = 1;
const backoff = (retries: number): number => Math.min(0.05 * 2 ** retries, LONGEST_BACKOFF_SECONDS);
const CLOSE_SECONDS = 5;

/** Throws `FolderInUse` when another process has the folder. */
export const openDatabase = ({ url, password, dir }: Where): Promise<Database> =>
  url === undefined ? openEmbedded(dir) : openServer(url, password);

function withPassword(url: string, password: string | undefined): string {
  if (password === undefined) return url;
  const address = new URL(url);
  address.password = encodeURIComponent(password);
  return address.href;
}

async function openServer(url: string, password: string | undefined): Promise<Database> {
  // A connection that breaks while it fetches types, which we have no use for, rejects a promise that nobody holds.
  const options = {
    fetch_types: false,
    connect_timeout: CONNECT_SECONDS,
    backoff,
    max_lifetime: null,
    onnotice: () => {},
    ...(password !== undefined && { password }),
  };
  // Migrating takes a connection of its own, since the lock belongs to the connection that took it.
  const single = postgres(url, { ...options, max: 1 });
  try {
    await single`select pg_advisory_lock(${MIGRATION_LOCK})`;
    await single`create extension if not exists pg_trgm`;
    await migratePostgres(drizzlePostgres(steady(single)), { migrationsFolder: MIGRATIONS });
  } finally {
    await single.end({ timeout: CLOSE_SECONDS });
  }
  const client = postgres(url, { ...options, max: CONNECTIONS });
  const tables = drizzlePostgres(steady(client));
  const plain = { connectionString: withPassword(url, password) };
  return {
    tables,
    plain,
    ping: async () => void (await tables.execute(sql`select 1`)),
    close: () => client.end({ timeout: CLOSE_SECONDS }),
  };
}

async function openEmbedded(dir: string | undefined): Promise<Database> {
  const release = dir === undefined ? async () => {} : await lockFolder(dir);
  try {
    const client = await PGlite.create({ ...(dir !== undefined && { dataDir: join(dir, 'pg') }), extensions: { pg_trgm } });
    await client.exec('create extension if not exists pg_trgm');
    const tables = drizzlePglite(client);
    await migratePglite(tables, { migrationsFolder: MIGRATIONS });
    const close = async (): Promise<void> => {
      await client.close();
      await release();
    };
    // Several statements at once take no values.
    const run = async (text: string, values?: readonly unknown[]): Promise<{ rows: unknown[] }> =>
      values && values.length > 0 ? client.query(text, [...values]) : ((await client.exec(text)).at(-1) ?? { rows: [] });
    return { tables, plain: { run }, ping: async () => void (await tables.execute(sql`select 1`)), close };
  } catch (error) {
    await release();
    throw error;
  }
}

/** Errors that say the server is away, going away or full, or that two writers stood in each other's way: of the driver, the network and SQLSTATE. */
const AWAY =
  /^(CONNECTION_(CLOSED|ENDED|DESTROYED)|CONNECT_TIMEOUT|ECONNREFUSED|ECONNRESET|EPIPE|ETIMEDOUT|EHOSTUNREACH|ENOTFOUND|EAI_AGAIN|08...|57P0[1-5]|53...|40001|40P01)$/;

/** Whether an error says that the database cannot answer now, rather than that it was asked something wrong. */
export const isAway = (error: unknown): boolean => hasCode(error, AWAY);

/** Whether a row was to be written that refers to one that is not there. */
export const refersToNothing = (error: unknown): boolean => hasCode(error, /^23503$/);

function hasCode(error: unknown, code: RegExp): boolean {
  for (let at = error; at instanceof Error; at = at.cause) if (code.test(String((at as { code?: unknown }).code))) return true;
  return false;
}
