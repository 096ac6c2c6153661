import { createHash } from 'node:crypto';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { getAnswer, listAnswers, type SavedAnswer, saveAnswer } from '../../../db/answers.ts';
import {
  type BuildDocument,
  type BuildSummary,
  createBuild,
  deleteBuild,
  getMeasurements,
  listBuilds,
  listRevisions,
  measureBuild,
  type NewMeasurement,
  type Revision,
  reviseBuild,
  type Writer,
} from '../../../db/builds.ts';
import type { Tables } from '../../../db/open.ts';
import { assemble } from '../../vehicle/index.ts';
import type { AppParts } from '../app.ts';
import { type Asking, askedFor, checkBuild, noBuild, revisionOr404 } from '../build-checks.ts';
import { entriesFor } from '../catalogue.ts';
import { compareAnswers } from '../comparison.ts';
import { datesIn, refuseFuture } from '../dates.ts';
import { ApiError } from '../errors.ts';
import type { Caller } from '../keys.ts';
import { positionFaults } from '../reading-position.ts';
import { buildView, changesBetween, faultsInBuild, layMeasurements, revisionView } from '../saved-builds.ts';
import {
  BuildSummaryView,
  BuildView,
  BuildWrite,
  CheckAsking,
  Comparison,
  ComparisonRequest,
  Measurement,
  MeasurementWrite,
  Restore,
  RevisionView,
  SavedCheck,
  SavedCheckSummary,
} from '../schemas/builds.ts';
import {
  changeHeaders,
  etagOf,
  expectedVersion,
  pageOfNewest,
  pageQuery,
  pageSchema,
  pageView,
  placeAt,
  readHeaders,
  searchQuery,
  writeHeaders,
} from '../schemas/common.ts';
import { Deleted, NotModified, Problem } from '../schemas/problem.ts';
import { storedLookup } from '../stored-catalogue.ts';
import { NOTHING_LEFT, write, written } from '../writes.ts';

const id = z.string().min(1).max(120);
const build = z.strictObject({ id });
const version = z.coerce.number().int().min(1).max(999_999_999);
const tags = ['builds'];

