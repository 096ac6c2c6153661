/** The form of the answer, for the documents and the client's types; the workshop's own types must fit it. */
import { z } from 'zod';

const text = z.string();
const id = z.string();
export const Verdict = z.enum(['conflict', 'unknown', 'close', 'clear']).meta({
  id: 'Verdict',
  description: 'Worst first. `close`: the measurements there are cannot decide it. `unknown`: a measurement is missing.',
});
const Certainty = z
  .enum(['proven', 'searched'])
  .describe('proven: no values within the tolerances go beyond it. searched: the furthest that a search found.');
const plusMinus = z.number().optional().describe('Half-width in the same unit; left out for what is exact.');
const PlainValue = z.union([z.number(), z.boolean(), z.string(), z.null()]);

export const Amount = z.object({ value: z.number(), unit: text, plus_minus: plusMinus }).meta({ id: 'Amount' });
const WorkAmount = z
  .object({
    value: z.number().describe('Enough at the worse end of the tolerances.'),
    nominal: z.number().describe('What the nominal values ask for.'),
    unit: text,
  })
  .meta({ id: 'WorkAmount' });
const Margin = z
  .object({
    value: z.number(),
    unit: text,
    plus_minus: plusMinus,
    low: z.number().nullable().describe('The worst case: every input at the end of its tolerance where it does most harm, all at once.'),
    high: z.number().nullable().describe('The best case.'),
    low_is: Certainty,
    high_is: Certainty,
    rss: z
      .object({
        low: z.number(),
        high: z.number(),
        near_linear: z
          .boolean()
          .describe(
            'false: the margin bends, or its inputs meddle with each other, and this band is a rough estimate. It never decides a verdict.',
          ),
      })
      .nullable()
      .describe(
        'The band by root sum of squares: what each input does alone at the ends of its tolerance, squared, summed and rooted. What one statement gave, or one tool read, moves together and counts once. If each tolerance holds 95 % of readings, and they are independent, so does this band.',
      ),
  })
  .meta({
    id: 'Margin',
    description: 'Signed: negative fails. Rounded towards the worse side. `low` to `high` is the worst-case band, which verdicts go by.',
  });
const Origin = z
  .object({
    kind: text.describe('measured, catalogue, stated, computed, class-default, typical, rule, work, unknown; more may come.'),
    note: text.optional(),
    source: text.optional(),
    date: text.optional(),
    tool: text.optional(),
    by: text.optional(),
  })
  .meta({ id: 'Origin' });
const AnswerPart = z.object({ id, kind: text, name: text, at: text }).meta({ id: 'AnswerPart' });
export const Basis = z
  .object({
    kind: text,
    source: text.optional(),
    title: text,
    clause: text.optional(),
    read: z.enum(['seen', 'second-hand', 'memory']).optional(),
    note: text.optional(),
  })
  .meta({ id: 'Basis' });
const AnswerNumber = z
  .object({ name: text, title: text, value: PlainValue, unit: text.optional(), plus_minus: plusMinus, origin: text, id: text.optional() })
  .meta({ id: 'AnswerNumber' });
const WorkCall = z.object({ work: text, title: text, amounts: z.record(z.string(), WorkAmount), step: text }).meta({ id: 'WorkCall' });
const Finding = z
  .object({
    id,
    rule: text,
    title: text,
    hazard: text.describe('safety, damage, legal, comfort; more may come.'),
    verdict: Verdict,
    as_before: z
      .boolean()
      .describe(
        'The vehicle stands so already, and the planned parts change nothing of it. Unless a conflict, it does not count in the verdict.',
      ),
    margin: Margin.nullable(),
    subject: text,
    parts: z.array(AnswerPart),
    says: text,
    numbers: z.array(AnswerNumber),
    doubt: z.array(z.object({ id, share: z.number() })),
    missing: z.array(id),
    any_of: z.array(z.array(id)).optional().describe('Groups of what is missing of which any one would do.'),
    work: z.array(WorkCall),
    basis: z.array(Basis),
    cautions: z.array(text),
  })
  .meta({ id: 'Finding' });
