/** Chance that can be had again: a test that fails prints its seed. */
export interface Random {
  /** From 0 up to but not including 1. */
  next(): number;
  below(n: number): number;
  pick<T>(of: readonly T[]): T;
}

/** mulberry32, public domain. */
export function random(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  const below = (n: number): number => Math.floor(next() * n);
  return { next, below, pick: (of) => of[below(of.length)] as never };
}

/** Where in its tolerance something lies, in half-widths. */
export type Spread = (random: () => number) => number;

/** Anywhere within the tolerance, and as often as not right at its ends. */
export const within: Spread = (random) => (random() < 0.5 ? 2 * random() - 1 : random() < 0.5 ? -1 : 1);

/** Normal, the tolerance being two standard deviations (Box and Muller, 1958). */
export const normal: Spread = (random) => 0.5 * Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

/** The same, cut off where the tolerance ends: what a vehicle within its tolerances is. */
export const clipped: Spread = (random) => Math.max(-1, Math.min(1, normal(random)));

/** How much of a fault test is run: a little in `npm test`, all of it in `npm run verify`. */
export const thorough = process.env['FETTLE_VERIFY'] === '1';
