/** The form of plans: what they are asked with, and what they answer. */
import { z } from 'zod';
import { Amount, Answer, Verdict } from './answer.ts';
import { CheckRequest, name, PartInput, text, Value, VehicleReading } from './request.ts';

const money = z.string().regex(/^\d{1,12}(\.\d{1,4})?$/, 'an amount is a text such as "85.00", without its currency');
const percent = z.string().regex(/^\d{1,3}(\.\d{1,4})?\s*%$/, 'a share is a text such as "12.5 %"');
const day = z.iso.date();
const stepIdText = z.string().min(1).max(300);

const Price = z
  .strictObject({
    price: money.optional().describe('Of one.'),
    supplied_by: z
      .enum(['shop', 'customer'])
      .optional()
      .describe('What the customer supplies is not billed; its price is what it is worth.'),
    on_hand: z.boolean().optional(),
    lead_days: z.int().min(0).max(1000).optional().describe('Calendar days until it is there.'),
  })
  .meta({ id: 'Price' });
const prices = z.record(z.string().min(1).max(300), Price);

const EstimateInput = z
  .strictObject({
    currency: z.string().regex(/^[A-Z]{3}$/, 'a currency is three letters of ISO 4217, such as EUR'),
    labour: z.record(name, money).describe('Rate of an hour by skill; `default` for the others.'),
    parts: prices.optional().describe('Planned parts by their id in the build.'),
    buys: prices.optional().describe('What works buy, by its name, or `step id/name`.'),
    consumables: z.record(name, money).optional(),
    sent_out: z.record(stepIdText, money).optional().describe('By work or step; in the place of its hours.'),
    shop_supplies: percent.optional().describe('Consumables and single-use fasteners without a price of their own, as a share of labour.'),
    contingency: percent.optional(),
    tax: z
      .array(
        z.strictObject({
          name,
          rate: percent,
          on: z
            .array(z.enum(['labour', 'parts', 'supplies', 'sent_out', 'contingency']))
            .min(1)
            .max(5)
            .optional()
            .describe('All of it when left out.'),
        }),
      )
      .max(10)
      .optional(),
    valid_days: z.int().min(1).max(365).optional(),
    approval_above: money.optional().describe('What may be added before the customer is asked.'),
    exclusions: z.array(text).max(50).optional(),
  })
  .meta({ id: 'ShopPrices', description: 'The shop’s prices. Money is texts of decimals: numbers of JSON are not exact.' });

const Shop = z
  .strictObject({
    people: z.int().min(1).max(2).optional(),
    hours_per_day: z.number().min(1).max(16).optional(),
    working_days: z
      .array(z.enum(['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun']))
      .min(1)
      .max(7)
      .optional(),
    start: day.optional().describe('The day the job is agreed and parts are ordered.'),
    km_per_week: z.number().positive().max(10_000).optional().describe('For the dates of later visits.'),
  })
  .meta({ id: 'ShopTerms' });

const signed = { by: name, date: day, note: text.optional(), photos: z.array(text).max(50).optional().describe('Where photos are kept.') };
const Inspected = z
  .strictObject({ point: name, result: z.enum(['sound', 'worn', 'unsafe', 'not_looked_at']), ...signed })
  .meta({ id: 'Inspected' });
const done = {
  step: stepIdText.describe('Its id in the plan.'),
  amounts: z.record(name, Value).optional().describe('Where it was done otherwise than planned.'),
};
const State = z
  .strictObject({
    fitted: z.array(name).max(200).optional().describe('Planned parts that are on it already.'),
    done: z.array(z.strictObject(done)).max(300).optional(),
    inspection: z.array(Inspected).max(100).optional(),
    accepted: z
      .array(z.strictObject({ finding: z.string().min(1).max(600), ...signed }))
      .max(100)
      .optional()
      .describe('Findings the customer lives with.'),
    as_built: z
      .array(
        z.strictObject({
          ...done,
          ...signed,
          passed: z.boolean(),
          readings: z
            .array(z.strictObject({ quantity: name, value: Value }))
            .max(20)
            .optional(),
        }),
      )
      .max(300)
      .optional()
      .describe('Steps that were done, signed for, with what was read.'),
  })
  .meta({ id: 'JobState' });

