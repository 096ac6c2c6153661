import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { AppParts } from '../app.ts';
import { docsPage } from '../docs-page.ts';
import { unavailable } from '../errors.ts';
import { Problem } from '../schemas/problem.ts';

export const systemRoutes: FastifyPluginAsyncZod<AppParts> = async (app, { database }) => {
  const State = z.object({ state: z.literal('ok') });
  app.get(
    '/livez',
    { schema: { operationId: 'live', tags: ['system'], summary: 'The process runs', response: { 200: State } } },
    async () => ({ state: 'ok' as const }),
  );
  app.get(
    '/readyz',
    { schema: { operationId: 'ready', tags: ['system'], summary: 'The service can answer', response: { 200: State, 503: Problem } } },
    async () => {
      await database.ping().catch(() => {
        throw unavailable('The database does not answer.', 2);
      });
      return { state: 'ok' as const };
    },
  );
  app.get('/openapi.json', { schema: { hide: true } }, async (_request, reply) =>
    reply.type('application/json').send(JSON.stringify(app.swagger())),
  );
  app.get('/docs', { schema: { hide: true } }, async (_request, reply) =>
    reply.type('text/html; charset=utf-8').send(docsPage(app.swagger())),
  );
};
