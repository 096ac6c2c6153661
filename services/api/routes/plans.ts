import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { PlanRequest as Request, SheetForm } from '../../workshop/index.ts';
import { answerTo, sendAnswer } from '../answering.ts';
import type { AppParts } from '../app.ts';
import { MANY_CHECKS_WITHIN_MS } from '../limits.ts';
import { Plan, PlanRequest } from '../schemas/plans.ts';
import { Problem } from '../schemas/problem.ts';
import { storedLookup } from '../stored-catalogue.ts';

const TYPES: Readonly<Record<SheetForm, string>> = {
  markdown: 'text/markdown; charset=utf-8',
  csv: 'text/csv; charset=utf-8',
  xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
};
const ENDINGS: Readonly<Record<SheetForm, string>> = { markdown: 'md', csv: 'csv', xlsx: 'xlsx' };
const plainType = (form: SheetForm): string => TYPES[form].split(';')[0] as string;

const sheet = { schema: z.string() };
const sheets = {
  description: 'The plan as a file of the form asked for.',
  content: { [plainType('csv')]: sheet, [plainType('markdown')]: sheet, [plainType('xlsx')]: sheet },
};

export const planRoutes: FastifyPluginAsyncZod<AppParts> = async (app, { database, checks }) => {
  const lookup = storedLookup(database.tables);
  const planned = (asked: Request, form?: SheetForm) => answerTo(asked, lookup, (catalogue) => checks.plan(asked, catalogue, form));
  app.post(
    '/v1/plans',
    {
      handlerTimeout: MANY_CHECKS_WITHIN_MS,
      schema: {
        operationId: 'plan',
        tags: ['plans'],
        summary: 'Plan the job: order, time, money, risk, stages, hand-over',
        description:
          'The request of a check, with the shop’s terms and the state of the job. Answers what remains to be done in one order and what goes wrong in another, when and with how many hours, what it costs as an estimate, what is confirmed and signed for, and what is handed over. Nothing is stored; the same request gives the same bytes.',
        body: PlanRequest,
        response: { 200: Plan, 400: Problem, 422: Problem, 503: Problem },
      },
    },
    async (request, reply) => {
      const made = await planned(request.body as Request);
      return sendAnswer(reply, 'plan' in made ? made.plan : null);
    },
  );
  app.post(
    '/v1/plans/sheet',
    {
      handlerTimeout: MANY_CHECKS_WITHIN_MS,
      schema: {
        operationId: 'planSheet',
        tags: ['plans'],
        summary: 'The same as a file: Markdown, CSV, or a workbook with live sums',
        description: 'Texts that a spreadsheet would take for a formula begin with an apostrophe.',
        querystring: z.strictObject({ form: z.enum(['markdown', 'csv', 'xlsx']).default('xlsx') }),
        body: PlanRequest,
        response: { 200: sheets, 400: Problem, 422: Problem, 503: Problem },
      },
    },
    async (request, reply) => {
      const { form } = request.query as { readonly form: SheetForm };
      const made = await planned(request.body as Request, form);
      return reply
        .type(TYPES[form])
        .header('content-disposition', `attachment; filename="plan.${ENDINGS[form]}"`)
        .send(Buffer.from('sheet' in made ? made.sheet : []) as never);
    },
  );
};
