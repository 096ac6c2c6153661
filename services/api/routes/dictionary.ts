import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { suggest } from '../../engine/diagnostics.ts';
import type { AppParts } from '../app.ts';
import { ApiError } from '../errors.ts';
import { ClassView, JurisdictionView, KindView, QuantityView, RuleView, SourceView, WorkView } from '../schemas/dictionary.ts';
import { Problem } from '../schemas/problem.ts';
import { classView, jurisdictionView, kindView, quantityView, ruleView, sourceView, workView } from '../views.ts';

interface Noun {
  readonly path: string;
  readonly one: string;
  readonly many: string;
  readonly schema: z.ZodType;
  /** Everything of it, by id. */
  all(): ReadonlyMap<string, unknown>;
}

/** What the rules' folders say, to read: everything of a noun, or one by its id. */
export const dictionaryRoutes: FastifyPluginAsyncZod<AppParts> = async (app, { library }) => {
  const viewed = <T>(things: ReadonlyMap<string, T>, view: (thing: T) => unknown) => {
    const views = new Map([...things].map(([id, thing]) => [id, view(thing)]));
    return () => views;
  };
  const nouns: readonly Noun[] = [
    {
      path: 'kinds',
      one: 'kind',
      many: 'Kinds of part, with their attributes and how each is measured',
      schema: KindView,
      all: viewed(library.kinds, (kind) => kindView(kind, library)),
    },
    {
      path: 'quantities',
      one: 'quantity',
      many: 'Quantities: what they mean, whose they are and how a person reads them',
      schema: QuantityView,
      all: viewed(library.quantities, (quantity) => quantityView(quantity, library)),
    },
    {
      path: 'rules',
      one: 'rule',
      many: 'Rules: what must hold, why, and the work that cures it',
      schema: RuleView,
      all: viewed(library.rules, (rule) => ruleView(rule, library)),
    },
    {
      path: 'works',
      one: 'work',
      many: 'Works: hours, skills, effects and how each is verified',
      schema: WorkView,
      all: viewed(library.works, (work) => workView(work, library)),
    },
    {
      path: 'sources',
      one: 'source',
      many: 'Documents that rules and models rest on',
      schema: SourceView,
      all: viewed(library.sources, sourceView),
    },
    {
      path: 'classes',
      one: 'class',
      many: 'Classes of vehicle, with the defaults that stand in for what is not known',
      schema: ClassView,
      all: viewed(library.classes, classView),
    },
    {
      path: 'jurisdictions',
      one: 'jurisdiction',
      many: 'Law packs: what a jurisdiction limits, with the text, when it was read and how; name them under `use.jurisdictions`',
      schema: JurisdictionView,
      all: viewed(library.jurisdictions, (jurisdiction) => jurisdictionView(jurisdiction, library)),
    },
  ];
  for (const { path, one, many, schema, all } of nouns) {
    const named = `${one.charAt(0).toUpperCase()}${one.slice(1)}`;
    app.get(
      `/v1/${path}`,
      {
        schema: {
          operationId: `list${path.charAt(0).toUpperCase()}${path.slice(1)}`,
          tags: ['dictionary'],
          summary: many,
          querystring: z.strictObject({}),
          response: { 200: z.object({ items: z.array(schema) }), 400: Problem },
        },
      },
      async () => ({ items: [...all().values()] }) as never,
    );
    app.get(
      `/v1/${path}/:id`,
      {
        schema: {
          operationId: `get${named}`,
          tags: ['dictionary'],
          summary: `One ${one}`,
          params: z.strictObject({ id: z.string().max(120) }),
          response: { 200: schema, 404: Problem },
        },
      },
      async ({ params }) => {
        const { id } = params as { id: string };
        const found = all().get(id);
        if (found === undefined) throw new ApiError('NOT_FOUND', `There is no ${one} \`${id}\`; ${suggest(id, all().keys())}`);
        return found as never;
      },
    );
  }
};
