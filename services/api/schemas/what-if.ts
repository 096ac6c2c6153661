/** The form of the answer to a what-if; the workshop's own type must fit it. */
import { z } from 'zod';
import { Verdict } from './answer.ts';

const text = z.string();
const WhatIfValue = z
  .object({ value: z.union([z.number(), text]), unit: text.optional() })
  .meta({ id: 'WhatIfValue', description: 'A text where what is varied is one, as given.' });
const stretch = {
  verdict: Verdict,
  from: WhatIfValue.describe('The first value checked that has this verdict.'),
  to: WhatIfValue.describe('The last. Where the next stretch does not begin one step on, the border was not told to the step.'),
};
const cause = { id: text.describe('As the findings of a check are named.'), rule: text, title: text, hazard: text, subject: text };
const WhatIfCause = z.object(cause).meta({ id: 'WhatIfCause' });

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
      .array(
        z.object({
          ...stretch,
          because: z.array(WhatIfCause).describe('What turns it: the findings of that verdict where a better one ends.'),
          after_work: afterWork,
        }),
      )
      .describe('The verdict of the whole, stretch by stretch; a verdict may come more than once.'),
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
        'What turns and turns back between values as near as this to each other may be missed; null where every step was checked.',
      ),
      to_the_step: z.boolean().describe('false: so much turns that not every border is told to the step. Take a shorter range.'),
    }),
    versions: z.object({ engine: text, models: text, rules: text, catalogue: text }),
  })
  .meta({ id: 'WhatIf' });
