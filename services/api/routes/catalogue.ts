import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { type Entry, getEntry, listEntries, type NewEntry, type Noun, putEntries } from '../../../db/catalogue.ts';
import { Conflict } from '../../../db/conflict.ts';
import type { Tables } from '../../../db/open.ts';
import { suggest } from '../../engine/diagnostics.ts';
import type { Library } from '../../engine/index.ts';
import type { RequestFault } from '../../vehicle/index.ts';
import type { AppParts } from '../app.ts';
import { attributeNames, type NewPart, type NewVehicle, partChecker, vehicleFaults } from '../entries.ts';
import { ApiError } from '../errors.ts';
import { readCsv, type Table } from '../import-csv.ts';
import { type Importing, readList, readRows, takeRows } from '../imports.ts';
import {
  changeHeaders,
  etagOf,
  expectedVersion,
  pageQuery,
  pageSchema,
  pageView,
  placeAt,
  readHeaders,
  searchQuery,
  writeHeaders,
} from '../schemas/common.ts';
import { ImportReport, NotModified, Problem } from '../schemas/problem.ts';
import { CataloguePart, CatalogueVehicle, PartChange, PartEntry, VehicleChange, VehicleEntry } from '../schemas/request.ts';
import { storedLookup } from '../stored-catalogue.ts';
import { write, written } from '../writes.ts';

const IMPORT_LIMIT = 64 << 20;
const IMPORT_TIMEOUT_MS = 600_000;
const one = z.strictObject({ id: z.string().min(1).max(120) });
const versionQuery = z.strictObject({ version: z.coerce.number().int().min(1).max(999_999_999).optional() });

interface Described {
  readonly noun: Noun;
  readonly path: 'vehicles' | 'parts';
  readonly operation: 'Vehicle' | 'Part';
  readonly schema: z.ZodType;
  readonly entry: z.ZodType;
  readonly change: z.ZodType;
  readonly table: Table;
  faults(entry: NewEntry, inside: Tables): Promise<readonly RequestFault[]> | readonly RequestFault[];
}

function nouns(library: Library): readonly Described[] {
  const faultsOfPart = partChecker(library);
  const own = ['id', 'name', 'maker', 'note'];
  return [
    {
      noun: 'vehicle',
      path: 'vehicles',
      operation: 'Vehicle',
      schema: CatalogueVehicle,
      entry: VehicleEntry,
      change: VehicleChange,
      table: {
        own: [...own, 'class'],
        needed: ['id', 'name', 'class'],
        field: 'values',
        names: new Set(library.quantities.keys()),
        places: true,
      },
      faults: (entry, inside) => vehicleFaults(entry as NewVehicle, library, storedLookup(inside)),
    },
    {
      noun: 'part',
      path: 'parts',
      operation: 'Part',
      schema: CataloguePart,
      entry: PartEntry,
      change: PartChange,
      table: { own: [...own, 'kind'], needed: ['id', 'name', 'kind'], field: 'attributes', names: attributeNames(library), places: false },
      faults: (entry) => faultsOfPart(entry as NewPart),
    },
  ];
}

