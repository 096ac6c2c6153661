import { z } from 'zod';
import { ERROR_CODES } from '../errors.ts';

export const Problem = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    code: z.enum(ERROR_CODES),
    detail: z.string(),
    faults: z.array(z.object({ pointer: z.string().describe('RFC 6901'), code: z.string(), message: z.string(), help: z.string() })),
    request_id: z.string().optional(),
  })
  .meta({ id: 'Problem', description: 'An error (RFC 9457), all its faults at once.' });
