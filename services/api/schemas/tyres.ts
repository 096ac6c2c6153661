/** The form of what is told of tyres by their designation. */
import { z } from 'zod';
import { Amount, Basis } from './answer.ts';
import { text as given } from './request.ts';

const text = z.string();
const Spread = z
  .object({ value: z.number(), least: z.number(), most: z.number(), unit: text })
  .meta({ id: 'Spread', description: 'A number with what a standard, or memory of one, lets it lie between.' });
const amount = Amount.nullable();
const spread = Spread.nullable();

export const TyreFacts = z
  .object({
    designation: text.describe('As it is written in one form.'),
    form: text.describe('metric, flotation, numeric, plain; more may come.'),
    made_for: text.describe('passenger, light-truck, commercial.'),
    construction: text.describe('radial, diagonal, bias-belted.'),
    rim_diameter: amount,
    dimensions: z.object({
      measured: z.boolean().describe('Readings stand for what the size says.'),
      overall_diameter: spread,
      section_width: spread,
      on_rim: amount.describe('Width of the rim the section width is told for.'),
      sidewall_height: amount,
      largest: z.object({ overall_diameter: Amount, section_width: Amount }).nullable().describe('With the deepest treads.'),
      worn_diameter: amount,
      loaded_radius: spread.describe('At the load and pressure asked for.'),
      rolling_circumference: amount,
      revolutions: amount.describe('A kilometre, or a mile.'),
    }),
    rims: z.object({ measuring: Amount, narrowest: Spread, widest: Spread }).nullable(),
    rating: z.object({
      load_index: z.int().nullable(),
      load_index_dual: z.int().nullable(),
      load_range: text.nullable(),
      extra_load: z.boolean(),
      speed_symbol: text.nullable(),
      speed: amount,
      load: amount,
      load_dual: amount,
      on_truck: amount.describe('What of the load counts on a truck.'),
      pressure: amount.describe('At which the rating holds.'),
      greatest_pressure: z.object({ least: Amount, most: Amount }).nullable(),
    }),
    loads: z.array(
      z.object({
        pressure: Amount,
        load: Amount.describe('Where tables of such sizes only lie above the law, the lower load.'),
        tables_up_to: Amount.optional().describe('The most that tables of such sizes print at that pressure.'),
        on_truck: Amount,
      }),
    ),
    safe_side: text.nullable().describe('On which side of load tables the loads and pressures told here lie.'),
    pressure_needed: amount.describe('On the road, for the load asked for.'),
    carries: amount.describe('On a truck, at the pressure asked for.'),
    off_road: z.array(z.object({ ground: text, pressure: Amount, at_most: Amount })),
    not_said: z.array(text).describe('What the designation does not say.'),
    sources: z.array(Basis),
    cautions: z.array(text),
  })
  .meta({ id: 'TyreFacts' });

const Difference = z
  .object({ value: z.number(), least: z.number(), most: z.number(), unit: text })
  .meta({ id: 'Difference', description: 'Second less first, and what the standards leave open of both.' });
const difference = Difference.nullable();

export const TyreComparison = z
  .object({
    from: TyreFacts,
    to: TyreFacts,
    differences: z.object({
      overall_diameter: difference,
      overall_diameter_share: amount,
      section_width: difference,
      ground_clearance: difference,
      gap_round_the_tread: difference,
      gap_beside: difference,
      revolutions: amount,
      rated_load: amount,
      rated_load_on_truck: amount,
      speed: amount,
      same_rim: z.boolean().nullable(),
    }),
    speedometer: z.object({ at: Amount, shows: Amount, odometer: Amount }).nullable(),
    gearing: z.object({ effective: z.number(), to_match: z.number() }).nullable(),
    says: z.array(text),
  })
  .meta({ id: 'TyreComparison' });

export const tyreQuery = {
  rim_width: given.optional().describe('Width of the rim it is on, such as `8.5 in`; the measuring rim where left out.'),
  load: given.optional().describe('What one tyre carries, such as `650 kg`.'),
  pressure: given.optional().describe('Cold, such as `240 kPa` or `35 psi`.'),
  measured_diameter: given.optional().describe('As taped; stands for what the size says.'),
  measured_width: given.optional(),
  new_tread: given.optional().describe('Tread depth when new, such as `11 mm`; with `tread`, for the worn diameter.'),
  tread: given.optional(),
  units: z.enum(['metric', 'us']).optional(),
};
export type TyreQuery = { readonly [name in keyof typeof tyreQuery]?: string | undefined };
