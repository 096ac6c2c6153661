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
export const Margin = z
  .object({
    value: z.number(),
    unit: text,
    plus_minus: plusMinus.describe(
      'How far the further of its two ends is; `low` and `high` may lie unevenly. Left out for what is exact.',
    ),
    low: z
      .number()
      .nullable()
      .describe(
        'The worst case: every input at the end of its tolerance where it does most harm, all at once; where `drawing_at_worst` is there, with what the numbers of a drawing do by root sum of squares among it, which nineteen in twenty keep to.',
      ),
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
    drawing_at_worst: z
      .object({ low: z.number(), high: z.number() })
      .nullable()
      .describe(
        'Where the margin rests on a drawing: `low` and `high` with every number of the drawing at its worst at once too, to first order. It decides no verdict. null: no drawing is behind it, and `low` and `high` are the worst of everything.',
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
    on: text.optional().describe('When a text of law was read; it may have changed since.'),
    note: text.optional(),
  })
  .meta({ id: 'Basis' });
const AnswerNumber = z
  .object({ name: text, title: text, value: PlainValue, unit: text.optional(), plus_minus: plusMinus, origin: text, id: text.optional() })
  .meta({ id: 'AnswerNumber' });
const WorkCall = z.object({ work: text, title: text, amounts: z.record(z.string(), WorkAmount), step: text }).meta({ id: 'WorkCall' });
const AlternativeCost = z
  .object({
    id,
    rule: text,
    title: text,
    hazard: text,
    subject: text,
    before: Verdict,
    after: Verdict,
    margin_before: Margin.nullable(),
    margin_after: Margin.nullable(),
  })
  .meta({ id: 'AlternativeCost' });
const Alternative = z
  .object({
    work: text,
    title: text,
    amounts: z.record(z.string(), WorkAmount),
    clears: z
      .boolean()
      .describe('It clears the finding by itself at the worse end of the tolerances; where not, the amount is the most there is.'),
    margin: Margin.nullable().describe('Of the finding, with it done.'),
    irreversible: z.boolean(),
    breaks: z.array(AlternativeCost).describe('Findings that are worse for it.'),
    lowers: z.array(AlternativeCost).describe('Margins that fall without a change of verdict, the largest loss first.'),
    clears_too: z.array(id).describe('Other findings that are better for it.'),
    changes: z
      .array(z.object({ id, name: text, title: text, subject: text, unit: text, before: z.number(), after: z.number() }))
      .describe('Numbers that it changes: turning circle, travel, track, load of the tyres and others.'),
    notes: z.array(text),
    cautions: z.array(text),
  })
  .meta({ id: 'Alternative' });
export const DecidingReading = z.object({ id, title: text, subject: text, share: z.number() });
export const SettledBy = z.object({
  readings: z
    .array(DecidingReading)
    .describe('Readings that take most of the doubt, with the share that each causes; none where no tool takes any of it.'),
  leaves: Amount.nullable().describe('Half-width of the margin that is left once all that can be read of it is.'),
  remains: z
    .array(z.object({ id, title: text, subject: text, share: z.number(), can_be_read: z.boolean() }))
    .describe('What most of that is of: read as exactly as its tool reads, or by nobody.'),
  chance: z.number().describe('The chance that all of it settles the finding.'),
});
export const Finding = z
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
    on_defaults: z
      .object({
        share: z.number().describe('What part of the doubt defaults cause.'),
        decide: z
          .array(z.object({ id, title: text, subject: text, share: z.number() }))
          .describe('Readings that decide, with the share of the doubt that each causes.'),
      })
      .optional()
      .describe('It rests on defaults of the class: likely so, until those readings are taken.'),
    leans: z
      .string()
      .optional()
      .describe('Of one that is too close to call: likely met, likely not met (from three chances in four on), as likely met as not.'),
    settled_by: SettledBy.optional().describe(
      'Of one that is too close to call: what would settle it. Where the chance is small, its worse end is taken as true.',
    ),
    contested: z
      .array(id)
      .optional()
      .describe('Values it rests on of which what was said cannot all be true: it is settled when they are read again.'),
    missing: z.array(id),
    any_of: z.array(z.array(id)).optional().describe('Groups of what is missing of which any one would do.'),
    work: z.array(WorkCall),
    alternatives: z
      .array(Alternative)
      .optional()
      .describe('Where they were asked for: other ways to cure it, each with what it costs elsewhere; those that clear it first.'),
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
    who: z.array(text).describe('Who must do it, where not anybody may.'),
    crew: z.int().describe('People it takes at once.'),
    hours: Hours,
    tools: z.array(text),
    setups: z.array(id).describe('Set-ups it needs itself.'),
    irreversible: z.boolean(),
    safety_critical: z.boolean().describe('A fault in it can kill: it is signed for when it is verified.'),
    contingent: z.boolean().describe('Only to be done if measuring shows that it is needed.'),
    because: z.array(id),
    after: z.array(z.object({ step: id, why: text })),
    prerequisites: z.array(text),
    settling: z.object({ hours: z.number(), why: text }).nullable().describe('What must pass before what comes after it.'),
    sent_out: z.object({ days: z.number(), what: z.enum(['part', 'vehicle']) }).nullable(),
    visits: z.array(Amount).describe('Distances after the hand-over at which it is done; in the shop where there are none.'),
    fasteners: z.array(z.object({ what: text, single_use: z.boolean(), at_ride_height: z.boolean(), torque: text.optional() })),
    buys: z.array(text).describe('What is bought for it.'),
    consumables: z.array(text),
    verify: z.object({ check: text, accept: text }).nullable(),
    cautions: z.array(text),
  })
  .meta({ id: 'Step' });
