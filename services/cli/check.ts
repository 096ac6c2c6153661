/**
 * `npm run -s check -- FILE [--json | --all] [--alternatives] [--units metric|us]`: checks a build file without a server, against the demo
 * catalogue. `--all` prints the whole list of what to measure, `--alternatives` what else would cure a finding and what that costs. Ends with 0 clear, 1 conflict, 2 bad input, 3 close or unknown.
 */

import { answerBytes } from '../api/answering.ts';
import { demoLookup, entriesFor, readDemo } from '../api/catalogue.ts';
import { DEMO_FOLDER, RULES_FOLDER } from '../paths.ts';
import type { RequestFault } from '../vehicle/index.ts';
import { createChecker, loadRules } from '../workshop/index.ts';
import { readArguments, USAGE } from './arguments.ts';
import { runCommand } from './command.ts';
import { printAnswer } from './print-answer.ts';
import { readBuild } from './read-build.ts';

const EXIT = { clear: 0, conflict: 1, close: 3, unknown: 3 } as const;
const BAD_INPUT = 2;

async function main(args: readonly string[]): Promise<number> {
  const read = readArguments(args);
  if ('fault' in read) {
    console.error(`${read.fault}\n${USAGE}`);
    return BAD_INPUT;
  }
  const { file, json, all, alternatives, units } = read;
  const build = readBuild(file);
  if (!build.ok) return complain(build.faults);
  const request = { ...build.request, ...(units && { units }), ...(alternatives && { alternatives }) };
  const catalogue = await entriesFor(request, demoLookup(readDemo(DEMO_FOLDER)));
  const checked = createChecker(loadRules(RULES_FOLDER)).check(request, catalogue);
  if (!checked.ok) return complain(checked.faults);
  process.stdout.write(json ? answerBytes(checked.answer) : `${printAnswer(checked.answer, file, { all })}\n`);
  return EXIT[checked.answer.verdict];
}

function complain(faults: readonly RequestFault[]): number {
  for (const { pointer, message, help } of faults) console.error(`${pointer || 'the build'}: ${message}\n  ${help}`);
  return BAD_INPUT;
}

await runCommand(USAGE, main);
