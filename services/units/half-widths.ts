/**
 * How far off a number may be for what several others leave open: with all of them at their worst at once, and by root sum of squares, which
 * takes them as independent and holds what each of their tolerances holds (textbook tolerance stack-up, memory). SI, never below zero.
 */
export interface HalfWidths {
  readonly worst: number;
  readonly rss: number;
}

/** Of one tolerance: both are the same. */
export const bothWays = (plusMinus: number): HalfWidths => ({ worst: plusMinus, rss: plusMinus });

/** Of a sum whose terms are off independently. */
export const stacked = (terms: readonly HalfWidths[]): HalfWidths => ({
  worst: terms.reduce((sum, { worst }) => sum + worst, 0),
  rss: Math.hypot(...terms.map(({ rss }) => rss)),
});
