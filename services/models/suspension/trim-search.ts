/** How far an obstacle must go back along one direction so that its least gap is just what is required. */
import { found, type Outcome } from '../result.ts';

/** No bracket is cut further than this; past it, say so. */
const MOST_TRIMMED = 0.15;

export const noTrim = (obstacle: string): string =>
  `${obstacle}: no trim up to ${MOST_TRIMMED * 1000} mm along one direction gives it that gap; it must be moved or reshaped`;

export interface Gapped {
  readonly gap: number;
}

/**
 * The amount, and what there is then. Another place of the obstacle may then be the nearest, so the amount is found by
 * repeating the search, and is at least `required` less the gap there was. Undefined: no amount up to the most does.
 */
export function trimTo<T extends Gapped>(
  before: T,
  required: number,
  after: (amount: number) => Outcome<T>,
): Outcome<{ readonly amount: number; readonly after: T } | undefined> {
  if (before.gap >= required) return found({ amount: 0, after: before });
  let amount = required - before.gap;
  let [low, high, slope] = [0, Number.POSITIVE_INFINITY, 1];
  let last = { amount: 0, gap: before.gap };
  for (let i = 0; i < 40 && amount <= MOST_TRIMMED; i++) {
    const now = after(amount);
    if (!now.ok) return now;
    const { gap } = now.value;
    if (Math.abs(gap - required) < 2e-8) return found({ amount, after: now.value });
    if (gap < required) low = amount;
    else high = amount;
    if (gap !== last.gap && amount !== last.amount) slope = (gap - last.gap) / (amount - last.amount);
    last = { amount, gap };
    const next = amount + (required - gap) / Math.min(1.5, Math.max(0.2, slope));
    amount = next > low && next < high ? next : high < 1 ? (low + high) / 2 : low * 1.5;
  }
  return found(undefined);
}