/** Vehicles and parts: a change is a new version, and no version is ever edited. */
export const catalogueRoutes: FastifyPluginAsyncZod<AppParts> = async (app, { library, database: { tables } }) => {
  // CSV is read here and nowhere else.
  app.addContentTypeParser('text/csv', { parseAs: 'string' }, (_request, body, done) => done(null, body));

  for (const { noun, path, operation, schema, entry, change, table, faults } of nouns(library)) {
    const located = (id: string): string => `/v1/${path}/${encodeURIComponent(id)}`;
    const refuseUnfit = async (inside: Tables, given: NewEntry): Promise<void> => {
      const found = await faults(given, inside);
      if (found.length > 0) throw new ApiError('ENTRY_INVALID', undefined, found);
    };
    const kept = (inside: Tables, id: string): Promise<Entry> => getEntry<Entry>(inside, noun, id) as Promise<Entry>;

    app.get(
      `/v1/${path}`,
      {
        schema: {
          operationId: `list${operation}s`,
          tags: ['catalogue'],
          summary: `${operation}s of the catalogue`,
          querystring: z.strictObject({
            ...pageQuery,
            search: searchQuery,
            ...(noun === 'part' && { kind: z.string().min(1).max(120).optional() }),
          }),
          response: { 200: pageSchema(schema), 400: Problem, 503: Problem },
        },
      },
      async ({ query }) => {
        const { cursor, limit, search, kind } = query as typeof query & { kind?: string };
        if (kind !== undefined && !library.kinds.has(kind)) throw unknownKind(kind, library.kinds.keys());
        const page = await listEntries<Entry>(tables, noun, {
          limit,
          ...placeAt(cursor),
          ...(search && { search }),
          ...(kind && { kind }),
        });
        return pageView(page, (found) => found) as never;
      },
    );

    app.get(
      `/v1/${path}/:id`,
      {
        schema: {
          operationId: `get${operation}`,
          tags: ['catalogue'],
          summary: `One ${noun}`,
          params: one,
          querystring: versionQuery,
          headers: readHeaders,
          response: { 200: schema, 304: NotModified, 400: Problem, 404: Problem, 503: Problem },
        },
      },
      async ({ params: { id }, query, headers }, reply) => {
        const found = await getEntry<Entry>(tables, noun, id, query.version);
        if (!found) throw await missing(id);
        const etag = etagOf(found.version);
        reply.header('etag', etag);
        if (headers['if-none-match'] === etag) return reply.code(304).send(null as never) as never;
        return found as never;
      },
    );

    app.post(
      `/v1/${path}`,
      {
        schema: {
          operationId: `add${operation}`,
          tags: ['catalogue'],
          summary: `Add a ${noun} to the catalogue`,
          headers: writeHeaders,
          body: entry,
          response: { 201: schema, 400: Problem, 409: Problem, 422: Problem, 503: Problem },
        },
      },
      (request, reply) =>
        write(tables, request, reply, async (inside) => {
          const given = request.body as NewEntry;
          await refuseUnfit(inside, given);
          await putEntries(inside, noun, [given], 0).catch((error: unknown) => {
            throw error instanceof Conflict ? new ApiError('ALREADY_THERE', `There is a ${noun} \`${given.id}\` already.`) : error;
          });
          return written(201, located(given.id), 1, await kept(inside, given.id));
        }) as never,
    );

    app.put(
      `/v1/${path}/:id`,
      {
        schema: {
          operationId: `change${operation}`,
          tags: ['catalogue'],
          summary: `Change a ${noun}: its next version`,
          description: 'Nothing is written when it already says the same. Versions before it stay to be read and to be checked with.',
          params: one,
          headers: changeHeaders,
          body: change,
          response: { 200: schema, 400: Problem, 404: Problem, 412: Problem, 422: Problem, 428: Problem, 503: Problem },
        },
      },
      (request, reply) => {
        const expected = expectedVersion(request.headers['if-match']);
        return write(tables, request, reply, async (inside) => {
          const { id } = request.params;
          const given = { id, ...(request.body as object) } as NewEntry;
          if (!(await kept(inside, id))) throw await missing(id);
          await refuseUnfit(inside, given);
          await putEntries(inside, noun, [given], expected);
          const now = await kept(inside, id);
          return written(200, located(id), now.version, now);
        }) as never;
      },
    );

    app.post(
      `/v1/imports/${path}`,
      {
        bodyLimit: IMPORT_LIMIT,
        handlerTimeout: IMPORT_TIMEOUT_MS,
        schema: {
          operationId: `import${operation}s`,
          tags: ['catalogue'],
          summary: `Bring many ${noun}s into the catalogue, from CSV or JSON`,
          description: `A list of \`${operation}Entry\`, or a table whose first row names the columns: ${table.own.map((name) => `\`${name}\``).join(', ')}, and one for each of the ${table.field} (\`mass\`, or \`mass [kg]\` over bare numbers${table.places ? '; `axle_rating.front` for one place' : ''}). An id that is there already gets a new version where the row says something else. All is written in one transaction.`,
          consumes: ['application/json', 'text/csv'],
          querystring: z.strictObject({
            take: z.enum(['all', 'good']).default('all').describe('`all`: all rows or none. `good`: those without faults.'),
          }),
          headers: writeHeaders,
          body: z.union([z.array(z.unknown()), z.string()]),
          response: { 200: ImportReport, 400: Problem, 413: Problem, 422: Problem, 503: Problem },
        },
      },
      async (request, reply) => {
        const { body } = request;
        const importing: Importing = { noun, schema: entry, faults: (given) => faults(given, tables) };
        const read = await readRows(typeof body === 'string' ? readCsv(body, table) : readList(body), importing);
        return write(tables, request, reply, async (inside) => ({
          status: 200,
          headers: {},
          body: JSON.stringify(await takeRows(inside, noun, read, request.query.take)),
        })) as never;
      },
    );

    async function missing(id: string): Promise<ApiError> {
      const { items } = await listEntries<Entry>(tables, noun, { limit: 20, search: id });
      const near = items.length > 0 ? items : (await listEntries<Entry>(tables, noun, { limit: 200 })).items;
      return new ApiError(
        'NOT_FOUND',
        `There is no ${noun} \`${id}\`; ${suggest(
          id,
          near.map((found) => found.id),
        )}`,
      );
    }
  }
};

const unknownKind = (kind: string, kinds: Iterable<string>): ApiError =>
  new ApiError('REQUEST_INVALID', undefined, [
    { pointer: '/kind', code: 'KIND_UNKNOWN', message: `there is no kind \`${kind}\``, help: suggest(kind, kinds) },
  ]);
