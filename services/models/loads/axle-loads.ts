/**
 * Axle loads by moments about the axles, and what springs give under them. Statics; any textbook.
 *
 *   front = m·(1 − x/L), rear = m·x/L
 *
 * m: mass, kg; x: its distance behind the front axle, m (negative ahead of it); L: wheelbase, m. A mass beyond an axle
 * takes load off the other: 45 kg at 0.7 m ahead, L 2.8 → +56.25 / −11.25 kg; 300 kg at 1.2 m behind the rear → −128.6 / +428.6.
 */
export const STANDARD_GRAVITY = 9.80665;

export interface AxleShares {
  readonly front: number;
  readonly rear: number;
}

export function axleShares(mass: number, behindFrontAxle: number, wheelbase: number): AxleShares {
  const rear = (mass * behindFrontAxle) / wheelbase;
  return { front: mass - rear, rear };
}

/** How far an axle's springs give under more mass: m·g/(2k), k the rate at each wheel, N/m. Linear springs; small travel. */
export const sagOf = (mass: number, wheelRate: number): number => (mass * STANDARD_GRAVITY) / (2 * wheelRate);
