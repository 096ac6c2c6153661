/**
 * Dimensions of new tyres from their designation, with what the standards let them vary by.
 *
 *   section height  H = S₁ · aspect, to the millimetre; overall diameter  D = d + 2H
 *   D within d + 2H·(0.97 … b): b 1.04 radial, 1.06 diagonal (UN R30, 6.1; from memory), 1.04 and 1.07 (UN R54; from memory),
 *   1.03 for light-truck tyres (Tire and Rim Association; second-hand). Snow and special treads: 1 % more on top (from memory)
 *   S within 1.04·S₁ radial, 1.06·S₁ diagonal (UN R30, from memory; the association second-hand for 1.04)
 *   S on another rim: S₁ + 0.4·(A − x·S₁), A the rim's width, x·S₁ the theoretical rim (UN R30 6.1.1.1; form seen)
 *
 * d: rim diameter by its code (15 → 381, 16 → 406, 17 → 432 … mm: 25.4 mm an inch, to the millimetre); S₁: nominal section width;
 * x: 0.70 for aspect ratios of 50 and more, 0.85 below (from memory, and second-hand in one program's source).
 * Worked: 265/70R16 → H 186, D 406 + 372 = 778 mm (UN R30 table, second-hand). Valid for new tyres, unloaded, at their pressure.
 *
 * Flotation sizes are named for what they measure on a rim of 0.8 of their width; real diameters are often 6 mm smaller and
 * more (common practice, no source). Numeric sizes have their dimensions from a table (`numeric-sizes.ts`); one that is not in it
 * is named for less than it measures, so its width is wide-banded and its diameter is not said at all. Of `33s` it is only known
 * that such tyres measure an inch less to a quarter more (common practice, no source).
 */
import { found, type Outcome, refused } from '../result.ts';
import type { Designation } from './designation.ts';
import { numericDimensions } from './numeric-sizes.ts';

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
const MOST_HEIGHT: Readonly<Record<Designation['service'], { readonly radial: number; readonly diagonal: number }>> = {
  passenger: { radial: 1.04, diagonal: 1.06 },
  commercial: { radial: 1.04, diagonal: 1.07 },
  'light-truck': { radial: 1.03, diagonal: 1.05 },
};
/** A bias-belted tyre is allowed what a diagonal one is. */
const plies = ({ construction }: Designation): 'radial' | 'diagonal' => (construction === 'radial' ? 'radial' : 'diagonal');

/** Around a nominal diameter, m. */
const FLOTATION_SPREAD = { under: 0.019, over: 0.006 };
const PLAIN_SPREAD = { under: 0.0254, over: 0.00635 };
/** How far the full aspect ratio that stands in for one not stated may be off (from memory: sizes lie from 0.78 to 0.82). */
const ASSUMED_ASPECT_SPREAD = 0.02;

const about = (nominal: number, { under, over }: { readonly under: number; readonly over: number }): Dimensioned => ({
  nominal,
  least: nominal - under,
  most: nominal + over,
});

/** Overall diameter, m. */
export function overallDiameter(tyre: Designation): Outcome<Dimensioned> {
  const { form, diameter, text } = tyre;
  if (diameter !== undefined) return found(about(diameter, form === 'plain' ? PLAIN_SPREAD : FLOTATION_SPREAD));
  const height = sectionHeight(tyre);
  if (height === undefined || tyre.rim === undefined)
    return refused(`\`${text}\` states neither a diameter nor an aspect ratio: measure the tyre, or find it in the maker's table`);
  const spread = tyre.aspectAssumed ? 2 * ASSUMED_ASPECT_SPREAD * (tyre.width ?? 0) : 0;
  const [rim, twice] = [rimDiameter(tyre.rim), 2 * height];
  const most = rim + twice * MOST_HEIGHT[tyre.service][plies(tyre)] + spread;
  return found({ nominal: rim + twice, least: rim + twice * LEAST_HEIGHT - spread, most });
}

