import createClient from 'openapi-fetch';
import { FettleProblem, FettleUnreachable } from './problem.ts';
import { type RetryOptions, retrying, sleep } from './retry.ts';
import type { components, paths } from './schema.ts';

type Schemas = components['schemas'];
export type CheckRequest = Schemas['CheckRequest'];
export type Answer = Schemas['Answer'];
export type Finding = Schemas['Finding'];
export type Step = Schemas['Step'];
export type CatalogueVehicle = Schemas['CatalogueVehicle'];
export type CataloguePart = Schemas['CataloguePart'];

export interface FettleOptions {
  readonly baseUrl: string;
  /** Sent as a bearer token; needed when the service was started with keys. */
  readonly key?: string;
  /** Another fetch, for tests or proxies. */
  readonly fetch?: typeof fetch;
  readonly retry?: Partial<RetryOptions>;
}

export interface CallOptions {
  /** Cancels the call. */
  readonly signal?: AbortSignal;
}

export interface ListOptions extends CallOptions {
  readonly search?: string;
  /** Items a page; pages are fetched as they are needed. */
  readonly pageSize?: number;
}

interface Reply<T> {
  readonly data?: T;
  readonly error?: unknown;
  readonly response: Response;
}

/** The data of a reply, or its problem thrown. */
async function settled<T>(reply: Promise<Reply<T>>): Promise<T> {
  const { data, error, response } = await reply.catch((cause: unknown) => {
    if (cause instanceof Error && (cause.name === 'AbortError' || cause.name === 'TimeoutError')) throw cause;
    throw new FettleUnreachable('the service cannot be reached', { cause });
  });
  if (data !== undefined) return data;
  if (typeof error === 'object' && error !== null && 'code' in error && 'faults' in error)
    throw new FettleProblem(error as Schemas['Problem']);
  throw new FettleUnreachable(`the service answered ${response.status} with something that is not its own`);
}

/** Items of all pages, one after another; a page is fetched when its first item is asked for. */
async function* everyPage<T>(
  page: (cursor: string | undefined) => Promise<{ items: T[]; next: string | null }>,
): AsyncGenerator<T, void, undefined> {
  let cursor: string | undefined;
  do {
    const { items, next } = await page(cursor);
    yield* items;
    cursor = next ?? undefined;
  } while (cursor !== undefined);
}

/** A client of the service. Calls throw `FettleProblem` when it says no, `FettleUnreachable` when it cannot be reached. */
export function createFettle(options: FettleOptions) {
  const retry: RetryOptions = { tries: 4, firstDelay: 200, sleep, ...options.retry };
  const fetchOnce: typeof fetch = options.fetch ?? ((...asked) => globalThis.fetch(...asked));
  const client = createClient<paths>({
    baseUrl: options.baseUrl,
    // Every call here changes nothing at the service, a check included, so every call is safe to try again.
    fetch: retrying(fetchOnce, retry),
    ...(options.key !== undefined && { headers: { authorization: `Bearer ${options.key}` } }),
  });
  const passed = ({ signal }: CallOptions) => (signal ? { signal } : {});
  const query = ({ search, pageSize }: ListOptions, cursor: string | undefined) => ({
    ...(search !== undefined && { search }),
    ...(pageSize !== undefined && { limit: pageSize }),
    ...(cursor !== undefined && { cursor }),
  });

  return {
    /** Checks a vehicle with its parts, load and use. */
    check: (request: CheckRequest, call: CallOptions = {}): Promise<Answer> =>
      settled(client.POST('/v1/checks', { body: request, ...passed(call) })),
    vehicles: {
      get: (id: string, call: CallOptions = {}): Promise<CatalogueVehicle> =>
        settled(client.GET('/v1/vehicles/{id}', { params: { path: { id } }, ...passed(call) })),
      list: (list: ListOptions = {}): AsyncGenerator<CatalogueVehicle, void, undefined> =>
        everyPage((cursor) => settled(client.GET('/v1/vehicles', { params: { query: query(list, cursor) }, ...passed(list) }))),
    },
    parts: {
      get: (id: string, call: CallOptions = {}): Promise<CataloguePart> =>
        settled(client.GET('/v1/parts/{id}', { params: { path: { id } }, ...passed(call) })),
      list: ({ kind, ...list }: ListOptions & { readonly kind?: string } = {}): AsyncGenerator<CataloguePart, void, undefined> =>
        everyPage((cursor) =>
          settled(
            client.GET('/v1/parts', {
              params: { query: { ...query(list, cursor), ...(kind !== undefined && { kind }) } },
              ...passed(list),
            }),
          ),
        ),
    },
    kinds: {
      get: (id: string, call: CallOptions = {}) => settled(client.GET('/v1/kinds/{id}', { params: { path: { id } }, ...passed(call) })),
      list: async (call: CallOptions = {}) => (await settled(client.GET('/v1/kinds', passed(call)))).items,
    },
    quantities: {
      get: (id: string, call: CallOptions = {}) =>
        settled(client.GET('/v1/quantities/{id}', { params: { path: { id } }, ...passed(call) })),
      list: async (call: CallOptions = {}) => (await settled(client.GET('/v1/quantities', passed(call)))).items,
    },
    rules: {
      get: (id: string, call: CallOptions = {}) => settled(client.GET('/v1/rules/{id}', { params: { path: { id } }, ...passed(call) })),
      list: async (call: CallOptions = {}) => (await settled(client.GET('/v1/rules', passed(call)))).items,
    },
    works: {
      get: (id: string, call: CallOptions = {}) => settled(client.GET('/v1/works/{id}', { params: { path: { id } }, ...passed(call) })),
      list: async (call: CallOptions = {}) => (await settled(client.GET('/v1/works', passed(call)))).items,
    },
  };
}

export type Fettle = ReturnType<typeof createFettle>;
