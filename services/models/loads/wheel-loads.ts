/**
 * What a wheel further out, a taller or a heavier one does to bearings, and to everything that speeds up and slows down.
 *
 *   bearing moment  M = W·(e + s) + c·W·R      growth M₂/M₁ − 1
 *   rotating mass   Δm·(1 + κ²), κ the wheel's radius of gyration over its own radius (a wheel speeds up along the road and about its axis)
 *
 * W: load on the wheel, any unit; e: wheel's centre plane from the middle of its bearings, outboard positive; s: outward shift; R: loaded
 * radius; c: sideways force as a share of the load in ordinary cornering, 0.25 (common practice, no source). κ² about 0.7 for a tyred wheel
 * (common practice, no source; a hoop has 1, a disc 0.5). Statics and a rigid body; metres. Worked: e 10 mm, R 361 → 386 mm, s 25 mm, the
 * same load → (0.035 + 0.0965)/(0.010 + 0.09025) − 1 = 31 %.
 */
import type { Arithmetic } from '../../units/index.ts';

const CORNERING = 0.25;
const GYRATION_SQUARED = 0.7;

export interface BearingCase<N> {
  readonly load: N;
  /** Of the wheel's centre plane, outboard of the bearings' middle. */
  readonly arm: N;
  readonly radius: N;
}

export const bearingMoment = <N>(numbers: Arithmetic<N>, { load, arm, radius }: BearingCase<N>): N =>
  numbers.times(load, numbers.sum([arm, numbers.times(numbers.of(CORNERING), radius)]));

/** What a mass added to wheels weighs on engine and brakes. */
export const rotatingMass = <N>(numbers: Arithmetic<N>, added: N): N => numbers.times(numbers.of(1 + GYRATION_SQUARED), added);
