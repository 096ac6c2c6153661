/**
 * From three times an operation to the spread of a job.
 *
 * Symbols: a least, m most likely, b most, of one operation [any unit of time].
 * Equations: mean (a + 4 m + b) / 6, variance ((b - a) / 6)^2 (the three-point estimate of a beta distribution); means add
 * up, variances too where operations err independently; the sum is taken as normal.
 * Assumptions: a and b are about one in a hundred either way. Operations on one vehicle do not err independently: rust
 * makes all of them slow. So the spread is also given as if they erred together, where standard deviations add up; the
 * truth is between.
 * Source: D. Malcolm, J. Roseboom, C. Clark, W. Fazar, "Application of a technique for research and development program
 * evaluation", Operations Research 7 (1959) 646-669 (from memory); worked examples in tests/published/planning.
 * Worked value: 4, 5, 12 gives 6 and 16/9.
 */
import type { Spread } from '../../engine/planning.ts';

export interface Estimate {
  readonly mean: number;
  /** As if the operations erred independently. */
  readonly deviation: number;
  /** As if they erred together. */
  readonly deviationTogether: number;
}

export const NO_TIME: Estimate = { mean: 0, deviation: 0, deviationTogether: 0 };

export const meanOf = ({ low, likely, high }: Spread): number => (low + 4 * likely + high) / 6;
export const deviationOf = ({ low, high }: Spread): number => (high - low) / 6;

export function estimateSum(spreads: readonly Spread[]): Estimate {
  return spreads.reduce(
    ({ mean, deviation, deviationTogether }, spread) => ({
      mean: mean + meanOf(spread),
      deviation: Math.hypot(deviation, deviationOf(spread)),
      deviationTogether: deviationTogether + deviationOf(spread),
    }),
    NO_TIME,
  );
}

export function sumSpreads(spreads: readonly Spread[]): Spread {
  return spreads.reduce((a, b) => ({ low: a.low + b.low, likely: a.likely + b.likely, high: a.high + b.high }), {
    low: 0,
    likely: 0,
    high: 0,
  });
}

/** What is not exceeded in that share of jobs, should operations err independently or together. */
export const quantile = ({ mean, deviation, deviationTogether }: Estimate, share: number, together: boolean): number =>
  mean + normalQuantile(share) * (together ? deviationTogether : deviation);

/** The normal distribution function; W. J. Cody's erfc is more than is needed, so Abramowitz and Stegun 7.1.26, |error| < 1.5e-7. */
function normalShare(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const poly = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const tail = poly * Math.exp(-x * x);
  return z >= 0 ? 1 - tail / 2 : tail / 2;
}

/** By halving: the distribution function never falls. */
function normalQuantile(share: number): number {
  if (!(share > 0 && share < 1)) throw new RangeError(`a share lies between 0 and 1, and is ${share}`);
  let [low, high] = [-8, 8];
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (normalShare(middle) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
