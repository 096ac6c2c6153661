/**
 * Builds and what became of them. Every write is a new revision, made whole in one transaction: the build's document with
 * the measurements that hold in it. What a revision says never changes.
 */
import { and, eq, inArray, sql } from 'drizzle-orm';
import { v7 as newId } from 'uuid';
import type { CheckRequest, VehicleReading } from '../services/vehicle/request.ts';
import { Conflict } from './conflict.ts';
import type { Tables } from './open.ts';
import { findPage, type Page, type PageQuery, pageOf, paging, type Search } from './pages.ts';
import { builds, deletedBuilds, measurements, revisions } from './schema.ts';

export type BuildDocument = Pick<CheckRequest, 'vehicle' | 'parts' | 'load' | 'use'>;

export interface Measurement extends Omit<VehicleReading, 'date' | 'tool'> {
  readonly id: string;
  readonly date: string;
  readonly tool: string;
  /** Where the suspension and the steering stood. */
  readonly suspension?: string;
  readonly steering?: string;
  readonly recorded: { readonly at: string; readonly key: string };
}
export type NewMeasurement = Omit<Measurement, 'id' | 'recorded'>;

/** Who writes, and what they say of it. */
export interface Writer {
  readonly key: string;
  readonly by?: string;
  readonly note?: string;
}

export interface Revision {
  readonly build: string;
  readonly revision: number;
  readonly what: 'created' | 'changed' | 'restored' | 'measured' | 'unmeasured';
  readonly name: string;
  readonly document: BuildDocument;
  /** Ids, in the order they were recorded. */
  readonly measurements: readonly string[];
  readonly restoredFrom?: number;
  readonly at: string;
  readonly writer: Writer;
}

export interface BuildSummary {
  readonly id: string;
  readonly revision: number;
  readonly name: string;
  readonly vehicle?: string;
  readonly createdAt: string;
}

type Next = Pick<Revision, 'what' | 'name' | 'document' | 'measurements' | 'restoredFrom'>;

export function createBuild(tables: Tables, name: string, document: BuildDocument, writer: Writer): Promise<Revision> {
  const id = newId();
  return tables.transaction(async (inside) => {
    await inside.insert(builds).values({ id, revision: 1, name, vehicle: vehicleOf(document) });
    return addRevision(inside, id, 1, { what: 'created', name, document, measurements: [] }, writer);
  });
}

/**
 * The next revision of a build, made from the current one; undefined when there is no such build. When `expected` is given and
 * is not the current revision, nothing is written and `Conflict` is thrown. Writers of one build follow one another.
 */
export function reviseBuild(
  tables: Tables,
  id: string,
  expected: number | undefined,
  writer: Writer,
  make: (current: Revision, inside: Tables) => Promise<Next> | Next,
): Promise<Revision | undefined> {
  return tables.transaction(async (inside) => {
    const [locked] = await inside.select({ revision: builds.revision }).from(builds).where(eq(builds.id, id)).for('update');
    if (!locked) return undefined;
    if (expected !== undefined && expected !== locked.revision) throw new Conflict(locked.revision);
    const current = (await getRevision(inside, id, locked.revision)) as Revision;
    const next = await make(current, inside);
    const revision = locked.revision + 1;
    const made = await addRevision(inside, id, revision, next, writer);
    await inside
      .update(builds)
      .set({ revision, name: next.name, vehicle: vehicleOf(next.document) })
      .where(eq(builds.id, id));
    return made;
  });
}

/** What is left of a build that was deleted. */
export interface DeletedBuild {
  /** Its last one. */
  readonly revision: number;
  readonly key: string;
  readonly at: string;
}

/**
 * Deletes a build with its revisions, measurements and answers; that there was one is kept. Gives false when there is no such build.
 * When `expected` is given and is not the current revision, nothing is deleted and `Conflict` is thrown.
 */
export function deleteBuild(tables: Tables, id: string, expected: number | undefined, { key }: Writer): Promise<boolean> {
  return tables.transaction(async (inside) => {
    const [locked] = await inside.select({ revision: builds.revision }).from(builds).where(eq(builds.id, id)).for('update');
    if (!locked) return false;
    if (expected !== undefined && expected !== locked.revision) throw new Conflict(locked.revision);
    await inside.delete(builds).where(eq(builds.id, id));
    await inside.insert(deletedBuilds).values({ id, revision: locked.revision, key });
    return true;
  });
}

export async function getDeleted(tables: Tables, id: string): Promise<DeletedBuild | undefined> {
  const [row] = await tables.select().from(deletedBuilds).where(eq(deletedBuilds.id, id));
  return row && { revision: row.revision, key: row.key, at: row.at.toISOString() };
}

