import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { type Designation, parseDesignation } from '../../models/tyres/designation.ts';
import { type Dimension, findUnit, NONE, parseQuantity } from '../../units/index.ts';
import { compareTyres } from '../../workshop/tyre-comparison.ts';
import { type TyreAsked, tyreFacts } from '../../workshop/tyre-facts.ts';
import type { AppParts } from '../app.ts';
import { ApiError, type Fault } from '../errors.ts';
import { Problem } from '../schemas/problem.ts';
import { TyreComparison, TyreFacts, type TyreQuery, tyreQuery } from '../schemas/tyres.ts';

const designation = z
  .string()
  .min(1)
  .max(120)
  .describe('As on the sidewall or as people say it, with its strokes as `%2F` or dashes: `LT285-70R17 121-118Q E`, `33x12.50R15`, `33s`.');

const MOST_LENGTH = 3;
/** What a query may ask with, by the unit that says its dimension, and the most that makes sense; SI. */
const ASKED: readonly (readonly [query: keyof TyreQuery, name: keyof TyreAsked, unit: string, most: number])[] = [
  ['rim_width', 'rimWidth', 'in', 0.5],
  ['load', 'load', 'kg', 20_000],
  ['pressure', 'pressure', 'kPa', 1_500_000],
  ['measured_diameter', 'measuredDiameter', 'mm', MOST_LENGTH],
  ['measured_width', 'measuredWidth', 'mm', MOST_LENGTH],
  ['new_tread', 'newTread', 'mm', 0.1],
  ['tread', 'tread', 'mm', 0.1],
];

export const tyreRoutes: FastifyPluginAsyncZod<AppParts> = async (app, { library }) => {
  app.get(
    '/v1/tyres/:designation',
    {
      schema: {
        operationId: 'getTyre',
        tags: ['tyres'],
        summary: 'What a tyre measures and carries, by its designation',
        description:
          'Reads a designation in any form it is typed in: dimensions with what the standards let them vary by, approved rims, ratings, load at pressure, and what each rests on. What the size does not say is listed, not guessed. One that cannot be read is answered with what was probably meant.',
        params: z.strictObject({ designation }),
        querystring: z.strictObject(tyreQuery),
        response: { 200: TyreFacts, 400: Problem, 422: Problem },
      },
    },
    async ({ params, query }) => {
      const tyre = readTyre(params.designation, '/designation');
      return tyreFacts(tyre, readAsked(query), library, query.units ?? 'metric') as never;
    },
  );
  app.get(
    '/v1/tyres/:designation/compare/:other',
    {
      schema: {
        operationId: 'compareTyres',
        tags: ['tyres'],
        summary: 'What going from one tyre to another changes',
        description:
          'Differences in diameter, width, clearance, turns, load and speed, with what the standards leave open; what the speedometer shows; what gears are worth. A rim width, load and pressure count for both, readings and tread for the second.',
        params: z.strictObject({ designation, other: designation }),
        querystring: z.strictObject(tyreQuery),
        response: { 200: TyreComparison, 400: Problem, 422: Problem },
      },
    },
    async ({ params, query }) => {
      const pair = [readTyre(params.designation, '/designation'), readTyre(params.other, '/other')] as const;
      return compareTyres(pair, readAsked(query), library, query.units ?? 'metric') as never;
    },
  );
};

function readTyre(typed: string, pointer: string): Designation {
  const read = parseDesignation(typed);
  if (read.ok) return read.value;
  const [wrong = read.reason, question] = read.reason.split('; did you mean ');
  const help = question ? `did you mean ${question}` : 'write it as on the sidewall, or give what you measure';
  throw new ApiError('TYRE_UNREADABLE', read.reason, [{ pointer, code: 'TYRE_UNREADABLE', message: wrong, help }]);
}

/** Every fault of the query at once. */
function readAsked(query: TyreQuery): TyreAsked {
  const faults: Fault[] = [];
  const asked = ASKED.flatMap(([name, as, unit, most]) => {
    const text = query[name];
    if (text === undefined) return [];
    const parsed = parseQuantity(text, dimensionOf(unit));
    const add = (code: string, message: string, help: string): void => void faults.push({ pointer: `/${name}`, code, message, help });
    if (!parsed.ok) add(parsed.fault.code, parsed.fault.message, parsed.fault.help);
    else if (!(parsed.measure.value > 0 && parsed.measure.value <= most))
      add('VALUE_OUT_OF_RANGE', `\`${text}\` is no ${name.replaceAll('_', ' ')} of a tyre`, 'check the number and its unit');
    else return [[as, parsed.measure.value] as const];
    return [];
  });
  if (faults.length > 0) throw new ApiError('REQUEST_INVALID', undefined, faults);
  return Object.fromEntries(asked);
}

const dimensionOf = (unit: string): Dimension => findUnit(unit)?.dimension ?? NONE;
