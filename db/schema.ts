/**
 * Tables. What is written stays: a catalogue entry changes by a new version, a build by a new revision, and a measurement
 * that no longer holds is left out of the next revision. `catalogue.current` and `builds.revision` say which is the newest.
 * Only a build may be deleted, and then all that is of it goes: revisions, measurements, answers.
 */
import { sql } from 'drizzle-orm';
import {
  boolean,
  customType,
  foreignKey,
  index,
  integer,
  json,
  jsonb,
  pgTable,
  primaryKey,
  text,
  timestamp,
  uniqueIndex,
} from 'drizzle-orm/pg-core';

const bytes = customType<{ data: Uint8Array }>({ dataType: () => 'bytea' });
/** An id: sorted by its bytes, so that a list's order does not hang on the database's locale. */
const ident = customType<{ data: string }>({ dataType: () => 'text collate "C"' });
const moment = (name: string) => timestamp(name, { withTimezone: true }).notNull().default(sql`now()`);

export const catalogue = pgTable(
  'catalogue',
  {
    noun: text('noun', { enum: ['vehicle', 'part'] }).notNull(),
    id: ident('id').notNull(),
    version: integer('version').notNull(),
    /** The newest version of its id. */
    current: boolean('current').notNull(),
    /** The kind of a part; absent for vehicles. */
    kind: text('kind'),
    name: text('name').notNull(),
    /** What people search in: id, name, maker, kind. */
    words: text('words').notNull(),
    document: jsonb('document').notNull(),
    addedAt: moment('added_at'),
  },
  (table) => [
    primaryKey({ columns: [table.noun, table.id, table.version] }),
    uniqueIndex('catalogue_current').on(table.noun, table.id).where(sql`${table.current}`),
    index('catalogue_words').using('gin', table.words.op('gin_trgm_ops')).where(sql`${table.current}`),
  ],
);

export const builds = pgTable(
  'builds',
  {
    id: ident('id').primaryKey(),
    /** The newest revision. */
    revision: integer('revision').notNull(),
    name: text('name').notNull(),
    /** The vehicle of the catalogue it is made on; absent for one described in the build. */
    vehicle: text('vehicle'),
    createdAt: moment('created_at'),
  },
  (table) => [index('builds_vehicle').on(table.vehicle, table.id), index('builds_name').using('gin', table.name.op('gin_trgm_ops'))],
);

/** Builds there were: that one was deleted, by whom and when, and nothing of what it said. */
export const deletedBuilds = pgTable('deleted_builds', {
  id: ident('id').primaryKey(),
  /** Its last revision. */
  revision: integer('revision').notNull(),
  /** Name of the key the caller came with. */
  key: text('key').notNull(),
  at: moment('at'),
});

export const revisions = pgTable(
  'revisions',
  {
    build: ident('build')
      .notNull()
      .references(() => builds.id, { onDelete: 'cascade' }),
    revision: integer('revision').notNull(),
    what: text('what', { enum: ['created', 'changed', 'restored', 'measured', 'unmeasured'] }).notNull(),
    name: text('name').notNull(),
    /** As it was sent, keys in their order: a check of it gives the same bytes as a check of what was sent. */
    document: json('document').notNull(),
    /** Ids of the measurements that hold in it, in the order they were recorded. */
    measurements: jsonb('measurements').$type<readonly string[]>().notNull(),
    restoredFrom: integer('restored_from'),
    note: text('note'),
    /** The person, as the caller says. */
    by: text('by'),
    /** Name of the key the caller came with. */
    key: text('key').notNull(),
    at: moment('at'),
  },
  (table) => [primaryKey({ columns: [table.build, table.revision] })],
);

export const measurements = pgTable(
  'measurements',
  {
    id: ident('id').primaryKey(),
    build: ident('build')
      .notNull()
      .references(() => builds.id, { onDelete: 'cascade' }),
    quantity: text('quantity').notNull(),
    of: text('of'),
    /** In JSON: a text, a number or a truth. */
    value: text('value').notNull(),
    date: text('date').notNull(),
    tool: text('tool').notNull(),
    /** What the tool may be off by, alike at every reading with it; as it was written. */
    toolError: text('tool_error'),
    suspension: text('suspension'),
    steering: text('steering'),
    by: text('by'),
    note: text('note'),
    key: text('key').notNull(),
    at: moment('at'),
  },
  (table) => [index('measurements_build').on(table.build)],
);

