import { z } from 'zod';
import { ERROR_CODES } from '../errors.ts';

const faults = z.array(
  z.object({
    pointer: z.string().describe('RFC 6901'),
    code: z.string(),
    message: z.string(),
    help: z.string(),
    row: z.int().optional().describe('Of an import, counted from 1 after the heading.'),
    sheet_row: z.int().optional().describe('Of a table: the row as a spreadsheet shows it, its heading being 1.'),
    column: z.string().optional(),
  }),
);

export const Problem = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    code: z.enum(ERROR_CODES),
    detail: z.string(),
    faults,
    request_id: z.string().optional(),
  })
  .meta({ id: 'Problem', description: 'An error (RFC 9457), all its faults at once.' });

export const NotModified = z.null().meta({ description: 'What you have is still current; no body.' });

export const Deleted = z.null().meta({ description: 'It is deleted; no body.' });

export const ImportReport = z
  .object({
    rows: z.int(),
    added: z.int().describe('Ids that are new.'),
    changed: z.int().describe('Ids that have a new version.'),
    unchanged: z.int().describe('Ids that already said the same.'),
    refused: z.int().describe('Rows that were left out.'),
    faults,
    faults_left_out: z.int().describe('Faults beyond those listed.'),
  })
  .meta({ id: 'ImportReport' });
