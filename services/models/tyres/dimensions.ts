/**
 * Dimensions of new tyres from their designation, with what the standards let them vary by.
 *
 *   section height  H = S₁ · aspect, to the millimetre; overall diameter  D = d + 2H
 *   D within d + 2H·(0.97 … 1.04), S within 1.04·S₁ (UN R30, 6.1; limits from memory; UN R54 for commercial tyres, from memory, the same)
 *   D within d + 2H·1.03 at the most for light-truck tyres (Tire and Rim Association; second-hand)
 *   S on another rim: S₁ + 0.4·(A − x·S₁), A the rim's width, x·S₁ the theoretical rim (UN R30 6.1.1.1; form seen)
 *
 * d: rim diameter by its code (15 → 381, 16 → 406, 17 → 432 … mm: 25.4 mm an inch, to the millimetre); S₁: nominal section width;
 * x: 0.70 for aspect ratios of 50 and more, 0.85 below (from memory, and second-hand in one program's source).
 * Worked: 265/70R16 → H 186, D 406 + 372 = 778 mm (UN R30 table, second-hand). Valid for new tyres, unloaded, at their pressure.
 *
 * Flotation sizes are named for what they measure on a rim of 0.8 of their width; real diameters are often 6 mm smaller and
 * more (common practice, no source). Numeric sizes are named for less than they measure: 7.50R16 is about 210 mm wide (from
 * memory), so their width is wide-banded and their diameter is not said at all.
 */
import { found, type Outcome, refused } from '../result.ts';
import type { Designation } from './designation.ts';

/** m. */
export interface Dimensioned {
  readonly nominal: number;
  readonly least: number;
  readonly most: number;
}

/** Halves go up, also where the product of two decimals falls a bit short of one. */
const toMillimetre = (x: number): number => Math.round(x * 1000 + 1e-6) / 1000;

/** Diameter of a rim at the bead seat by its code in inches; m. 17.5 → 0.445. */
export const rimDiameter = (code: number): number => toMillimetre(code * 0.0254);

const LEAST_HEIGHT = 0.97;
const MOST_HEIGHT: Readonly<Record<Designation['service'], number>> = { passenger: 1.04, commercial: 1.04, 'light-truck': 1.03 };

const FLOTATION_UNDER = 0.019;
const FLOTATION_OVER = 0.006;

/** Overall diameter, m. A numeric size states none. */
export function overallDiameter(tyre: Designation): Outcome<Dimensioned> {
  const { diameter, aspect, width, service, text } = tyre;
  if (diameter !== undefined) return found({ nominal: diameter, least: diameter - FLOTATION_UNDER, most: diameter + FLOTATION_OVER });
  if (aspect === undefined)
    return refused(`\`${text}\` states neither a diameter nor an aspect ratio: measure the tyre, or find it in the maker's table`);
  const rim = rimDiameter(tyre.rim);
  const twice = 2 * toMillimetre(width * aspect);
  return found({ nominal: rim + twice, least: rim + twice * LEAST_HEIGHT, most: rim + twice * MOST_HEIGHT[service] });
}

/** How the width that is measured follows from the one that is named, and the share of the latter that the theoretical rim has. */
interface WidthForm {
  readonly measured: number;
  readonly under: number;
  readonly over: number;
  readonly theoreticalRim: number;
}

const METRIC_WIDTH: WidthForm = { measured: 1, under: 0.96, over: 1.04, theoreticalRim: 0.7 };
const LOW_WIDTH: WidthForm = { ...METRIC_WIDTH, theoreticalRim: 0.85 };
const FLOTATION_WIDTH: WidthForm = { ...METRIC_WIDTH, theoreticalRim: 0.8 };
const NUMERIC_WIDTH: WidthForm = { measured: 1.1, under: 0.93, over: 1.07, theoreticalRim: 0.8 };

function widthForm({ form, aspect = 1 }: Designation): WidthForm {
  if (form === 'flotation') return FLOTATION_WIDTH;
  if (form === 'numeric') return NUMERIC_WIDTH;
  return aspect >= 0.5 ? METRIC_WIDTH : LOW_WIDTH;
}

