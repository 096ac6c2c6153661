/** What is wrong with a request's form, in words for people: every issue with its pointer and its fix. */
import type { FastifySchemaCompiler } from 'fastify';
import type { z } from 'zod';
import type { RequestFault } from '../vehicle/index.ts';
import { ApiError } from './errors.ts';
import { CheckRequest, ID_FORM } from './schemas/request.ts';
import { fieldsAt, unknownHelp } from './unknown-fields.ts';

type Issue = z.core.$ZodIssue;

export const compileValidator: FastifySchemaCompiler<z.ZodType> =
  ({ schema, httpPart }) =>
  (data: unknown) => {
    const input = data ?? (httpPart === 'body' ? undefined : {});
    const parsed = schema.safeParse(input, { reportInput: true });
    if (parsed.success) return { value: parsed.data };
    return { error: new ApiError('REQUEST_INVALID', undefined, faultsOf(parsed.error.issues, schema, input)) };
  };

/** What is wrong with an input that a schema refused. */
export const faultsOf = (issues: readonly Issue[], schema: z.ZodType, input: unknown): RequestFault[] =>
  issues.flatMap((issue) => faultOf(issue, schema, input));

const pointerOf = (path: readonly PropertyKey[]): string =>
  path.map((step) => `/${String(step).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');

function faultOf(issue: Issue, schema: z.ZodType, input: unknown): RequestFault[] {
  const pointer = pointerOf(issue.path);
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => ({
        pointer: pointerOf([...issue.path, key]),
        code: 'FIELD_UNKNOWN',
        message: `there is no field \`${key}\` here`,
        help: unknownHelp(key, issue.path, fieldsAt(schema, issue.path, input)),
      }));
    case 'invalid_type':
      return [
        issue.input === undefined
          ? missing(pointer, schema)
          : {
              pointer,
              code: 'TYPE_WRONG',
              message: `this is ${kindOf(issue.input)}`,
              help: typeHelp(issue.expected, issue.input, pointer),
            },
      ];
    case 'invalid_value':
      return [
        issue.input === undefined
          ? missing(pointer, schema)
          : {
              pointer,
              code: 'VALUE_UNKNOWN',
              message: `\`${String(issue.input)}\` is not taken here`,
              help: `one of ${issue.values.map((value) => `\`${String(value)}\``).join(', ')} is expected`,
            },
      ];
    case 'invalid_union':
      return unionFaults(issue, pointer, schema, input);
    default:
      return [
        { pointer, code: 'VALUE_WRONG', message: issue.message.charAt(0).toLowerCase() + issue.message.slice(1), help: wrongHelp(issue) },
      ];
  }
}

/** The form that a value of the right type has not. */
function wrongHelp(issue: Issue): string {
  if (issue.path.at(-1) === 'behind_rear_axle') return 'leave out one of `behind_front_axle` and `behind_rear_axle`';
  if (issue.code === 'invalid_format' && issue.format === 'date') return 'write it as year, month and day: 2026-10-03';
  if (issue.code === 'too_big') return `it is at most ${issue.maximum}${lengthOf(issue.origin)}`;
  if (issue.code === 'too_small') return `it is at least ${issue.minimum}${lengthOf(issue.origin)}`;
  const given = typeof issue.input === 'string' ? asId(issue.input) : '';
  if (issue.message.includes(ID_FORM) && given !== '') return `write it in one word, such as \`${given}\``;
  return 'write it in that form';
}

const lengthOf = (origin: string): string => ({ string: ' characters', array: ' entries' })[origin] ?? '';

/** What somebody who wrote a name where an id belongs may take. */
const asId = (name: string): string =>
  name
    .trim()
    .replace(/[^\p{L}\p{N}._-]+/gu, '-')
    .replace(/^[._-]+|-+$/gu, '');

const nameOf = (pointer: string): string => pointer.split('/').at(-1) ?? '';

/** Of a form that holds a build under `build`, examples are those of the build. */
const exampleAt = (pointer: string): string | undefined => EXAMPLES.get(generic(pointer).replace(/^\/build(?=\/)/, ''));

