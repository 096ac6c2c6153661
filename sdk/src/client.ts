import createClient from 'openapi-fetch';
import { FettleProblem, FettleUnreachable } from './problem.ts';
import { type RetryOptions, retrying, sleep } from './retry.ts';
import type { components, paths } from './schema.ts';

type Schemas = components['schemas'];
export type CheckRequest = Schemas['CheckRequest'];
export type Answer = Schemas['Answer'];
export type Question = Schemas['Question'];
export type ShortAnswer = Schemas['ShortAnswer'];
export type Finding = Schemas['Finding'];
export type WhatIfRequest = Schemas['WhatIfRequest'];
export type WhatIf = Schemas['WhatIf'];
export type Step = Schemas['Step'];
export type PlanRequest = Schemas['PlanRequest'];
export type Plan = Schemas['Plan'];
export type SheetForm = 'markdown' | 'csv' | 'xlsx';
export type CatalogueVehicle = Schemas['CatalogueVehicle'];
export type CataloguePart = Schemas['CataloguePart'];
export type VehicleEntry = Schemas['VehicleEntry'];
export type PartEntry = Schemas['PartEntry'];
export type ImportReport = Schemas['ImportReport'];
export type BuildWrite = Schemas['BuildWrite'];
export type SavedBuild = Schemas['SavedBuild'];
export type BuildSummary = Schemas['BuildSummary'];
export type Revision = Schemas['Revision'];
export type Measurement = Schemas['Measurement'];
export type MeasurementWrite = Schemas['MeasurementWrite'];
export type SavedCheck = Schemas['SavedCheck'];
export type SavedCheckSummary = Schemas['SavedCheckSummary'];
export type ComparisonRequest = Schemas['ComparisonRequest'];
export type Comparison = Schemas['Comparison'];
export type SheetJob = Schemas['SheetJob'];
export type CellToken = Schemas['CellToken'];
export type NewCellToken = Schemas['NewCellToken'];
export type TyreFacts = Schemas['TyreFacts'];
export type TyreComparison = Schemas['TyreComparison'];
/** What a tyre is asked about with: its rim, load and pressure, what was read on it, and the units to answer in. */
export type TyreQuery = NonNullable<paths['/v1/tyres/{designation}']['get']['parameters']['query']>;

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

export interface WriteOptions extends CallOptions {
  /** A text of your own, to send the same write again later; left out, each call has a new one. */
  readonly idempotencyKey?: string;
}

/** What was read: the change is refused (`PRECONDITION_FAILED`) when somebody has changed it since. */
export type ReadBuild = Pick<SavedBuild, 'id' | 'revision'>;
export type ReadEntry = Pick<CataloguePart, 'id' | 'version'>;

/** The import's rows, or a table in CSV. */
export interface ImportOptions extends WriteOptions {
  /** `all` (all rows or none) when left out; `good` leaves out rows with faults. */
  readonly take?: 'all' | 'good';
}

export interface PageOptions extends CallOptions {
  /** Items a page; pages are fetched as they are needed. */
  readonly pageSize?: number;
}

export interface ListOptions extends PageOptions {
  readonly search?: string;
}

/** How a sheet is asked for. */
export interface SheetOptions extends WriteOptions {
  readonly units?: 'metric' | 'us';
  /** What each row is; left out, the headings tell. */
  readonly rows?: 'build' | 'part';
  /** Of a workbook; the first that is not hidden when left out. */
  readonly sheet?: string;
  /** Of rows that name none: the id or name of a vehicle, or a class. */
  readonly vehicle?: string;
  /** What the job is called. */
  readonly name?: string;
}

export interface FollowOptions extends CallOptions {
  /** Milliseconds between two looks; 1000 when left out. */
  readonly every?: number;
}

interface Reply<T> {
  readonly data?: T;
  readonly error?: unknown;
  readonly response: Response;
}

