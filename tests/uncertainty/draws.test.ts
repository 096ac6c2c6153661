/** Monte Carlo against the bands: what is called proven is never passed, and the root-sum-square band holds what it says. */
import { describe, expect, it } from 'vitest';
import { normal, thorough, within } from '../faults/random.ts';
import { cornersOf, type Drawn, draw, isOutside, vehicleOf } from './draws.ts';

const DRAWS = thorough ? 100_000 : 2_000;
/** Margins behind the front's geometry take some ms a draw. */
const DRAWS_BEHIND_GEOMETRY = thorough ? 5_000 : 300;
const BUILDS = ['modest', 'bolder', 'bold', 'bare'] as const;

/** With as many, every corner is tried. */
const MOST_STATEMENTS = 11;

/** As a part of a band. */
const HAIR = 0.02;

const isProven = ({ result: { lowIs, highIs } }: Drawn): boolean => lowIs === 'proven' && highIs === 'proven';
const touches = ({ result: { lowIs, highIs } }: Drawn): boolean => lowIs === 'proven' || highIs === 'proven';

/** Left and right that come out alike are one. */
const distinct = (margins: readonly Drawn[]): Drawn[] => [
  ...new Map(margins.map((one) => [`${one.name.split('/')[0]} ${one.result.margin} ${one.result.low} ${one.result.high}`, one])).values(),
];

function coverage(margins: readonly Drawn[], of: ReturnType<typeof vehicleOf>, draws: number): number[] {
  const inside = margins.map(() => 0);
  draw(of, margins, draws, normal, (i, margin) => {
    const { rss, scale } = (margins[i] as Drawn).result;
    if (rss && margin >= rss.low - 1e-9 * scale && margin <= rss.high + 1e-9 * scale) inside[i] = (inside[i] as number) + 1;
  });
  return inside.map((n) => n / draws);
}

const mean = (all: readonly number[]): number => all.reduce((sum, x) => sum + x, 0) / all.length;

/** Those of near-linear margins that hold less than they claim, or much more. */
const apart = (margins: readonly Drawn[], held: readonly number[], draws: number) =>
  margins.flatMap(({ name, result: { rss } }, i) => {
    const is = held[i] as number;
    return rss?.nearLinear && (is < 0.95 - sampling(draws) || is > 0.98 + sampling(draws)) ? [[name, is]] : [];
  });

/** Four standard errors of a share of 95 %. */
const sampling = (draws: number): number => 4 * Math.sqrt((0.95 * 0.05) / draws);

describe.each(BUILDS)('%s, drawn at random', { timeout: thorough ? 3_600_000 : 300_000 }, (name) => {
  const vehicle = vehicleOf(name);
  const margins = distinct(vehicle.margins);
  const proven = margins.filter(touches);

  it('never passes an end called proven', () => {
    expect(proven.length).toBeGreaterThan(25);
    const outside = new Set<string>();
    let nearer = 0;
    draw(vehicle, proven, DRAWS, within, (i, margin) => {
      const { name: of, result } = proven[i] as Drawn;
      if (isOutside(result, margin, 'proven')) outside.add(of);
      // Were the ends a tenth of the band further in, it would be seen.
      const tenth = (result.high - result.low) / 10;
      if (isOutside({ ...result, low: result.low + tenth, high: result.high - tenth }, margin, 'proven')) nearer++;
    });
    expect([...outside]).toEqual([]);
    expect(nearer).toBeGreaterThan(DRAWS);
  });

  it('is inside the root-sum-square band 19 times in 20 where a margin is near linear', () => {
    const straight = margins.filter((one) => isProven(one) && one.result.rss?.nearLinear && one.result.high > one.result.low);
    expect(straight.length).toBeGreaterThan(8);
    const held = coverage(straight, vehicle, DRAWS);
    expect(apart(straight, held, DRAWS)).toEqual([]);
    // Were it half as wide, or twice, not one in twenty would lie outside.
    expect(mean(held)).toBeGreaterThan(0.945);
    expect(mean(held)).toBeLessThan(0.975);
  });

  it('has no corner beyond its ends, where all of them can be tried', () => {
    const tried = margins.flatMap((one) => {
      const corners = cornersOf(vehicle, one, MOST_STATEMENTS);
      const { low, high, scale } = one.result;
      if (!corners || !(high > low)) return [];
      const slack = 1e-6 * scale + HAIR * (high - low);
      return [{ name: one.name, inside: corners[0] >= low - slack && corners[1] <= high + slack, corners, low, high }];
    });
    expect(tried.length).toBeGreaterThan(15);
    expect(tried.filter(({ inside }) => !inside)).toEqual([]);
  });

  it('behind geometry too, and hardly passes the ends that were searched', () => {
    const behind = margins.filter((one) => !isProven(one) && one.result.high > one.result.low);
    const held = coverage(behind, vehicle, DRAWS_BEHIND_GEOMETRY);
    expect(apart(behind, held, DRAWS_BEHIND_GEOMETRY)).toEqual([]);
    const near = held.filter((_, i) => behind[i]?.result.rss?.nearLinear);
    expect(mean(near)).toBeGreaterThan(0.94);
    expect(mean(near)).toBeLessThan(0.985);
    const outside = new Set<string>();
    draw(vehicle, behind, DRAWS_BEHIND_GEOMETRY, within, (i, margin) => {
      const { name: of, result } = behind[i] as Drawn;
      // A search may stop short of an end; by no more than a hair of the band.
      const slack = HAIR * (result.high - result.low);
      if (isOutside({ ...result, low: result.low - slack, high: result.high + slack }, margin, 'searched')) outside.add(of);
    });
    expect([...outside]).toEqual([]);
    if (thorough) {
      const bent = margins.filter(({ result: { rss } }) => rss && !rss.nearLinear);
      const share = coverage(bent, vehicle, DRAWS_BEHIND_GEOMETRY);
      console.log(`${name}: not near linear: ${bent.map((one, i) => `${one.name} ${share[i]}`).join(', ') || 'none'}`);
    }
  });
});
