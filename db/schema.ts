/** Tables. The catalogue is versioned: a change is a new version, and nothing is edited in place. */
import { sql } from 'drizzle-orm';
import { boolean, index, integer, jsonb, pgTable, primaryKey, text, timestamp } from 'drizzle-orm/pg-core';

export const catalogue = pgTable(
  'catalogue',
  {
    noun: text('noun', { enum: ['vehicle', 'part'] }).notNull(),
    id: text('id').notNull(),
    version: integer('version').notNull(),
    /** The newest version of its id. */
    current: boolean('current').notNull(),
    /** The kind of a part; absent for vehicles. */
    kind: text('kind'),
    name: text('name').notNull(),
    /** What people search in: id, name, maker. */
    words: text('words').notNull(),
    document: jsonb('document').notNull(),
    addedAt: timestamp('added_at', { withTimezone: true }).notNull().default(sql`now()`),
  },
  (table) => [
    primaryKey({ columns: [table.noun, table.id, table.version] }),
    index('catalogue_current').on(table.noun, table.id).where(sql`${table.current}`),
    index('catalogue_words').using('gin', table.words.op('gin_trgm_ops')),
  ],
);
