/** The form of the answer to a what-if; the workshop's own type must fit it. */
import { z } from 'zod';
import { DecidingReading, Margin, SettledBy, Verdict } from './answer.ts';

const text = z.string();
const WhatIfValue = z
  .object({ value: z.union([z.number(), text]), unit: text.optional() })
  .meta({ id: 'WhatIfValue', description: 'A text where what is varied is one, as given.' });
const stretch = {
  verdict: Verdict,
  from: WhatIfValue.describe('The first value checked that has this verdict.'),
  to: WhatIfValue.describe('The last. Where the next stretch does not begin one step on, the border was not told to the step.'),
};
const cause = {
  id: text.describe('As the findings of a check are named.'),
  rule: text,
  title: text,
  hazard: text,
  subject: text,
  sort: text.describe('What it is about: law; fit, where lengths are held against each other; else the area of its rule. More may come.'),
  varies: z.boolean().describe('It rests on what is varied. If not, it is the same all along.'),
};
const WhatIfCause = z.object(cause).meta({ id: 'WhatIfCause' });

const Decider = z
  .object({
    ...cause,
    margin: Margin.nullable(),
    says: text,
    leans: text.optional(),
    settled_by: SettledBy.optional().describe('Of one that is too close to call: what would settle it.'),
    contested: z.array(text).optional(),
    missing: z.array(text),
    any_of: z.array(z.array(text)).optional(),
  })
  .meta({ id: 'WhatIfDecider', description: 'A finding, as a check at `decided_at` tells it.' });
const Ender = z
  .object({
    end: z.enum(['from', 'to']),
    verdict: Verdict.describe('What it is beyond.'),
    ...cause,
    widened_by: z
      .array(DecidingReading)
      .describe('Readings that may widen the stretch: they narrow what is too close to call beyond. None where it is so whatever is read.'),
  })
  .meta({ id: 'WhatIfEnder' });
const band = {
  ...stretch,
  because: z.array(WhatIfCause).describe('What turns it: the findings of that verdict where a better one ends.'),
  ended_by: z.array(Ender).describe('What makes it worse beyond either end. Empty where nothing does, and of values of their own.'),
  decided_at: WhatIfValue.nullable().describe(
    'The value inside it that `decided_by` is told at. null of what is clear, and beyond the first twelve values that are told.',
  ),
  decided_by: z
    .array(Decider)
    .describe('The findings that have its verdict there: by how much, and of those too close to call what would settle them.'),
  more: z.int().describe('How many more have its verdict there.'),
};

const afterWork = z
  .array(z.object({ value: z.union([z.number(), text]), verdict: Verdict }))
  .optional()
  .describe('What the stated work leaves of it, where it was worked out: at the ends of the stretches of the whole that are not clear.');

export const WhatIf = z
  .object({
    summary: text,
    varied: z.object({
      quantity: text,
      title: text,
      subject: text,
      step: WhatIfValue.nullable(),
      plus_minus: WhatIfValue.nullable(),
    }),
    bands: z
      .array(z.object({ ...band, after_work: afterWork }))
      .describe('The verdict of the whole, stretch by stretch; a verdict may come more than once.'),
    sorts: z
      .array(z.object({ sort: text, bands: z.array(z.object(band)) }))
      .describe(
        'The same of each sort of finding by itself, of what rests on the varied value alone: where the fit ends, whatever the law has. Sorts that are clear all along are left out.',
      ),
    findings: z
      .array(z.object({ ...cause, bands: z.array(z.object(stretch)), after_work: afterWork }))
      .describe('Those that are not clear all along. Where one does not apply it has no stretch.'),
    as_before: z
      .int()
      .describe(
        'Findings open as before, at the value with most of them: the planned parts do not change them, and no verdict counts them.',
      ),
    checked: z.object({
      values: z
        .array(z.object({ value: z.union([z.number(), text]), verdict: Verdict }))
        .describe('Every value the vehicle was checked at.'),
      unit: text.nullable(),
      spacing: WhatIfValue.nullable().describe(
        'The widest gap between values that were checked. What turns and turns back within one is searched for where margins that bend one way may reach; what bends both ways, or comes and goes, may be missed. null where every step was checked.',
      ),
      to_the_step: z.boolean().describe('false: so much turns that not every border is told to the step. Take a shorter range.'),
    }),
    remarks: z
      .array(text)
      .describe('What the answer is not, in words: a part that is on the vehicle already is not swapped for another one.'),
    versions: z.object({ engine: text, models: text, rules: text, catalogue: text }),
  })
  .meta({ id: 'WhatIf' });