/** Records a measurement, as the next revision. */
export const measureBuild = (tables: Tables, id: string, expected: number | undefined, taken: NewMeasurement, writer: Writer) =>
  reviseBuild(tables, id, expected, writer, async ({ name, document, measurements: held }, inside) => {
    const measurement = newId();
    const { tool_error: toolError, value, ...rest } = taken;
    await inside
      .insert(measurements)
      .values({ id: measurement, build: id, key: writer.key, ...rest, ...(toolError && { toolError }), value: JSON.stringify(value) });
    return { what: 'measured', name, document, measurements: [...held, measurement] };
  });

/** The revision of that number, or the newest. */
export async function getRevision(tables: Tables, build: string, revision?: number): Promise<Revision | undefined> {
  const newest = tables.select({ revision: builds.revision }).from(builds).where(eq(builds.id, build));
  const [row] = await tables
    .select()
    .from(revisions)
    .where(and(eq(revisions.build, build), eq(revisions.revision, revision ?? sql`(${newest})`)));
  return row && revisionOf(row);
}

/** Revisions from `from` down, each with the one before it to see what changed; the last of them may be one too many. */
export async function listRevisions(tables: Tables, build: string, from: number | undefined, limit: number): Promise<Revision[]> {
  const rows = await tables
    .select()
    .from(revisions)
    .where(and(eq(revisions.build, build), from === undefined ? undefined : sql`${revisions.revision} <= ${from}`))
    .orderBy(sql`${revisions.revision} desc`)
    .limit(limit + 1);
  return rows.map(revisionOf);
}

/** What every revision up to that one said, the first first. */
export const saidUntil = (tables: Tables, build: string, revision: number): Promise<Pick<Revision, 'document' | 'measurements'>[]> =>
  tables
    .select({ document: revisions.document, measurements: revisions.measurements })
    .from(revisions)
    .where(and(eq(revisions.build, build), sql`${revisions.revision} <= ${revision}`))
    .orderBy(revisions.revision)
    .then((rows) => rows.map(({ document, measurements: held }) => ({ document: document as BuildDocument, measurements: held })));

/** Newest first, or nearest to the search. */
export const listBuilds = (tables: Tables, query: BuildQuery): Promise<Page<BuildSummary>> =>
  findPage(tables, query, (from, how) => searchBuilds(from, query, how));

export interface BuildQuery extends PageQuery {
  /** Made on this vehicle of the catalogue. */
  readonly vehicle?: string;
}

async function searchBuilds(tables: Tables, query: BuildQuery, how: Search): Promise<Page<BuildSummary>> {
  const { where, rank, orderBy, limit } = paging(builds.id, builds.name, query, how, 'down');
  const rows = await tables
    .select({
      id: builds.id,
      rank,
      revision: builds.revision,
      name: builds.name,
      vehicle: builds.vehicle,
      createdAt: builds.createdAt,
    })
    .from(builds)
    .where(and(query.vehicle === undefined ? undefined : eq(builds.vehicle, query.vehicle), where))
    .orderBy(...orderBy)
    .limit(limit);
  return pageOf(rows, query.limit, ({ id, revision, name, vehicle, createdAt }) => ({
    id,
    revision,
    name,
    ...(vehicle !== null && { vehicle }),
    createdAt: createdAt.toISOString(),
  }));
}

/** In the order of their ids here. */
export async function getMeasurements(tables: Tables, ids: readonly string[]): Promise<Measurement[]> {
  if (ids.length === 0) return [];
  const rows = await tables
    .select()
    .from(measurements)
    .where(inArray(measurements.id, [...ids]));
  const inOrder = rows.sort((a, b) => ids.indexOf(a.id) - ids.indexOf(b.id));
  return inOrder.map(({ id, quantity, of, value, date, tool, toolError, suspension, steering, by, note, key, at }) => ({
    id,
    quantity,
    ...(of !== null && { of }),
    value: JSON.parse(value) as Measurement['value'],
    date,
    tool,
    ...(toolError !== null && { tool_error: toolError }),
    ...(suspension !== null && { suspension }),
    ...(steering !== null && { steering }),
    ...(by !== null && { by }),
    ...(note !== null && { note }),
    recorded: { at: at.toISOString(), key },
  }));
}

async function addRevision(inside: Tables, build: string, revision: number, next: Next, writer: Writer): Promise<Revision> {
  const [row] = await inside
    .insert(revisions)
    .values({ build, revision, ...next, ...writer })
    .returning();
  return revisionOf(row as Row);
}

type Row = typeof revisions.$inferSelect;

const revisionOf = ({ build, revision, what, name, document, measurements, restoredFrom, note, by, key, at }: Row): Revision => ({
  build,
  revision,
  what,
  name,
  document: document as BuildDocument,
  measurements,
  ...(restoredFrom !== null && { restoredFrom }),
  at: at.toISOString(),
  writer: { key, ...(by !== null && { by }), ...(note !== null && { note }) },
});

const vehicleOf = ({ vehicle }: BuildDocument): string | null => (vehicle.from === 'catalogue' ? vehicle.vehicle : null);
