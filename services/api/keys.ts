/** Keys of callers: kept hashed, compared in constant time. */
import { createHash, timingSafeEqual } from 'node:crypto';
import type { FastifyRequest } from 'fastify';
import { ApiError } from './errors.ts';

const digest = (key: string): Buffer => createHash('sha256').update(key).digest();

/** A guard for requests; undefined when no keys are set and everyone may ask. */
export function keyGuard(keys: readonly string[]): ((request: FastifyRequest) => void) | undefined {
  if (keys.length === 0) return undefined;
  const hashes = keys.map(digest);
  return (request) => {
    const given = /^Bearer (.+)$/i.exec(request.headers.authorization ?? '')?.[1];
    if (given === undefined) throw new ApiError('KEY_MISSING');
    const hash = digest(given);
    // Every key is compared, so that the time tells nothing of which was near.
    const known = hashes.reduce((found, other) => timingSafeEqual(hash, other) || found, false);
    if (!known) throw new ApiError('KEY_UNKNOWN');
  };
}
