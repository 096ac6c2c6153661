/** What happens in the service, in numbers, for whoever watches it (`/metrics`, OpenMetrics text). */
import type { FastifyInstance } from 'fastify';
import { Histogram, type Registry } from 'prom-client';

/** Counts and times every request by method, route, and status; no ids and no addresses. */
export function measureRequests(app: FastifyInstance, registry: Registry): void {
  const duration = new Histogram({
    name: 'fettle_http_request_duration_seconds',
    help: 'Time from the first byte of a request to the last of its answer, in seconds.',
    labelNames: ['method', 'route', 'status'],
    buckets: [0.001, 0.003, 0.01, 0.03, 0.1, 0.3, 1, 3, 10],
    registers: [registry],
  });
  app.addHook('onResponse', async ({ method, routeOptions }, { statusCode, elapsedTime }) => {
    duration.observe({ method, route: routeOptions.url ?? 'none', status: statusCode }, elapsedTime / 1000);
  });
  app.get('/metrics', { schema: { hide: true } }, async (_request, reply) =>
    reply.type(registry.contentType).send(await registry.metrics()),
  );
}
