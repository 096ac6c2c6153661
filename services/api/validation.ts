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
          : { pointer, code: 'TYPE_WRONG', message: `this is ${kindOf(issue.input)}`, help: `${expected(issue.expected)} is expected` },
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

const missing = (pointer: string): RequestFault => ({
  pointer,
  code: 'FIELD_MISSING',
  message: `\`${pointer.split('/').at(-1)}\` is missing`,
  help: 'add it',
});

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
