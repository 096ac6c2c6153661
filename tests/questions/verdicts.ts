/** The held questions, answered as the service does, over the demo catalogue. */
import { demoLookup } from '../../services/api/catalogue.ts';
import { inlineRunner } from '../../services/api/checks.ts';
import { type Answered, answerQuestion } from '../../services/api/questions.ts';
import { checker, demoCatalogue } from '../../services/workshop/testing.ts';
import { type Held, lexicon, measured } from './held.ts';

const [vehicles, parts] = [[...demoCatalogue.vehicles.values()], [...demoCatalogue.parts.values()]];
const desk = {
  library: checker.library,
  lexicon,
  lookup: demoLookup({ vehicles, parts }),
  checks: inlineRunner(checker),
  searchVehicles: async () => vehicles,
  searchParts: async () => parts,
};

export const answered = ({ ask, on }: Held): Promise<Answered> =>
  answerQuestion({ text: ask, ...(on && { vehicle: measured as never }) }, desk);
