/** The forms of sheets, their jobs, and the keys of cells. */
import { z } from 'zod';
import { name } from './request.ts';

const moment = z.string().describe('ISO 8601, UTC.');

export const SheetColumn = z
  .object({
    heading: z.string(),
    read_as: z.string().nullable().describe('What it was taken for; null when it is not read.'),
    did_you_mean: z
      .string()
      .optional()
      .describe('Of one that is not read: a heading it is spelt much like. Rows with a value there are not checked.'),
    unit: z.string().optional().describe('Of bare numbers below it.'),
  })
  .meta({ id: 'SheetColumn' });

export const SheetJob = z
  .object({
    id: z.string(),
    name: z.string(),
    form: z.enum(['csv', 'xlsx']),
    state: z.string().describe('queued, running, done, cancelled, failed; more may come.'),
    rows: z.object({ total: z.int(), done: z.int() }),
    rows_are: z.string().describe('build or part.'),
    builds: z
      .object({ conflict: z.int(), unknown: z.int(), close: z.int(), clear: z.int(), not_checked: z.int() })
      .describe('So far, by verdict; `not_checked` have a fault in a row.'),
    units: z.enum(['metric', 'us']),
    columns: z.array(SheetColumn),
    problem: z.string().nullable().describe('Why it failed.'),
    created_at: moment,
    finished_at: moment.nullable(),
    key: z.string(),
  })
  .meta({ id: 'SheetJob', description: 'A table of builds that is checked row by row.' });

export const Heading = z
  .object({
    words: z.array(z.string()),
    read_as: z.string(),
    unit: z.string().optional().describe('Of bare numbers, where the heading implies one.'),
    rows: z.string().optional().describe('Only where rows are parts, or builds.'),
  })
  .meta({ id: 'SheetHeading' });

export const CellTokenWrite = z
  .strictObject({ name: name.describe('What it is for, such as the workbook it stands in.') })
  .meta({ id: 'CellTokenWrite' });

const token = { id: z.string(), name: z.string(), created_at: moment, revoked_at: moment.nullable(), key: z.string() };

export const CellToken = z
  .object(token)
  .meta({ id: 'CellToken', description: 'A key that stands in the address of a cell. It reads cells and nothing else.' });
export const NewCellToken = z
  .object({ ...token, token: z.string().describe('Told this once; only its hash is kept.') })
  .meta({ id: 'NewCellToken' });
