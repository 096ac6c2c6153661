import { createHash } from 'node:crypto';
import type { FastifyReply } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { LRUCache } from 'lru-cache';
import { z } from 'zod';
import { getRevision } from '../../../db/builds.ts';
import { cellTokenHolds, createCellToken, listCellTokens, revokeCellToken, type CellToken as Token } from '../../../db/cell-tokens.ts';
import { isAway } from '../../../db/open.ts';
import { suggest } from '../../engine/diagnostics.ts';
import { CELL_NAMES, cellDocs, cellNamed, cellText } from '../../sheets/cells.ts';
import { type Column, type Columns, unknownHeading } from '../../sheets/columns.ts';
import { ALSO, type ReadBuild, type RowFault, readBuild } from '../../sheets/row-request.ts';
import type { CheckRequest, RequestFault } from '../../vehicle/index.ts';
import type { AppParts } from '../app.ts';
import { entriesFor } from '../catalogue.ts';
import { runCheck } from '../checks.ts';
import { ApiError } from '../errors.ts';
import { ANSWER_WITHIN_MS } from '../limits.ts';
import { pageOfNewest, pageQuery, pageSchema, placeAt, readHeaders } from '../schemas/common.ts';
import { NotModified, Problem } from '../schemas/problem.ts';
import { CellToken, CellTokenWrite, NewCellToken } from '../schemas/sheets.ts';
import { READINGS_A_ROW, type Sheets } from '../sheets.ts';
import { storedLookup } from '../stored-catalogue.ts';

/** Answers are asked for cell by cell: a workbook with ten formulas of one build is one check. */
const REMEMBERED = 500;
/** Of the time an answer may take: programs that fetch addresses give up after half a minute, and so does the service. */
const SHARE_WAITED = 2 / 3;
const LONGEST_CELL = 1000;
const MOST_PARAMETERS = 100;

/** A text to whoever reads the contract; whatever comes is answered in the cell. */
const said = (description: string) => z.unknown().optional().meta({ type: 'string', description });

/** Of one build, by their names; or what is wrong with its request. */
type CellsOf = ReadonlyMap<string, string> | { readonly faults: readonly RequestFault[] };

const toldOf = (faults: readonly Pick<RowFault, 'column' | 'message' | 'help'>[]): string =>
  faults.map(({ column, message, help }) => `${column ? `${column}: ` : ''}${message}; ${help}`).join(' | ');

interface Asked {
  readonly request: CheckRequest;
  readonly locate: ReadBuild['locate'];
}

/** What goes into the cell instead of a value. */
class CellSays extends Error {
  override readonly name = 'CellSays';
}

