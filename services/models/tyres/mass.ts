/**
 * What tyres and wheels weigh that nobody has weighed, from their size.
 *
 *   tyre   m = μ·A, A = π·D·W + π/2·(D² − d²): the band of the tread and both sidewalls
 *   wheel  m = μ·A, A = π·d·w + π/4·d²: the barrel and the disc
 *
 * D: overall diameter; W: section width; d: diameter of the rim at the bead seat; w: rim width; all m and above zero. μ: mass by area, kg/m².
 * Standards of tyres give no mass. μ is from memory of what makers' tables and scales say, wide enough for a highway and a mud tread, for
 * load ranges C to E, for a cast and a steel wheel: tyres of passenger kind 10.7 to 17.3, of light-truck and commercial kind 12 to 21.5,
 * wheels 21 to 43. Worn tread is within that. Not for run-flat inserts, bead locks, dual wheels or tyres above 1.3 m.
 * Worked: 37x12.50R16.5 (D 0.9398, W 0.3175, d 0.419): A 2.05 m² → 34.3 ± 9.7 kg (one vehicle-dynamics library drives it with 37.6 kg).
 */

/** kg/m²; the middle of what there is, and as far either way as it reaches. */
export interface MassByArea {
  readonly middle: number;
  readonly plusMinus: number;
}

export const TYRE_MASS_BY_AREA: Readonly<Record<'passenger' | 'heavier' | 'unknown' | 'byDiameter', MassByArea>> = {
  passenger: { middle: 14, plusMinus: 3.3 },
  heavier: { middle: 16.75, plusMinus: 4.75 },
  unknown: { middle: 16.1, plusMinus: 5.4 },
  byDiameter: { middle: 17, plusMinus: 8 },
};
export const WHEEL_MASS_BY_AREA: MassByArea = { middle: 32, plusMinus: 11 };

/** Tread band and sidewalls, m². Rises with diameter and width, falls with the rim. */
export const tyreArea = (diameter: number, width: number, rim: number): number =>
  Math.PI * diameter * width + (Math.PI / 2) * (diameter ** 2 - rim ** 2);

/** Of a tyre of which only the diameter is known: a width of 0.28 of it on a rim of half of it, which are off by a third either way. */
export const tyreAreaByDiameter = (diameter: number): number => tyreArea(diameter, 0.28 * diameter, 0.5 * diameter);

/** Barrel and disc, m². Rises with both. */
export const wheelArea = (rim: number, width: number): number => Math.PI * rim * width + (Math.PI / 4) * rim ** 2;

/**
 * A wheel with its tyre of which only the tyre's diameter is known: as its cube, 38 kg at 0.8 m, within two fifths (from memory: 26 to
 * 35 kg at 30 in, 45 to 65 at 37). One for an emergency alone is lighter than that.
 */
export const spareMass = (diameter: number): number => 38 * (diameter / 0.8) ** 3;
export const SPARE_WITHIN = 0.4;
