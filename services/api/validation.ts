/** What is wrong with a request's form, in words for people: every issue with its pointer and its fix. */
import type { FastifySchemaCompiler } from 'fastify';
import type { z } from 'zod';
import { nearest } from '../engine/diagnostics.ts';
import type { RequestFault } from '../vehicle/index.ts';
import { ApiError } from './errors.ts';
import { CheckRequest } from './schemas/request.ts';

type Issue = z.core.$ZodIssue;

export const compileValidator: FastifySchemaCompiler<z.ZodType> =
  ({ schema, httpPart }) =>
  (data: unknown) => {
    const parsed = schema.safeParse(data ?? (httpPart === 'body' ? undefined : {}), { reportInput: true });
    if (parsed.success) return { value: parsed.data };
    return { error: new ApiError('REQUEST_INVALID', undefined, faultsOf(parsed.error.issues)) };
  };

export const faultsOf = (issues: readonly Issue[]): RequestFault[] => issues.flatMap(faultOf);

const pointerOf = (path: readonly PropertyKey[]): string =>
  path.map((step) => `/${String(step).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');

function faultOf(issue: Issue): RequestFault[] {
  const pointer = pointerOf(issue.path);
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => ({
        pointer: pointerOf([...issue.path, key]),
        code: 'FIELD_UNKNOWN',
        message: `there is no field \`${key}\` here`,
        help: unknownHelp(key),
      }));
    case 'invalid_type':
      return [
        issue.input === undefined
          ? missing(pointer)
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
          ? missing(pointer)
          : {
              pointer,
              code: 'VALUE_UNKNOWN',
              message: `\`${String(issue.input)}\` is not taken here`,
              help: `one of ${issue.values.map((value) => `\`${String(value)}\``).join(', ')} is expected`,
            },
      ];
    case 'invalid_union':
      return [unionFault(issue, pointer)];
    default:
      return [
        { pointer, code: 'VALUE_WRONG', message: issue.message.charAt(0).toLowerCase() + issue.message.slice(1), help: 'mend the value' },
      ];
  }
}

const nameOf = (pointer: string): string => pointer.split('/').at(-1) ?? '';

function missing(pointer: string): RequestFault {
  const example = EXAMPLES.get(generic(pointer));
  return {
    pointer,
    code: 'FIELD_MISSING',
    message: pointer === '' ? 'the build is missing' : `\`${nameOf(pointer)}\` is missing`,
    help: example === undefined ? 'add it' : `add it, such as ${pointer === '' ? '' : `"${nameOf(pointer)}": `}${example}`,
  };
}

function typeHelp(type: string, input: unknown, pointer: string): string {
  const unit = UNITS[nameOf(pointer)];
  if (typeof input === 'number' && unit)
    return `write it as a text with its unit, such as ${unit.map((of) => `"${input} ${of}"`).join(' or ')}`;
  const example = EXAMPLES.get(generic(pointer));
  return `${expected(type)} is expected${example === undefined ? '' : `, such as ${example}`}`;
}

/** Units of the quantities that have a field of their own. */
const UNITS: Readonly<Record<string, readonly string[]>> = {
  top_speed: ['mph', 'km/h'],
  mass: ['lb', 'kg'],
  behind_front_axle: ['in', 'mm'],
  height: ['in', 'mm'],
};

/** A pointer with every index as `*`. */
const generic = (pointer: string): string => pointer.replaceAll(/\/\d+(?=\/|$)/g, '/*');

const VEHICLE = '{ "from": "inline", "class": "midsize_independent_front" }';
const PART = '{ "from": "inline", "kind": "body_lift", "attributes": { "height": "25 mm" } }';
const READING = '{ "quantity": "tyre_gap", "of": "cab-mounts", "value": "26 mm ± 3" }';
const ITEM = '{ "name": "tool chest", "mass": "40 kg", "behind_front_axle": "3.2 m" }';

/** How fields that are often left out, or given in another form, are written. */
const EXAMPLES: ReadonlyMap<string, string> = new Map([
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
  ['/load/items/*/behind_front_axle', '"3.2 m"; negative is ahead of the front axle'],
  ['/use', '{ "top_speed": "110 km/h" }'],
]);

function unionFault(issue: Extract<Issue, { code: 'invalid_union' }>, pointer: string): RequestFault {
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
  if (issue.input === undefined) return missing(pointer);
  return {
    pointer,
    code: 'TYPE_WRONG',
    message: `this is ${kindOf(issue.input)}`,
    help: 'a text with its unit such as "2.5 in", or yes or no, is expected',
  };
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

/** Every field name of the API's forms: an unknown one is most often one of these, mistyped or misplaced. */
const FIELDS = fieldNames(CheckRequest);

function unknownHelp(key: string): string {
  const near = nearest(key, FIELDS);
  return near === undefined ? 'leave it out; /docs shows the fields there are' : `did you mean \`${near}\`?`;
}

/** Names of the fields of a schema and of all below it. */
function fieldNames(schema: z.ZodType, found = new Set<string>()): Set<string> {
  const def = schema._zod.def as {
    shape?: Record<string, z.ZodType>;
    options?: z.ZodType[];
    element?: z.ZodType;
    innerType?: z.ZodType;
    valueType?: z.ZodType;
  };
  for (const [name, field] of Object.entries(def.shape ?? {})) {
    found.add(name);
    fieldNames(field, found);
  }
  for (const below of [...(def.options ?? []), def.element, def.innerType, def.valueType]) if (below) fieldNames(below, found);
  return found;
}
