/** The worker of `checks.ts`: loads the rules once, then checks what it is given. */
import { workerData } from 'node:worker_threads';
import { type Checked, createChecker, loadRules } from '../workshop/index.ts';
import type { CheckJob } from './checks.ts';

const { rulesFolder } = workerData as { readonly rulesFolder: string };
const checker = createChecker(loadRules(rulesFolder));

export default ({ request, catalogue }: CheckJob): Checked => checker.check(request, catalogue);
