/** The worker of `checks.ts`: loads the rules once, then checks what it is given. */
import { workerData } from 'node:worker_threads';
import { type Checked, createChecker, loadRules, type WhatIfChecked } from '../workshop/index.ts';
import { type CheckJob, sheetOf, WAITED_TOO_LONG } from './checks.ts';

const { rulesFolder } = workerData as { readonly rulesFolder: string };
const checker = createChecker(loadRules(rulesFolder));

export default (job: CheckJob): Checked | WhatIfChecked | Promise<unknown> => {
  if (Date.now() > job.until) throw new Error(WAITED_TOO_LONG);
  if (job.ask === 'plan') return sheetOf(checker.plan(job.request, job.catalogue), job.form);
  return job.ask === 'what-if' ? checker.whatIf(job.request, job.catalogue) : checker.check(job.request, job.catalogue);
};
