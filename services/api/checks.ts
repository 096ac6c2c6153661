/** Checks off the event loop: each on a worker thread that has the rules ready. */
import { fileURLToPath } from 'node:url';
import { Piscina } from 'piscina';
import type { Catalogue, CheckRequest, WhatIfRequest } from '../vehicle/index.ts';
import type { Checked, Checker, Planned, PlanRequest, SheetForm, WhatIfChecked } from '../workshop/index.ts';
import { planSheet } from '../workshop/index.ts';
import { ApiError } from './errors.ts';

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

export type CheckJob =
  | { readonly ask: 'check'; readonly request: CheckRequest; readonly catalogue: Catalogue }
  | { readonly ask: 'what-if'; readonly request: WhatIfRequest; readonly catalogue: Catalogue }
  | { readonly ask: 'plan'; readonly request: PlanRequest; readonly catalogue: Catalogue; readonly form?: SheetForm };

const LONGEST_QUEUE = 200;

/** Worker threads that each load the folder of rules. Past a full queue it throws, and the service says it is busy. */
export function pooledRunner(rulesFolder: string, threads: number): CheckRunner {
  const pool = new Piscina({
    filename: fileURLToPath(new URL('./check-worker.ts', import.meta.url)),
    workerData: { rulesFolder },
    execArgv: ['--import', 'tsx'],
    minThreads: 1,
    maxThreads: threads,
    maxQueue: LONGEST_QUEUE,
  });
  return {
    run: (request, catalogue) => pool.run({ ask: 'check', request, catalogue } satisfies CheckJob),
    whatIf: (request, catalogue) => pool.run({ ask: 'what-if', request, catalogue } satisfies CheckJob),
    plan: (request, catalogue, form) => pool.run({ ask: 'plan', request, catalogue, ...(form && { form }) } satisfies CheckJob),
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

/** A full queue of checks is no failure: it asks the caller to come back. */
export const orBusy = <T>(asked: Promise<T>): Promise<T> =>
  asked.catch((error: unknown) => {
    if (error instanceof Error && /queue/i.test(error.message))
      throw new ApiError('UNAVAILABLE', 'Too many checks are waiting.', [], { 'retry-after': '1' });
    throw error;
  });
