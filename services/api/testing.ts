/** The service over the real rules and the demo catalogue, in process, and a check of every response against the committed contract. */
import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import type { LightMyRequestResponse } from 'fastify';
import postgres from 'postgres';
import { inject } from 'vitest';
import { type Database, openDatabase } from '../../db/open.ts';
import { OPENAPI_FILE } from '../paths.ts';
import { checker } from '../workshop/testing.ts';
import { type App, type AppParts, createApp } from './app.ts';
import { inlineRunner } from './checks.ts';

/** The demo catalogue in a database of its own; gives its address. */
export async function demoDatabaseUrl(): Promise<string> {
  const demo = new URL(inject('demoDatabase'));
  const name = `demo_${randomUUID().replaceAll('-', '')}`;
  const client = postgres(new URL('/postgres', demo).href, { max: 1 });
  await client.unsafe(`create database ${name} template ${demo.pathname.slice(1)}`);
  await client.end();
  return new URL(`/${name}`, demo).href;
}

export const demoDatabase = async (): Promise<Database> => openDatabase({ url: await demoDatabaseUrl() });

/** Every answer it gives in process is held against the contract. */
export async function testApp(more: Partial<AppParts> = {}): Promise<App> {
  const database = more.database ?? (await demoDatabase());
  const app = await createApp({ library: checker.library, checks: inlineRunner(checker), ...more, database });
  const plain = app.inject.bind(app) as (asked: unknown) => Promise<LightMyRequestResponse>;
  const held = async (asked: string | { method?: string; url: string }): Promise<LightMyRequestResponse> => {
    const response = await plain(asked);
    const { method = 'GET', url } = typeof asked === 'string' ? { url: asked } : asked;
    const path = contractPath(url);
    const operation = path === undefined ? undefined : document.paths[path]?.[method.toLowerCase()];
    const bare = method === 'HEAD' || url.startsWith('/docs') || url.startsWith('/openapi') || url.startsWith('/metrics');
    const fault = operation
      ? contractFault(path as string, method.toLowerCase(), response)
      : bare || response.statusCode < 400
        ? undefined
        : problemFault(response);
    if (fault !== undefined)
      throw new Error(`${method} ${url} answered ${response.statusCode} against the contract: ${fault}\n${response.body}`);
    return response;
  };
  return Object.assign(app, { inject: held as never });
}

export type Method = 'GET' | 'POST' | 'PUT' | 'DELETE';

/** Asks the app there is by then: objects go as JSON, text and bytes as they are, of the type that is given. */
export const asking =
  (app: () => App, always: Readonly<Record<string, string>> = {}, typeOfText = 'application/json') =>
  (method: Method, url: string, payload?: unknown, headers: Readonly<Record<string, string>> = {}): Promise<LightMyRequestResponse> => {
    const asItIs = typeof payload === 'string' || Buffer.isBuffer(payload);
    const sent = payload !== undefined && {
      payload: asItIs ? payload : JSON.stringify(payload),
      type: { 'content-type': asItIs ? typeOfText : 'application/json' },
    };
    return app().inject({
      method,
      url,
      headers: { ...always, ...(sent ? sent.type : {}), ...headers },
      ...(sent && { payload: sent.payload }),
    });
  };

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
  const status = String(response.statusCode) in operation.responses ? String(response.statusCode) : 'default';
  const described = operation.responses[status];
  if (!described) return `the contract has no ${response.statusCode} for ${method} ${path}`;
  const types = Object.keys(described.content ?? {});
  const sent = String(response.headers['content-type']).split(';')[0] as string;
  const type = types.includes(sent) ? sent : types[0];
  if (type !== undefined && !/json$/.test(type)) return sent === type ? undefined : `it is ${sent}, not ${types.join(' or ')}`;
  if (response.statusCode === 204) return response.body === '' ? undefined : 'a 204 has no body';
  if (response.statusCode === 304) return response.body === '' ? undefined : 'a 304 has no body';
  if (type === undefined) return 'the contract has no form for it';
  const validate = ajv.getSchema(`contract#/paths/${escapeStep(path)}/${method}/responses/${status}/content/${escapeStep(type)}/schema`);
  if (!validate) return 'the contract has no form for it';
  return validate(response.json()) ? undefined : ajv.errorsText(validate.errors);
}

const paths = Object.keys(document.paths)
  .map((path) => ({ path, form: new RegExp(`^${path.replace(/\{\w+\}/g, '[^/]+')}$`) }))
  .sort((a, b) => a.path.split('{').length - b.path.split('{').length);

/** The path of the contract that a URL is of. */
export const contractPath = (url: string): string | undefined => {
  const asked = url.split(/[?#]/)[0] as string;
  return paths.find(({ form }) => form.test(asked))?.path;
};

export function problemFault(response: LightMyRequestResponse): string | undefined {
  const validate = ajv.getSchema('contract#/components/schemas/Problem');
  return validate?.(response.json()) ? undefined : ajv.errorsText(validate?.errors);
}
