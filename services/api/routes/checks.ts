import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { CheckRequest as Request } from '../../vehicle/index.ts';
import { answerTo, sendAnswer } from '../answering.ts';
import type { AppParts } from '../app.ts';
import { Answer } from '../schemas/answer.ts';
import { Problem } from '../schemas/problem.ts';
import { CheckRequest } from '../schemas/request.ts';
import { storedLookup } from '../stored-catalogue.ts';

export const checkRoutes: FastifyPluginAsyncZod<AppParts> = async (app, { database, checks }) => {
  const lookup = storedLookup(database.tables);
  app.post(
    '/v1/checks',
    {
      schema: {
        operationId: 'check',
        tags: ['checks'],
        summary: 'Check a vehicle with its parts, load and use',
        description:
          'Answers whether everything works together, by how much it misses, what work cures it and in which order, and what to measure next. Nothing is stored; the same request gives the same bytes.',
        body: CheckRequest,
        response: { 200: Answer, 400: Problem, 422: Problem, 503: Problem },
      },
    },
    async (request, reply) => {
      const asked = request.body as Request;
      const { answer } = await answerTo(asked, lookup, (catalogue) => checks.run(asked, catalogue));
      return sendAnswer(reply, answer);
    },
  );
};
