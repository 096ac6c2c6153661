/**
 * What a speedometer shows once tyres or axle ratio are not the ones it was set for.
 *
 *   shown = true · (1 + over-reading) · (Dset / Dnow) · (Rnow / Rset)
 *
 * over-reading: by how much it shows more than the true speed with the tyres it was set for; D: overall diameters (rolling
 * circumference is proportional to them); R: turns of the propeller shaft to one of the wheels, where the signal comes from the
 * output of gearbox or transfer case: a sensor that turns with the wheels does not feel it, and Rnow / Rset is 1. What may be
 * shown is in the rules and law packs. Speeds in m/s, diameters in metres and above zero. Assumes that both tyres give alike
 * under load. Worked: true 10 m/s, no over-reading, set for 776 mm, now 830 mm → 9.349 m/s; 4.10 → 4.56 as well, fed from the
 * gearbox → 10.398 m/s. Kinematics; any textbook.
 */
import type { Arithmetic } from '../../units/index.ts';

export interface Speedometer<N> {
  readonly overReading: N;
  readonly setDiameter: N;
  readonly diameter: N;
  /** Rnow / Rset, or 1. */
  readonly gearFactor: N;
}

export const shownSpeed = <N>(
  numbers: Arithmetic<N>,
  trueSpeed: N,
  { overReading, setDiameter, diameter, gearFactor }: Speedometer<N>,
): N =>
  numbers.over(
    numbers.times(numbers.times(numbers.times(trueSpeed, numbers.sum([numbers.of(1), overReading])), setDiameter), gearFactor),
    diameter,
  );
