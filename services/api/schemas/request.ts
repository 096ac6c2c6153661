/** The form of what is asked. Values are texts with units here; what they must be is for the kinds and quantities to say. */
import { z } from 'zod';
import { SHAPE_FRAMES } from '../../vehicle/read-shape.ts';

export const text = z.string().min(1).max(500);
export const name = z.string().min(1).max(120);

/** A version or a revision, as storage counts them. */
export const version = z.int().min(1).max(999_999_999);

export const Value = z.union([text, z.boolean(), z.number()]).meta({
  id: 'Value',
  description:
    'A quantity with its unit ("2.5 in ± 0.1"), a text, a truth, or a plain count. A bare number is refused where a unit is needed.',
});

const date = z.iso.date('a date is written as 2026-10-03').describe('The day it was taken.');
export const toolError = text
  .optional()
  .describe(
    'By how much the tool may be off, alike at every reading with it, on top of the tolerance of the value: "1 mm", or "0.2 %" of what is read.',
  );
const reading = {
  value: Value,
  date: date.optional(),
  tool: name.optional(),
  tool_error: toolError,
  by: name.optional(),
  note: text.optional(),
};

export const Reading = z
  .strictObject(reading)
  .meta({ id: 'Reading', description: 'A measured value with when, with what and by whom it was taken.' });

const Place = z
  .enum(['vehicle', 'front', 'rear', 'front-left', 'front-right', 'rear-left', 'rear-right', 'all'])
  .meta({ id: 'PlaceInput', description: 'A corner part at `front` is a pair; at `all` it is four.' });

const partCommon = {
  id: name.optional().describe("The part's name in this build; findings use it."),
  at: Place.optional(),
  replaces: z
    .union([name, z.array(name).max(50)])
    .optional()
    .describe('Fitted parts it takes the place of, by id, or `fitted` for what is there.'),
  measured: z
    .record(name, z.union([Value, Reading]))
    .optional()
    .describe('Readings of its attributes; they win over the catalogue.'),
};

const Point = text.describe('x, y, z with one unit, such as "-445, 600, 410 mm"; y is outward from the centre line, on either side.');

const PlacedShape = z
  .strictObject({
    on: z.enum(SHAPE_FRAMES).optional().describe('What it is fixed to; as its kind is where left out.'),
    from: z
      .enum(['drawing', 'hub'])
      .optional()
      .describe(
        'What points are measured from. `drawing`: the ground below the front axle’s centre, as designed. `hub`: the middle of the hub’s face, standing at ride height with the wheels straight ahead; y outward from the face, inward negative. For chassis, body and knuckle.',
      ),
    radius: text.optional().describe('Half of its thickness about the points.'),
    plus_minus: text.optional().describe('How far the whole may lie off, any way; 10 mm when left out.'),
    lines: z.array(z.array(Point).min(1).max(40)).max(20).optional().describe('Runs of straight pieces; one point alone is a ball.'),
    patches: z.array(z.array(Point).max(8)).max(20).optional().describe('Flat pieces with three or four corners.'),
  })
  .meta({
    id: 'PlacedShape',
    description: 'Where something is that a tyre can touch. Without points it says only what it is fixed to; its gap is then gauged.',
    examples: [{ on: 'body', from: 'hub', radius: '10 mm', lines: [['-430, -120, 60 mm', '-430, 40, 60 mm']] }],
  });

export const PartInput = z
  .discriminatedUnion('from', [
    z
      .strictObject({ from: z.literal('catalogue'), part: name, version: version.optional(), ...partCommon })
      .meta({ id: 'PartFromCatalogue' }),
    z
      .strictObject({
        from: z.literal('inline'),
        kind: name,
        name: name.optional(),
        attributes: z.record(name, Value).optional(),
        shape: PlacedShape.optional(),
        ...partCommon,
      })
      .meta({ id: 'PartInline' }),
  ])
  .meta({ id: 'PartInput' });

export const VehicleReading = z
  .strictObject({
    quantity: name.describe('A quantity of the dictionary.'),
    of: name.optional().describe('A place or the id of a part; left out for the vehicle.'),
    ...reading,
    with: z
      .array(PartInput)
      .max(200)
      .optional()
      .describe(
        'Of a reading taken with the planned parts on: the parts as they were then. It counts for as long as those it hangs on are the same. Left out: the parts of this request; but a reading of what is known of the vehicle as it stands too (a `…_fitted` beside it) is then of that.',
      ),
  })
  .meta({ id: 'VehicleReading' });

const VehicleValue = z.union([Value, z.record(name, Value)]);

const inlineVehicle = {
  name: name.optional(),
  class: name.describe('Class whose defaults stand in for what is not given.'),
  values: z.record(name, VehicleValue).optional().describe('Quantities of the vehicle: one value, or one by place.'),
  fitted: z.array(PartInput).max(200).optional().describe('What is on it now.'),
};

export const VehicleInput = z
  .discriminatedUnion('from', [
    z
      .strictObject({
        from: z.literal('catalogue'),
        vehicle: name,
        version: version.optional(),
        measured: z.array(VehicleReading).max(500).optional(),
      })
      .meta({ id: 'VehicleFromCatalogue' }),
    z
      .strictObject({ from: z.literal('inline'), ...inlineVehicle, measured: z.array(VehicleReading).max(500).optional() })
      .meta({ id: 'VehicleInline' }),
  ])
  .meta({ id: 'VehicleInput' });

