/** What `check` was called with. An option that nobody knows is refused: left out without a word it would answer another question. */
import { parseArgs } from 'node:util';
import { suggest } from '../engine/diagnostics.ts';
import { ENDS } from './command.ts';

export interface Arguments {
  readonly file: string;
  readonly json: boolean;
  readonly all: boolean;
  readonly alternatives: boolean;
  readonly units?: 'metric' | 'us';
}

export const USAGE = `usage: npm run -s check -- FILE [--json | --all] [--alternatives] [--units metric|us]\n${ENDS}`;
const OPTIONS = {
  json: { type: 'boolean' },
  all: { type: 'boolean' },
  alternatives: { type: 'boolean' },
  units: { type: 'string' },
} as const;

/** The arguments, or what is wrong with them and how to mend it. */
export function readArguments(args: readonly string[]): Arguments | { readonly fault: string } {
  const { values, positionals, tokens } = parseArgs({
    args: [...args],
    options: OPTIONS,
    allowPositionals: true,
    strict: false,
    tokens: true,
  });
  for (const token of tokens)
    if (token.kind === 'option' && !(token.name in OPTIONS))
      return {
        fault: `there is no option \`${token.rawName}\`: ${suggest(
          token.rawName,
          Object.keys(OPTIONS).map((name) => `--${name}`),
        )}`,
      };
  const [file, another] = positionals;
  if (file === undefined) return { fault: 'no file is named' };
  if (another !== undefined) return { fault: `one file is checked at a time: \`${file}\` and \`${another}\` are named` };
  const { json = false, all = false, alternatives = false, units } = values;
  if (units !== undefined && units !== 'metric' && units !== 'us') return { fault: 'after `--units` comes `metric` or `us`' };
  return { file, json: json === true, all: all === true, alternatives: alternatives === true, ...(units !== undefined && { units }) };
}
