import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { suggest } from '../../engine/diagnostics.ts';
import type { AppParts } from '../app.ts';
import { MOST_LISTED } from '../catalogue.ts';
import { ApiError } from '../errors.ts';
import { Problem } from '../schemas/problem.ts';
import { CataloguePart, CatalogueVehicle } from '../schemas/request.ts';

const list = {
  cursor: z.string().max(200).optional().describe('`next` of the page before.'),
  limit: z.coerce.number().int().min(1).max(MOST_LISTED).default(50),
  search: z.string().min(1).max(100).optional().describe('Part of an id or a name.'),
};
const page = <T extends z.ZodType>(items: T) =>
  z.object({ items: z.array(items), next: z.string().nullable().describe('Cursor of the next page; null on the last.') });
const one = z.strictObject({ id: z.string().max(120) });
const version = z.strictObject({ version: z.coerce.number().int().min(1).optional() });

/** One more than the page holds is read, to know whether there is a next. */
function paged<T extends { readonly id: string }>(found: readonly T[], limit: number): { items: T[]; next: string | null } {
  const items = found.slice(0, limit);
  return { items, next: found.length > limit ? (items.at(-1)?.id ?? null) : null };
}

export const catalogueRoutes: FastifyPluginAsyncZod<AppParts> = async (app, { catalogue, library }) => {
  app.get(
    '/v1/vehicles',
    {
      schema: {
        operationId: 'listVehicles',
        tags: ['catalogue'],
        summary: 'Vehicles of the catalogue',
        querystring: z.strictObject(list),
        response: { 200: page(CatalogueVehicle), 400: Problem },
      },
    },
    async ({ query: { cursor, limit, search } }) =>
      paged(await catalogue.vehicles({ limit: limit + 1, ...(cursor && { after: cursor }), ...(search && { search }) }), limit) as never,
  );
  app.get(
    '/v1/vehicles/:id',
    {
      schema: {
        operationId: 'getVehicle',
        tags: ['catalogue'],
        summary: 'One vehicle',
        params: one,
        querystring: version,
        response: { 200: CatalogueVehicle, 404: Problem },
      },
    },
    async ({ params: { id }, query }) =>
      ((await catalogue.vehicle(id, query.version)) ?? missing('vehicle', id, await catalogue.vehicles({ limit: MOST_LISTED }))) as never,
  );
  app.get(
    '/v1/parts',
    {
      schema: {
        operationId: 'listParts',
        tags: ['catalogue'],
        summary: 'Parts of the catalogue',
        querystring: z.strictObject({ ...list, kind: z.string().max(120).optional() }),
        response: { 200: page(CataloguePart), 400: Problem },
      },
    },
    async ({ query: { cursor, limit, search, kind } }) => {
      if (kind !== undefined && !library.kinds.has(kind)) throw unknownKind(kind, library.kinds.keys());
      return paged(
        await catalogue.parts({ limit: limit + 1, ...(cursor && { after: cursor }), ...(search && { search }), ...(kind && { kind }) }),
        limit,
      ) as never;
    },
  );
  app.get(
    '/v1/parts/:id',
    {
      schema: {
        operationId: 'getPart',
        tags: ['catalogue'],
        summary: 'One part',
        params: one,
        querystring: version,
        response: { 200: CataloguePart, 404: Problem },
      },
    },
    async ({ params: { id }, query }) =>
      ((await catalogue.part(id, query.version)) ?? missing('part', id, await catalogue.parts({ limit: MOST_LISTED }))) as never,
  );
};

const unknownKind = (kind: string, kinds: Iterable<string>): ApiError =>
  new ApiError('REQUEST_INVALID', undefined, [
    { pointer: '/kind', code: 'KIND_UNKNOWN', message: `there is no kind \`${kind}\``, help: suggest(kind, kinds) },
  ]);

function missing(what: string, id: string, near: readonly { readonly id: string }[]): never {
  throw new ApiError(
    'NOT_FOUND',
    `There is no ${what} \`${id}\`; ${suggest(
      id,
      near.map((entry) => entry.id),
    )}`,
  );
}
