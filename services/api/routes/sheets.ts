import { Readable } from 'node:stream';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { createSheetJob, deleteSheetJob, getSheetJob, type SheetJob as Job, listSheetJobs, setJobState } from '../../../db/sheet-jobs.ts';
import { answeredSheet, keepFile, piecesOf } from '../../jobs/sheet-files.ts';
import { type Inspected, inspect, openSheet } from '../../sheets/open-sheet.ts';
import { MEDIA_TYPES, MOST_BYTES, type SheetForm, SheetRefused } from '../../sheets/table.ts';
import type { AppParts } from '../app.ts';
import { ApiError } from '../errors.ts';
import { MOST_A_PAGE, pageOfNewest, pageQuery, pageSchema, placeAt, writeHeaders } from '../schemas/common.ts';
import { Problem } from '../schemas/problem.ts';
import { name } from '../schemas/request.ts';
import { Heading, SheetJob } from '../schemas/sheets.ts';
import { jobView, type Sheets } from '../sheets.ts';

/** Of rows that are answered while the caller waits. */
const SMALL_ROWS = 30;
const WAIT_SECONDS = 20;
const TIMEOUT_MS = 600_000;
const FORMS = ['text/csv', MEDIA_TYPES.xlsx, 'application/octet-stream'];
const one = z.strictObject({ id: z.string().min(1).max(120) });

const checkQuery = z.strictObject({
  units: z.enum(['metric', 'us']).default('metric'),
  rows: z.enum(['build', 'part']).optional().describe('What each row is; left out, the headings tell.'),
  sheet: z.string().min(1).max(100).optional().describe('Name of the sheet in a workbook; left out, the first that is not hidden.'),
  vehicle: name.optional().describe('Id or name of the vehicle, or id of the class, of rows that name none.'),
  name: name.optional().describe('What the job is called, such as the name of the file.'),
});

const asFile = Object.fromEntries(Object.values(MEDIA_TYPES).map((type) => [type.split(';')[0], { schema: z.string() }]));

