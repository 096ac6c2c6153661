/**
 * Axle loads by moments about the axles, and what springs give under them. Statics; any textbook.
 *
 *   front = m·(1 − x/L), rear = m·x/L, summed over the masses; sag = Δm·g/(2k)
 *
 * m: mass, kg; x: its distance behind the front axle, m (negative ahead of it); L: wheelbase, m, above zero; k: rate at each
 * wheel, N/m, above zero; g: standard gravity. Level ground, a rigid vehicle, heights left out. A mass beyond an axle takes load
 * off the other: 45 kg at 0.7 m ahead, L 2.8 → +56.25 / −11.25 kg; 300 kg at 1.2 m behind the rear → −128.6 / +428.6 (computed).
 */
import { type Arithmetic, NUMBERS } from '../../units/index.ts';
import { found, type Outcome, refused } from '../result.ts';

export const STANDARD_GRAVITY = 9.80665;

export interface AxleShares<N = number> {
  readonly front: N;
  readonly rear: N;
}

export const axleShares = (mass: number, behindFrontAxle: number, wheelbase: number): AxleShares =>
  axleSharesIn(NUMBERS, mass, behindFrontAxle, wheelbase);

/** The same in any arithmetic. */
export function axleSharesIn<N>(numbers: Arithmetic<N>, mass: N, behindFrontAxle: N, wheelbase: N): AxleShares<N> {
  const lever = numbers.over(behindFrontAxle, wheelbase);
  return { front: numbers.times(mass, numbers.minus(numbers.of(1), lever)), rear: numbers.times(mass, lever) };
}

export interface PlacedMass {
  readonly mass: number;
  readonly behindFrontAxle: number;
}

/** Axle loads of a vehicle on the scales and any number of masses put on it; masses taken off are negative. An axle that would lift is refused. */
export function axleLoads(onScales: AxleShares, masses: readonly PlacedMass[], wheelbase: number): Outcome<AxleShares> {
  if (!(wheelbase > 0)) return refused('a wheelbase is above zero');
  const shares = [onScales, ...masses.map(({ mass, behindFrontAxle }) => axleShares(mass, behindFrontAxle, wheelbase))];
  const total = { front: sum(shares.map(({ front }) => front)), rear: sum(shares.map(({ rear }) => rear)) };
  if (Number.isNaN(total.front + total.rear)) return refused('a mass or its place is not known');
  const lifted = total.front < 0 ? 'front' : total.rear < 0 ? 'rear' : undefined;
  return lifted ? refused(`the ${lifted} axle would lift off the ground`) : found(total);
}

const sum = (xs: readonly number[]): number => xs.reduce((total, x) => total + x, 0);

export const grossMass = ({ front, rear }: AxleShares): number => front + rear;

/** How far an axle's springs give under more mass: m·g/(2k), k the rate at each wheel, N/m. Linear springs; small travel. 100 kg, 36 N/mm → 13.6 mm. */
export const sagOf = (mass: number, wheelRate: number): number => sagIn(NUMBERS, mass, wheelRate);
export const sagIn = <N>(numbers: Arithmetic<N>, mass: N, wheelRate: N): N =>
  numbers.over(numbers.times(mass, numbers.of(STANDARD_GRAVITY / 2)), wheelRate);
