/** Reads a build from a file, with the same checks of its form as the API makes. */
import { readFileSync } from 'node:fs';
import { type Document, isPair, isScalar, isSeq, parseDocument, visit } from 'yaml';
import { ApiError } from '../api/errors.ts';
import { PlanRequest } from '../api/schemas/plans.ts';
import { CheckRequest } from '../api/schemas/request.ts';
import { parseJson } from '../api/strict-json.ts';
import { faultsOf } from '../api/validation.ts';
import type { CheckRequest as Request, RequestFault } from '../vehicle/index.ts';
import type { PlanRequest as PlanAsked } from '../workshop/index.ts';

interface Refused {
  readonly ok: false;
  readonly faults: readonly RequestFault[];
}

export type ReadBuild = { readonly ok: true; readonly request: Request } | Refused;

const refused = (code: string, message: string, help: string): Refused => ({ ok: false, faults: [{ pointer: '', code, message, help }] });

export const readBuild = (file: string): ReadBuild => readForm(file, CheckRequest) as ReadBuild;

/** A build with the terms and state of its plan. */
export const readPlan = (file: string): { readonly ok: true; readonly request: PlanAsked } | Refused =>
  readForm(file, PlanRequest) as { readonly ok: true; readonly request: PlanAsked } | Refused;

function readForm(
  file: string,
  form: typeof CheckRequest | typeof PlanRequest,
): { readonly ok: true; readonly request: unknown } | Refused {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (error) {
    return refused('FILE_UNREADABLE', `\`${file}\` ${whyUnread(error)}`, 'name a JSON or YAML file with a build in it');
  }
  const value = file.endsWith('.json') ? readJson(text) : readYaml(text);
  if (!value.ok) return value;
  const parsed = form.safeParse(value.value, { reportInput: true });
  return parsed.success ? { ok: true, request: parsed.data } : { ok: false, faults: faultsOf(parsed.error.issues, form, value.value) };
}

/** Why the system would not give a file, as people say it. */
export function whyUnread(error: unknown): string {
  const why: Readonly<Record<string, string>> = {
    ENOENT: `is not there (looked for from ${process.cwd()})`,
    EISDIR: 'is a folder',
    EACCES: 'may not be read by who runs this',
  };
  return why[(error as { code?: string }).code ?? ''] ?? 'cannot be read';
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

/** In braces YAML takes a comma for the end of a value without a word: `{ value: 14,5 mm }` says `value: 14` and a field `5 mm` of nothing. */
function cutAtComma(document: Document): RequestFault | undefined {
  let found: RequestFault | undefined;
  visit(document, {
    Map: (_, map, path) => {
      const { flow, items } = map;
      const at = flow
        ? items.findIndex(({ value }, i) => i > 0 && (value === null || (isScalar(value) && value.value === null && !value.source)))
        : -1;
      const [before, cut] = [items[at - 1], items[at]];
      if (!before || !cut) return undefined;
      const whole = `${String(before.value)},${String(cut.key)}`;
      found = {
        pointer: `${pointerOf([...path, map])}/${String(before.key)}`,
        code: 'YAML_MALFORMED',
        message: `\`${whole}\` is cut at its comma, which in braces begins the next field`,
        help: /^\d/.test(String(cut.key)) ? `write \`${whole.replace(',', '.')}\`, with a point` : 'put the text in quotes',
      };
      return visit.BREAK;
    },
  });
  return found;
}

/** Where a node stands, by the nodes above it. */
const pointerOf = (path: readonly unknown[]): string =>
  path
    .flatMap((node, i) => {
      if (isPair(node)) return [String(node.key)];
      const above = path[i - 1];
      return isSeq(above) ? [String(above.items.indexOf(node as never))] : [];
    })
    .map((step) => `/${step}`)
    .join('');

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
  const cut = fault ? undefined : cutAtComma(document);
  if (cut) return { ok: false, faults: [cut] };
  if (!fault) return { ok: true, value: document.toJS() };
  const message = (fault.message.split('\n')[0] ?? fault.message).replace(/^./, (letter) => letter.toLowerCase()).replace(/:$/, '');
  return refused('YAML_MALFORMED', message, YAML_HELP[fault.code] ?? YAML_HELP_ELSE);
}