const Hours = z.object({ low: z.number(), likely: z.number(), high: z.number(), unit: z.literal('h') }).meta({ id: 'Hours' });
const Step = z
  .object({
    id,
    work: text,
    title: text,
    parts: z.array(AnswerPart),
    amounts: z.record(z.string(), WorkAmount),
    skills: z.array(text),
    hours: Hours,
    tools: z.array(text),
    irreversible: z.boolean(),
    contingent: z.boolean().describe('Only to be done if measuring shows that it is needed.'),
    because: z.array(id),
    after: z.array(z.object({ step: id, why: text })),
    prerequisites: z.array(text),
    verify: z.object({ check: text, accept: text }).nullable(),
    cautions: z.array(text),
  })
  .meta({ id: 'Step' });
const ToMeasure = z
  .object({
    ids: z.array(id),
    quantity: text,
    title: text,
    subject: text,
    why: text,
    findings: z.array(id),
    how: text,
    tool: text,
    where: text.optional(),
    suspension: text.optional(),
    steering: text.optional(),
    accuracy: Amount.optional(),
    minutes: z.number().optional().describe('On its own, getting into position included.'),
    cautions: z.array(text),
    order: z.int().describe('From 1, the most telling for its time first.'),
    group: id.describe('The position it is read in, by its id in `measuring.groups`.'),
    decides: z.boolean().describe('One of the few that decide most.'),
    state: text.describe('as-it-stands, planned-part, planned-parts-on: what must be on the vehicle when it is read; more may come.'),
    would_settle: z
      .array(z.object({ finding: id, title: text, chance: z.number() }))
      .describe('What this reading, with those before it, is expected to settle, and how likely.'),
    would_tell: z.array(id).describe('Findings that are not known, and can be told with this reading.'),
    would_narrow: z.array(id),
    minutes_there: z.number().describe('With its position taken already.'),
    write_down: z
      .object({ quantity: text, of: text.optional(), unit: text.optional() })
      .describe('How the reading is sent, under `measured` of the vehicle, but for its value.'),
  })
  .meta({ id: 'ToMeasure' });
const Measuring = z
  .object({
    minutes: z.number().describe('Of the whole list.'),
    decide: z.object({ readings: z.array(z.int()), minutes: z.number() }).describe('The few that decide most, by their order.'),
    groups: z.array(
      z
        .object({
          id,
          title: text,
          setup_minutes: z.number(),
          minutes: z.number(),
          readings: z.array(z.int()),
          cautions: z.array(text),
        })
        .meta({ id: 'MeasuringGroup', description: 'Readings of one position: they share the time it takes to get there.' }),
    ),
    settles: z.array(id).describe('Findings too close to call that the whole list is expected to settle.'),
    tells: z.array(id).describe('Findings not known that can be told with the whole list.'),
    leaves_open: z.array(id),
  })
  .meta({ id: 'Measuring', description: 'The list of what to measure as a whole.' });
const AnswerValue = z
  .object({
    name: text,
    title: text,
    subject: text,
    value: PlainValue,
    unit: text.optional(),
    plus_minus: plusMinus,
    origin: Origin,
    from: z.array(id),
  })
  .meta({ id: 'AnswerValue' });

export const Answer = z
  .object({
    verdict: Verdict,
    summary: text,
    checked: z.object({
      rules: z.int(),
      applied: z.int(),
      not_applicable: z.int(),
      conflict: z.int(),
      unknown: z.int(),
      close: z.int(),
      clear: z.int(),
      as_before: z.int(),
    }),
    findings: z.array(Finding),
    work: z.object({ steps: z.array(Step), hours: Hours }),
    after_work: z.object({
      verdict: Verdict,
      rounds: z.int(),
      cleared: z.array(id),
      broken: z.array(Finding),
      remaining: z.array(z.object({ id, verdict: Verdict, says: text })),
    }),
    measure: z.array(ToMeasure),
    measuring: Measuring,
    assumptions: z.array(text),
    values: z.record(z.string(), AnswerValue),
    versions: z.object({ engine: text, models: text, rules: text, catalogue: text }),
  })
  .meta({ id: 'Answer' });
