/** Tries again, when the service is busy or cannot be reached, what is done once however often it is sent. */

export interface RetryOptions {
  /** Tries in all; 1 does not try again. */
  readonly tries: number;
  /** Milliseconds before the second try; doubled each time, with a little chance so that clients do not come back together. */
  readonly firstDelay: number;
  readonly sleep: (ms: number, signal?: AbortSignal | null) => Promise<void>;
}

const BUSY: ReadonlySet<number> = new Set([429, 502, 503, 504]);
const LONGEST_DELAY = 20_000;

export function retrying(fetchOnce: typeof fetch, { tries, firstDelay, sleep }: RetryOptions): typeof fetch {
  return async (input, init) => {
    const request = new Request(input, init);
    for (let tried = 1; ; tried++) {
      request.signal.throwIfAborted();
      const last = tried >= tries;
      const outcome = await fetchOnce(request.clone()).catch((error: unknown) => {
        if (last || request.signal.aborted) throw error;
        return undefined;
      });
      if (outcome && (last || !BUSY.has(outcome.status))) return outcome;
      await sleep(delayBefore(tried, firstDelay, outcome), request.signal);
    }
  };
}

function delayBefore(tried: number, firstDelay: number, response: Response | undefined): number {
  const asked = Number(response?.headers.get('retry-after')) * 1000;
  if (asked > 0) return Math.min(asked, LONGEST_DELAY);
  return Math.min(firstDelay * 2 ** (tried - 1) * (0.75 + Math.random() / 2), LONGEST_DELAY);
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
