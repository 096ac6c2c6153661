/** Reads a build from a file, with the same checks of its form as the API makes. */
import { readFileSync } from 'node:fs';
import { parseDocument } from 'yaml';
import { ApiError } from '../api/errors.ts';
import { CheckRequest } from '../api/schemas/request.ts';
import { parseJson } from '../api/strict-json.ts';
import { faultsOf } from '../api/validation.ts';
import type { CheckRequest as Request, RequestFault } from '../vehicle/index.ts';

interface Refused {
  readonly ok: false;
  readonly faults: readonly RequestFault[];
}

export type ReadBuild = { readonly ok: true; readonly request: Request } | Refused;

const refused = (code: string, message: string, help: string): Refused => ({ ok: false, faults: [{ pointer: '', code, message, help }] });

export function readBuild(file: string): ReadBuild {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch {
    return refused('FILE_UNREADABLE', `\`${file}\` cannot be read`, 'name a JSON or YAML file with a build in it');
  }
  const value = file.endsWith('.json') ? readJson(text) : readYaml(text);
  if (!value.ok) return value;
  const parsed = CheckRequest.safeParse(value.value, { reportInput: true });
  return parsed.success
    ? { ok: true, request: parsed.data as Request }
    : { ok: false, faults: faultsOf(parsed.error.issues, CheckRequest, value.value) };
}

type Value = { readonly ok: true; readonly value: unknown } | Refused;

function readJson(text: string): Value {
  try {
    return { ok: true, value: parseJson(text) };
  } catch (error) {
    if (error instanceof ApiError) return { ok: false, faults: error.faults };
    throw error;
  }
}

const YAML_HELP_ELSE = 'check the quotes, brackets, commas and colons on that line and the one before it';
const YAML_HELP: Readonly<Record<string, string>> = {
  BAD_INDENT: 'lines of one list or one object begin in the same column, and every bracket is closed',
  TAB_AS_INDENT: 'indent with spaces, not with tabs',
  DUPLICATE_KEY: 'keep one of the two',
  BLOCK_AS_IMPLICIT_KEY: 'a text with a colon and a space in it stands in quotes',
};

function readYaml(text: string): Value {
  const document = parseDocument(text, { uniqueKeys: true });
  const [fault] = document.errors;
  if (!fault) return { ok: true, value: document.toJS() };
  const message = (fault.message.split('\n')[0] ?? fault.message).replace(/^./, (letter) => letter.toLowerCase()).replace(/:$/, '');
  return refused('YAML_MALFORMED', message, YAML_HELP[fault.code] ?? YAML_HELP_ELSE);
}
