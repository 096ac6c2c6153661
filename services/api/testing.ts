/** The service over the real rules and the demo catalogue, in process, and a check of every response against the committed contract. */
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import type { LightMyRequestResponse } from 'fastify';
import { DEMO_FOLDER, OPENAPI_FILE } from '../paths.ts';
import { checker } from '../workshop/testing.ts';
import { type App, type AppParts, createApp } from './app.ts';
import { memoryCatalogue, readDemo } from './catalogue.ts';
import { inlineRunner } from './checks.ts';

export const testApp = (more: Partial<AppParts> = {}): Promise<App> =>
  createApp({ library: checker.library, catalogue: memoryCatalogue(readDemo(DEMO_FOLDER)), checks: inlineRunner(checker), ...more });

interface Responses {
  readonly responses: Readonly<Record<string, { readonly content?: Readonly<Record<string, { readonly schema: object }>> }>>;
}

const document = JSON.parse(readFileSync(OPENAPI_FILE, 'utf8')) as { paths: Record<string, Record<string, Responses>> };
const ajv = new Ajv2020({ strict: false, allErrors: true });
(addFormats as unknown as (ajv: Ajv2020) => void)(ajv);
ajv.addSchema(document, 'contract');

const escapeStep = (step: string): string => step.replaceAll('~', '~0').replaceAll('/', '~1').replaceAll('{', '%7B').replaceAll('}', '%7D');

/** Why a response is not what the contract says of that path; undefined when it is. */
export function contractFault(path: string, method: string, response: LightMyRequestResponse): string | undefined {
  const operation = document.paths[path]?.[method];
  if (!operation) return `the contract has no ${method} ${path}`;
  const content = operation.responses[String(response.statusCode)]?.content;
  if (!content) return `the contract has no ${response.statusCode} for ${method} ${path}`;
  const type = Object.keys(content)[0] as string;
  const validate = ajv.getSchema(
    `contract#/paths/${escapeStep(path)}/${method}/responses/${response.statusCode}/content/${escapeStep(type)}/schema`,
  );
  if (!validate) return 'the contract has no form for it';
  return validate(response.json()) ? undefined : ajv.errorsText(validate.errors);
}