/** The data of a reply, or its problem thrown. */
async function settled<T>(reply: Promise<Reply<T>>): Promise<T> {
  const { data, error, response } = await reply.catch((cause: unknown) => {
    if (cause instanceof SyntaxError) throw new FettleUnreachable('the service answered with something that is not its own', { cause });
    throw cause;
  });
  if (data !== undefined) return data;
  // What leaves nothing to be told.
  if (response.status === 204) return undefined as T;
  if (typeof error === 'object' && error !== null && 'code' in error && 'faults' in error)
    throw new FettleProblem(error as Schemas['Problem']);
  throw new FettleUnreachable(`the service answered ${response.status} with something that is not its own`);
}

/** A text that nobody else has; `randomUUID` is not there on pages that came over plain HTTP. */
const newKey = (): string =>
  typeof crypto.randomUUID === 'function'
    ? crypto.randomUUID()
    : Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join('');

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

const versionOf = ({ version }: { readonly version?: number }) => (version === undefined ? {} : { version });

/** A client of the service. Calls throw `FettleProblem` when it says no, `FettleUnreachable` when it cannot be reached. */
export function createFettle(options: FettleOptions) {
  const retry: RetryOptions = { tries: 4, firstDelay: 200, longestDelay: 60_000, sleep, ...options.retry };
  const fetchOnce: typeof fetch = options.fetch ?? ((...asked) => globalThis.fetch(...asked));
  const client = createClient<paths>({
    baseUrl: options.baseUrl,
    // Reading changes nothing and a write goes with its key, so every call is safe to try again.
    fetch: retrying(fetchOnce, retry),
    ...(options.key !== undefined && { headers: { authorization: `Bearer ${options.key}` } }),
  });
  const passed = ({ signal }: CallOptions) => (signal ? { signal } : {});
  const page = ({ pageSize }: PageOptions, cursor: string | undefined) => ({
    ...(pageSize !== undefined && { limit: pageSize }),
    ...(cursor !== undefined && { cursor }),
  });
  const query = (list: ListOptions, cursor: string | undefined) => ({
    ...page(list, cursor),
    ...(list.search !== undefined && { search: list.search }),
  });
  const keyed = ({ idempotencyKey = newKey() }: WriteOptions) => ({ 'idempotency-key': idempotencyKey });
  const over = (version: number) => ({ 'if-match': `"${version}"` });
  const imported = (rows: readonly unknown[] | string, { take = 'all', ...write }: ImportOptions) => ({
    params: { query: { take }, header: keyed(write) },
    body: rows as unknown[] | string,
    ...(typeof rows === 'string' && { headers: { 'content-type': 'text/csv' }, bodySerializer: () => rows }),
    ...passed(write),
  });

  async function* followSheet(id: string, { every = 1000, signal }: FollowOptions): AsyncGenerator<SheetJob, void, undefined> {
    for (let before = -1; ; ) {
      const job = await settled(client.GET('/v1/sheets/{id}', { params: { path: { id } }, ...passed(signal ? { signal } : {}) }));
      const over = job.state !== 'queued' && job.state !== 'running';
      if (over || job.rows.done > before) yield job;
      if (over) return;
      before = job.rows.done;
      await retry.sleep(every, signal);
    }
  }

  return {
    /** Checks a vehicle with its parts, load and use. */
    check: (request: CheckRequest, call: CallOptions = {}): Promise<Answer> =>
      settled(client.POST('/v1/checks', { body: request, ...passed(call) })),
    /** Whether it fits, asked in words: `fettle.ask('33x12.50R17 on 17x8.5 -10, Merrowdale Ghyll')`. */
    ask: (question: string | Question, call: CallOptions = {}): Promise<ShortAnswer> =>
      settled(client.POST('/v1/questions', { body: typeof question === 'string' ? { text: question } : question, ...passed(call) })),
    /** Where the verdict turns as one thing of the build is varied. */
    whatIf: (request: WhatIfRequest, call: CallOptions = {}): Promise<WhatIf> =>
      settled(client.POST('/v1/what-ifs', { body: request, ...passed(call) })),
    /** The whole job: order, time, money, risk, stages and what is handed over. */
    plan: (request: PlanRequest, call: CallOptions = {}): Promise<Plan> =>
      settled(client.POST('/v1/plans', { body: request, ...passed(call) })),
    /** The same as a file. */
    planSheet: (request: PlanRequest, form: SheetForm = 'xlsx', call: CallOptions = {}): Promise<ArrayBuffer> =>
      settled(
        client.POST('/v1/plans/sheet', { params: { query: { form } }, body: request, parseAs: 'arrayBuffer', ...passed(call) }) as Promise<
          Reply<ArrayBuffer>
        >,
      ),
    /** Two builds, or two revisions of one: what the change fixed and broke. */
    compare: (request: ComparisonRequest, call: CallOptions = {}): Promise<Comparison> =>
      settled(client.POST('/v1/comparisons', { body: request, ...passed(call) })),
    builds: {
      create: (build: BuildWrite, write: WriteOptions = {}): Promise<SavedBuild> =>
        settled(client.POST('/v1/builds', { params: { header: keyed(write) }, body: build, ...passed(write) })),
      get: (id: string, call: CallOptions = {}): Promise<SavedBuild> =>
        settled(client.GET('/v1/builds/{id}', { params: { path: { id } }, ...passed(call) })),
      list: ({ vehicle, ...list }: ListOptions & { readonly vehicle?: string } = {}): AsyncGenerator<BuildSummary, void, undefined> =>
        everyPage((cursor) =>
          settled(
            client.GET('/v1/builds', {
              params: { query: { ...query(list, cursor), ...(vehicle !== undefined && { vehicle }) } },
              ...passed(list),
            }),
          ),
        ),
      /** The next revision of what was read. */
      change: ({ id, revision }: ReadBuild, build: BuildWrite, write: WriteOptions = {}): Promise<SavedBuild> =>
        settled(
          client.PUT('/v1/builds/{id}', {
            params: { path: { id }, header: { ...over(revision), ...keyed(write) } },
            body: build,
            ...passed(write),
          }),
        ),
      /** Deletes what was read for good, with its revisions, measurements and answers. */
      delete: ({ id, revision }: ReadBuild, write: WriteOptions = {}): Promise<void> =>
        settled(
          client.DELETE('/v1/builds/{id}', {
            params: { path: { id }, header: { ...over(revision), ...keyed(write) } },
            ...passed(write),
          }) as Promise<Reply<never>>,
        ),
      /** Brings a revision back, as the next one. */
      restore: ({ id, revision }: ReadBuild, restore: Schemas['Restore'], write: WriteOptions = {}): Promise<SavedBuild> =>
        settled(
          client.POST('/v1/builds/{id}/restore', {
            params: { path: { id }, header: { ...over(revision), ...keyed(write) } },
            body: restore,
            ...passed(write),
          }),
        ),
      /** Who changed what and when, the newest first. */
      revisions: (id: string, list: PageOptions = {}): AsyncGenerator<Revision, void, undefined> =>
        everyPage((cursor) =>
          settled(client.GET('/v1/builds/{id}/revisions', { params: { path: { id }, query: page(list, cursor) }, ...passed(list) })),
        ),
      /** The build as it was. */
      revision: (id: string, revision: number, call: CallOptions = {}): Promise<SavedBuild> =>
        settled(client.GET('/v1/builds/{id}/revisions/{revision}', { params: { path: { id, revision } }, ...passed(call) })),
      /** Records a measurement, as the next revision; two who measure at once are both heard. */
      measure: (id: string, measurement: MeasurementWrite, write: WriteOptions = {}): Promise<SavedBuild> =>
        settled(
          client.POST('/v1/builds/{id}/measurements', {
            params: { path: { id }, header: keyed(write) },
            body: measurement,
            ...passed(write),
          }),
        ),
      /** Leaves a measurement out of the next revision. */
      dropMeasurement: ({ id, revision }: ReadBuild, measurement: string, write: WriteOptions = {}): Promise<SavedBuild> =>
        settled(
          client.DELETE('/v1/builds/{id}/measurements/{measurement}', {
            params: { path: { id, measurement }, header: { ...over(revision), ...keyed(write) } },
            ...passed(write),
          }),
        ),
      /** Checks a saved build and keeps the answer with what it rests on. */
      check: (id: string, asking: Schemas['CheckAsking'] = {}, call: CallOptions = {}): Promise<SavedCheck> =>
        settled(client.POST('/v1/builds/{id}/checks', { params: { path: { id } }, body: asking, ...passed(call) })),
      checks: (id: string, list: PageOptions = {}): AsyncGenerator<SavedCheckSummary, void, undefined> =>
        everyPage((cursor) =>
          settled(client.GET('/v1/builds/{id}/checks', { params: { path: { id }, query: page(list, cursor) }, ...passed(list) })),
        ),
      savedCheck: (id: string, check: string, call: CallOptions = {}): Promise<SavedCheck> =>
        settled(client.GET('/v1/builds/{id}/checks/{check}', { params: { path: { id, check } }, ...passed(call) })),
    },
    vehicles: {
      get: (id: string, call: CallOptions & { readonly version?: number } = {}): Promise<CatalogueVehicle> =>
        settled(client.GET('/v1/vehicles/{id}', { params: { path: { id }, query: versionOf(call) }, ...passed(call) })),
      list: (list: ListOptions = {}): AsyncGenerator<CatalogueVehicle, void, undefined> =>
        everyPage((cursor) => settled(client.GET('/v1/vehicles', { params: { query: query(list, cursor) }, ...passed(list) }))),
      add: (vehicle: VehicleEntry, write: WriteOptions = {}): Promise<CatalogueVehicle> =>
        settled(client.POST('/v1/vehicles', { params: { header: keyed(write) }, body: vehicle, ...passed(write) })),
      /** The next version of what was read. */
      change: ({ id, version }: ReadEntry, vehicle: Schemas['VehicleChange'], write: WriteOptions = {}): Promise<CatalogueVehicle> =>
        settled(
          client.PUT('/v1/vehicles/{id}', {
            params: { path: { id }, header: { ...over(version), ...keyed(write) } },
            body: vehicle,
            ...passed(write),
          }),
        ),
      import: (rows: readonly VehicleEntry[] | string, options: ImportOptions = {}): Promise<ImportReport> =>
        settled(client.POST('/v1/imports/vehicles', imported(rows, options))),
    },
    parts: {
      get: (id: string, call: CallOptions & { readonly version?: number } = {}): Promise<CataloguePart> =>
        settled(client.GET('/v1/parts/{id}', { params: { path: { id }, query: versionOf(call) }, ...passed(call) })),
      list: ({ kind, ...list }: ListOptions & { readonly kind?: string } = {}): AsyncGenerator<CataloguePart, void, undefined> =>
        everyPage((cursor) =>
          settled(
            client.GET('/v1/parts', {
              params: { query: { ...query(list, cursor), ...(kind !== undefined && { kind }) } },
              ...passed(list),
            }),
          ),
        ),
      add: (part: PartEntry, write: WriteOptions = {}): Promise<CataloguePart> =>
        settled(client.POST('/v1/parts', { params: { header: keyed(write) }, body: part, ...passed(write) })),
      /** The next version of what was read. */
      change: ({ id, version }: ReadEntry, part: Schemas['PartChange'], write: WriteOptions = {}): Promise<CataloguePart> =>
        settled(
          client.PUT('/v1/parts/{id}', {
            params: { path: { id }, header: { ...over(version), ...keyed(write) } },
            body: part,
            ...passed(write),
          }),
        ),
      import: (rows: readonly PartEntry[] | string, options: ImportOptions = {}): Promise<ImportReport> =>
        settled(client.POST('/v1/imports/parts', imported(rows, options))),
    },
    tyres: {
      /** Dimensions, rims, ratings and sources by the designation, in any form it is typed in. */
      get: (designation: string, { signal, ...query }: CallOptions & TyreQuery = {}): Promise<TyreFacts> =>
        settled(
          client.GET('/v1/tyres/{designation}', { params: { path: { designation }, query }, ...passed({ ...(signal && { signal }) }) }),
        ),
      /** What going from one tyre to another changes. */
      compare: (designation: string, other: string, { signal, ...query }: CallOptions & TyreQuery = {}): Promise<TyreComparison> =>
        settled(
          client.GET('/v1/tyres/{designation}/compare/{other}', {
            params: { path: { designation, other }, query },
            ...passed({ ...(signal && { signal }) }),
          }),
        ),
    },
    jurisdictions: {
      get: (id: string, call: CallOptions = {}) =>
        settled(client.GET('/v1/jurisdictions/{id}', { params: { path: { id } }, ...passed(call) })),
      /** Law packs: examples of what a place limits; name them under `use.jurisdictions`. */
      list: async (call: CallOptions = {}) => (await settled(client.GET('/v1/jurisdictions', passed(call)))).items,
    },
    sheets: {
      /** Sends a table of builds, CSV or .xlsx; gives its job, to be followed. */
      check: (file: Blob | Uint8Array | string, { units, rows, sheet, vehicle, name, ...write }: SheetOptions = {}): Promise<SheetJob> =>
        settled(
          client.POST('/v1/sheets/check', {
            params: {
              query: {
                ...(units && { units }),
                ...(rows && { rows }),
                ...(sheet && { sheet }),
                ...(vehicle && { vehicle }),
                ...(name && { name }),
              },
              header: { ...keyed(write), prefer: 'respond-async' },
            },
            headers: { 'content-type': 'application/octet-stream' },
            body: file as never,
            bodySerializer: (body: unknown) => body as Blob,
            ...passed(write),
          }) as Promise<Reply<SheetJob>>,
        ),
      /** The job each time it has moved on, the last time when it is over. */
      follow: (job: string | Pick<SheetJob, 'id'>, follow: FollowOptions = {}): AsyncGenerator<SheetJob, void, undefined> =>
        followSheet(typeof job === 'string' ? job : job.id, follow),
      /** The sheet with the answers behind its columns; of a job that was cancelled, with those it had come to. */
      download: (id: string, call: CallOptions = {}): Promise<Blob> =>
        settled(
          client.GET('/v1/sheets/{id}/result', { params: { path: { id } }, parseAs: 'blob', ...passed(call) }) as unknown as Promise<
            Reply<Blob>
          >,
        ),
      get: (id: string, call: CallOptions = {}): Promise<SheetJob> =>
        settled(client.GET('/v1/sheets/{id}', { params: { path: { id } }, ...passed(call) })),
      list: (list: PageOptions = {}): AsyncGenerator<SheetJob, void, undefined> =>
        everyPage((cursor) => settled(client.GET('/v1/sheets', { params: { query: page(list, cursor) }, ...passed(list) }))),
      cancel: (id: string, call: CallOptions = {}): Promise<SheetJob> =>
        settled(client.POST('/v1/sheets/{id}/cancel', { params: { path: { id } }, ...passed(call) })),
      /** Goes on where a job was cancelled, or failed. */
      resume: (id: string, call: CallOptions = {}): Promise<SheetJob> =>
        settled(client.POST('/v1/sheets/{id}/resume', { params: { path: { id } }, ...passed(call) })),
      /** Removes the job with its file and its answers. */
      remove: async (id: string, call: CallOptions = {}): Promise<void> => {
        const { error, response } = await client.DELETE('/v1/sheets/{id}', { params: { path: { id } }, ...passed(call) });
        if (!response.ok) await settled(Promise.resolve({ error, response }));
      },
      headings: async (call: CallOptions = {}) => (await settled(client.GET('/v1/sheets/headings', passed(call)))).items,
    },
    /** Keys that stand in the addresses of cells; `cellUrl` puts one there. */
    cellTokens: {
      create: (name: string, call: CallOptions = {}): Promise<NewCellToken> =>
        settled(client.POST('/v1/cell-tokens', { body: { name }, ...passed(call) })),
      list: (list: PageOptions = {}): AsyncGenerator<CellToken, void, undefined> =>
        everyPage((cursor) => settled(client.GET('/v1/cell-tokens', { params: { query: page(list, cursor) }, ...passed(list) }))),
      revoke: (id: string, call: CallOptions = {}): Promise<CellToken> =>
        settled(client.DELETE('/v1/cell-tokens/{id}', { params: { path: { id } }, ...passed(call) })),
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
