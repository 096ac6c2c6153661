/**
 * What a speedometer shows once the tyres are not the ones it was set for.
 *
 *   shown = true · (1 + over-reading) · Dset / Dnow
 *
 * over-reading: by how much it shows more than the true speed with the tyres it was set for; D: overall diameters (rolling
 * circumference is proportional to them). UN R39 5.3: 0 ≤ V1 − V2 ≤ V2/10 + 4 km/h, V1 shown, V2 true (second-hand):
 * at a true 50 km/h, 50 to 59 may be shown. 49 CFR 393.82: within 5 mph (8 km/h) at 50 mph (seen). Speeds in m/s, diameters in
 * metres and above zero. Assumes the sensor turns with the wheels, and that both tyres give alike under load.
 * Worked: true 10 m/s, no over-reading, set for 776 mm, now 830 mm → 9.349 m/s.
 */
import { type Arithmetic, NUMBERS } from '../../units/index.ts';

const KILOMETRE_AN_HOUR = 1 / 3.6;

export const shownSpeed = (trueSpeed: number, overReading: number, setDiameter: number, diameter: number): number =>
  shownSpeedIn(NUMBERS, trueSpeed, overReading, setDiameter, diameter);

/** The same in any arithmetic. */
export const shownSpeedIn = <N>(numbers: Arithmetic<N>, trueSpeed: N, overReading: N, setDiameter: N, diameter: N): N =>
  numbers.over(numbers.times(numbers.times(trueSpeed, numbers.sum([numbers.of(1), overReading])), setDiameter), diameter);

/** The least and the most that may be shown at a true speed, by UN R39 5.3. It is tested at 40, 80 and 120 km/h or near the top speed. */
export const shownAllowed = (trueSpeed: number): { readonly least: number; readonly most: number } => ({
  least: trueSpeed,
  most: trueSpeed + trueSpeed / 10 + 4 * KILOMETRE_AN_HOUR,
});

export const MOTOR_CARRIER_SPEED = 50 * 0.44704;
export const MOTOR_CARRIER_TOLERANCE = 5 * 0.44704;

/** By how much a speedometer is out at a true 50 mph, as 49 CFR 393.82 asks: shown less true. */
export const outAtFiftyMph = (overReading: number, setDiameter: number, diameter: number): number =>
  shownSpeed(MOTOR_CARRIER_SPEED, overReading, setDiameter, diameter) - MOTOR_CARRIER_SPEED;