/** A load item is behind one axle or the other. */
const placed = z.check<{ behind_front_axle?: unknown; behind_rear_axle?: unknown }>(({ value, issues }) => {
  const [front, rear] = [value.behind_front_axle, value.behind_rear_axle];
  if (front === undefined && rear === undefined)
    issues.push({ code: 'invalid_type', expected: 'string', input: undefined, path: ['behind_front_axle'] });
  if (front !== undefined && rear !== undefined)
    issues.push({ code: 'custom', message: 'It is said behind both axles', input: rear, path: ['behind_rear_axle'] });
});
// Told with whatever else is wrong with the item.
placed._zod.def.when = ({ value }) => typeof value === 'object' && value !== null;

const LoadItem = z
  .strictObject({
    name,
    mass: text,
    behind_front_axle: text
      .optional()
      .describe('Towards the rear; negative is ahead of the front axle. This or `behind_rear_axle` says where it is.'),
    behind_rear_axle: text.optional().describe('Towards the rear; negative is ahead of the rear axle.'),
    height: text.optional().describe('Of its centre of mass above the ground. What is on the roof is a part of the kind `roof_cargo`.'),
  })
  .check(placed)
  .meta({ id: 'LoadItem' });

const build = {
  vehicle: VehicleInput,
  parts: z.array(PartInput).max(200).optional(),
  load: z.strictObject({ occupants: z.int().min(0).max(20).optional(), items: z.array(LoadItem).max(200).optional() }).optional(),
  use: z
    .strictObject({
      top_speed: text.optional(),
      jurisdictions: z
        .array(name)
        .max(20)
        .optional()
        .describe('Law packs to hold it against, by id (`/v1/jurisdictions`). Without one, nothing legal is claimed.'),
    })
    .optional(),
};
const asking = {
  units: z.enum(['metric', 'us']).optional(),
  fit_to_readings: z
    .boolean()
    .optional()
    .describe(
      'Makes the defaults of the class agree with the readings there are, within their tolerances; `fit` of the answer says how well.',
    ),
  values: z.enum(['used', 'all']).optional().describe('Which of the value graph to answer with.'),
  alternatives: z
    .boolean()
    .optional()
    .describe(
      'Tells other ways to cure what is in conflict or too close to call (`alternatives` of a finding), each with the least amount that does and what it costs elsewhere. It takes several times as long.',
    ),
  also: z
    .array(name)
    .max(50)
    .optional()
    .describe('Quantities of the vehicle, its axles or its corners to have in `values` as well, whether or not a rule reads them.'),
};

export const Build = z.strictObject(build).meta({ id: 'Build', description: 'A vehicle with its parts, load and use.' });
export const Asking = z.strictObject(asking);

export const CheckRequest = z.strictObject({ ...build, ...asking }).meta({ id: 'CheckRequest' });

const Vary = z
  .strictObject({
    quantity: name.describe('A quantity of the dictionary, or an attribute of a part, as in a reading.'),
    of: name.optional().describe('A place or the id of a part; left out for the vehicle.'),
    from: Value.optional(),
    to: Value.optional(),
    step: text.optional().describe('Borders are told to this; a 64th of the range when left out.'),
    plus_minus: text.optional().describe('Half-width the value is held to at each step; exact when left out.'),
    among: z.array(Value).max(40).optional().describe('Values of its own instead of a range, such as tyre sizes.'),
  })
  .meta({
    id: 'Vary',
    description: 'One thing of a build that is varied: `from` and `to`, or `among`.',
    examples: [{ quantity: 'height_added', of: 'front-coil-overs', from: '0 in', to: '3 in', step: '0.1 in' }],
  });

export const WhatIfRequest = z.strictObject({ ...build, units: asking.units, vary: Vary }).meta({
  id: 'WhatIfRequest',
  examples: [
    {
      vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll' },
      parts: [{ from: 'inline', kind: 'body_lift', id: 'lift', attributes: { height: '25 mm' } }],
      vary: { quantity: 'height', of: 'lift', from: '0 mm', to: '75 mm', step: '1 mm' },
    },
  ],
});

const entry = { name, maker: name.optional(), note: text.optional() };
export const ID_FORM = 'an id begins with a letter or digit and has letters, digits, `.`, `_` and `-` in it';
/** Ids stand in paths, in CSV and in speech. */
const entryId = name.regex(/^[\p{L}\p{N}][\p{L}\p{N}._-]*$/u, ID_FORM);
const partBody = { kind: name, ...entry, attributes: z.record(name, Value) };
const vehicleBody = { ...inlineVehicle, ...entry };

export const CatalogueVehicle = z.strictObject({ id: name, version, ...vehicleBody }).meta({ id: 'CatalogueVehicle' });
export const VehicleEntry = z
  .strictObject({ id: entryId, ...vehicleBody })
  .meta({ id: 'VehicleEntry', description: 'A vehicle for the catalogue; the service counts its versions.' });
export const VehicleChange = z.strictObject(vehicleBody).meta({ id: 'VehicleChange' });

export const CataloguePart = z.strictObject({ id: name, version, ...partBody }).meta({ id: 'CataloguePart' });
export const PartEntry = z
  .strictObject({ id: entryId, ...partBody })
  .meta({ id: 'PartEntry', description: 'A part for the catalogue; the service counts its versions.' });
export const PartChange = z.strictObject(partBody).meta({ id: 'PartChange' });
