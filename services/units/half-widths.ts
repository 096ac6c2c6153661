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

/**
 * Numbers that were made to agree with readings together are not independent: each may be nearly as open as before, while what was read of
 * them all is not. By what a fit leaves, I − WWᵀ in squares of half-widths before (`bounded-fit.ts`), with what each does for its half-width
 * now as b, they leave √( Σ (was b)² − Σ_k (Σ pinned_k b)² ) together.
 */
export interface Pin {
  /** Half-width before, in half-widths now; so are the others. */
  readonly was: number;
  readonly pinned: readonly number[];
}

/** Of what no reading has touched. */
export const LOOSE: Pin = { was: 1, pinned: [] };

/** A number that was made to agree with readings; SI. */
export interface Agreed {
  /** Half-width before. */
  readonly plusMinus: number;
  /** Half-width now. */
  readonly open: number;
  /** W, times the half-width before. */
  readonly pinned: readonly number[];
}

/** As a number now stands, with that half-width; loose where something else has come to be said of it. */
export function pinOf({ plusMinus, open, pinned }: Agreed, halfWidth: number): Pin {
  if (!(halfWidth > 0) || Math.abs(halfWidth - open) > 1e-9 * open) return LOOSE;
  return { was: plusMinus / halfWidth, pinned: pinned.map((w) => w / halfWidth) };
}

/** First-order slopes may promise nothing left at all. */
const LEAST = 1e-3;

/** What they leave together; and without what they have in common, with that beside it. */
export function leftTogether(offs: readonly { readonly by: number; readonly pin: Pin }[]) {
  const findings = Math.max(0, ...offs.map(({ pin }) => pin.pinned.length));
  const pinned = Array.from({ length: findings }, (_, k) => offs.reduce((sum, { by, pin }) => sum + by * (pin.pinned[k] ?? 0), 0));
  const loose = Math.hypot(...offs.map(({ by, pin }) => by * pin.was));
  const common = pinned.reduce((sum, p) => sum + p * p, 0);
  return { loose, pinned, left: common === 0 ? loose : Math.sqrt(Math.max((LEAST * loose) ** 2, loose ** 2 - common)) };
}
