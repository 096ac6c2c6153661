/**
 * What turns how fast: engine, propeller shafts and wheels; and the axle ratio that suits another tyre.
 *
 *   wheel speed     ω = 2π·v / U, U the rolling circumference
 *   shaft speed     ω · i_axle; engine speed ω · i_axle · i_gear · i_transfer (no slip; in mph, inches and rpm the trade's
 *                   speed · ratio · 336 / diameter, 336 = 63360/(60π), which takes the tyre as rigid)
 *   matching ratio  i_new = i_old · D_new / D_old     (engine speed as before)
 *   crawl ratio     i_first · i_low · i_axle; speed at idle = ω_idle · U / (2π · crawl ratio)
 *   pull at the wheels for an engine torque goes as i / D: growth g of the tyres takes 1 − 1/(1 + g) of it
 *   critical speed  ω = π²·√(E·I/(ρ·A)) / L²: a uniform tube, simply supported, first bending mode (beam theory); run it to at
 *                   most 0.75 of that (trade pages, second-hand: 70 to 80 %)
 *
 * SI: m, m/s, rad/s. Worked: 33 in at 65 mph with 4.56, direct drive, rigid tyre → 3018 rpm; 4.10 and 776 → 830 mm → 4.385;
 * a steel tube 45 in long, 3.5 over 3.334 in → 11 370 rpm.
 */
import { found, type Outcome, refused } from '../result.ts';

/** Of what is geared to the wheel by a ratio; 1 for the wheel itself. */
export const gearedSpeed = (speed: number, circumference: number, ratio: number): number => ((2 * Math.PI * speed) / circumference) * ratio;

/** The axle ratio that gives the engine speed there was. */
export const matchingRatio = (ratio: number, from: number, to: number): number => (ratio * to) / from;

/**
 * Ratios that ring and pinion sets for light trucks are cut to (trade pages, second-hand, and memory; which of them there are for an
 * axle is for its maker's list to say).
 */
export const AXLE_RATIOS: readonly number[] = [
  2.73, 3.07, 3.08, 3.21, 3.31, 3.42, 3.54, 3.55, 3.58, 3.7, 3.73, 3.9, 3.91, 3.92, 4.09, 4.1, 4.11, 4.27, 4.3, 4.37, 4.44, 4.56, 4.63, 4.7,
  4.86, 4.88, 5.13, 5.29, 5.38, 5.71, 5.86, 6.17, 7.17,
];

/** The available ratio nearest to a wanted one, by share; of two as near the numerically higher, which pulls better. */
export function nearestRatio(wanted: number, among: readonly number[] = AXLE_RATIOS): Outcome<number> {
  if (!(wanted > 0)) return refused('a ratio is above zero');
  const off = (ratio: number): number => Math.abs(Math.log(ratio / wanted));
  const [best] = [...among].sort((a, b) => off(a) - off(b) || b - a);
  return best === undefined ? refused('no ratio is available') : found(best);
}

export const crawlRatio = (firstGear: number, lowRange: number, axle: number): number => firstGear * lowRange * axle;

/** m/s at an engine speed. */
export const crawlSpeed = (engineSpeed: number, circumference: number, crawl: number): number =>
  (engineSpeed * circumference) / (2 * Math.PI * crawl);

export interface Tube {
  readonly length: number;
  readonly outer: number;
  readonly inner: number;
}

const STEEL = { modulus: 207e9, density: 7850 };
/** Share of the critical speed that a shaft is run to at the most (trade pages, second-hand). */
export const SAFE_SHARE_OF_CRITICAL = 0.75;

/** The speed at which a steel tube between its joints whips. */
export function criticalSpeed({ length, outer, inner }: Tube): Outcome<number> {
  if (!(length > 0 && outer > inner && inner >= 0)) return refused('a tube is wider outside than inside and has a length');
  // √(I/A) of a ring is √(D² + d²)/4.
  const gyration = Math.hypot(outer, inner) / 4;
  return found(Math.PI ** 2 * Math.sqrt(STEEL.modulus / STEEL.density) * (gyration / length ** 2));
}
