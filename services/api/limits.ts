/** How much one caller may ask, in this copy of the service; a setting for a shared count would belong here. */
import rateLimit from '@fastify/rate-limit';
import type { FastifyInstance } from 'fastify';
import { ApiError } from './errors.ts';
import { ANYONE, routeOf } from './keys.ts';

/** For an answer, unless its route needs longer. */
export const ANSWER_WITHIN_MS = 30_000;
/** For what checks a vehicle many times: plans and what-ifs. */
export const MANY_CHECKS_WITHIN_MS = 110_000;

/** Limits requests a minute under `/v1/` for each key, or each address where there are no keys. */
export async function limitRate(app: FastifyInstance, perMinute: number): Promise<void> {
  await app.register(rateLimit, {
    max: perMinute,
    timeWindow: '1 minute',
    enableDraftSpec: true,
    keyGenerator: ({ caller, ip }) => (caller === ANYONE ? ip : caller.name),
    allowList: (request) => !routeOf(request).startsWith('/v1/'),
    errorResponseBuilder: (_request, { max, after }) =>
      new ApiError('TOO_MANY_REQUESTS', `${max} requests a minute are taken; go on in ${after}.`),
  });
}