export const answers = pgTable(
  'answers',
  {
    id: ident('id').primaryKey(),
    build: ident('build').notNull(),
    revision: integer('revision').notNull(),
    /** Hash of what the answer depends on beside the revision: how it was asked, and the versions of everything. */
    depends: text('depends').notNull(),
    verdict: text('verdict').notNull(),
    versions: jsonb('versions').$type<Readonly<Record<string, string>>>().notNull(),
    /** Entries of the catalogue it was made with. */
    entries: jsonb('entries').$type<readonly EntryVersion[]>().notNull(),
    /** The answer's bytes. */
    answer: text('answer').notNull(),
    key: text('key').notNull(),
    at: moment('at'),
  },
  (table) => [
    foreignKey({ columns: [table.build, table.revision], foreignColumns: [revisions.build, revisions.revision] }).onDelete('cascade'),
    uniqueIndex('answers_depends').on(table.build, table.revision, table.depends),
  ],
);

export interface EntryVersion {
  readonly noun: 'vehicle' | 'part';
  readonly id: string;
  readonly version: number;
}

/** Replies to writes that came with a key of their own, so that the same write sent again is answered and not done again. */
export const replies = pgTable(
  'replies',
  {
    caller: text('caller').notNull(),
    key: text('key').notNull(),
    /** Hash of method, path and body. */
    request: text('request').notNull(),
    /** Absent only inside the transaction that makes it. */
    status: integer('status'),
    headers: jsonb('headers').$type<Readonly<Record<string, string>>>(),
    body: text('body'),
    at: moment('at'),
  },
  (table) => [primaryKey({ columns: [table.caller, table.key] }), index('replies_at').on(table.at)],
);

/** Tables of builds that are checked row by row; everything of one is deleted with it. */
export const sheetJobs = pgTable(
  'sheet_jobs',
  {
    id: ident('id').primaryKey(),
    name: text('name').notNull(),
    form: text('form', { enum: ['csv', 'xlsx'] }).notNull(),
    state: text('state', { enum: ['queued', 'running', 'done', 'cancelled', 'failed'] }).notNull(),
    /** How it was asked for, and what was made of its headings. */
    asked: jsonb('asked').$type<Readonly<Record<string, unknown>>>().notNull(),
    columns: jsonb('columns').$type<Readonly<Record<string, unknown>>>().notNull(),
    rows: integer('rows').notNull(),
    /** Where rows are parts, they are first brought together by their builds. */
    gathered: boolean('gathered').notNull(),
    /** The last row that was gathered, or whose build is done; moved with what it brought, in one transaction. */
    atRow: integer('at_row').notNull().default(0),
    done: integer('done').notNull().default(0),
    counts: jsonb('counts').$type<Readonly<Record<string, number>>>().notNull().default({}),
    /** Why it failed. */
    problem: text('problem'),
    /** Who works on it, and when it last said so; another takes over after a silence. */
    worker: text('worker'),
    beat: timestamp('beat', { withTimezone: true }),
    /** Caller and key of a write that is done once. */
    once: text('once').unique(),
    request: text('request').notNull(),
    key: text('key').notNull(),
    at: moment('at'),
    finishedAt: timestamp('finished_at', { withTimezone: true }),
  },
  (table) => [index('sheet_jobs_open').on(table.state).where(sql`${table.state} in ('queued', 'running')`)],
);

const job = () =>
  ident('job')
    .notNull()
    .references(() => sheetJobs.id, { onDelete: 'cascade' });

/** The file as it came, in pieces. */
export const sheetPieces = pgTable('sheet_pieces', { job: job(), n: integer('n').notNull(), bytes: bytes('bytes').notNull() }, (table) => [
  primaryKey({ columns: [table.job, table.n] }),
]);

/** What became of each row, and until then what it says where rows are parts. */
export const sheetRows = pgTable(
  'sheet_rows',
  {
    job: job(),
    row: integer('row').notNull(),
    /** The first row of its build. */
    first: integer('first').notNull(),
    build: text('build'),
    /** In JSON. */
    cells: text('cells'),
    done: boolean('done').notNull(),
    /** Hash of the build, for its answer. */
    answer: text('answer'),
    /** In JSON. */
    faults: text('faults'),
  },
  (table) => [primaryKey({ columns: [table.job, table.row] }), index('sheet_rows_first').on(table.job, table.first, table.row)],
);

/** Each build of a table once, however many of its rows say the same. */
export const sheetAnswers = pgTable(
  'sheet_answers',
  { job: job(), hash: text('hash').notNull(), verdict: text('verdict').notNull(), cells: text('cells').notNull() },
  (table) => [primaryKey({ columns: [table.job, table.hash] })],
);

/** Keys that stand in the address of a cell: they read, and can be taken back. */
export const cellTokens = pgTable('cell_tokens', {
  id: ident('id').primaryKey(),
  name: text('name').notNull(),
  /** SHA-256 of the secret. */
  hash: text('hash').notNull(),
  key: text('key').notNull(),
  at: moment('at'),
  revokedAt: timestamp('revoked_at', { withTimezone: true }),
});
