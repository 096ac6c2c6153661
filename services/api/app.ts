/** The HTTP service as a thing that can be made, asked and closed; `server.ts` makes one that listens. */
import { randomUUID } from 'node:crypto';
import cors from '@fastify/cors';
import swagger from '@fastify/swagger';
import fastify, {
  type FastifyBaseLogger,
  type FastifyInstance,
  type FastifyReply,
  type FastifyRequest,
  type FastifyServerOptions,
} from 'fastify';
import { jsonSchemaTransform, jsonSchemaTransformObject, type ZodTypeProvider } from 'fastify-type-provider-zod';
import { Registry } from 'prom-client';
import { type Database, isAway } from '../../db/open.ts';
import type { Library } from '../engine/index.ts';
import type { Times } from '../jobs/sheet-queue.ts';
import { readBody } from './bodies.ts';
import type { CheckRunner } from './checks.ts';
import { ApiError, type ErrorCode, unavailable } from './errors.ts';
import { ANYONE, type Caller, callerOf, type Key, routeOf } from './keys.ts';
import { ANSWER_WITHIN_MS, limitRate } from './limits.ts';
import { measureRequests } from './metrics.ts';
import { oneFormEach } from './openapi-forms.ts';
import { buildRoutes } from './routes/builds.ts';
import { catalogueRoutes } from './routes/catalogue.ts';
import { cellRoutes } from './routes/cells.ts';
import { checkRoutes } from './routes/checks.ts';
import { dictionaryRoutes } from './routes/dictionary.ts';
import { importRoutes } from './routes/imports.ts';
import { planRoutes } from './routes/plans.ts';
import { questionRoutes } from './routes/questions.ts';
import { sheetRoutes } from './routes/sheets.ts';
import { systemRoutes } from './routes/system.ts';
import { tyreRoutes } from './routes/tyres.ts';
import { whatIfRoutes } from './routes/what-ifs.ts';
import { Problem } from './schemas/problem.ts';
import { sheetsOf } from './sheets.ts';
import { parseJsonBytes } from './strict-json.ts';
import { compileValidator } from './validation.ts';

export interface AppParts {
  readonly library: Library;
  readonly database: Database;
  readonly checks: CheckRunner;
  /** Callers must come with one of them; with none, everyone may ask. */
  readonly keys?: readonly Key[];
  /** Requests a minute for each key, or each address; no limit when left out. */
  readonly rateLimit?: number;
  /** Origins whose pages may ask; none when left out. */
  readonly origins?: readonly string[];
  /** For an answer, such as when the database hangs; half a minute when left out. */
  readonly answerWithinMs?: number;
  /** Takes up sheets that are not done as soon as it starts; without it, at the first that is sent. */
  readonly worksSheets?: boolean;
  readonly sheetTimes?: Partial<Times>;
  readonly metrics?: Registry;
  readonly logger?: FastifyServerOptions['logger'];
}

export type App = FastifyInstance<
  import('fastify').RawServerDefault,
  import('http').IncomingMessage,
  import('http').ServerResponse,
  FastifyBaseLogger,
  ZodTypeProvider
>;

declare module 'fastify' {
  interface FastifyRequest {
    caller: Caller;
    /** Why whoever asks is nobody. */
    refusal: ApiError | null;
  }
}

export const API_VERSION = '1.0.0';
const BODY_LIMIT = 1 << 20;
/** For a body to arrive; a caller that sends a byte now and then is let go. */
const REQUEST_TIMEOUT_MS = 120_000;
const LONGEST_PARAM = 400;

