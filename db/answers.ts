/** Answers to checks of saved builds, kept with the versions they rest on. */
import { and, desc, eq, lt } from 'drizzle-orm';
import { v7 as newId } from 'uuid';
import { refersToNothing, type Tables } from './open.ts';
import { answers, type EntryVersion } from './schema.ts';

export interface SavedAnswer {
  readonly id: string;
  readonly build: string;
  readonly revision: number;
  readonly verdict: string;
  readonly versions: Readonly<Record<string, string>>;
  readonly entries: readonly EntryVersion[];
  /** The answer's bytes. */
  readonly answer: string;
  readonly at: string;
  readonly key: string;
}
export type NewAnswer = Omit<SavedAnswer, 'id' | 'at'> & {
  /** Hash of what the answer depends on beside the revision. */
  readonly depends: string;
};

/**
 * Keeps an answer; the same revision checked alike with the same versions has one. Undefined when there is no such revision, such
 * as of a build that was deleted while it was checked.
 */
export async function saveAnswer(tables: Tables, answer: NewAnswer): Promise<SavedAnswer | undefined> {
  const saving = tables
    .insert(answers)
    .values({ id: newId(), ...answer })
    .onConflictDoNothing({ target: [answers.build, answers.revision, answers.depends] })
    .returning();
  const added = await saving.then(
    ([row]) => row,
    (error: unknown) => {
      if (refersToNothing(error)) return null;
      throw error;
    },
  );
  if (added === null) return undefined;
  if (added) return savedOf(added);
  const [there] = await tables
    .select()
    .from(answers)
    .where(and(eq(answers.build, answer.build), eq(answers.revision, answer.revision), eq(answers.depends, answer.depends)));
  return there && savedOf(there);
}

export async function getAnswer(tables: Tables, build: string, id: string): Promise<SavedAnswer | undefined> {
  const [row] = await tables
    .select()
    .from(answers)
    .where(and(eq(answers.build, build), eq(answers.id, id)));
  return row && savedOf(row);
}

/** Newest first, one more than asked for to know whether there is a next page. */
export async function listAnswers(tables: Tables, build: string, after: string | undefined, limit: number): Promise<SavedAnswer[]> {
  const rows = await tables
    .select()
    .from(answers)
    .where(and(eq(answers.build, build), after === undefined ? undefined : lt(answers.id, after)))
    .orderBy(desc(answers.id))
    .limit(limit + 1);
  return rows.map(savedOf);
}

type Row = typeof answers.$inferSelect;

const savedOf = ({ id, build, revision, verdict, versions, entries, answer, at, key }: Row): SavedAnswer => ({
  id,
  build,
  revision,
  verdict,
  versions,
  entries,
  answer,
  at: at.toISOString(),
  key,
});
