/**
 * A tyre that is not new, not at its pressure, or under load: worn, aired down, loaded.
 *
 *   worn diameter      D − 2·(new tread − tread)
 *   vertical stiffness K = 0.00028·p·√((1.03 − 0.004·AR)·S·(S·AR/50 + d)) + 3.45   kgf/mm, p in kPa, S and d in mm, AR in %
 *                      (a regression over radial tyres; T. B. Rhyne, Tire Science and Technology 33 (2005); from memory)
 *   deflection         W/K; loaded radius D/2 − W/K
 *   bulge              the loaded sidewall stands out by about a quarter of what the deflection adds (common practice, no source)
 *
 * SI in and out: m, Pa, kg of load, N/m. Valid for radial tyres, standing, 80 kPa to their rated pressure; the regression is good to
 * about 10 %. Worked: 265/70R17 at 240 kPa → 30.3 kgf/mm, 297 N/mm; under 650 kg it gives 21.5 mm; at 100 kPa, 44.5 mm.
 */
import { found, type Outcome, refused } from '../result.ts';

const KGF_PER_MM = 9806.65;
const KILOPASCAL = 1000;

export interface SectionShape {
  /** Section width and rim diameter, m; section height over width. */
  readonly width: number;
  readonly rim: number;
  readonly aspect: number;
}

const LEAST_PRESSURE = 80 * KILOPASCAL;
/** What the regression may be off by. */
export const STIFFNESS_SPREAD = 0.1;

/** N/m. */
export function verticalStiffness({ width, rim, aspect }: SectionShape, pressure: number): Outcome<number> {
  if (!(pressure >= LEAST_PRESSURE)) return refused('below 80 kPa the stiffness of a tyre is not told by this regression');
  const [s, d, ratio] = [width * 1000, rim * 1000, aspect * 100];
  const root = Math.sqrt((1.03 - 0.004 * ratio) * s * ((s * ratio) / 50 + d));
  return found((0.00028 * (pressure / KILOPASCAL) * root + 3.45) * KGF_PER_MM);
}

const GRAVITY = 9.80665;

/** How far a load presses it down at a pressure; m. */
export function deflection(shape: SectionShape, pressure: number, load: number): Outcome<number> {
  const stiffness = verticalStiffness(shape, pressure);
  return stiffness.ok ? found((Math.max(0, load) * GRAVITY) / stiffness.value) : stiffness;
}

/** Height of the wheel's centre over the ground, m. */
export function loadedRadius(diameter: number, shape: SectionShape, pressure: number, load: number): Outcome<number> {
  const given = deflection(shape, pressure, load);
  if (!given.ok) return given;
  const radius = diameter / 2 - given.value;
  return radius > shape.rim / 2 ? found(radius) : refused('the load would press the tyre onto its rim');
}

const BULGE = 0.25;

/** How much wider it stands at the ground with one deflection than with another, both sidewalls together; m. */
export const bulgeGrowth = (from: number, to: number): number => BULGE * (to - from) * 2;

/** Overall diameter with that much tread left of that much when new; m. */
export function wornDiameter(diameter: number, newTread: number, tread: number): Outcome<number> {
  if (!(tread >= 0 && tread <= newTread)) return refused('a worn tyre has no more tread than a new one');
  return found(diameter - 2 * (newTread - tread));
}

/**
 * Pressures off the road as a share of the road pressure, with the speed they are for (common practice, no source; the tyre's
 * maker and the rim decide, and the bead may leave its seat below 100 kPa).
 */
export const OFF_ROAD_PRESSURES = [
  { ground: 'gravel and corrugations', share: 0.8, speed: 80 / 3.6 },
  { ground: 'rocks and mud', share: 0.65, speed: 40 / 3.6 },
  { ground: 'soft sand and deep snow', share: 0.5, speed: 25 / 3.6 },
] as const;

/** Never below that, or the bead may leave its seat (common practice, no source; 15 psi). */
export const LEAST_OFF_ROAD_PRESSURE = 103 * KILOPASCAL;

export const offRoadPressure = (road: number, share: number): number => Math.min(road, Math.max(LEAST_OFF_ROAD_PRESSURE, road * share));