export const PlanRequest = z
  .strictObject({
    ...CheckRequest.shape,
    shop: Shop.optional(),
    estimate: EstimateInput.optional(),
    state: State.optional(),
    turned_up: z
      .strictObject({
        measured: z.array(VehicleReading).max(200).optional(),
        inspection: z.array(Inspected).max(100).optional(),
        parts: z.array(PartInput).max(50).optional(),
        note: text.optional(),
      })
      .optional()
      .describe('What was found half-way: the rest is planned anew, and the difference told with its price.'),
    stages: z
      .strictObject({
        groups: z
          .array(
            z.strictObject({
              name,
              parts: z.array(name).min(1).max(200),
              budget: money.optional().describe('What may be spent on it, all in; held against the prices in `estimate`.'),
            }),
          )
          .min(1)
          .max(12),
        order: z.enum(['as_given', 'best']).optional().describe('`best` weighs every order of up to four groups.'),
      })
      .optional(),
  })
  .meta({ id: 'PlanRequest', description: 'A check with the shop’s terms and the state of the job.' });

const ends = z.object({ low: z.number(), high: z.number() });
const spread = { expected: z.number(), deviation: z.number(), independent: ends, together: ends, unit: z.literal('h') };
const Spread = z.object(spread).meta({ id: 'TimeSpread', description: 'Hours. One job in ten stays below `low`, one goes beyond `high`.' });
const Moment = z.object({ day: z.int(), hour: z.number(), date: z.string().nullable() }).meta({ id: 'Moment' });
const list = z.array(z.string());
const Line = z
  .object({
    kind: z.string(),
    text: z.string(),
    quantity: z.string(),
    unit: z.string(),
    price: z.string().nullable(),
    amount: z.string().nullable(),
    steps: list,
    because: list.describe('Findings, parts and steps that ask for it.'),
    note: z.string().optional(),
  })
  .meta({ id: 'EstimateLine' });
const Estimate = z
  .object({
    wording: z.string(),
    currency: z.string(),
    digits: z.int(),
    lines: z.array(Line),
    totals: z.object({
      labour: z.string(),
      parts: z.string(),
      supplies: z.string(),
      sent_out: z.string(),
      contingency: z.string(),
      net: z.string(),
      tax: z.array(z.object({ name: z.string(), rate: z.string(), groups: list, on: z.string(), amount: z.string() })),
      total: z.string(),
    }),
    complete: z.boolean().describe('Nothing sure is without a price, and nothing is unknown that may ask for more.'),
    unpriced: list,
    range: z.object({ low: z.string(), high: z.string(), method: z.string() }),
    if_needed: z.array(
      z.object({
        step: z.string(),
        lines: z.array(Line),
        net: z.string(),
        unpriced: list.describe('What has no price and is not in `net`.'),
      }),
    ),
    contingency_rate: z.string(),
    valid_days: z.int(),
    approval_above: z.string().nullable(),
    exclusions: list,
  })
  .meta({ id: 'Estimate', description: 'An estimate, not a quotation. Amounts are exact decimals.' });

const Calendar = z
  .object({
    people: z.int(),
    hours_per_day: z.number(),
    begins: Moment.extend({ why: z.string() }),
    entries: z.array(z.object({ what: z.string(), from: Moment, to: Moment, ready: Moment.nullable(), contingent: z.boolean() })),
    ready: Moment,
    visits: z.array(z.object({ after: z.object({ value: z.number(), unit: z.string() }), date: z.string().nullable(), steps: list })),
    critical: z
      .object({ steps: list, hours: z.number() })
      .describe('What sets how long it takes with as many people as it likes; drying included.'),
    needs_help: list,
  })
  .meta({ id: 'Calendar' });

const told = { step: z.string(), title: z.string() };
const Value_ = Answer.shape.values.valueType;
const Risks = z
  .object({
    confirm_first: z.array(z.object({ ...told, contingent: z.boolean(), confirm: list })),
    safety: z.array(z.object({ ...told, check: z.string(), accept: z.string(), who: list, predicted: z.array(Value_) })),
    restricted: z.array(z.object({ skill: z.string(), who: z.string(), steps: list })),
    single_use: z.array(z.object({ step: z.string(), what: z.string(), torque: z.string().nullable() })),
    at_ride_height: z.array(z.object({ step: z.string(), what: z.string() })),
  })
  .meta({ id: 'Risks' });

const InspectionFinding = z
  .object({
    id: z.string(),
    point: z.string(),
    title: z.string(),
    hazard: z.string(),
    verdict: Verdict,
    says: z.string(),
    how: z.string(),
    tool: z.string(),
    accept: z.string(),
    minutes: z.number(),
    before: list.describe('Steps that wait for it.'),
    work: list,
    by: z.string().nullable(),
    date: z.string().nullable(),
    note: z.string().nullable(),
    photos: list,
  })
  .meta({ id: 'InspectionFinding' });
const Contact = z
  .object({ finding: z.string(), title: z.string(), says: z.string(), by: z.string(), date: z.string(), note: z.string().nullable() })
  .meta({ id: 'KnownContact' });