/** Tables of builds: small ones are answered at once, large ones as a job. */
export const sheetRoutes: FastifyPluginAsyncZod<AppParts & { readonly sheets: Sheets }> = async (app, { database: { tables }, sheets }) => {
  // The bytes go to a file as they come; nothing holds them whole.
  app.removeAllContentTypeParsers();
  app.addContentTypeParser('*', (_request, payload, done) => done(null, payload));

  app.post(
    '/v1/sheets/check',
    {
      handlerTimeout: TIMEOUT_MS,
      schema: {
        operationId: 'checkSheet',
        tags: ['sheets'],
        summary: 'Check a table of builds, CSV or .xlsx, row by row',
        description: `One row a build, or one row a part with a column that names its build. Headings are recognised in the words people use (\`/v1/sheets/headings\`); units stand in the heading or in the cell. The same sheet comes back with their columns untouched and ours behind them; a row that cannot be checked says why. Up to ${SMALL_ROWS} rows are answered at once, where that takes no longer than ${WAIT_SECONDS} seconds; more, what takes longer, or with \`prefer: respond-async\`, become a job whose progress and result are at \`location\`.`,
        consumes: FORMS,
        querystring: checkQuery,
        headers: writeHeaders.extend({
          prefer: z.string().max(200).optional().describe('`respond-async` for a job in any case (RFC 7240).'),
        }),
        body: z.any().meta({ description: 'The file.' }),
        response: {
          200: { description: 'The sheet', content: asFile },
          202: SheetJob,
          400: Problem,
          409: Problem,
          413: Problem,
          422: Problem,
          503: Problem,
        } as never,
      },
    },
    async (request, reply) => {
      const job = await take(request as never);
      reply.header('location', `/v1/sheets/${job.id}`);
      const waits = !/\brespond-async\b/.test(String(request.headers.prefer ?? ''));
      const over = job.state === 'done' || (waits && job.rows <= SMALL_ROWS && (await sheets.queue.work(job.id, WAIT_SECONDS)));
      const now = over && waits ? ((await getSheetJob(tables, job.id)) as Job) : job;
      // What was cancelled, or has failed, is not sent as if it were whole.
      if (now.state === 'cancelled' || now.state === 'failed')
        throw new ApiError('SHEET_NOT_DONE', `The sheet is ${now.state}: ${now.done} of ${now.rows} rows are done; resume it.`);
      if (over && waits) return sendSheet(reply, now) as never;
      if (job.state !== 'done') await sheets.queue.send(job.id);
      return reply.code(202).send(jobView(job) as never) as never;
    },
  );

  async function take(request: FastifyRequest<{ Querystring: z.output<typeof checkQuery> }>): Promise<Job> {
    const { units, rows, sheet, vehicle, name: called } = request.query;
    if (Number(request.headers['content-length'] ?? 0) > MOST_BYTES) throw new ApiError('BODY_TOO_LARGE');
    if (!(request.body instanceof Readable)) throw refusalOf(new SheetRefused('SHEET_EMPTY', 'there is no file', 'send one as the body'));
    const file = await keepFile(request.body).catch(refused);
    try {
      const table = await openSheet(file.path, sheet).catch(refused);
      const { found, form } = await inspect(table, sheets.reader().headings, rows)
        .catch(refused)
        .then((inspected: Inspected) => ({ found: inspected, form: table.form }))
        .finally(() => table.close());
      const key = request.headers['idempotency-key'];
      const asked = { units, ...(vehicle !== undefined && { vehicle }) };
      const job = {
        name: called ?? 'sheet',
        form,
        asked,
        columns: { found: found.columns, width: found.width, ...(sheet !== undefined && { sheet }) },
        rows: found.rows,
        gathered: found.columns.rows !== 'part',
        once: typeof key === 'string' ? `${request.caller.name} ${key}` : null,
        request: JSON.stringify([asked, rows ?? null, sheet ?? null, file.hash]),
        key: request.caller.name,
      };
      const made = await createSheetJob(tables, job, piecesOf(file.path));
      if (made.request !== job.request) throw new ApiError('IDEMPOTENCY_KEY_REUSED');
      return made;
    } finally {
      await file.remove();
    }
  }

  app.get(
    '/v1/sheets',
    {
      schema: {
        operationId: 'listSheets',
        tags: ['sheets'],
        summary: 'Jobs of sheets, the newest first',
        querystring: z.strictObject(pageQuery),
        response: { 200: pageSchema(SheetJob), 400: Problem, 503: Problem },
      },
    },
    async ({ query: { cursor, limit } }) => {
      const found = await listSheetJobs(tables, placeAt(cursor).after?.id, Math.min(limit, MOST_A_PAGE));
      return pageOfNewest(found, limit, ({ id }) => id, jobView) as never;
    },
  );

  app.get(
    '/v1/sheets/headings',
    {
      schema: {
        operationId: 'listSheetHeadings',
        tags: ['sheets'],
        summary: 'The headings that are recognised, by the words people use',
        description: 'Beside these, quantities of the dictionary, kinds of part, and a kind with one of its attributes.',
        response: { 200: z.object({ items: z.array(Heading) }), 400: Problem, 503: Problem },
      },
    },
    async () => ({ items: sheets.reader().headings.list }) as never,
  );

  const found = async (id: string): Promise<Job> => {
    const job = await getSheetJob(tables, id);
    if (!job) throw new ApiError('NOT_FOUND', `There is no sheet \`${id.slice(0, 60)}\`; it may have been removed.`);
    return job;
  };

  app.get(
    '/v1/sheets/:id',
    {
      schema: {
        operationId: 'getSheet',
        tags: ['sheets'],
        summary: 'A job: its state, how far it is, and what its headings were taken for',
        params: one,
        response: { 200: SheetJob, 404: Problem, 503: Problem },
      },
    },
    async ({ params: { id } }) => jobView(await found(id)) as never,
  );

  app.get(
    '/v1/sheets/:id/result',
    {
      handlerTimeout: TIMEOUT_MS,
      schema: {
        operationId: 'getSheetResult',
        tags: ['sheets'],
        summary: 'The sheet with our columns behind theirs',
        description: 'Of a job that was cancelled, with the rows it had done; the others say so.',
        params: one,
        response: { 200: { description: 'The sheet', content: asFile }, 404: Problem, 409: Problem, 503: Problem } as never,
      },
    },
    async ({ params: { id } }, reply) => {
      const job = await found(id);
      if (job.state === 'queued' || job.state === 'running')
        throw new ApiError('SHEET_NOT_DONE', `The sheet is ${job.state}: ${job.done} of ${job.rows} rows are done.`, [], {
          'retry-after': '2',
        });
      return sendSheet(reply, job) as never;
    },
  );

  for (const [verb, to, from, what] of [
    ['cancel', 'cancelled', ['queued', 'running'], 'Stop a job; what is done stays'],
    ['resume', 'queued', ['cancelled', 'failed'], 'Go on with a job where it stopped'],
  ] as const)
    app.post(
      `/v1/sheets/:id/${verb}`,
      {
        schema: {
          operationId: `${verb}Sheet`,
          tags: ['sheets'],
          summary: what,
          params: one,
          response: { 200: SheetJob, 404: Problem, 409: Problem, 503: Problem },
        },
      },
      async ({ params: { id } }) => {
        const job = await found(id);
        const changed = await setJobState(tables, id, to, from);
        if (!changed && job.state !== to)
          throw new ApiError(
            'SHEET_NOT_DONE',
            `The sheet is ${job.state}; only one that is ${from.join(' or ')} can be ${to === 'queued' ? 'resumed' : to}.`,
          );
        if (changed && to === 'queued') await sheets.queue.send(id);
        return jobView(changed ?? job) as never;
      },
    );

  app.delete(
    '/v1/sheets/:id',
    {
      schema: {
        operationId: 'removeSheet',
        tags: ['sheets'],
        summary: 'Remove a job with its file and its rows',
        params: one,
        response: { 204: z.null().meta({ description: 'It is gone.' }), 404: Problem, 503: Problem },
      },
    },
    async ({ params: { id } }, reply) => {
      await found(id);
      await deleteSheetJob(tables, id);
      return reply.code(204).send(null as never) as never;
    },
  );

  const sendSheet = (reply: FastifyReply, job: Job): FastifyReply =>
    reply
      .code(200)
      .type(MEDIA_TYPES[job.form as SheetForm])
      .header(
        'content-disposition',
        `attachment; filename="${job.name.replace(/\.(csv|xlsx)$/i, '').replace(/[^\w .-]/g, '_')}-checked.${job.form}"`,
      )
      .header('x-content-type-options', 'nosniff')
      .send(Readable.from(answeredSheet(tables, job), { objectMode: false }));
};

const refusalOf = ({ code, message, help, row }: SheetRefused): ApiError =>
  new ApiError(code === 'SHEET_TOO_LARGE' ? 'BODY_TOO_LARGE' : 'SHEET_REFUSED', undefined, [
    { pointer: '', code, message, help, ...(row !== undefined && { row }) },
  ]);

function refused(error: unknown): never {
  throw error instanceof SheetRefused ? refusalOf(error) : error;
}