export async function createApp(parts: AppParts): Promise<App> {
  const app = fastify({
    logger: withoutQueries(parts.logger),
    bodyLimit: BODY_LIMIT,
    requestTimeout: REQUEST_TIMEOUT_MS,
    handlerTimeout: parts.answerWithinMs ?? ANSWER_WITHIN_MS,
    requestIdHeader: false,
    genReqId: () => randomUUID(),
    forceCloseConnections: 'idle',
    routerOptions: { maxParamLength: LONGEST_PARAM },
    frameworkErrors: (_error, request, reply) =>
      answerProblem(
        new ApiError('REQUEST_INVALID', 'The path is not written as a URL is.'),
        request as FastifyRequest,
        reply as FastifyReply,
      ),
  }).withTypeProvider<ZodTypeProvider>();
  app.setValidatorCompiler(compileValidator as never);
  // Answers are made whole by the code that knows them; their form is held by the tests against the OpenAPI document.
  app.setSerializerCompiler(() => (data) => JSON.stringify(data));
  if (parts.origins && parts.origins.length > 0) await app.register(cors, { ...CROSS_ORIGIN, origin: [...parts.origins] });
  readJsonStrictly(app);
  answerProblems(app);
  identifyRequests(app, parts.keys ?? []);
  if (parts.rateLimit !== undefined) await limitRate(app as never, parts.rateLimit);
  measureRequests(app as never, parts.metrics ?? new Registry());
  await app.register(swagger, {
    openapi: DOCUMENT,
    transform: jsonSchemaTransform,
    transformObject: (given) => oneFormEach(jsonSchemaTransformObject(given) as never) as never,
  });
  // Any path may answer with a problem: a key, a limit, a database that is away.
  app.addHook('onRoute', ({ schema }) => {
    if (schema?.response) schema.response = { ...schema.response, default: Problem };
  });
  await app.register(checkRoutes, parts);
  await app.register(questionRoutes, parts);
  await app.register(whatIfRoutes, parts);
  await app.register(catalogueRoutes, parts);
  await app.register(importRoutes, parts);
  await app.register(buildRoutes, parts);
  await app.register(dictionaryRoutes, parts);
  const sheets = sheetsOf({
    ...parts,
    ...(parts.sheetTimes && { times: parts.sheetTimes }),
    onError: (error) => app.log.error({ err: error }, 'a sheet failed'),
  });
  await app.register(sheetRoutes, { ...parts, sheets });
  await app.register(cellRoutes, { ...parts, sheets });
  await app.register(tyreRoutes, parts);
  await app.register(planRoutes, parts);
  await app.register(systemRoutes, parts);
  closeConnectionsWhenClosing(app);
  if (parts.worksSheets) app.addHook('onReady', () => sheets.queue.start());
  app.addHook('onClose', async () => {
    await sheets.queue.close();
    await parts.checks.close();
    await parts.database.close();
  });
  await app.ready();
  return app as App;
}

/** What is asked behind a `?` is in no log: keys of cells stand there. */
function withoutQueries(logger: AppParts['logger']): NonNullable<FastifyServerOptions['logger']> {
  if (!logger) return false;
  return {
    ...(logger === true ? {} : logger),
    serializers: { req: plainRequest, err: plainError },
    // Fastify writes addresses into lines of its own.
    hooks: {
      logMethod(args, log) {
        log.apply(this, args.map(withoutQuery) as typeof args);
      },
    },
  };
}