const AsBuilt = z
  .object({
    step: z.string(),
    by: z.string(),
    date: z.string(),
    passed: z.boolean(),
    note: z.string().nullable(),
    photos: list,
    readings: z.array(
      z.object({ quantity: z.string(), title: z.string(), read: Amount, predicted: Amount.nullable(), agrees: z.boolean().nullable() }),
    ),
    closed: z.boolean(),
    open: list.describe('Why it is not closed.'),
  })
  .meta({ id: 'AsBuilt' });
const Variation = z
  .object({
    note: z.string().nullable(),
    added: list,
    dropped: list,
    changed: list,
    hours: z.object({ before: z.number(), after: z.number(), unit: z.literal('h') }),
    price: z.object({ before: z.string(), after: z.string(), difference: z.string(), currency: z.string() }).nullable(),
    approval: z.string(),
  })
  .meta({ id: 'Variation' });
const Stages = z
  .object({
    order: z.string(),
    stages: z.array(
      z.object({
        name: z.string(),
        parts: list,
        steps: list,
        hours: z.number(),
        money: z
          .object({
            currency: z.string(),
            total: z.string(),
            complete: z.boolean(),
            budget: z.string().nullable(),
            over: z.string().nullable(),
          })
          .nullable()
          .describe('null without prices. `complete`: everything of it has one.'),
        again: list.describe('Done before, and done again because of this stage.'),
        sized_for_the_end: list.describe('Done at once to what the last stage asks for.'),
        verdict: Verdict,
        safe_to_drive: z.enum(['yes', 'no', 'not_known']),
        open: z.array(z.object({ id: z.string(), verdict: Verdict, hazard: z.string(), title: z.string() })),
      }),
    ),
    hours: z.number(),
    hours_at_once: z.number(),
    dearer_by: z.number(),
    weighed: z.int(),
    safe_all_along: z.boolean(),
    within_budgets: z.boolean().nullable().describe('null where no stage has a budget, or one that has is not priced whole.'),
  })
  .meta({ id: 'Stages' });
const amount = Amount.nullable();
const Target = z
  .object({
    angle: z.string(),
    axle: z.string(),
    title: z.string(),
    target: amount.describe('Each wheel’s; of toe both together. null: it is read from the maker’s sheet.'),
    from: z.enum(['stated', 'computed', 'maker']),
    expected: amount.describe('What the drawing gives with the work done, cams as far as they go.'),
    sides_within: amount,
    says: z.string(),
  })
  .meta({ id: 'AlignmentTarget' });
const Circuit = z
  .object({
    part: z.string(),
    name: z.string(),
    state: z
      .enum(['fits', 'planned', 'conflict', 'asked', 'maker'])
      .describe('`maker`: the maker’s sheet says; `asked`: something is not stated.'),
    current: amount,
    cable: z.object({ length: amount, area: amount }),
    needs: z
      .object({ area: Amount, gauge: z.string(), for: z.enum(['heat', 'heat and drop']) })
      .nullable()
      .describe('The thinnest that does, by the table.'),
    fuse: z.object({ fitted: amount, choose: amount, at_most: amount }),
    drop: amount.describe('Share of the voltage lost, there and back.'),
    says: z.string(),
    asked: list.describe('Attributes of the part that would tell more.'),
  })
  .meta({ id: 'Circuit' });
const HandOver = z
  .object({
    vehicle: z.string(),
    sections: z.array(z.object({ id: z.string(), title: z.string(), values: z.array(Value_), by_hand: list })),
    alignment: z.array(Target),
    wiring: z.object({ rule: z.string(), source: z.string(), circuits: z.array(Circuit) }).meta({ id: 'WiringMap' }),
    known_contacts: z.array(Contact),
    still_open: z.array(z.object({ id: z.string(), verdict: z.string(), says: z.string() })),
    visits: Calendar.shape.visits,
    parts_taken_off: list,
    cautions: list,
  })
  .meta({ id: 'HandOver' });

export const Plan = z
  .object({
    check: Answer.describe('The answer to a check of this state; `work` is what remains, in order.'),
    done: z.array(z.object({ ...told, as_built: z.boolean() })),
    not_planned: z.array(z.object({ part: z.string(), name: z.string(), why: z.string() })),
    time: z.object({ method: z.string(), sure: Spread, if_needed: Spread, by_skill: z.array(z.object({ skill: z.string(), ...spread })) }),
    calendar: Calendar,
    estimate: Estimate.nullable(),
    risks: Risks,
    inspection: z.array(InspectionFinding),
    contacts: z.object({
      accepted: z.array(Contact),
      refused: z.array(z.object({ finding: z.string(), why: z.string(), by: z.string(), date: z.string() })),
    }),
    as_built: z.array(AsBuilt),
    variation: Variation.nullable(),
    stages: Stages.nullable(),
    hand_over: HandOver,
  })
  .meta({ id: 'Plan' });
