/**
 * Dimensions of new tyres from their designation, with what the standards let them vary by.
 *
 *   section height  H = S₁ · aspect, to the millimetre; overall diameter  D = d + 2H
 *   D within d + 2H·(0.97 … 1.04), S within 1.04·S₁ (UN R30, 6.1; limits from memory)
 *   D within d + 2H·1.03 at the most for light-truck tyres (Tire and Rim Association; second-hand)
 *   S on another rim: 0.4 of what the rim is wider (UN R30 6.1.1.1; seen)
 *
 * d: rim diameter by its code (15 → 381, 16 → 406, 17 → 432 … mm: 25.4 mm an inch, to the millimetre); S₁: nominal section width.
 * Worked: 265/70R16 → H 186, D 406 + 372 = 778 mm (UN R30 table, second-hand). Valid for new tyres, unloaded, at their pressure.
 */
import { type Outcome, found, refused } from '../result.ts';
import type { Designation } from './designation.ts';

export interface Dimensioned {
  readonly nominal: number;
  readonly least: number;
  readonly most: number;
}

const MILLIMETRE = 0.001;
const toMillimetre = (x: number): number => Math.round(x / MILLIMETRE) * MILLIMETRE;

/** Diameter of a rim at the bead seat by its code in inches; m. */
export const rimDiameter = (code: number): number => toMillimetre(code * 0.0254);

/** What a flotation tyre differs from its name by: real ones are often 6 mm smaller and more (common practice, no source). */
const FLOTATION_UNDER = 0.019;
const FLOTATION_OVER = 0.006;

/** Overall diameter, m. A numeric size states none. */
export function overallDiameter(tyre: Designation): Outcome<Dimensioned> {
  if (tyre.diameter !== undefined) return found({ nominal: tyre.diameter, least: tyre.diameter - FLOTATION_UNDER, most: tyre.diameter + FLOTATION_OVER });
  if (tyre.aspect === undefined) return refused(`\`${tyre.text}\` states neither a diameter nor an aspect ratio: measure the tyre, or find it in the maker's table`);
  const rim = rimDiameter(tyre.rim);
  const twice = 2 * toMillimetre(tyre.width * tyre.aspect);
  const over = tyre.service === 'passenger' ? 1.04 : 1.03;
  return found({ nominal: rim + twice, least: rim + twice * 0.97, most: rim + twice * over });
}

/** Share of the section width that the theoretical rim has (UN R30 6.1.1.1; from memory for aspect ratios of 50 and more). */
const THEORETICAL_RIM = 0.7;

/** Section width on a rim of that width, or on the theoretical rim; m. */
export function sectionWidth(tyre: Designation, rimWidth?: number): Dimensioned {
  const grown = rimWidth === undefined ? 0 : 0.4 * (rimWidth - THEORETICAL_RIM * tyre.width);
  const nominal = tyre.width + grown;
  return { nominal, least: nominal * 0.96, most: nominal * 1.04 };
}

/** Rolling circumference of a radial tyre: 3.05 diameters (constant seen, clause from memory); m. 778 mm → 2.3729 m. */
export const rollingCircumference = (diameter: number): number => 3.05 * diameter;
