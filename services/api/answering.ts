/** What every route does that answers a build as it was sent: dates, catalogue, the worker, faults. */
import type { FastifyReply } from 'fastify';
import type { Catalogue, CheckRequest, RequestFault } from '../vehicle/index.ts';
import type { PlanRequest } from '../workshop/index.ts';
import { entriesFor, type Lookup } from './catalogue.ts';
import { orBusy } from './checks.ts';
import { datesIn, datesOfReadings, refuseFuture } from './dates.ts';
import { ApiError } from './errors.ts';

type Refused = { readonly ok: false; readonly faults: readonly RequestFault[] };
/** A plan's build also has what turned up under way. */
type Asked = Pick<CheckRequest, 'vehicle' | 'parts'> & Pick<PlanRequest, 'turned_up'>;

/** Throws where a reading is dated in the future, where too many wait, and where the build cannot be put together. */
export async function answerTo<T extends { readonly ok: true }>(
  asked: Asked,
  lookup: Lookup,
  run: (catalogue: Catalogue) => Promise<T | Refused>,
): Promise<T> {
  const { turned_up: late = {} } = asked;
  refuseFuture([...datesIn(asked), ...datesOfReadings(late.measured ?? [], '/turned_up/measured')]);
  const parts = [...(asked.parts ?? []), ...(late.parts ?? [])];
  const answered = await orBusy(run(await entriesFor({ vehicle: asked.vehicle, parts }, lookup)));
  if (!answered.ok) throw new ApiError('BUILD_INVALID', undefined, answered.faults);
  return answered;
}

/** The bytes of an answer: the same for the same request, whoever asks. */
export const answerBytes = (answer: unknown): string => `${JSON.stringify(answer)}\n`;

export const sendAnswer = (reply: FastifyReply, answer: unknown): never =>
  reply.type('application/json; charset=utf-8').send(answerBytes(answer)) as never;
