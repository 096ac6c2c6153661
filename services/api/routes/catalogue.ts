import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { type Entry, getEntry, listEntries, type NewEntry, putEntries } from '../../../db/catalogue.ts';
import { Conflict } from '../../../db/conflict.ts';
import type { Tables } from '../../../db/open.ts';
import { suggest } from '../../engine/diagnostics.ts';
import type { AppParts } from '../app.ts';
import { ApiError } from '../errors.ts';
import { nouns } from '../nouns.ts';
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
import { NotModified, Problem } from '../schemas/problem.ts';
import { write, written } from '../writes.ts';

const one = z.strictObject({ id: z.string().min(1).max(120) });
const versionQuery = z.strictObject({ version: z.coerce.number().int().min(1).max(999_999_999).optional() });

/** Vehicles and parts: a change is a new version, and no version is ever edited. */
export const catalogueRoutes: FastifyPluginAsyncZod<AppParts> = async (app, { library, database: { tables } }) => {
  for (const { noun, path, operation, schema, entry, change, faults } of nouns(library)) {
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
