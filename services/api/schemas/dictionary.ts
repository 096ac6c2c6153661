/** The form of what the rules' folders say: kinds, quantities, works, rules, sources, classes. */
import { z } from 'zod';

const text = z.string();
const Basis = z.object({
  kind: text,
  source: text.optional(),
  title: text,
  clause: text.optional(),
  read: text.optional(),
  on: text.optional(),
  note: text.optional(),
});
const Measuring = z.object({
  how: text,
  tool: text,
  where: text.optional(),
  suspension: text.optional(),
  steering: text.optional(),
  accuracy: text.optional(),
  minutes: z.number().optional(),
  cautions: z.array(text),
});
const signature = {
  name: text,
  title: text,
  type: text.describe('number, truth or text'),
  unit: text.optional(),
  one_of: z.array(text).optional(),
  meaning: text,
  typical: text.optional(),
  measure: Measuring.optional(),
};

export const KindView = z
  .object({
    id: text,
    title: text,
    is: text.optional(),
    fits: text,
    abstract: z.boolean(),
    one_per_place: z.boolean(),
    frame: text,
    bridges_to: text.optional(),
    attributes: z.array(z.object({ ...signature, from: text.describe('The kind that declares it.') })),
  })
  .meta({ id: 'Kind' });

export const QuantityView = z.object({ ...signature, per: z.array(text), comes: text }).meta({ id: 'Quantity' });

export const RuleView = z
  .object({
    id: text,
    area: text,
    title: text,
    hazard: text,
    ranges_over: z.array(text),
    requires: text,
    says: text,
    works: z.array(text),
    basis: z.array(Basis),
    cautions: z.array(text),
    note: text.optional(),
    examples: z.int(),
  })
  .meta({ id: 'Rule' });

export const WorkView = z
  .object({
    id: text,
    title: text,
    takes: z.array(z.object({ name: text, type: text, unit: text.optional(), meaning: text.optional() })),
    skills: z.array(text),
    hours: z.object({ low: z.number(), likely: z.number(), high: z.number(), unit: z.literal('h') }),
    tools: z.array(text),
    irreversible: z.boolean(),
    prerequisites: z.array(text),
    after: z.array(text),
    then: z.array(text),
    effects: z.array(text),
    verify: z.object({ check: text, accept: text, reads: z.array(text) }).nullable(),
    planning: z.object({
      changes: z.array(text),
      setups: z.array(z.object({ setup: text, of: text.optional() })),
      without: z.array(text).describe('Set-ups that must not stand while it is done.'),
      crew: z.int(),
      settling: z.object({ time: z.object({ value: z.number(), unit: z.literal('h') }), why: text }).nullable(),
      visits: z.array(z.object({ value: z.number(), unit: z.literal('km') })),
      sent_out: z.object({ days: z.number(), what: text }).nullable(),
      fasteners: z.array(z.object({ what: text, single_use: z.boolean(), at_ride_height: z.boolean(), torque: text.optional() })),
      buys: z.array(text),
      consumables: z.array(text),
      safety_critical: z.boolean(),
      stands_for: z.array(text),
      not_before: z
        .array(z.object({ work: text, otherwise: text.nullable() }))
        .describe('Works that come first, and what goes wrong otherwise.'),
    }),
    cautions: z.array(text),
    basis: z.array(Basis),
  })
  .meta({ id: 'Work' });

export const SourceView = z
  .object({ id: text, title: text, kind: text, read: text, clause: text.optional(), edition: text.optional(), on: text.optional() })
  .meta({ id: 'Source' });

export const ClassView = z
  .object({
    id: text,
    title: text,
    note: text.optional(),
    values: z.record(z.string(), z.record(z.string(), z.string())),
    positions: z.array(z.object({ kind: text, at: text })),
    fitted: z.array(
      z.object({ id: text, kind: text, name: text.optional(), at: text.optional(), attributes: z.record(z.string(), z.string()) }),
    ),
  })
  .meta({ id: 'VehicleClass' });

export const JurisdictionView = z
  .object({
    id: text,
    title: text,
    note: text.optional(),
    limits: z.array(
      z.object({
        kind: text,
        title: text,
        attributes: z.record(z.string(), z.string()),
        basis: z.array(Basis),
        rules: z.array(text).describe('Rules that hold a vehicle against it.'),
      }),
    ),
    check_the_local_text: text,
  })
  .meta({ id: 'Jurisdiction', description: 'A law pack: examples of what a jurisdiction limits, never the law itself.' });