const QUERY = /\?[^\s"'`)]*/g;
const withoutQuery = <T>(text: T): T => (typeof text === 'string' ? (text.replace(QUERY, '') as T) : text);

const plainError = ({ name, message, stack = '', code }: Error & { readonly code?: string }) => ({
  type: name,
  message: withoutQuery(message),
  stack: withoutQuery(stack),
  ...(code !== undefined && { code }),
});

const plainRequest = ({ method, url, host, ip }: FastifyRequest) => ({ method, url: url.split('?')[0] ?? '', host, remoteAddress: ip });

const DOCUMENT = {
  openapi: '3.1.0',
  info: {
    title: 'Fettle',
    version: API_VERSION,
    description:
      'Tells people who modify trucks whether their parts work together, by how much they miss, and what work it takes. v1 only grows: clients ignore response fields they do not know; the service refuses request fields it does not know. `verdict` is a closed list; other lists may grow.',
    license: { name: 'Apache-2.0', identifier: 'Apache-2.0' },
  },
  servers: [{ url: 'http://127.0.0.1:4750' }],
  components: {
    securitySchemes: { key: { type: 'http' as const, scheme: 'bearer', description: 'Needed when the service was started with keys.' } },
  },
  security: [{ key: [] }, {}],
};

/** Formulas send no headers: a cell's key stands in its address, and is looked at there. */
const CELLS = '/v1/cells/:what';
const CROSS_ORIGIN = {
  methods: ['GET', 'HEAD', 'POST', 'PUT', 'DELETE'],
  allowedHeaders: ['authorization', 'content-type', 'idempotency-key', 'if-match', 'if-none-match'],
  exposedHeaders: ['etag', 'idempotency-replayed', 'location', 'retry-after', 'x-request-id'],
  maxAge: 600,
};

const GUARDED = /^\/(v1\/|metrics)/;

/** Every request has an id, which its answer tells, and a caller. One with a wrong key is refused once its address has been counted. */
function identifyRequests(app: FastifyInstance, keys: readonly Key[]): void {
  const identify = callerOf(keys);
  app.decorateRequest('caller', null as never);
  app.decorateRequest('refusal', null);
  app.addHook('preParsing', async ({ refusal }) => {
    if (refusal) throw refusal;
  });
  app.addHook('onRequest', async (request, reply) => {
    reply.header('x-request-id', request.id);
    request.caller = ANYONE;
    // By the route that was found: a path can be written in more ways than one.
    if (GUARDED.test(routeOf(request)) && routeOf(request) !== CELLS)
      try {
        request.caller = identify(request);
      } catch (error) {
        request.refusal = error as ApiError;
      }
    if (request.url.includes('%00')) throw new ApiError('REQUEST_INVALID', 'The URL has a zero byte in it.');
  });
}

const IDLE_CHECK_MS = 250;

/** While the service closes, an answer ends its connection, and one that waits for a next request is ended too. */
function closeConnectionsWhenClosing(app: FastifyInstance): void {
  let closing = false;
  app.addHook('preClose', async () => {
    closing = true;
    const sweep = setInterval(() => app.server.closeIdleConnections(), IDLE_CHECK_MS).unref();
    app.server.once('close', () => clearInterval(sweep));
  });
  app.addHook('onSend', async (_request, reply) => {
    if (closing) reply.header('connection', 'close');
  });
}

const JSON_TYPE = /^application\/(?:[\w.+-]+\+)?json(?:;|$)/;

function readJsonStrictly(app: FastifyInstance): void {
  app.removeAllContentTypeParsers();
  app.addContentTypeParser(JSON_TYPE, { parseAs: 'buffer' }, readBody(parseJsonBytes));
}

/** Fastify's own errors by what we call them. */
const OWN_CODES: Readonly<Record<string, ErrorCode>> = {
  FST_ERR_CTP_BODY_TOO_LARGE: 'BODY_TOO_LARGE',
  FST_ERR_CTP_INVALID_MEDIA_TYPE: 'CONTENT_TYPE_WRONG',
  FST_ERR_CTP_EMPTY_JSON_BODY: 'JSON_MALFORMED',
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: 'JSON_MALFORMED',
};

function knownError(error: Error & { code?: string }): ApiError | undefined {
  if (error instanceof ApiError) return error;
  const own = OWN_CODES[error.code ?? ''];
  if (own) return new ApiError(own);
  if (error.code === 'FST_ERR_HANDLER_TIMEOUT') return unavailable('The answer took too long.', 5);
  return isAway(error) ? unavailable('The database does not answer.', 2) : undefined;
}

function answerProblems(app: FastifyInstance): void {
  app.setErrorHandler((error: Error & { code?: string }, request, reply) => {
    const known = knownError(error);
    if (known?.code === 'UNAVAILABLE') request.log.warn({ err: error }, 'not available');
    if (!known) request.log.error({ err: error }, 'request failed');
    return answerProblem(known ?? new ApiError('INTERNAL'), request, reply);
  });
  app.setNotFoundHandler((request, reply) => {
    const path = request.url.split('?')[0] ?? '';
    const allowed = (['GET', 'POST', 'PUT', 'DELETE'] as const).filter((method) => app.findRoute({ url: path, method }) !== null);
    const error =
      allowed.length > 0
        ? new ApiError('METHOD_WRONG', `\`${request.method}\` is not taken here; \`${allowed.join('` and `')}\` is.`, [], {
            allow: allowed.join(', '),
          })
        : new ApiError('NOT_FOUND', `There is no path \`${path}\`; /docs lists those there are.`);
    return answerProblem(error, request, reply);
  });
}

const answerProblem = (error: ApiError, { id }: FastifyRequest, reply: FastifyReply): FastifyReply =>
  reply
    .code(error.status)
    .headers(error.headers)
    .type('application/problem+json')
    .send(JSON.stringify(error.problem(id)));
