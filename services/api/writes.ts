/** Writes: done once for each idempotency key, and answered with the bytes that were kept. */
import { createHash } from 'node:crypto';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { Conflict } from '../../db/conflict.ts';
import { KeyReused, once, type Reply } from '../../db/once.ts';
import type { Tables } from '../../db/open.ts';
import { ApiError } from './errors.ts';
import { etagOf } from './schemas/common.ts';

/** Does a write in one transaction. Sent again with the same `idempotency-key` it is answered as before, with `idempotency-replayed`. */
export async function write(
  tables: Tables,
  request: FastifyRequest,
  reply: FastifyReply,
  work: (inside: Tables) => Promise<Reply>,
): Promise<FastifyReply> {
  const key = request.headers['idempotency-key'];
  const asked = typeof key === 'string' ? { caller: request.caller.name, key, request: hashOf(request) } : undefined;
  let done = false;
  const { status, headers, body } = await once(tables, asked, (inside) => {
    done = true;
    return work(inside);
  }).catch(refused);
  if (!done) reply.header('idempotency-replayed', 'true');
  reply.code(status).headers(headers);
  return status === 204 ? reply.send() : reply.type('application/json; charset=utf-8').send(body);
}

/** The reply to a write that made or changed something with a version. */
export const written = (status: 200 | 201, location: string, version: number, body: unknown): Reply => ({
  status,
  headers: { etag: etagOf(version), ...(status === 201 && { location }) },
  body: JSON.stringify(body),
});

/** The reply to a write that leaves nothing to be told. */
export const NOTHING_LEFT: Reply = { status: 204, headers: {}, body: '' };

function refused(error: unknown): never {
  if (error instanceof Conflict)
    throw new ApiError('PRECONDITION_FAILED', `The current \`etag\` is \`${etagOf(error.current)}\`.`, [], { etag: etagOf(error.current) });
  if (error instanceof KeyReused) throw new ApiError('IDEMPOTENCY_KEY_REUSED');
  throw error;
}

const hashOf = ({ method, url, headers, body }: FastifyRequest): string =>
  createHash('sha256')
    .update(JSON.stringify([method, url, headers['if-match'] ?? null, body ?? null]))
    .digest('hex');
