/**
 * Simulated owners: readings until nothing is open that a reading could settle, as the answer asks for them against the same that bear on
 * what is open in no particular order; and how often a settled verdict is not that of the true vehicle.
 */
import { describe, expect, it } from 'vitest';
import { thorough } from '../faults/random.ts';
import { ask, type Owner } from './owners.ts';

const CLASSES = thorough
  ? ([
      'midsize_independent_front',
      'fullsize_independent_front',
      'solid_axle_short',
      'solid_axle_long',
      'light_truck_solid_axles',
      'van',
    ] as const)
  : (['midsize_independent_front', 'van'] as const);
const OWNERS = thorough ? 2 : 1;

/** Readings and minutes until a finding is settled, on the mean over all that get settled; `left` are not. */
function untilSettled({ course }: Owner, left: number) {
  const open = course[0]?.open ?? 0;
  const reached = Array.from({ length: open - left }, (_, i) => {
    const at = course.findIndex((here) => here.open <= left + i);
    return at < 0 ? course.length - 1 : at;
  });
  const mean = (of: (at: number) => number): number => reached.reduce((sum, at) => sum + of(at), 0) / Math.max(1, reached.length);
  return { readings: mean((at) => at), minutes: mean((at) => course[at]?.minutes ?? 0) };
}

describe('simulated owners', { timeout: thorough ? 3_600_000 : 180_000 }, () => {
  const pairs = CLASSES.flatMap((of) =>
    Array.from({ length: OWNERS }, (_, i) => {
      const asked = ask(of, i + 1, 'as asked');
      return { of, asked, random: ask(of, i + 1, 'at random', asked.open.length) };
    }),
  );

  it('never have a verdict that is wrong', () => {
    expect(pairs.flatMap(({ of, asked, random }) => [...asked.wrong, ...random.wrong].map((id) => `${of} ${id}`))).toEqual([]);
    for (const { asked, random } of pairs) expect(Math.min(asked.settled, random.settled)).toBeGreaterThan(30);
  });

  it('go on until all else there is to read settles next to nothing more', () => {
    const unasked = pairs.flatMap(({ of, asked }) => asked.unasked.map((id) => `${of} ${id}`));
    if (unasked.length > 0) console.log(`left open though something else would have settled it: ${unasked.join(', ')}`);
    expect(unasked.length).toBeLessThanOrEqual(0.02 * pairs.reduce((sum, { asked }) => sum + asked.settled, 0));
    for (const { asked } of pairs) expect(asked.open.length).toBeLessThan(asked.course[0]?.open ?? 0);
  });

  it('are told of each finding that stays open that no reading settles it', () => {
    expect(pairs.flatMap(({ of, asked }) => asked.untold.map((id) => `${of} ${id}`))).toEqual([]);
    const open = pairs.reduce((sum, { asked }) => sum + asked.open.length, 0);
    console.log(`${open} findings stay open, within what tools read to and what nobody reads`);
  });

  it('get there with fewer readings, and to each verdict far sooner, as asked than at random', () => {
    const sum = (of: (pair: (typeof pairs)[number]) => number): number => pairs.reduce((total, pair) => total + of(pair), 0);
    const sooner = (what: 'readings' | 'minutes'): readonly [number, number] => {
      const left = ({ asked, random }: (typeof pairs)[number]): number => Math.max(asked.open.length, random.open.length);
      return [sum((pair) => untilSettled(pair.asked, left(pair))[what]), sum((pair) => untilSettled(pair.random, left(pair))[what])];
    };
    const all = [sum(({ asked }) => asked.readings), sum(({ random }) => random.readings)] as const;
    const [readings, minutes] = [sooner('readings'), sooner('minutes')];
    const part = ([a, b]: readonly [number, number]): number => a / b;
    const told = ([a, b]: readonly [number, number]): string => `${(a / pairs.length).toFixed(1)} against ${(b / pairs.length).toFixed(1)}`;
    console.log(
      `${pairs.length} simulated owners, as asked against at random: ${told(all)} readings until nothing is to be settled; until a finding is settled, ` +
        `on the mean, ${told(readings)} readings and ${told(minutes)} minutes; ${sum(({ asked }) => asked.settled)} verdicts settled`,
    );
    expect(part(all)).toBeLessThan(0.95);
    expect(part(readings)).toBeLessThan(0.8);
    expect(part(minutes)).toBeLessThan(0.75);
  });
});
