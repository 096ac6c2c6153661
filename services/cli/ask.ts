/**
 * `npm run -s ask -- "QUESTION" [--vehicle NAME] [--length N] [--markdown] [--units metric|us] [--json]`: a short answer without a
 * server, against the demo catalogue. Ends with 0 yes, 1 no, 2 bad input, 3 yes with work or not to be told yet.
 */
import { parseArgs } from 'node:util';
import { answerBytes } from '../api/answering.ts';
import { demoLookup, readDemo } from '../api/catalogue.ts';
import { inlineRunner } from '../api/checks.ts';
import { ApiError } from '../api/errors.ts';
import { answerQuestion } from '../api/questions.ts';
import { Question } from '../api/schemas/questions.ts';
import { faultsOf } from '../api/validation.ts';
import { DEMO_FOLDER, RULES_FOLDER } from '../paths.ts';
import { loadLexicon } from '../questions/index.ts';
import type { RequestFault } from '../vehicle/index.ts';
import { createChecker, loadRules } from '../workshop/index.ts';
import { runCommand } from './command.ts';

const EXIT = { yes: 0, no: 1, yes_with_work: 3, cant_tell: 3 } as const;
const BAD_INPUT = 2;
const USAGE = 'usage: npm run -s ask -- "QUESTION" [--vehicle NAME] [--length N] [--markdown] [--units metric|us] [--json]';

const options = {
  vehicle: { type: 'string' },
  length: { type: 'string' },
  units: { type: 'string' },
  markdown: { type: 'boolean' },
  json: { type: 'boolean' },
} as const;

async function main(args: readonly string[]): Promise<number> {
  const given = readArgs(args);
  if (given === undefined) {
    console.error(USAGE);
    return BAD_INPUT;
  }
  const { values, text } = given;
  const input = {
    text,
    ...(values.vehicle !== undefined && { vehicle: values.vehicle }),
    ...(values.length !== undefined && { length: Number(values.length) }),
    ...(values.units !== undefined && { units: values.units }),
    ...(values.markdown && { format: 'markdown' }),
  };
  const question = Question.safeParse(input, { reportInput: true });
  if (!question.success) return complain(faultsOf(question.error.issues, Question, input));
  const demo = readDemo(DEMO_FOLDER);
  const library = loadRules(RULES_FOLDER);
  const desk = { library, lexicon: loadLexicon(), lookup: demoLookup(demo), checks: inlineRunner(createChecker(library)) };
  const answered = await answerQuestion(question.data, {
    ...desk,
    search: async (sought) => sought.map(({ noun }) => (noun === 'vehicle' ? demo.vehicles : demo.parts)),
  });
  process.stdout.write(values.json ? answerBytes(answered) : `${answered.answer}\n`);
  return EXIT[answered.verdict];
}

function readArgs(args: readonly string[]) {
  try {
    // A question may hold words that begin with a dash, such as an offset of -10: those stand behind nothing we know.
    const { values, positionals } = parseArgs({ args: [...args], options, allowPositionals: true });
    return positionals.length === 0 ? undefined : { values, text: positionals.join(' ') };
  } catch {
    return undefined;
  }
}

function complain(faults: readonly RequestFault[]): number {
  for (const { pointer, message, help } of faults) console.error(`${pointer || 'the question'}: ${message}\n  ${help}`);
  return BAD_INPUT;
}

await runCommand(USAGE, (args) =>
  main(args).catch((error: unknown) => {
    if (error instanceof ApiError) return complain(error.faults);
    throw error;
  }),
);