const Setup = z
  .object({
    id,
    title: text,
    from: id.describe('The first step that needs it.'),
    to: id.describe('The last step that needs it.'),
    make: Hours,
    unmake: Hours,
    crew: z.int(),
    contingent: z.boolean(),
    cautions: z.array(text),
  })
  .meta({ id: 'SetUp', description: 'A state of the vehicle that steps share, made once for as many as the order allows.' });
export const Work = z
  .object({
    steps: z.array(Step),
    hours: Hours.describe('All of it: the high end with everything that may be needed.'),
    sure: Hours.describe('What is sure to be done, set-ups included.'),
    if_needed: Hours.describe('What measuring may show to be needed, beyond that.'),
    not_known: z.int().describe('Findings that are not known yet and could ask for more work.'),
    setups: z.array(Setup),
    order: z.object({
      set_up: Amount,
      at_least: Amount.describe('What no order goes below.'),
      exact: z.boolean(),
      rework_at_risk: Amount,
    }),
    rings: z
      .array(z.array(z.object({ step: id, why: text, because: z.array(id) })))
      .describe('Ways round by which steps wait for themselves; none unless rules contradict each other.'),
  })
  .meta({ id: 'JobWork' });
export const ToMeasure = z
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
    could_overturn: z
      .array(id)
      .describe('Conflicts that rest on defaults of the class, which this reading ends if the vehicle is otherwise than its class has it.'),
    would_settle: z
      .array(z.object({ finding: id, title: text, chance: z.number() }))
      .describe('What this reading, with those before it, is expected to settle, and how likely.'),
    would_tell: z.array(id).describe('Findings that are not known, and can be told with this reading.'),
    would_narrow: z.array(id),
    minutes_there: z.number().describe('With its position taken already.'),
    write_down: z
      .object({
        quantity: text,
        of: text.optional(),
        unit: text.optional(),
        such_as: z
          .array(text)
          .optional()
          .describe(
            'What its value may be written as, where that is no number, or not only: the code that stands on the part, or the words there are.',
          ),
      })
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
    sets: z
      .array(
        z
          .object({
            id,
            title: text,
            gives: text,
            quantities: z.array(text).describe('All that belong to it.'),
            readings: z.array(z.int()).describe('Those of the list.'),
            instead_of: z.array(z.int()).describe('Those of the list that all of it stands in for.'),
          })
          .meta({ id: 'MeasuringSet', description: 'Readings that give together what none gives alone.' }),
      )
      .describe('Readings of the list that belong together, by their order.'),
    settles: z.array(id).describe('Findings too close to call that the whole list is expected to settle.'),
    tells: z.array(id).describe('Findings not known that can be told with the whole list.'),
    leaves_open: z.array(id),
    taken: z
      .array(
        z
          .object({
            ids: z.array(id),
            quantity: text,
            title: text,
            subject: text,
            settled: z.array(id),
            open: z.array(id),
            remark: text.optional().describe('Why nothing rests on it: another reading counts, say, or no finding asks for it.'),
          })
          .meta({ id: 'TakenReading', description: 'A reading that was given.' }),
      )
      .describe(
        'Every reading that was given: which findings are settled and would be open without it, and which rest on it and are open; where none does, `remark` says why. Empty where `most_readings` is given.',
      ),
  })
  .meta({ id: 'Measuring', description: 'The list of what to measure as a whole.' });
const Fit = z
  .object({
    readings: z.array(
      z.object({
        id,
        residual: z.number().describe('What the fitted vehicle gives less the reading, in half-widths of the reading.'),
        off: Amount.optional(),
        agrees: z
          .boolean()
          .describe('Whether the defaults were made to agree with it: a vehicle of the class can have it, and nothing contradicts it.'),
        remark: text.optional().describe('Of one that was left out: why, and whether it counts all the same.'),
      }),
    ),
    adjusted: z.array(
      z.object({ ids: z.array(id), was: Amount, now: Amount, left: z.number().describe('What part of its tolerance is still open.') }),
    ),
  })
  .meta({ id: 'Fit', description: 'How the defaults of the class were made to agree with the readings.' });
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
    work: Work,
    after_work: z.object({
      verdict: Verdict,
      rounds: z.int(),
      cleared: z.array(id),
      broken: z.array(Finding),
      remaining: z.array(z.object({ id, verdict: Verdict, says: text })),
    }),
    measure: z.array(ToMeasure),
    measuring: Measuring,
    fit: Fit.optional(),
    assumptions: z.array(text),
    values: z.record(z.string(), AnswerValue),
    versions: z.object({ engine: text, models: text, rules: text, catalogue: text }),
  })
  .meta({ id: 'Answer' });
