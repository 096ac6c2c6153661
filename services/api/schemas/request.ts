/** The form of what is asked. Values are texts with units here; what they must be is for the kinds and quantities to say. */
import { z } from 'zod';

export const text = z.string().min(1).max(500);
export const name = z.string().min(1).max(120);

export const Value = z.union([text, z.boolean(), z.number()]).meta({
  id: 'Value',
  description:
    'A quantity with its unit ("2.5 in ± 0.1"), a text, a truth, or a plain count. A bare number is refused where a unit is needed.',
});

const reading = { value: Value, date: z.string().max(40).optional(), tool: name.optional(), by: name.optional(), note: text.optional() };

export const Reading = z
  .strictObject(reading)
  .meta({ id: 'Reading', description: 'A measured value with when, with what and by whom it was taken.' });

export const VehicleReading = z
  .strictObject({
    quantity: name.describe('A quantity of the dictionary.'),
    of: name.optional().describe('A place or the id of a part; left out for the vehicle.'),
    ...reading,
  })
  .meta({ id: 'VehicleReading' });

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

export const PartInput = z
  .discriminatedUnion('from', [
    z
      .strictObject({ from: z.literal('catalogue'), part: name, version: z.int().min(1).optional(), ...partCommon })
      .meta({ id: 'PartFromCatalogue' }),
    z
      .strictObject({
        from: z.literal('inline'),
        kind: name,
        name: name.optional(),
        attributes: z.record(name, Value).optional(),
        ...partCommon,
      })
      .meta({ id: 'PartInline' }),
  ])
  .meta({ id: 'PartInput' });

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
        version: z.int().min(1).optional(),
        measured: z.array(VehicleReading).max(500).optional(),
      })
      .meta({ id: 'VehicleFromCatalogue' }),
    z
      .strictObject({ from: z.literal('inline'), ...inlineVehicle, measured: z.array(VehicleReading).max(500).optional() })
      .meta({ id: 'VehicleInline' }),
  ])
  .meta({ id: 'VehicleInput' });

const LoadItem = z
  .strictObject({
    name,
    mass: text,
    behind_front_axle: text.describe('Towards the rear; negative is ahead of the front axle.'),
    height: text.optional(),
  })
  .meta({ id: 'LoadItem' });

const build = {
  vehicle: VehicleInput,
  parts: z.array(PartInput).max(200).optional(),
  load: z.strictObject({ occupants: z.int().min(0).max(20).optional(), items: z.array(LoadItem).max(200).optional() }).optional(),
  use: z.strictObject({ top_speed: text.optional() }).optional(),
};
const asking = {
  units: z.enum(['metric', 'us']).optional(),
  values: z.enum(['used', 'all']).optional().describe('Which of the value graph to answer with.'),
  also: z
    .array(name)
    .max(50)
    .optional()
    .describe('Quantities of the vehicle, its axles or its corners to have in `values` as well, whether or not a rule reads them.'),
};

export const Build = z.strictObject(build).meta({ id: 'Build', description: 'A vehicle with its parts, load and use.' });
export const Asking = z.strictObject(asking);

export const CheckRequest = z.strictObject({ ...build, ...asking }).meta({ id: 'CheckRequest' });

const version = z.int().min(1);
const entry = { name, maker: name.optional(), note: text.optional() };
/** Ids stand in paths, in CSV and in speech. */
const entryId = name.regex(
  /^[\p{L}\p{N}][\p{L}\p{N}._-]*$/u,
  'an id begins with a letter or digit, then letters, digits, `.`, `_` and `-`',
);
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
