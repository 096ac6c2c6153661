/** Critical paths and three-point estimates against worked examples of textbooks. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { criticalPath } from '../../services/workshop/plan/critical-path.ts';
import { estimateSum, meanOf, quantile } from '../../services/workshop/plan/time.ts';

interface Example {
  readonly source: string;
  readonly tolerance: number;
  readonly activities: readonly {
    readonly name: string;
    readonly time?: number;
    readonly three?: readonly [number, number, number];
    readonly mean?: number;
    readonly variance?: number;
    readonly after: readonly string[];
    readonly times?: readonly number[];
  }[];
  readonly length: number;
  readonly path: readonly string[];
  readonly variance?: number;
  readonly chance?: { readonly within: number; readonly is: number };
}

const examples = parse(readFileSync(new URL('./planning.yaml', import.meta.url), 'utf8')) as Example[];

describe.each(examples)('$source', ({ activities, tolerance, length, path, variance, chance }) => {
  const place = new Map(activities.map(({ name }, i) => [name, i]));
  const spreadOf = (three: readonly [number, number, number]) => ({ low: three[0], likely: three[1], high: three[2] });
  const found = criticalPath(
    activities.map(({ time, three, after }) => ({
      duration: time ?? meanOf(spreadOf(three as [number, number, number])),
      before: after.map((name) => place.get(name) as number),
    })),
    activities.map((_, i) => i),
  );
  const near = (value: number | undefined, expected: number): void =>
    expect(Math.abs((value as number) - expected)).toBeLessThanOrEqual(tolerance + 1e-9);

  it('has its length and its path', () => {
    near(found.length, length);
    expect(found.path.map((i) => activities[i]?.name)).toEqual(path);
  });

  it('has its times', () => {
    for (const [i, { times, three, mean, variance: own }] of activities.entries()) {
      const { earliestStart, earliestFinish, latestStart, latestFinish, slack } = found.activities[i] as (typeof found.activities)[number];
      if (times) expect([earliestStart, earliestFinish, latestStart, latestFinish, slack]).toEqual(times);
      if (!three) continue;
      const estimate = estimateSum([spreadOf(three)]);
      near(estimate.mean, mean as number);
      near(estimate.deviation ** 2, own as number);
    }
  });

  // Of those without three points nothing of the kind is published.
  if (variance === undefined) return;
  it('has its variance, and its chance to be ready', () => {
    const along = estimateSum(found.path.map((i) => spreadOf(activities[i]?.three as [number, number, number])));
    near(along.deviation ** 2, variance as number);
    // To the two decimals that tables of the normal distribution are entered with.
    if (chance) expect(Math.abs(quantile(along, chance.is, false) - chance.within)).toBeLessThan(0.01 * along.deviation);
  });
});
