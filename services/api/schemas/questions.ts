/** The form of questions as people type them, and of the short answer to one. */
import { z } from 'zod';
import { leastLength } from '../../questions/index.ts';
import { Finding, ToMeasure } from './answer.ts';
import { CheckRequest, name, VehicleInput } from './request.ts';

export const LONGEST_QUESTION = 20_000;
export const LONGEST_ANSWER = 4_000;
export const USUAL_LENGTH = 500;

export const Question = z
  .strictObject({
    text: z
      .string()
      .min(1)
      .max(LONGEST_QUESTION)
      .describe('As somebody types it: `33x12.50R17 on 17x8.5 -10, 2.5" lift, Merrowdale Ghyll`.'),
    vehicle: z
      .union([name, VehicleInput])
      .optional()
      .describe(
        'Which vehicle, where the text does not say: a name, an id or a class, or a vehicle as a check takes it. It wins over the text.',
      ),
    length: z
      .int()
      .min(1)
      .max(LONGEST_ANSWER)
      .optional()
      .describe(
        `Most characters (UTF-16 units) of the answer; ${USUAL_LENGTH} when left out. No answer about a build has fewer than ${leastLength('text')} as text or ${leastLength('markdown')} as markdown: less is refused before anything is checked, and so is what does not hold the assumptions of the reading.`,
      ),
    format: z.enum(['text', 'markdown']).optional().describe('`text` when left out.'),
    jurisdictions: z
      .array(name)
      .max(20)
      .optional()
      .describe('Law packs to hold it against, by id (`/v1/jurisdictions`). Without one, nothing legal is claimed.'),
    units: z.enum(['metric', 'us']).optional().describe('As the question was written when left out.'),
  })
  .meta({
    id: 'Question',
    examples: [{ text: '33x12.50R17 on 17x8.5 -10 with a 2.5" lift, Merrowdale Ghyll', length: 500, format: 'text' }],
  });

const Reading = z
  .object({
    understood: z.array(
      z.object({
        text: z.string().describe('As typed, with links, mentions and markup taken out.'),
        as: z.string().describe('tyre, wheel, part, load, people, speed, state, measured, vehicle, gears; more may come.'),
        says: z.string(),
      }),
    ),
    names_ignored: z.array(z.string()).describe('Names beside parts that are not in the catalogue: left out.'),
    not_understood: z.array(z.object({ text: z.string(), why: z.string() })),
    spelling: z.array(z.object({ text: z.string(), as: z.string() })).describe('Words taken for others spelt much like them.'),
  })
  .meta({ id: 'QuestionReading' });

export const ShortVerdict = z.enum(['yes', 'yes_with_work', 'no', 'cant_tell']).meta({
  id: 'ShortVerdict',
  description:
    '`yes`: clear as it is. `yes_with_work`: clear after the stated work. `no`: no stated work clears it with the parts asked about. `cant_tell`: not yet.',
});

export const ShortAnswer = z
  .object({
    reading: Reading,
    verdict: ShortVerdict,
    answer: z.string().describe('The answer in a few sentences, within the length asked for.'),
    assumptions: z.array(z.object({ text: z.string(), could_flip: z.boolean() })),
    build: CheckRequest.nullable().describe('What was checked, to be sent to /v1/checks as it is; null when nothing was understood.'),
    findings: z.array(Finding).describe('What is not clear and counts, and the finding that decides, which comes first.'),
    measure: z.array(ToMeasure).describe('What to measure next, that of the deciding finding first.'),
  })
  .meta({ id: 'ShortAnswer' });
