/** What is wrong with a request's form, in words for people: every issue with its pointer and its fix. */
import type { FastifySchemaCompiler } from 'fastify';
import type { z } from 'zod';
import { nearest } from '../engine/diagnostics.ts';
import type { RequestFault } from '../vehicle/index.ts';
import { ApiError } from './errors.ts';

type Issue = z.core.$ZodIssue;

export const compileValidator: FastifySchemaCompiler<z.ZodType> =
  ({ schema, httpPart }) =>
  (data: unknown) => {
    const parsed = schema.safeParse(data ?? (httpPart === 'body' ? undefined : {}), { reportInput: true });
    if (parsed.success) return { value: parsed.data };
    return { error: new ApiError('REQUEST_INVALID', undefined, faultsOf(parsed.error.issues)) };
  };

export const faultsOf = (issues: readonly Issue[]): RequestFault[] => issues.flatMap(faultOf);

const pointerOf = (path: readonly PropertyKey[]): string => path.map((step) => `/${String(step).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');

function faultOf(issue: Issue): RequestFault[] {
  const pointer = pointerOf(issue.path);
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => ({ pointer: pointerOf([...issue.path, key]), code: 'FIELD_UNKNOWN', message: `there is no field \`${key}\` here`, help: unknownHelp(key, issue) }));
    case 'invalid_type':
      return [issue.input === undefined ? missing(pointer) : { pointer, code: 'TYPE_WRONG', message: `this is ${kindOf(issue.input)}`, help: `${expected(issue.expected)} is expected` }];
    case 'invalid_value':
      return [issue.input === undefined ? missing(pointer) : { pointer, code: 'VALUE_UNKNOWN', message: `\`${String(issue.input)}\` is not taken here`, help: `one of ${issue.values.map((value) => `\`${String(value)}\``).join(', ')} is expected` }];
    case 'invalid_union':
      return [unionFault(issue, pointer)];
    default:
      return [{ pointer, code: 'VALUE_WRONG', message: issue.message.charAt(0).toLowerCase() + issue.message.slice(1), help: 'mend the value' }];
  }
}

const missing = (pointer: string): RequestFault => ({ pointer, code: 'FIELD_MISSING', message: `\`${pointer.split('/').at(-1)}\` is missing`, help: 'add it' });

function unionFault(issue: Extract<Issue, { code: 'invalid_union' }>, pointer: string): RequestFault {
  if (issue.discriminator !== undefined) {
    const tag = issue.discriminator;
    const typed = (issue.input as Record<string, unknown> | undefined)?.[tag];
    const at = pointer.endsWith(`/${tag}`) ? pointer : `${pointer}/${tag}`;
    return typed === undefined
      ? { pointer: at, code: 'FIELD_MISSING', message: `\`${tag}\` is missing`, help: `say \`"${tag}": "catalogue"\` or \`"${tag}": "inline"\`` }
      : { pointer: at, code: 'VALUE_UNKNOWN', message: `\`${String(typed)}\` is not taken here`, help: 'one of `catalogue`, `inline` is expected' };
  }
  if (issue.input === undefined) return missing(pointer);
  return { pointer, code: 'TYPE_WRONG', message: `this is ${kindOf(issue.input)}`, help: 'a text with its unit such as "2.5 in", or yes or no, is expected' };
}

const EXPECTED: Readonly<Record<string, string>> = { string: 'a text', number: 'a number', boolean: 'true or false', object: 'an object', array: 'a list', record: 'an object', int: 'a whole number' };
const expected = (type: string): string => EXPECTED[type] ?? type;

function kindOf(input: unknown): string {
  if (input === null) return 'null';
  if (Array.isArray(input)) return 'a list';
  if (typeof input === 'number') return `the bare number ${input}`;
  return { string: 'a text', boolean: 'true or false', object: 'an object' }[typeof input as 'string'] ?? typeof input;
}

/** Fields an object may have, where the schema tells; kept by the issue's schema. */
function unknownHelp(key: string, issue: Extract<Issue, { code: 'unrecognized_keys' }>): string {
  const known = Object.keys((issue.inst?._zod.def as { shape?: Record<string, unknown> } | undefined)?.shape ?? {});
  const near = nearest(key, known);
  if (near !== undefined) return `did you mean \`${near}\`?`;
  return known.length > 0 ? `known are ${known.map((name) => `\`${name}\``).join(', ')}` : 'leave it out';
}
