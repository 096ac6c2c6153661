/** A whole plan (order, time, calendar, estimate, hand-over) against the check it begins with, in one run. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'yaml';
import { DEMO_FOLDER } from '../../services/paths.ts';
import type { PlanRequest } from '../../services/workshop/index.ts';
import { checker, demoCatalogue } from '../../services/workshop/testing.ts';
import { rate, report } from './timing.ts';

const ROUNDS = 5;
/** Of the rate of its check, what planning must leave: the job is planned once or twice, and put in order. */
const FLOOR = 0.2;

const perSecond = (work: () => unknown): number => {
  const start = performance.now();
  work();
  return 1000 / (performance.now() - start);
};
const median = (xs: readonly number[]): number => [...xs].sort((a, b) => a - b)[Math.floor(xs.length / 2)] as number;

export function benchPlans(): void {
  const { shop, estimate, state, ...build } = parse(readFileSync(join(DEMO_FOLDER, 'plans/bold.yaml'), 'utf8')) as PlanRequest;
  const [plan, check] = [
    () => checker.plan({ ...build, ...(shop && { shop }), ...(estimate && { estimate }), ...(state && { state }) }, demoCatalogue),
    () => checker.check(build, demoCatalogue),
  ];
  plan();
  const rounds = Array.from({ length: ROUNDS }, () => [perSecond(plan), perSecond(check)] as const);
  const [planned, checked] = [median(rounds.map(([a]) => a)), median(rounds.map(([, b]) => b))];
  report('a plan of the bold demo, against its check', planned / checked, FLOOR, `${rate(planned)} against ${rate(checked)}`);
}
