/**
 * Static stability factor: half of the track over the height of the centre of mass, T / 2h. A rigid body on a level road tips
 * at that sideways acceleration, in g (statics; any textbook).
 *
 *   h = Σ m·h / Σ m, over the vehicle and what is put on it
 *
 * kg and m. Worked: 2000 kg at 0.7 m and 100 kg at 1.96 m → 0.76 m; track 1.52 m → 1.0.
 */
import type { Arithmetic } from '../../units/index.ts';

export interface HighMass<N> {
  readonly mass: N;
  readonly height: N;
}

export const centreHeight = <N>(numbers: Arithmetic<N>, masses: readonly HighMass<N>[]): N =>
  numbers.over(numbers.sum(masses.map(({ mass, height }) => numbers.times(mass, height))), numbers.sum(masses.map(({ mass }) => mass)));

export const stabilityFactor = <N>(numbers: Arithmetic<N>, track: N, height: N): N =>
  numbers.over(track, numbers.times(numbers.of(2), height));
