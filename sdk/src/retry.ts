/** Tries again, when the service is busy or cannot be reached, what is done once however often it is sent. */
import { FettleUnreachable } from './problem.ts';

export interface RetryOptions {
  /** Tries in all; 1 does not try again. */
  readonly tries: number;
  /** Milliseconds before the second try; doubled each time, with a little chance so that clients do not come back together. */
  readonly firstDelay: number;
  /** Longest wait in milliseconds. Asked to wait longer than that, the service's answer is given instead. */
  readonly longestDelay: number;
  readonly sleep: (ms: number, signal?: AbortSignal | null) => Promise<void>;
}

const BUSY: ReadonlySet<number> = new Set([429, 502, 503, 504]);
const WITHOUT_BODY: ReadonlySet<number> = new Set([204, 205, 304]);

/** A fetch whose answers are whole. Rejects with the signal's reason when it was cancelled, else with `FettleUnreachable`. */
export function retrying(fetchOnce: typeof fetch, { tries, firstDelay, longestDelay, sleep }: RetryOptions): typeof fetch {
  return async (input, init) => {
    const request = new Request(input, init);
    for (let tried = 1; ; tried++) {
      request.signal.throwIfAborted();
      const last = tried >= tries;
      const outcome = await whole(fetchOnce(request.clone())).catch((cause: unknown) => {
        request.signal.throwIfAborted();
        if (last) throw new FettleUnreachable('the service cannot be reached', { cause });
        return undefined;
      });
      if (outcome && (last || !BUSY.has(outcome.status))) return outcome;
      const delay = askedFor(outcome) ?? Math.min(firstDelay * 2 ** (tried - 1) * (0.75 + Math.random() / 2), longestDelay);
      if (outcome && delay > longestDelay) return outcome;
      await sleep(delay, request.signal);
    }
  };
}

/** The answer with all of its body: one that is cut off is none. */
async function whole(answer: Promise<Response>): Promise<Response> {
  const response = await answer;
  const { status, statusText, headers } = response;
  const body = await response.arrayBuffer();
  return new Response(WITHOUT_BODY.has(status) ? null : body, { status, statusText, headers });
}

/** Milliseconds that the service asks to wait. */
function askedFor(response: Response | undefined): number | undefined {
  const ms = Number(response?.headers.get('retry-after')) * 1000;
  return ms > 0 ? ms : undefined;
}

export const sleep = (ms: number, signal?: AbortSignal | null): Promise<void> =>
  new Promise((done, failed) => {
    const stop = (): void => {
      clearTimeout(timer);
      failed(signal?.reason);
    };
    const timer = setTimeout(() => {
      signal?.removeEventListener('abort', stop);
      done();
    }, ms);
    signal?.addEventListener('abort', stop, { once: true });
  });
