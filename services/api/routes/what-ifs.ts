import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { WhatIfRequest as Request } from '../../vehicle/index.ts';
import { answerTo, sendAnswer } from '../answering.ts';
import type { AppParts } from '../app.ts';
import { MANY_CHECKS_WITHIN_MS } from '../limits.ts';
import { Problem } from '../schemas/problem.ts';
import { WhatIfRequest } from '../schemas/request.ts';
import { WhatIf } from '../schemas/what-if.ts';
import { storedLookup } from '../stored-catalogue.ts';

export const whatIfRoutes: FastifyPluginAsyncZod<AppParts> = async (app, { database, checks }) => {
  const lookup = storedLookup(database.tables);
  app.post(
    '/v1/what-ifs',
    {
      handlerTimeout: MANY_CHECKS_WITHIN_MS,
      schema: {
        operationId: 'whatIf',
        tags: ['checks'],
        summary: 'Vary one thing of a build, and tell where the verdict turns',
        description:
          'Clear up to here, close to there, conflict beyond: of a lift, a tyre, an offset, or any other value that can be read. The vehicle is checked, before any work, at as few values as tell every border to the step; every verdict told is one of a check. Each stretch tells what decides it, by how much, what ends it, and which readings would settle or widen it; what the law ends is told apart from what the fit does. Nothing is stored; the same request gives the same bytes.',
        body: WhatIfRequest,
        response: { 200: WhatIf, 400: Problem, 422: Problem, 503: Problem },
      },
    },
    async (request, reply) => {
      const asked = request.body as Request;
      const { answer } = await answerTo(asked, lookup, (catalogue) => checks.whatIf(asked, catalogue));
      return sendAnswer(reply, answer);
    },
  );
};