/** Saved builds: revisions, measurements, and answers kept with what they rest on. */
export const buildRoutes: FastifyPluginAsyncZod<AppParts> = async (app, { library, checks, database: { tables } }) => {
  const view = async (from: Tables, revision: Revision) => buildView(revision, await getMeasurements(from, revision.measurements));
  const made = async (inside: Tables, of: string, revision: Revision | undefined, status: 200 | 201 = 200) => {
    if (!revision) throw await noBuild(inside, of);
    return written(status, `/v1/builds/${revision.build}`, revision.revision, await view(inside, revision));
  };

  app.post(
    '/v1/builds',
    {
      schema: {
        operationId: 'createBuild',
        tags,
        summary: 'Save a build',
        description: 'A build may name things that are not there yet: what cannot be put together is said by its check.',
        headers: writeHeaders,
        body: BuildWrite,
        response: { 201: BuildView, 400: Problem, 422: Problem, 503: Problem },
      },
    },
    (request, reply) => {
      refuseFuture(datesIn(request.body.build as BuildDocument, '/build'));
      return write(tables, request, reply, async (inside) => {
        const revision = await createBuild(inside, request.body.name, request.body.build as BuildDocument, writerOf(request));
        return made(inside, revision.build, revision, 201);
      }) as never;
    },
  );

  app.get(
    '/v1/builds',
    {
      schema: {
        operationId: 'listBuilds',
        tags,
        summary: 'Builds, the newest first',
        querystring: z.strictObject({
          ...pageQuery,
          search: searchQuery,
          vehicle: id.optional().describe('Made on this vehicle of the catalogue.'),
        }),
        response: { 200: pageSchema(BuildSummaryView), 400: Problem, 503: Problem },
      },
    },
    async ({ query: { cursor, limit, search, vehicle } }) =>
      pageView(
        await listBuilds(tables, { limit, ...placeAt(cursor), ...(search && { search }), ...(vehicle && { vehicle }) }),
        summaryView,
      ),
  );

  app.get(
    '/v1/builds/:id',
    {
      schema: {
        operationId: 'getBuild',
        tags,
        summary: 'A build as it is',
        params: build,
        headers: readHeaders,
        response: { 200: BuildView, 304: NotModified, 404: Problem, 503: Problem },
      },
    },
    async ({ params, headers }, reply) => {
      const revision = await revisionOr404(tables, params.id);
      const etag = etagOf(revision.revision);
      reply.header('etag', etag);
      if (headers['if-none-match'] === etag) return reply.code(304).send(null as never) as never;
      return (await view(tables, revision)) as never;
    },
  );

  app.put(
    '/v1/builds/:id',
    {
      schema: {
        operationId: 'changeBuild',
        tags,
        summary: 'Change a build: its next revision',
        description: 'Measurements stay as they are.',
        params: build,
        headers: changeHeaders,
        body: BuildWrite,
        response: { 200: BuildView, 400: Problem, 404: Problem, 412: Problem, 422: Problem, 428: Problem, 503: Problem },
      },
    },
    (request, reply) => {
      const expected = expectedVersion(request.headers['if-match']);
      refuseFuture(datesIn(request.body.build as BuildDocument, '/build'));
      return write(tables, request, reply, async (inside) => {
        const { name, build: document } = request.body;
        const revision = await reviseBuild(inside, request.params.id, expected, writerOf(request), ({ measurements }) => ({
          what: 'changed',
          name,
          document: document as BuildDocument,
          measurements,
        }));
        return made(inside, request.params.id, revision);
      }) as never;
    },
  );

  app.delete(
    '/v1/builds/:id',
    {
      schema: {
        operationId: 'deleteBuild',
        tags,
        summary: 'Delete a build for good',
        description:
          'Its revisions, measurements and kept answers go with it. What stays: that there was a build of this id, its last revision, the key it was deleted with and when, which is what asking for it then tells (`GONE`); replies to keyed writes of the last 24 hours, until they are forgotten; and the catalogue.',
        params: build,
        headers: changeHeaders,
        response: { 204: Deleted, 400: Problem, 404: Problem, 410: Problem, 412: Problem, 428: Problem, 503: Problem },
      },
    },
    (request, reply) => {
      const expected = expectedVersion(request.headers['if-match']);
      return write(tables, request, reply, async (inside) => {
        const { id: of } = request.params;
        if (await deleteBuild(inside, of, expected, { key: request.caller.name })) return NOTHING_LEFT;
        throw await noBuild(inside, of);
      }) as never;
    },
  );

  app.post(
    '/v1/builds/:id/restore',
    {
      schema: {
        operationId: 'restoreBuild',
        tags,
        summary: 'Bring a revision back, as the next one',
        description: 'The build and the measurements that held in it are as they were then. What came between stays to be read.',
        params: build,
        headers: changeHeaders,
        body: Restore,
        response: { 200: BuildView, 400: Problem, 404: Problem, 412: Problem, 422: Problem, 428: Problem, 503: Problem },
      },
    },
    (request, reply) => {
      const expected = expectedVersion(request.headers['if-match']);
      return write(tables, request, reply, async (inside) => {
        const revision = await reviseBuild(inside, request.params.id, expected, writerOf(request), async () => {
          const { name, document, measurements } = await revisionOr404(inside, request.params.id, request.body.revision);
          return { what: 'restored', restoredFrom: request.body.revision, name, document, measurements };
        });
        return made(inside, request.params.id, revision);
      }) as never;
    },
  );

  app.get(
    '/v1/builds/:id/revisions',
    {
      schema: {
        operationId: 'listRevisions',
        tags,
        summary: 'What became of a build: who changed what, when; the newest first',
        params: build,
        querystring: z.strictObject(pageQuery),
        response: { 200: pageSchema(RevisionView), 400: Problem, 404: Problem, 503: Problem },
      },
    },
    async ({ params, query: { cursor, limit } }) => {
      await revisionOr404(tables, params.id);
      const after = placeAt(cursor).after;
      const found = await listRevisions(tables, params.id, after && after.rank - 1, limit);
      const last = found.length > limit ? found[limit - 1] : undefined;
      const measurements = await getMeasurements(tables, [...new Set(found.flatMap((revision) => revision.measurements))]);
      return pageView({ items: found.slice(0, limit), ...(last && { next: { rank: last.revision, id: '' } }) }, (revision) =>
        revisionView(revision, found[found.indexOf(revision) + 1], measurements),
      ) as never;
    },
  );

  app.get(
    '/v1/builds/:id/revisions/:revision',
    {
      schema: {
        operationId: 'getRevision',
        tags,
        summary: 'A build as it was',
        params: z.strictObject({ id, revision: version }),
        response: { 200: BuildView, 400: Problem, 404: Problem, 503: Problem },
      },
    },
    async ({ params }) => (await view(tables, await revisionOr404(tables, params.id, params.revision))) as never,
  );

  app.get(
    '/v1/builds/:id/measurements',
    {
      schema: {
        operationId: 'listMeasurements',
        tags: ['measurements'],
        summary: 'Measurements that hold for a build, in the order they were recorded',
        params: build,
        response: { 200: z.object({ items: z.array(Measurement) }), 404: Problem, 503: Problem },
      },
    },
    async ({ params }) => ({ items: await getMeasurements(tables, (await revisionOr404(tables, params.id)).measurements) }) as never,
  );

  app.post(
    '/v1/builds/:id/measurements',
    {
      schema: {
        operationId: 'measure',
        tags: ['measurements'],
        summary: 'Record a measurement, as the next revision',
        description: 'Two who measure at once are both heard, so `if-match` may be left out.',
        params: build,
        headers: changeHeaders,
        body: MeasurementWrite,
        response: { 201: BuildView, 400: Problem, 404: Problem, 412: Problem, 422: Problem, 503: Problem },
      },
    },
    (request, reply) => {
      refuseFuture([['/date', request.body.date]]);
      return write(tables, request, reply, async (inside) => {
        const { params, body, headers } = request;
        const taken = body as NewMeasurement;
        await refuseUnfit(inside, await revisionOr404(inside, params.id), taken);
        const expected = headers['if-match'] === undefined ? undefined : expectedVersion(headers['if-match']);
        return made(inside, params.id, await measureBuild(inside, params.id, expected, taken, writerOf(request)), 201);
      }) as never;
    },
  );

  app.delete(
    '/v1/builds/:id/measurements/:measurement',
    {
      schema: {
        operationId: 'dropMeasurement',
        tags: ['measurements'],
        summary: 'Leave a measurement out of the next revision',
        params: z.strictObject({ id, measurement: id }),
        headers: changeHeaders,
        response: { 200: BuildView, 400: Problem, 404: Problem, 412: Problem, 422: Problem, 503: Problem },
      },
    },
    (request, reply) =>
      write(tables, request, reply, async (inside) => {
        const { params, headers } = request;
        const expected = headers['if-match'] === undefined ? undefined : expectedVersion(headers['if-match']);
        const revision = await reviseBuild(
          inside,
          params.id,
          expected,
          { key: request.caller.name },
          ({ name, document, measurements }) => {
            const left = measurements.filter((measurement) => measurement !== params.measurement);
            if (left.length === measurements.length)
              throw new ApiError(
                'NOT_FOUND',
                `Build \`${params.id}\` has no measurement \`${params.measurement}\` in its newest revision.`,
              );
            return { what: 'unmeasured', name, document, measurements: left };
          },
        );
        return made(inside, params.id, revision);
      }) as never,
  );

  /** Faults of a measurement are those it would bring into a check. */
  async function refuseUnfit(inside: Tables, { document }: Revision, taken: NewMeasurement): Promise<void> {
    const misplaced = positionFaults(taken, library);
    if (misplaced.length > 0) throw new ApiError('MEASUREMENT_INVALID', undefined, misplaced);
    const laid = layMeasurements(document, [taken]);
    const assembled = assemble(laid.request, await entriesFor(laid.request, storedLookup(inside)), library);
    if (assembled.ok) return;
    const faults = faultsInBuild(assembled.faults, laid).flatMap((fault) => {
      const [, list, , field, place] = fault.pointer.split('/');
      if (list !== 'measurements') return [];
      // What is wrong at a place is wrong with the value, unless it is the place itself.
      const ofValue = place !== undefined && fault.code !== 'PLACE_UNKNOWN' ? 'value' : field;
      const at = fault.code === 'TOOL_ERROR_WRONG' ? 'tool_error' : ofValue;
      return [{ ...fault, pointer: at === undefined ? '' : `/${at}` }];
    });
    if (faults.length > 0) throw new ApiError('MEASUREMENT_INVALID', undefined, faults);
  }

  app.post(
    '/v1/builds/:id/checks',
    {
      schema: {
        operationId: 'checkBuild',
        tags: ['checks'],
        summary: 'Check a saved build and keep the answer',
        description:
          'The answer is kept with the revision and the versions it rests on; asked alike with nothing changed, the kept one is given.',
        params: build,
        body: CheckAsking.optional(),
        response: { 200: SavedCheck, 400: Problem, 404: Problem, 422: Problem, 503: Problem },
      },
    },
    async ({ params, body, caller }, reply) => {
      const { revision: number, ...asking } = body ?? {};
      const { revision, answer, entries } = await checkBuild(tables, checks, params.id, number, asking as Asking, library);
      const { verdict, versions } = answer;
      const depends = createHash('sha256')
        .update(JSON.stringify([askedFor(asking as Asking), versions]))
        .digest('hex');
      const kept = await saveAnswer(tables, {
        build: params.id,
        revision: revision.revision,
        depends,
        verdict,
        versions,
        entries,
        answer: JSON.stringify(answer),
        key: caller.name,
      });
      if (!kept) throw await noBuild(tables, params.id);
      return reply.type('application/json; charset=utf-8').send(savedBytes(kept) as never);
    },
  );

  app.get(
    '/v1/builds/:id/checks',
    {
      schema: {
        operationId: 'listSavedChecks',
        tags: ['checks'],
        summary: 'Answers kept for a build, the newest first',
        params: build,
        querystring: z.strictObject(pageQuery),
        response: { 200: pageSchema(SavedCheckSummary), 400: Problem, 404: Problem, 503: Problem },
      },
    },
    async ({ params, query: { cursor, limit } }) => {
      await revisionOr404(tables, params.id);
      const found = await listAnswers(tables, params.id, placeAt(cursor).after?.id, limit);
      return pageOfNewest(
        found,
        limit,
        ({ id: place }) => place,
        ({ answer: _, ...summary }) => summary,
      ) as never;
    },
  );

  app.get(
    '/v1/builds/:id/checks/:check',
    {
      schema: {
        operationId: 'getSavedCheck',
        tags: ['checks'],
        summary: 'A kept answer',
        params: z.strictObject({ id, check: id }),
        response: { 200: SavedCheck, 404: Problem, 503: Problem },
      },
    },
    async ({ params }, reply) => {
      const kept = await getAnswer(tables, params.id, params.check);
      if (!kept) await revisionOr404(tables, params.id);
      if (!kept) throw new ApiError('NOT_FOUND', `Build \`${params.id}\` has no kept answer \`${params.check}\`.`);
      return reply.type('application/json; charset=utf-8').send(savedBytes(kept) as never);
    },
  );

  app.post(
    '/v1/comparisons',
    {
      schema: {
        operationId: 'compare',
        tags: ['checks'],
        summary: 'Compare two builds or two revisions: what the change fixed and broke',
        body: ComparisonRequest,
        response: { 200: Comparison, 400: Problem, 404: Problem, 422: Problem, 503: Problem },
      },
    },
    async ({ body: { before, after, units } }) => {
      const asking: Asking = units === undefined ? {} : { units };
      const check = (side: 'before' | 'after') => {
        const { build: of, revision } = side === 'before' ? before : after;
        return checkBuild(tables, checks, of, revision, asking, library).catch((error: unknown) => {
          throw error instanceof ApiError ? error.under(`/${side}`) : error;
        });
      };
      const [was, is] = await Promise.all([check('before'), check('after')]);
      const [old, current] = [was.revision.measurements, is.revision.measurements];
      const state = ({ revision: { name, document } }: typeof was) => ({ name, build: document });
      return {
        before: comparedView(was),
        after: comparedView(is),
        ...compareAnswers(was.answer, is.answer),
        changes: changesBetween(state(was), state(is)),
        measurements: {
          added: await getMeasurements(
            tables,
            current.filter((measurement) => !old.includes(measurement)),
          ),
          removed: await getMeasurements(
            tables,
            old.filter((measurement) => !current.includes(measurement)),
          ),
        },
      } as never;
    },
  );
};

const writerOf = ({ caller, body }: { caller: Caller; body: { by?: string | undefined; note?: string | undefined } }): Writer => ({
  key: caller.name,
  ...(body.by !== undefined && { by: body.by }),
  ...(body.note !== undefined && { note: body.note }),
});

const summaryView = ({ createdAt, ...summary }: BuildSummary) => ({ ...summary, created_at: createdAt });

/** The answer's own bytes, inside what it was kept with. */
const savedBytes = ({ answer, ...summary }: SavedAnswer): string => `${JSON.stringify(summary).slice(0, -1)},"answer":${answer}}\n`;

const comparedView = ({ revision: { build: of, revision }, answer: { verdict, work } }: Awaited<ReturnType<typeof checkBuild>>) => ({
  build: of,
  revision,
  verdict,
  hours: work.hours,
});
