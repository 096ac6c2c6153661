/** Checks off the event loop: each on a worker thread that has the rules ready. */
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { Piscina } from 'piscina';
import type { Catalogue, CheckRequest, WhatIfRequest } from '../vehicle/index.ts';
import type { Checked, Checker, Planned, PlanRequest, SheetForm, WhatIfChecked } from '../workshop/index.ts';
import { planSheet } from '../workshop/index.ts';
import { unavailable } from './errors.ts';
import { ANSWER_WITHIN_MS } from './limits.ts';

export interface CheckRunner {
  run(request: CheckRequest, catalogue: Catalogue): Promise<Checked>;
  whatIf(request: WhatIfRequest, catalogue: Catalogue): Promise<WhatIfChecked>;
  /** A plan, or a sheet of it. */
  plan(request: PlanRequest, catalogue: Catalogue, form?: SheetForm): Promise<Planned | PlanSheet>;
  close(): Promise<void>;
}

export interface PlanSheet {
  readonly ok: true;
  readonly sheet: Uint8Array;
}

/** What a worker is asked, and until when anybody waits for it: milliseconds of the clock, which the threads share. */
export type CheckJob = { readonly until: number } & Asked;

type Asked =
  | { readonly ask: 'check'; readonly request: CheckRequest; readonly catalogue: Catalogue }
  | { readonly ask: 'what-if'; readonly request: WhatIfRequest; readonly catalogue: Catalogue }
  | { readonly ask: 'plan'; readonly request: PlanRequest; readonly catalogue: Catalogue; readonly form?: SheetForm };

/** Of a worker; else its heap grows with the machine's memory, as long as there is garbage to lie about. */
const MOST_HEAP_MB = 1024;
const LONGEST_QUEUE = 200;
/** Beyond it whoever asked has been answered that it takes too long: the work would be for nobody, and everyone behind it late. */
const LONGEST_WAIT_MS = ANSWER_WITHIN_MS;
export const WAITED_TOO_LONG = 'waited too long in the queue';
/** One for each processor: a check keeps one busy. */
export const CHECK_THREADS = availableParallelism();

/** Worker threads that each load the folder of rules. Past a full queue it throws, and the service says it is busy. */
export function pooledRunner(rulesFolder: string, threads = CHECK_THREADS, longestWaitMs = LONGEST_WAIT_MS): CheckRunner {
  const pool = new Piscina({
    filename: fileURLToPath(new URL('./check-worker.ts', import.meta.url)),
    workerData: { rulesFolder },
    execArgv: ['--import', 'tsx'],
    minThreads: 1,
    maxThreads: threads,
    maxQueue: LONGEST_QUEUE,
    resourceLimits: { maxOldGenerationSizeMb: MOST_HEAP_MB },
  });
  const run = (asked: Asked) => pool.run({ ...asked, until: Date.now() + longestWaitMs } satisfies CheckJob);
  return {
    run: (request, catalogue) => run({ ask: 'check', request, catalogue }),
    whatIf: (request, catalogue) => run({ ask: 'what-if', request, catalogue }),
    plan: (request, catalogue, form) => run({ ask: 'plan', request, catalogue, ...(form && { form }) }),
    close: () => pool.close(),
  };
}

/** Checks on the calling thread; for tools that check once and end. */
export const inlineRunner = (checker: Checker): CheckRunner => ({
  run: async (request, catalogue) => checker.check(request, catalogue),
  whatIf: async (request, catalogue) => checker.whatIf(request, catalogue),
  plan: async (request, catalogue, form) => sheetOf(checker.plan(request, catalogue), form),
  close: async () => {},
});

/** Sheets are made where the plan is: on the worker. */
export const sheetOf = async (planned: Planned, form: SheetForm | undefined): Promise<Planned | PlanSheet> =>
  planned.ok && form ? { ok: true, sheet: await planSheet(planned.plan, form) } : planned;

export const runCheck = (checks: CheckRunner, request: CheckRequest, catalogue: Catalogue): Promise<Checked> =>
  orBusy(checks.run(request, catalogue));

/** A queue of checks that is full or too slow is no failure: it asks the caller to come back. */
export const orBusy = <T>(asked: Promise<T>): Promise<T> =>
  asked.catch((error: unknown) => {
    if (error instanceof Error && /queue/i.test(error.message)) throw unavailable('Too many checks are waiting.', 1);
    throw error;
  });