/** What a rim's extra width does to the tyre's: UN R30 6.1.1.1 (seen); 0.2 in a half inch of rim in the trade. */
const SPREAD = 0.4;

/** Section width on a rim of that width, or on the theoretical rim; m. */
export function sectionWidth(tyre: Designation, rimWidth?: number): Dimensioned {
  const { measured, under, over, theoreticalRim } = widthForm(tyre);
  const spread = rimWidth === undefined ? 0 : SPREAD * (rimWidth - theoreticalRim * tyre.width);
  const nominal = measured * tyre.width + spread;
  return { nominal, least: nominal * under, most: nominal * over };
}

/** Share of the section width that the measuring rim has, by the least aspect ratio it holds for (ISO 4000-1; from memory, and second-hand). */
const MEASURING_RIMS: readonly (readonly [aspect: number, share: number])[] = [
  [0.75, 0.7],
  [0.6, 0.75],
  [0.5, 0.8],
  [0.45, 0.85],
  [0.3, 0.9],
  [0, 0.92],
];
const HALF_INCH = 0.0127;

/** The rim the standard measures a size on, to the half inch; m. 265/70R16 → 8 in, 33x12.50R15 → 10 in. */
export function measuringRim(tyre: Designation): number {
  const { aspect, width } = tyre;
  const share = aspect === undefined ? widthForm(tyre).theoreticalRim : (MEASURING_RIMS.find(([least]) => aspect >= least)?.[1] ?? 0.92);
  return Math.round((share * width) / HALF_INCH + 1e-6) * HALF_INCH;
}

/** How far off the measuring rim, and what is left open either way; inches. */
interface RimEnd {
  readonly by: number;
  readonly either: number;
}

/**
 * How far off its measuring rim a size may be mounted (from memory, no table at hand): 265/65R17 is approved for about 7.5 to
 * 9.5 in with a measuring rim of 8, 33x12.50R17 for 8.5 to 11 with one of 10, light-truck metric sizes for less on the wide side.
 */
const RIM_RANGES: Readonly<Record<'flotation' | 'light-truck' | 'other', readonly [under: RimEnd, over: RimEnd]>> = {
  flotation: [
    { by: 1.5, either: 0 },
    { by: 0.75, either: 0.25 },
  ],
  'light-truck': [
    { by: 0.75, either: 0.25 },
    { by: 0.75, either: 0.25 },
  ],
  other: [
    { by: 0.75, either: 0.25 },
    { by: 1.25, either: 0.25 },
  ],
};
const INCH = 0.0254;

/** Narrowest and widest rims that a size is approved for, each with what memory leaves open; m. */
export function approvedRims(tyre: Designation): { readonly narrowest: Dimensioned; readonly widest: Dimensioned } {
  const [under, over] = RIM_RANGES[tyre.form === 'flotation' ? 'flotation' : tyre.service === 'light-truck' ? 'light-truck' : 'other'];
  const rim = measuringRim(tyre);
  const off = (by: number, { either }: RimEnd): Dimensioned => ({
    nominal: rim + by * INCH,
    least: rim + (by - either) * INCH,
    most: rim + (by + either) * INCH,
  });
  return { narrowest: off(-under.by, under), widest: off(over.by, over) };
}

/** Rolling circumference of a radial tyre: 3.05 diameters (constant seen, clause from memory); m. 778 mm → 2.3729 m. */
export const rollingCircumference = (diameter: number): number => 3.05 * diameter;

/** Turns a kilometre. 778 mm → 421.4. */
export function revolutionsPerKilometre(diameter: number): Outcome<number> {
  return diameter > 0 ? found(1000 / rollingCircumference(diameter)) : refused('a tyre has a diameter above zero');
}

/** Half a diameter less what the tyre gives at its load: 0.465 of the diameter, give or take 0.015 (common practice, no source). */
export function staticLoadedRadius(diameter: number): Dimensioned {
  return { nominal: 0.465 * diameter, least: 0.45 * diameter, most: 0.48 * diameter };
}
