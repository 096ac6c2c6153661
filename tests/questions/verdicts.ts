/** The held questions, answered as the service does, over the demo catalogue. */
import { demoLookup } from '../../services/api/catalogue.ts';
import { CHECK_THREADS, type CheckRunner, inlineRunner, pooledRunner } from '../../services/api/checks.ts';
import { type Answered, answerQuestion, type Desk } from '../../services/api/questions.ts';
import { RULES_FOLDER } from '../../services/paths.ts';
import type { Checked } from '../../services/workshop/index.ts';
import { checker, demoCatalogue } from '../../services/workshop/testing.ts';
import { type Held, lexicon, measured } from './held.ts';

const [vehicles, parts] = [[...demoCatalogue.vehicles.values()], [...demoCatalogue.parts.values()]];
const LONGEST_MS = 3_600_000;

/** Many that name no vehicle ask for the same build in other words: each build is checked once. */
function checkedOnce(runner: CheckRunner): CheckRunner {
  const known = new Map<string, Promise<Checked>>();
  const run: CheckRunner['run'] = (request, catalogue) => {
    const key = JSON.stringify(request);
    const found = known.get(key) ?? runner.run(request, catalogue);
    known.set(key, found);
    return found;
  };
  return { ...runner, run };
}

/** All of them are checked on every processor; a few on this thread, which spares starting others. */
const all = process.env['FETTLE_VERIFY'] !== undefined;
export const atOnce = all ? CHECK_THREADS : 1;
export const checks = checkedOnce(all ? pooledRunner(RULES_FOLDER, CHECK_THREADS, LONGEST_MS) : inlineRunner(checker));
const desk: Desk = {
  library: checker.library,
  lexicon,
  lookup: demoLookup({ vehicles, parts }),
  checks,
  search: async (sought) => sought.map(({ noun }) => (noun === 'vehicle' ? vehicles : parts)),
};

export const answered = ({ ask, on }: Held): Promise<Answered> =>
  answerQuestion({ text: ask, ...(on && { vehicle: measured as never }) }, desk);
