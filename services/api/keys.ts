/** Keys of callers: kept hashed, compared in constant time. */
import { createHash, timingSafeEqual } from 'node:crypto';
import type { FastifyRequest } from 'fastify';
import { ApiError } from './errors.ts';

const digest = (key: string): Buffer => createHash('sha256').update(key).digest();

export interface Key {
  /** What its holder is called in revisions and logs; it is no secret. */
  readonly name: string;
  readonly secret: string;
}

export interface Caller {
  readonly name: string;
}

/** The path of the route that was found, which a request can write in more ways than one; what was asked where there is none. */
export const routeOf = ({ routeOptions, url }: FastifyRequest): string => routeOptions.url ?? url;

/** Who everyone is when no keys are set. */
export const ANYONE: Caller = { name: 'anyone' };

/** Tells who asks, or throws; when no keys are set, everyone may ask. */
export function callerOf(keys: readonly Key[]): (request: FastifyRequest) => Caller {
  if (keys.length === 0) return () => ANYONE;
  const known = keys.map(({ name, secret }) => ({ name, hash: digest(secret) }));
  return (request) => {
    const given = /^Bearer (.+)$/i.exec(request.headers.authorization ?? '')?.[1];
    if (given === undefined) throw new ApiError('KEY_MISSING');
    const hash = digest(given);
    // Every key is compared, so that the time tells nothing of which was near.
    const found = known.reduce<Caller | undefined>(
      (caller, key) => (timingSafeEqual(hash, key.hash) ? { name: key.name } : caller),
      undefined,
    );
    if (!found) throw new ApiError('KEY_UNKNOWN');
    return found;
  };
}
