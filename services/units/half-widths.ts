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
 * now as b, they leave
 *
 *   √( Σ (was b)² − Σ_k ( (Σ pinned_k b)² + 2 (Σ pinned_k b)(Σ alongside_k b) ) )
 *
 * together. `alongside` is of what a reading says something of too, and was left as it had been said: only its share of the others is known.
 */
export interface Pin {
  /** Half-width before, in half-widths now; so are the others. */
  readonly was: number;
  readonly pinned: readonly number[];
  readonly alongside?: readonly number[];
}

/** Of what no reading has touched. */
export const LOOSE: Pin = { was: 1, pinned: [] };

/** A number that was made to agree with readings, or that readings rest on and that stays as it was said; SI. */
export interface Agreed {
  /** Half-width before. */
  readonly plusMinus: number;
  /** Half-width now. */
  readonly open: number;
  /** W, times the half-width before. */
  readonly pinned: readonly number[];
  readonly stays?: true;
}

/** As a number now stands, with that half-width; loose where something else has come to be said of it. */
export function pinOf({ plusMinus, open, pinned, stays }: Agreed, halfWidth: number): Pin {
  if (!(halfWidth > 0) || Math.abs(halfWidth - open) > 1e-9 * open) return LOOSE;
  const parts = pinned.map((w) => w / halfWidth);
  return stays ? { was: 1, pinned: [], alongside: parts } : { was: plusMinus / halfWidth, pinned: parts };
}

interface PinnedOff {
  readonly by: number;
  readonly pin: Pin;
}

/** What they leave together; and without what they have in common, with that beside it. */
export function leftTogether(offs: readonly PinnedOff[]) {
  const findings = Math.max(0, ...offs.map(({ pin }) => Math.max(pin.pinned.length, pin.alongside?.length ?? 0)));
  const of = (k: number, row: (pin: Pin) => readonly number[] | undefined): number =>
    offs.reduce((sum, { by, pin }) => sum + by * (row(pin)?.[k] ?? 0), 0);
  const all = Array.from({ length: findings }, (_, k) => k);
  const pinned = all.map((k) => of(k, (pin) => pin.pinned));
  const alongside = all.map((k) => of(k, (pin) => pin.alongside));
  const loose = Math.hypot(...offs.map(({ by, pin }) => by * pin.was));
  const common = all.reduce((sum, k) => sum + (pinned[k] as number) * ((pinned[k] as number) + 2 * (alongside[k] as number)), 0);
  // First-order slopes may promise nothing left at all.
  const left = common === 0 ? loose : Math.sqrt(Math.max((LEAST * loose) ** 2, loose ** 2 - common));
  return { loose, pinned, alongside, left };
}

const LEAST = 1e-3;
