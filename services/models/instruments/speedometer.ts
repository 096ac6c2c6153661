/**
 * What a speedometer shows once the tyres are not the ones it was set for.
 *
 *   shown = true · (1 + over-reading) · Dset / Dnow
 *
 * over-reading: by how much it shows more than the true speed with the tyres it was set for; D: overall diameters (rolling
 * circumference is proportional to them). What may be shown is in the rules and law packs. Speeds in m/s, diameters in
 * metres and above zero. Assumes the sensor turns with the wheels, and that both tyres give alike under load.
 * Worked: true 10 m/s, no over-reading, set for 776 mm, now 830 mm → 9.349 m/s.
 */
import { type Arithmetic, NUMBERS } from '../../units/index.ts';

export const shownSpeed = (trueSpeed: number, overReading: number, setDiameter: number, diameter: number): number =>
  shownSpeedIn(NUMBERS, trueSpeed, overReading, setDiameter, diameter);

/** The same in any arithmetic. */
export const shownSpeedIn = <N>(numbers: Arithmetic<N>, trueSpeed: N, overReading: N, setDiameter: N, diameter: N): N =>
  numbers.over(numbers.times(numbers.times(trueSpeed, numbers.sum([numbers.of(1), overReading])), setDiameter), diameter);
