/**
 * Axle loads by moments about the axles, and what springs give under them. Statics; any textbook.
 *
 *   front = m·(1 − x/L), rear = m·x/L, summed over the masses; sag = Δm·g/(2k)
 *
 * m: mass, kg; x: its distance behind the front axle, m (negative ahead of it); L: wheelbase, m, above zero; k: rate at each
 * wheel, N/m, above zero; g: standard gravity. Level ground, a rigid vehicle, heights left out. A mass beyond an axle takes load
 * off the other: 45 kg at 0.7 m ahead, L 2.8 → +56.25 / −11.25 kg; 300 kg at 1.2 m behind the rear → −128.6 / +428.6 (computed).
 */
import type { Arithmetic } from '../../units/index.ts';

export const STANDARD_GRAVITY = 9.80665;

export interface AxleShares<N = number> {
  readonly front: N;
  readonly rear: N;
}

export function axleSharesIn<N>(numbers: Arithmetic<N>, mass: N, behindFrontAxle: N, wheelbase: N): AxleShares<N> {
  const lever = numbers.over(behindFrontAxle, wheelbase);
  return { front: numbers.times(mass, numbers.minus(numbers.of(1), lever)), rear: numbers.times(mass, lever) };
}

/** How far an axle's springs give under more mass: m·g/(2k), k the rate at each wheel, N/m. Linear springs; small travel. 100 kg, 36 N/mm → 13.6 mm. */
export const sagIn = <N>(numbers: Arithmetic<N>, mass: N, wheelRate: N): N =>
  numbers.over(numbers.times(mass, numbers.of(STANDARD_GRAVITY / 2)), wheelRate);