function missing(pointer: string, schema: z.ZodType): RequestFault {
  if (pointer === '') return missingBody(schema);
  const example = exampleAt(pointer);
  return {
    pointer,
    code: 'FIELD_MISSING',
    message: `\`${nameOf(pointer)}\` is missing`,
    help: example === undefined ? 'add it' : `add it, such as "${nameOf(pointer)}": ${example}`,
  };
}

function missingBody(schema: z.ZodType): RequestFault {
  const id = (schema as { meta?: () => { id?: string } | undefined }).meta?.()?.id;
  const help =
    schema === CheckRequest
      ? `send a build, such as ${EXAMPLES.get('')}`
      : `send ${id === undefined ? 'what the path takes' : `a \`${id}\` in JSON`}; /docs shows its form`;
  return { pointer: '', code: 'FIELD_MISSING', message: 'the body is missing', help };
}

function typeHelp(type: string, input: unknown, pointer: string): string {
  const unit = UNITS[nameOf(pointer)];
  if (typeof input === 'number' && unit)
    return `write it as a text with its unit, such as ${unit.map((of) => `"${input} ${of}"`).join(' or ')}`;
  if (typeof input === 'number' && MONEY.test(pointer))
    return `write money as a text, such as "${input.toFixed(2)}": numbers of JSON are not exact`;
  const example = exampleAt(pointer);
  return `${expected(type)} is expected${example === undefined ? '' : `, such as ${example}`}`;
}

/** Units of the quantities that have a field of their own. */
const UNITS: Readonly<Record<string, readonly string[]>> = {
  top_speed: ['mph', 'km/h'],
  mass: ['lb', 'kg'],
  behind_front_axle: ['in', 'mm'],
  behind_rear_axle: ['in', 'mm'],
  height: ['in', 'mm'],
};

const MONEY = /^\/estimate\/((labour|consumables|sent_out)\/[^/]+|(parts|buys)\/[^/]+\/price|approval_above)$/;

/** A pointer with every index as `*`. */
const generic = (pointer: string): string => pointer.replaceAll(/\/\d+(?=\/|$)/g, '/*');

const VEHICLE = '{ "from": "inline", "class": "midsize_independent_front" }';
const PART = '{ "from": "inline", "kind": "body_lift", "attributes": { "height": "25 mm" } }';
const READING = '{ "quantity": "tyre_gap", "of": "cab-mounts", "value": "26 mm ± 3" }';
const ITEM = '{ "name": "tool chest", "mass": "40 kg", "behind_front_axle": "3.2 m" }';

const SIGNED = '"by": "M. Hart", "date": "2026-12-01"';

/** How fields that are often left out, or given in another form, are written. */
const EXAMPLES: ReadonlyMap<string, string> = new Map([
  ['/state/done/*', '{ "step": "fit-body-lift" }'],
  ['/state/accepted/*', `{ "finding": "liner-gap:top-liners", ${SIGNED} }`],
  ['/state/inspection/*', `{ "point": "rust", "result": "sound", ${SIGNED} }`],
  ['/state/as_built/*', `{ "step": "bleed-brakes", "passed": true, ${SIGNED} }`],
  ['', `{ "vehicle": ${VEHICLE} }`],
  ['/vehicle', `${VEHICLE}, or one of /v1/vehicles as { "from": "catalogue", "vehicle": "merrowdale-ghyll" }`],
  ['/vehicle/class', '"midsize_independent_front"; /v1/classes lists them'],
  ['/vehicle/vehicle', '"merrowdale-ghyll"; /v1/vehicles lists them'],
  ['/vehicle/values', '{ "axle_rating": { "front": "1450 kg", "rear": "1650 kg" } }; /v1/quantities lists them'],
  ['/vehicle/fitted', `[${PART}]`],
  ['/vehicle/fitted/*', PART],
  ['/vehicle/measured', `[${READING}]`],
  ['/vehicle/measured/*', READING],
  ['/vehicle/measured/*/quantity', '"tyre_gap"; /v1/quantities lists them'],
  ['/vehicle/measured/*/value', '"26 mm ± 3"'],
  ['/parts', `[${PART}]`],
  ['/parts/*', PART],
  ['/parts/*/kind', '"body_lift"; /v1/kinds lists them'],
  ['/vehicle/fitted/*/kind', '"body_lift"; /v1/kinds lists them'],
  ['/parts/*/part', '"orrisbeck-trail-265"; /v1/parts lists them'],
  ['/vehicle/fitted/*/part', '"orrisbeck-trail-265"; /v1/parts lists them'],
  ['/parts/*/attributes', '{ "height": "25 mm" }; /v1/kinds lists those of each kind'],
  ['/vehicle/fitted/*/attributes', '{ "height": "25 mm" }; /v1/kinds lists those of each kind'],
  ['/load', `{ "occupants": 2, "items": [${ITEM}] }`],
  ['/load/items', `[${ITEM}]`],
  ['/load/items/*', ITEM],
  ['/load/items/*/name', '"tool chest"'],
  ['/load/items/*/mass', '"40 kg"'],
  ['/load/items/*/behind_front_axle', '"3.2 m"; negative is ahead of the front axle; or "behind_rear_axle": "0.1 m"'],
  ['/load/items/*/behind_rear_axle', '"0.1 m"; negative is ahead of the rear axle'],
  ['/use', '{ "top_speed": "110 km/h" }'],
]);

function unionFault(issue: Extract<Issue, { code: 'invalid_union' }>, pointer: string, schema: z.ZodType): RequestFault {
  if (issue.discriminator !== undefined) {
    const tag = issue.discriminator;
    const typed = (issue.input as Record<string, unknown> | undefined)?.[tag];
    const at = pointer.endsWith(`/${tag}`) ? pointer : `${pointer}/${tag}`;
    return typed === undefined
      ? {
          pointer: at,
          code: 'FIELD_MISSING',
          message: `\`${tag}\` is missing`,
          help: `say \`"${tag}": "catalogue"\` or \`"${tag}": "inline"\``,
        }
      : {
          pointer: at,
          code: 'VALUE_UNKNOWN',
          message: `\`${String(typed)}\` is not taken here`,
          help: 'one of `catalogue`, `inline` is expected',
        };
  }
  if (issue.input === undefined) return missing(pointer, schema);
  return { pointer, code: 'TYPE_WRONG', message: `this is ${kindOf(issue.input)}`, help: `${oneOfHelp(issue)} is expected` };
}

