import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { listEntries, type Noun } from '../../../db/catalogue.ts';
import { loadLexicon } from '../../questions/index.ts';
import type { CataloguePart, CatalogueVehicle } from '../../vehicle/index.ts';
import { sendAnswer } from '../answering.ts';
import type { AppParts } from '../app.ts';
import { answerQuestion } from '../questions.ts';
import { Problem } from '../schemas/problem.ts';
import { Question, ShortAnswer } from '../schemas/questions.ts';
import { storedLookup } from '../stored-catalogue.ts';

const MOST_VEHICLES = 8;
/** A maker's whole list, where only the maker is said. */
const MOST_PARTS = 40;
const LONGEST_SEARCH = 100;

export const questionRoutes: FastifyPluginAsyncZod<AppParts> = async (app, { library, database: { tables }, checks }) => {
  const like = async <T>(noun: Noun, words: string, limit: number): Promise<readonly T[]> =>
    (await listEntries<T>(tables, noun, { limit, search: words.slice(0, LONGEST_SEARCH) })).items;
  const desk = {
    library,
    lexicon: loadLexicon(),
    lookup: storedLookup(tables),
    checks,
    searchVehicles: (words: string) => like<CatalogueVehicle>('vehicle', words, MOST_VEHICLES),
    searchParts: (words: string) => like<CataloguePart>('part', words, MOST_PARTS),
  };
  app.post(
    '/v1/questions',
    {
      schema: {
        operationId: 'ask',
        tags: ['questions'],
        summary: 'Ask whether it fits, in words, and get a short answer',
        description:
          'Reads the shorthand people type into a build, checks it, and answers in a few hundred characters: yes, yes with work, no, or not to be told yet; what decides it, what was assumed, the work and what to measure. What was not understood is said. No link, mention or markup of the text is live in the answer. Where verdict, cautions and the assumptions that could flip it do not fit the length, the fault names the least that does.',
        body: Question,
        response: { 200: ShortAnswer, 400: Problem, 422: Problem, 503: Problem },
      },
    },
    async (request, reply) => sendAnswer(reply, await answerQuestion(request.body, desk)),
  );
};
