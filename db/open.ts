/** Opens PostgreSQL or the embedded PGlite, brings its tables up to date, and hides what differs between the two. */
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PGlite } from '@electric-sql/pglite';
import { pg_trgm } from '@electric-sql/pglite/contrib/pg_trgm';
import { sql } from 'drizzle-orm';
import { drizzle as drizzlePg } from 'drizzle-orm/node-postgres';
import { migrate as migratePg } from 'drizzle-orm/node-postgres/migrator';
import type { PgDatabase, PgQueryResultHKT } from 'drizzle-orm/pg-core';
import { drizzle as drizzlePglite } from 'drizzle-orm/pglite';
import { migrate as migratePglite } from 'drizzle-orm/pglite/migrator';
import pg from 'pg';
import { lockFolder } from './lock.ts';

/** What a plain statement gives on both. */
interface Result<T> {
  readonly rows: readonly T[];
}
interface ResultHKT extends PgQueryResultHKT {
  readonly type: Result<this['row']>;
}

export type Tables = PgDatabase<ResultHKT>;

export interface Database {
  readonly tables: Tables;
  ping(): Promise<void>;
  close(): Promise<void>;
}

export interface Where {
  /** A PostgreSQL database; wins over `dir`. */
  readonly url?: string;
  /** Folder of the embedded database; with neither, it lives in memory. */
  readonly dir?: string;
}

const MIGRATIONS = fileURLToPath(new URL('./migrations', import.meta.url));
/** Any number that is ours: two services starting at once bring the tables up to date one after the other. */
const MIGRATION_LOCK = 471_100_201;
const CONNECTIONS = 10;
/** A server that refuses is known at once; one that is silent, or a machine that is overloaded, is given this long. */
const CONNECT_MS = 10_000;

/** Throws `FolderInUse` when another process has the folder. */
export const openDatabase = ({ url, dir }: Where): Promise<Database> => (url === undefined ? openEmbedded(dir) : openServer(url));

async function openServer(url: string): Promise<Database> {
  const connecting = { connectionString: url, connectionTimeoutMillis: CONNECT_MS };
  // Migrating takes a connection of its own, since the lock belongs to the connection that took it.
  const single = new pg.Client(connecting);
  try {
    await single.connect();
    await single.query('select pg_advisory_lock($1)', [MIGRATION_LOCK]);
    await single.query('create extension if not exists pg_trgm');
    await migratePg(drizzlePg(single), { migrationsFolder: MIGRATIONS });
  } finally {
    await single.end();
  }
  const pool = new pg.Pool({ ...connecting, max: CONNECTIONS });
  // A connection that breaks is told by the query that was on it; one that broke while idle is replaced.
  pool.on('error', () => {});
  pool.on('connect', (client) => client.on('error', () => {}));
  // A transaction whose first word fails gives its connection back all the same; left to itself, it would be lost to the pool.
  const transaction: Tables['transaction'] = async (work, config) => {
    const client = await pool.connect();
    try {
      return await (drizzlePg(client) as unknown as Tables).transaction(work, config);
    } finally {
      client.release();
    }
  };
  const tables = Object.assign(drizzlePg(pool) as unknown as Tables, { transaction });
  return { tables, ping: async () => void (await tables.execute(sql`select 1`)), close: () => pool.end() };
}

async function openEmbedded(dir: string | undefined): Promise<Database> {
  const release = dir === undefined ? () => {} : lockFolder(dir);
  try {
    const client = await PGlite.create({ ...(dir !== undefined && { dataDir: join(dir, 'pg') }), extensions: { pg_trgm } });
    await client.exec('create extension if not exists pg_trgm');
    const tables = drizzlePglite(client);
    await migratePglite(tables, { migrationsFolder: MIGRATIONS });
    const close = async (): Promise<void> => {
      await client.close();
      release();
    };
    return { tables: tables as unknown as Tables, ping: async () => void (await tables.execute(sql`select 1`)), close };
  } catch (error) {
    release();
    throw error;
  }
}

/** Errors that say the server is away, going away or full, or that two writers stood in each other's way: of the network and SQLSTATE. */
const AWAY = /^(ECONNREFUSED|ECONNRESET|EPIPE|ETIMEDOUT|EHOSTUNREACH|ENOTFOUND|EAI_AGAIN|08...|57P0[1-5]|53...|40001|40P01)$/;
/** The driver's own words for the same have no code. */
const BROKEN =
  /^(Connection terminated|Client has encountered a connection error|Client was closed|timeout exceeded when trying to connect)/;

/** Whether an error says that the database cannot answer now, rather than that it was asked something wrong. */
export function isAway(error: unknown): boolean {
  for (let at = error; at instanceof Error; at = at.cause)
    if (AWAY.test(String((at as { code?: unknown }).code)) || BROKEN.test(at.message)) return true;
  return false;
}