/** Of forms with no field to tell them apart, the one that the value is of the type of says what is wrong. */
function unionFaults(issue: Extract<Issue, { code: 'invalid_union' }>, pointer: string, schema: z.ZodType, input: unknown): RequestFault[] {
  const ofAnotherType = ({ code, path }: Issue): boolean => path.length === 0 && (code === 'invalid_type' || code === 'invalid_union');
  const meant = issue.errors.find((issues) => issues.length > 0 && !issues.some(ofAnotherType));
  if (issue.discriminator !== undefined || meant === undefined) return [unionFault(issue, pointer, schema)];
  return meant.flatMap((one) => faultOf({ ...one, path: [...issue.path, ...one.path] } as Issue, schema, input));
}

/** What would do in the place of a value that none of several forms takes. */
function oneOfHelp({ errors }: Extract<Issue, { code: 'invalid_union' }>): string {
  const types = errors.flatMap((issues) =>
    issues.flatMap((one) => (one.code === 'invalid_type' && one.path.length === 0 ? one.expected : [])),
  );
  if (types.includes('boolean')) return 'a text with its unit such as "2.5 in", or yes or no,';
  return [...new Set(types)].map(expected).join(' or ') || 'another form';
}

const EXPECTED: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  boolean: 'true or false',
  object: 'an object',
  array: 'a list',
  record: 'an object',
  int: 'a whole number',
};
const expected = (type: string): string => EXPECTED[type] ?? type;

function kindOf(input: unknown): string {
  if (input === null) return 'null';
  if (Array.isArray(input)) return 'a list';
  if (typeof input === 'number') return `the bare number ${input}`;
  return { string: 'a text', boolean: 'true or false', object: 'an object' }[typeof input as 'string'] ?? typeof input;
}
