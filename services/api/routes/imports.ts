import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { AppParts } from '../app.ts';
import { readBody } from '../bodies.ts';
import { readCsv, tableText } from '../import-csv.ts';
import { type Importing, readList, readRows, takeRows } from '../imports.ts';
import { nouns } from '../nouns.ts';
import { writeHeaders } from '../schemas/common.ts';
import { ImportReport, Problem } from '../schemas/problem.ts';
import { write } from '../writes.ts';

const IMPORT_LIMIT = 64 << 20;
const IMPORT_TIMEOUT_MS = 600_000;

/** Many entries at once; tables are read here and nowhere else. */
export const importRoutes: FastifyPluginAsyncZod<AppParts> = async (app, { library, database: { tables } }) => {
  app.addContentTypeParser('text/csv', { parseAs: 'buffer' }, readBody(tableText));

  for (const { noun, path, operation, entry, table, faults } of nouns(library)) {
    app.post(
      `/v1/imports/${path}`,
      {
        bodyLimit: IMPORT_LIMIT,
        handlerTimeout: IMPORT_TIMEOUT_MS,
        schema: {
          operationId: `import${operation}s`,
          tags: ['catalogue'],
          summary: `Bring many ${noun}s into the catalogue, from CSV or JSON`,
          description: `A list of \`${operation}Entry\`, or a table whose first row names the columns: ${table.own.map((name) => `\`${name}\``).join(', ')}, and one for each of the ${table.field} (\`mass\`, or \`mass [kg]\` or \`mass (kg)\` over bare numbers${table.places ? '; `axle_rating.front` for one place' : ''}). An id that is there already gets a new version where the row says something else. All is written in one transaction.`,
          consumes: ['application/json', 'text/csv'],
          querystring: z.strictObject({
            take: z.enum(['all', 'good']).default('all').describe('`all`: all rows or none. `good`: those without faults.'),
            ignore: z
              .string()
              .max(2000)
              .optional()
              .describe('Headings of columns to leave out, separated by commas. One that nobody knows is refused otherwise.'),
          }),
          headers: writeHeaders,
          body: z.union([z.array(z.unknown()), z.string()]),
          response: { 200: ImportReport, 400: Problem, 413: Problem, 422: Problem, 503: Problem },
        },
      },
      async (request, reply) => {
        const { body } = request;
        const importing: Importing = { noun, schema: entry, faults: (given) => faults(given, tables) };
        const ignored = request.query.ignore?.split(',') ?? [];
        const read = await readRows(typeof body === 'string' ? await readCsv(body, table, ignored) : readList(body), importing);
        return write(tables, request, reply, async (inside) => ({
          status: 200,
          headers: {},
          body: JSON.stringify(await takeRows(inside, noun, read, request.query.take)),
        })) as never;
      },
    );
  }
};