export const cellRoutes: FastifyPluginAsyncZod<AppParts & { readonly sheets: Sheets }> = async (app, parts) => {
  const { database, checks, sheets, library } = parts;
  const { tables } = database;
  const lookup = storedLookup(tables);
  const cells = new LRUCache<string, Promise<CellsOf>>({ max: REMEMBERED });

  app.get(
    '/v1/cells/:what',
    {
      schema: {
        operationId: 'getCell',
        tags: ['sheets'],
        summary: 'One value as plain text, for a formula that fetches an address',
        description: `The value alone: ${cellDocs()}. The build is \`build\`, the id of a saved one, or what it is made of, in parameters named as the headings of a sheet: \`vehicle=…&tyre=…&front_lift_mm=50\`. Formulas send no headers, so a read-only \`token\` stands in the address, and whatever is wrong stands in the cell, with status 200: \`NEEDS: …\` where something is missing, \`ERROR: …\` where something cannot be read, \`WAIT: …\` while the service is busy. Never empty.`,
        security: [],
        params: z.strictObject({
          what: z.string().describe(`One of ${CELL_NAMES.join(', ')}.`),
        }),
        querystring: z.looseObject({
          token: said('Of `POST /v1/cell-tokens`; needed when the service was started with keys.'),
          units: said('metric or us'),
          build: said('Id of a saved build.'),
          vehicle: said('Id or name of a vehicle of the catalogue.'),
        }),
        headers: readHeaders,
        response: {
          200: { description: 'The value', content: { 'text/plain': { schema: z.string() } } },
          304: NotModified,
          400: Problem,
        } as never,
      },
    },
    async (request, reply) => {
      const { what } = request.params;
      try {
        const text = await inTime(
          cellOf(what, request.query as Record<string, unknown>),
          SHARE_WAITED * (parts.answerWithinMs ?? ANSWER_WITHIN_MS),
        );
        return sendCell(reply, text, request.headers['if-none-match'], 'private, no-cache') as never;
      } catch (error) {
        const says = saidOf(error);
        if (says === undefined) request.log.error({ err: error }, 'a cell failed');
        return sendCell(reply, says ?? 'ERROR: the service failed; it is our fault', undefined, 'no-store') as never;
      }
    },
  );

  // Some programs ask first what may be done with an address, and give up when that is refused.
  app.options('/v1/cells/:what', { schema: { hide: true } }, async (_request, reply) =>
    reply.code(204).header('allow', 'GET, HEAD, OPTIONS').send(),
  );

  async function cellOf(what: string, query: Record<string, unknown>): Promise<string> {
    await mayRead(query['token']);
    const cell = cellNamed(what);
    if (cell === undefined)
      throw new CellSays(
        `ERROR: there is no cell \`${what.slice(0, 60)}\`; ${suggest(what, CELL_NAMES)}; there are ${CELL_NAMES.join(', ')}`,
      );
    const { request, locate } = await requestOf(query);
    const entries = await entriesFor(request, lookup);
    const key = hashOf([request, entries.hash, library.hash]);
    // Those who ask at the same time wait for one check.
    const found = cells.get(key) ?? checkedCells(request, entries);
    cells.set(key, found);
    found.catch(() => cells.delete(key));
    const made = await found;
    if ('faults' in made) {
      cells.delete(key);
      throw new CellSays(`ERROR: ${toldOf(made.faults.map(locate))}`);
    }
    return made.get(cell) ?? 'ERROR: nothing is known of it';
  }

  async function mayRead(token: unknown): Promise<void> {
    if (token === undefined && (parts.keys ?? []).length === 0) return;
    if (token === undefined) throw new CellSays('ERROR: the address has no token');
    if (typeof token !== 'string' || !(await cellTokenHolds(tables, token)))
      throw new CellSays('ERROR: the token in the address is not known, or was taken back');
  }

  async function checkedCells(request: CheckRequest, entries: Awaited<ReturnType<typeof entriesFor>>): Promise<CellsOf> {
    const checked = await runCheck(checks, { ...request, most_readings: READINGS_A_ROW }, entries);
    if (!checked.ok) return { faults: checked.faults };
    return new Map(CELL_NAMES.map((name) => [name, cellText(name, checked.answer)]));
  }

  async function requestOf({ token: _, units = 'metric', build, ...rest }: Record<string, unknown>): Promise<Asked> {
    if (units !== 'metric' && units !== 'us')
      throw new CellSays(`ERROR: units: \`${String(units).slice(0, 40)}\` is neither metric nor us`);
    if (build === undefined) return described(rest, units);
    const others = Object.keys(rest);
    if (others.length > 0) throw new CellSays(`ERROR: ${others[0]}: a saved build says all of it; leave it out`);
    const revision = typeof build === 'string' ? await getRevision(tables, build) : undefined;
    if (!revision) throw new CellSays(`ERROR: build: there is no build \`${String(build).slice(0, 60)}\``);
    return {
      request: { ...revision.document, units, also: ALSO },
      locate: ({ pointer, ...fault }) => ({ row: 1, column: pointer, ...fault }),
    };
  }

  /** The parameters are the headings and cells of a row. */
  async function described(rest: Record<string, unknown>, units: 'metric' | 'us'): Promise<Asked> {
    const reader = sheets.reader();
    const names = Object.keys(rest);
    if (names.length > MOST_PARAMETERS) throw new CellSays('ERROR: there are too many parameters');
    const all: Column[] = names.map((heading, index) => ({
      index,
      heading,
      ...(reader.headings.mean(heading, 'build') ?? unknownHeading(heading, reader.headings)),
    }));
    const strange = all.find(({ target }) => target === undefined || target.is === 'ours');
    if (strange)
      throw new CellSays(
        `ERROR: there is no parameter \`${strange.heading.slice(0, 60)}\`; ${(strange.near ?? strange.like) === undefined ? '' : `did you mean \`${strange.near ?? strange.like}\`? `}parameters are named as headings of a sheet are`,
      );
    const twice = names.find((name) => typeof rest[name] !== 'string');
    if (twice !== undefined) throw new CellSays(`ERROR: ${twice}: it is there twice`);
    const columns: Columns = { row: 1, rows: 'build', all };
    const long = names.find((name) => String(rest[name]).length > LONGEST_CELL);
    if (long !== undefined) throw new CellSays(`ERROR: ${long.slice(0, 60)}: longer than ${LONGEST_CELL} characters; name fewer`);
    const row = { n: 1, cells: names.map((name) => String(rest[name])) };
    const read = await readBuild([row], columns, reader, { units });
    const empty = row.cells.findIndex((cell) => cell.trim() === '');
    // A cell that the formula points at and that is empty is something that was forgotten.
    if (empty >= 0) throw new CellSays(`NEEDS: ${names[empty]}`);
    if (read.request) return { request: read.request, locate: read.locate };
    if (read.faults.every(({ message }) => message === 'no vehicle is named')) throw new CellSays('NEEDS: vehicle');
    const unknown = read.faults.find(({ message }) => message.startsWith('there is no vehicle'));
    throw new CellSays(
      unknown ? `NEEDS: ${toldOf([{ ...unknown, column: unknown.column ?? 'vehicle' }])}` : `ERROR: ${toldOf(read.faults)}`,
    );
  }

  const tokenView = ({ id, name, at, revokedAt, key }: Token) => ({
    id,
    name,
    created_at: at.toISOString(),
    revoked_at: revokedAt?.toISOString() ?? null,
    key,
  });

  app.post(
    '/v1/cell-tokens',
    {
      schema: {
        operationId: 'createCellToken',
        tags: ['sheets'],
        summary: 'Make a read-only key for the addresses of cells',
        description: 'It is told this once. It opens `/v1/cells` and nothing else.',
        body: CellTokenWrite,
        response: { 201: NewCellToken, 400: Problem, 503: Problem },
      },
    },
    async (request, reply) => {
      const { token, ...made } = await createCellToken(tables, { name: request.body.name, key: request.caller.name });
      return reply
        .code(201)
        .header('cache-control', 'no-store')
        .send({ ...tokenView(made), token } as never) as never;
    },
  );

  app.get(
    '/v1/cell-tokens',
    {
      schema: {
        operationId: 'listCellTokens',
        tags: ['sheets'],
        summary: 'Keys of cells, the newest first; without their secrets',
        querystring: z.strictObject(pageQuery),
        response: { 200: pageSchema(CellToken), 400: Problem, 503: Problem },
      },
    },
    async ({ query: { cursor, limit } }) =>
      pageOfNewest(await listCellTokens(tables, placeAt(cursor).after?.id, limit), limit, ({ id }) => id, tokenView) as never,
  );

  app.delete(
    '/v1/cell-tokens/:id',
    {
      schema: {
        operationId: 'revokeCellToken',
        tags: ['sheets'],
        summary: 'Take a key of cells back, for good',
        params: z.strictObject({ id: z.string().min(1).max(120) }),
        response: { 200: CellToken, 404: Problem, 503: Problem },
      },
    },
    async ({ params: { id } }) => {
      const revoked = await revokeCellToken(tables, id);
      if (!revoked) throw new ApiError('NOT_FOUND', 'There is no such token.');
      return tokenView(revoked) as never;
    },
  );
};

function saidOf(error: unknown): string | undefined {
  if (error instanceof CellSays) return error.message;
  if (error instanceof ApiError && error.code === 'UNAVAILABLE') return `WAIT: ${error.message}`;
  return isAway(error) ? 'WAIT: the database does not answer' : undefined;
}

/** What takes longer is gone on with: whoever recalculates later finds it answered. */
async function inTime(found: Promise<string>, ms: number): Promise<string> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, refuse) => {
    timer = setTimeout(() => refuse(new CellSays('WAIT: it is being worked out; recalculate in a minute')), ms);
  });
  found.catch(() => {});
  return Promise.race([found, late]).finally(() => clearTimeout(timer));
}

/** A cell is one line, and starts with nothing that a spreadsheet would run. */
function sendCell(reply: FastifyReply, text: string, given: string | undefined, caching: string): FastifyReply {
  const line = text.replace(/\s+/g, ' ').slice(0, LONGEST_CELL);
  const etag = `"${hashOf(line).slice(0, 22)}"`;
  reply.headers({ etag, 'cache-control': caching, 'x-content-type-options': 'nosniff', 'referrer-policy': 'no-referrer' });
  if (given === etag) return reply.code(304).send(null);
  return reply.code(200).type('text/plain; charset=utf-8').send(line);
}

const hashOf = (of: unknown): string => createHash('sha256').update(JSON.stringify(of)).digest('base64url');
