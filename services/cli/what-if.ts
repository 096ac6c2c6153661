/**
 * `npm run -s what-if -- FILE QUANTITY [--of PART] --from A --to B [--step C] [--plus-minus D]`, or `--among A --among B …`:
 * where the verdict of a build file turns as one thing of it is varied. Ends with 0, or 2 for bad input.
 */
import { parseArgs } from 'node:util';
import { answerBytes } from '../api/answering.ts';
import { demoLookup, entriesFor, readDemo } from '../api/catalogue.ts';
import { DEMO_FOLDER, RULES_FOLDER } from '../paths.ts';
import type { RequestFault, VaryInput } from '../vehicle/index.ts';
import { createChecker, loadRules, type WhatIf } from '../workshop/index.ts';
import { runCommand } from './command.ts';
import { readBuild } from './read-build.ts';

const BAD_INPUT = 2;
const TEXT = { type: 'string' } as const;
const USAGE =
  'usage: npm run -s what-if -- FILE QUANTITY [--of PART] --from VALUE --to VALUE [--step VALUE] [--plus-minus VALUE] [--units metric|us] [--json]\n       npm run -s what-if -- FILE QUANTITY [--of PART] --among VALUE --among VALUE …';

function read(args: readonly string[]) {
  try {
    return parseArgs({
      args: withDashes(args),
      allowPositionals: true,
      options: {
        ...{ of: TEXT, from: TEXT, to: TEXT, step: TEXT, 'plus-minus': TEXT, units: TEXT },
        among: { type: 'string', multiple: true },
        json: { type: 'boolean' },
      },
    });
  } catch (error) {
    console.error(error instanceof Error ? error.message : String(error));
    return undefined;
  }
}

/** `--from -20mm` is a value below nothing, and no option. */
function withDashes(args: readonly string[]): string[] {
  const isValue = (arg: string, i: number): boolean => /^-[\d.]/.test(arg) && /^--[a-z-]+$/.test(args[i - 1] ?? '');
  return args.flatMap((arg, i) => (isValue(arg, i) ? [] : isValue(args[i + 1] ?? '', i + 1) ? [`${arg}=${args[i + 1]}`] : [arg]));
}

async function main(args: readonly string[]): Promise<number> {
  const asked = read(args);
  const [file, quantity] = asked?.positionals ?? [];
  const units = asked?.values.units ?? 'metric';
  if (!asked || file === undefined || quantity === undefined || (units !== 'metric' && units !== 'us')) {
    console.error(USAGE);
    return BAD_INPUT;
  }
  const { of, from, to, step, among, 'plus-minus': plus_minus } = asked.values;
  const vary: VaryInput = {
    quantity,
    ...(of !== undefined && { of }),
    ...(from !== undefined && { from }),
    ...(to !== undefined && { to }),
    ...(step !== undefined && { step }),
    ...(plus_minus !== undefined && { plus_minus }),
    ...(among !== undefined && { among }),
  };
  const build = readBuild(file);
  if (!build.ok) return complain(build.faults);
  const request = { ...build.request, units, vary } as const;
  const catalogue = await entriesFor(request, demoLookup(readDemo(DEMO_FOLDER)));
  const found = createChecker(loadRules(RULES_FOLDER)).whatIf(request, catalogue);
  if (!found.ok) return complain(found.faults);
  process.stdout.write(asked.values.json ? answerBytes(found.answer) : `${print(found.answer)}\n`);
  return 0;
}

function complain(faults: readonly RequestFault[]): number {
  for (const { pointer, message, help } of faults) console.error(`${pointer || '/'}: ${message}. ${help}.`);
  return BAD_INPUT;
}

type Band = WhatIf['bands'][number];

function print({ summary, bands, checked, remarks }: WhatIf): string {
  const unit = checked.unit === null || checked.unit === '1' ? '' : ` ${checked.unit}`;
  const text = (of: { readonly value: number | string }): string => `${of.value}${unit}`;
  const rows = bands.flatMap(({ verdict, from, to, ended_by, decided_at, decided_by, more, after_work }) => [
    `  ${verdict.toUpperCase()} ${from.value === to.value ? from.value : `${from.value} to ${to.value}`}${unit}`,
    ...(decided_at ? [`    at ${text(decided_at)}`] : []),
    ...decided_by.flatMap(printDecider),
    ...(more > 0 ? [`      and ${more} more`] : []),
    ...ended_by.map(printEnder),
    ...(after_work ?? []).map((after) => `    after the stated work, at ${text(after)}: ${after.verdict}`),
  ]);
  const spacing = checked.spacing ? `; what turns and turns back within ${checked.spacing.value}${unit} may be missed` : '';
  const cut = checked.to_the_step ? '' : '. Not every border is told to the step: take a shorter range';
  return [summary, ...rows, ...remarks, `Checked at ${checked.values.length} values${spacing}${cut}.`].join('\n');
}

function printDecider({ title, subject, sort, margin, says }: Band['decided_by'][number]): string[] {
  const ends = margin && margin.low !== null && margin.high !== null ? ` (${margin.low} to ${margin.high} ${margin.unit})` : '';
  const told = margin ? `: margin ${margin.value} ${margin.unit}${ends}` : '';
  return [`      ${title} [${subject}; ${sort}]${told}`, `        ${says}`];
}

function printEnder({ end, verdict, title, subject, sort, widened_by }: Band['ended_by'][number]): string {
  const readings = widened_by.map((reading) => `${reading.title} of ${reading.subject}`).join(', ');
  const wider = readings === '' ? '' : `; a reading may widen it: ${readings}`;
  return `    ${end === 'to' ? 'ends' : 'begins'} by ${title} [${subject}; ${sort}], ${verdict} ${end === 'to' ? 'beyond' : 'before'}${wider}`;
}

await runCommand(USAGE, main);