/** From the bead seat to the tread, m; undefined where the size does not tell. */
function sectionHeight({ form, width, aspect, rim, diameter }: Designation): number | undefined {
  if (rim === undefined) return undefined;
  if (diameter !== undefined) return (diameter - rimDiameter(rim)) / 2;
  if (form === 'numeric' && width !== undefined) {
    const table = numericDimensions(width, rim);
    return table && (table.diameter - rimDiameter(rim)) / 2;
  }
  return width !== undefined && aspect !== undefined ? toMillimetre(width * aspect) : undefined;
}

/** How much more than any new tyre of its size one with a snow or special tread may measure (UN R30 and R54; from memory). */
const SPECIAL_TREAD = 1.01;

/** The largest a tyre of that size may be by its standard, with the deepest treads there are; type approval turns this one. m. */
export function largestEnvelope(tyre: Designation, rimWidth?: number): Outcome<{ readonly diameter: number; readonly width: number }> {
  const [diameter, width] = [overallDiameter(tyre), sectionWidth(tyre, rimWidth)];
  if (!diameter.ok) return diameter;
  if (!width.ok) return width;
  return found({ diameter: diameter.value.most * SPECIAL_TREAD, width: width.value.most });
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
const DIAGONAL_OVER = 1.06;

function widthForm({ form, aspect = 1, width = 0, rim = 0 }: Designation): WidthForm {
  if (form === 'flotation' || form === 'plain') return FLOTATION_WIDTH;
  if (form === 'metric') return aspect >= 0.5 ? METRIC_WIDTH : LOW_WIDTH;
  const table = numericDimensions(width, rim);
  return table ? { ...NUMERIC_WIDTH, measured: table.width / width, under: 0.95, over: 1.06 } : NUMERIC_WIDTH;
}

/** What a rim's extra width does to the tyre's: UN R30 6.1.1.1 (seen); 0.2 in a half inch of rim in the trade. */
const SPREAD = 0.4;

/** Section width on a rim of that width, or on the theoretical rim; m. */
export function sectionWidth(tyre: Designation, rimWidth?: number): Outcome<Dimensioned> {
  if (tyre.width === undefined) return refused(`\`${tyre.text}\` states no width: add it and the rim, such as \`33x12.50R17\``);
  const { measured, under, over, theoreticalRim } = widthForm(tyre);
  const spread = rimWidth === undefined ? 0 : SPREAD * (rimWidth - theoreticalRim * tyre.width);
  const nominal = measured * tyre.width + spread;
  return found({ nominal, least: nominal * under, most: nominal * (plies(tyre) === 'radial' ? over : Math.max(over, DIAGONAL_OVER)) });
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
export function measuringRim(tyre: Designation): Outcome<number> {
  const { aspect, width, text } = tyre;
  if (width === undefined) return refused(`\`${text}\` states no width, so nothing is known of its rim`);
  const share = aspect === undefined ? widthForm(tyre).theoreticalRim : (MEASURING_RIMS.find(([least]) => aspect >= least)?.[1] ?? 0.92);
  return found(Math.round((share * width) / HALF_INCH + 1e-6) * HALF_INCH);
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
export function approvedRims(tyre: Designation): Outcome<{ readonly narrowest: Dimensioned; readonly widest: Dimensioned }> {
  const wide = tyre.form === 'flotation' || tyre.form === 'plain';
  const [under, over] = RIM_RANGES[wide ? 'flotation' : tyre.service === 'light-truck' ? 'light-truck' : 'other'];
  const measuring = measuringRim(tyre);
  if (!measuring.ok) return measuring;
  const rim = measuring.value;
  const off = (by: number, { either }: RimEnd): Dimensioned => ({
    nominal: rim + by * INCH,
    least: rim + (by - either) * INCH,
    most: rim + (by + either) * INCH,
  });
  return found({ narrowest: off(-under.by, under), widest: off(over.by, over) });
}

/** Rolling circumference of a radial tyre: 3.05 diameters (constant seen, clause from memory); m. 778 mm → 2.3729 m. */
export const rollingCircumference = (diameter: number): number => 3.05 * diameter;

/** Half a diameter less what the tyre gives at its load: 0.465 of the diameter, give or take 0.015 (common practice, no source). */
export function staticLoadedRadius(diameter: number): Dimensioned {
  return { nominal: 0.465 * diameter, least: 0.45 * diameter, most: 0.48 * diameter };
}
