/** Bodies as they come: in UTF-8, or refused. */
import type { FastifyRequest } from 'fastify';
import { ApiError } from './errors.ts';

const CHARSET = /;\s*charset\s*=\s*"?([^";\s]+)/i;

/** A reader for fastify of bodies that are text; a body said to be in another charset is refused rather than spoilt. */
export const readBody =
  (read: (body: Buffer) => unknown) =>
  (request: FastifyRequest, body: string | Buffer, done: (error: Error | null, body?: unknown) => void): void => {
    try {
      const charset = CHARSET.exec(request.headers['content-type'] ?? '')?.[1] ?? 'utf-8';
      if (!/^utf-?8$/i.test(charset)) throw new ApiError('CONTENT_TYPE_WRONG', `Bodies are read in UTF-8, not in \`${charset}\`.`);
      done(null, read(body as Buffer));
    } catch (error) {
      done(error as Error);
    }
  };
