import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { searchCatalogue } from '../../../db/catalogue.ts';
import { loadLexicon } from '../../questions/index.ts';
import { sendAnswer } from '../answering.ts';
import type { AppParts } from '../app.ts';
import { answerQuestion, type SoughtName } from '../questions.ts';
import { Problem } from '../schemas/problem.ts';
import { Question, ShortAnswer } from '../schemas/questions.ts';
import { storedLookup } from '../stored-catalogue.ts';

/** Of parts a maker's whole list, where only the maker is said. */
const MOST_FOUND = { vehicle: 8, part: 40 } as const;
const LONGEST_SEARCH = 100;

export const questionRoutes: FastifyPluginAsyncZod<AppParts> = async (app, { library, database: { tables }, checks }) => {
  const desk = {
    library,
    lexicon: loadLexicon(),
    lookup: storedLookup(tables),
    checks,
    search: (sought: readonly SoughtName[]) =>
      searchCatalogue(
        tables,
        sought.map(({ noun, words }) => ({ noun, search: words.slice(0, LONGEST_SEARCH), limit: MOST_FOUND[noun] })),
      ),
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
