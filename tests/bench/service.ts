/**
 * The service over HTTP beside an echo of the same sizes; an import of 100 000 parts beside the driver's own bulk insert of the same rows,
 * made ready, into a table with the same indexes; searches among them beside the bare statement. On PostgreSQL.
 */
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import fastify from 'fastify';
import postgres from 'postgres';
import type { App } from '../../services/api/app.ts';
import { CheckRequest } from '../../services/api/schemas/request.ts';
import { demoBuild } from '../../services/workshop/testing.ts';
import { served } from './served.ts';
import { callsOfAll, median, posting, rate, report } from './timing.ts';

const ROWS = 100_000;
const json = { 'content-type': 'application/json' };

export const benchService = (): Promise<void> =>
  served(async (app, url, database) => {
    await benchCheck(app, url);
    await benchImport(app, database);
    await benchSearch(app, database);
  });

/** A check, against reading the same request with zod and answering with as many bytes. */
async function benchCheck(app: App, url: string): Promise<void> {
  const body = JSON.stringify(demoBuild('modest'));
  const answer = (await app.inject({ method: 'POST', url: '/v1/checks', headers: json, payload: body })).body;
  const echo = fastify();
  echo.post('/', async (request, reply) => {
    CheckRequest.parse(request.body);
    return reply.type('application/json').send(answer);
  });
  const bareUrl = await echo.listen({ port: 0, host: '127.0.0.1' });
  const [ours, bare] = (await callsOfAll([posting(`${url}/v1/checks`, body), posting(bareUrl, body)])) as [number, number];
  await echo.close();
  const sizes = `${(body.length / 1024).toFixed(1)} KiB in, ${(answer.length / 1024).toFixed(0)} KiB out`;
  report('a check over HTTP, against a zod echo of its sizes', ours / bare, undefined, `${rate(ours)} against ${rate(bare)} (${sizes})`);
}

const WORDS = ['fell', 'beck', 'scar', 'tarn', 'ghyll', 'rigg', 'moss', 'thwaite', 'howe', 'crag'] as const;
const word = (i: number): string => WORDS[i % WORDS.length] as string;

async function benchImport(app: App, url: string): Promise<void> {
  const rows = Array.from({ length: ROWS }, (_, i) => ({
    id: `bench-${i}`,
    name: `${word(i)}${word(i >> 3)} ${i % 997} ${word(i >> 5)}`,
    maker: `Maker ${i % 89}`,
    mass: 18 + (i % 20),
    diameter: 700 + (i % 200),
  }));
  const table = rows.map(({ id, name, maker, mass, diameter }) => `${id},tyre,${name},${maker},${mass},${diameter} mm`);
  const payload = ['id,kind,name,maker,mass [kg],overall_diameter', ...table].join('\n');
  const importing = async (): Promise<number> => {
    const start = performance.now();
    const response = await app.inject({ method: 'POST', url: '/v1/imports/parts', headers: { 'content-type': 'text/csv' }, payload });
    if (response.json().rows !== ROWS) throw new Error(response.body.slice(0, 500));
    return performance.now() - start;
  };
  const copied = rows.map(({ id, name, maker, mass, diameter }) => {
    const document = { id, kind: 'tyre', name, maker, version: 1, attributes: { mass: `${mass} kg`, overall_diameter: `${diameter} mm` } };
    return `part\t${id}\t1\tt\ttyre\t${name}\t${id} ${name} ${maker} tyre\t${JSON.stringify(document)}\n`;
  });
  const client = postgres(url, { max: 1, onnotice: () => {} });
  await client`create table bare (like catalogue including all)`;
  const copying = async (): Promise<number> => {
    await client`truncate bare`;
    const start = performance.now();
    const into = await client`copy bare (noun, id, version, current, kind, name, words, document) from stdin`.writable();
    await pipeline(Readable.from(copied), into);
    return performance.now() - start;
  };
  const before = await copying();
  const [first, again] = [await importing(), await importing()];
  const bare = (before + (await copying())) / 2;
  await client.end();
  const detail = `${seconds(first)} against ${seconds(bare)} (${(payload.length / 1e6).toFixed(1)} MB)`;
  report(`an import of ${ROWS} parts from CSV, against a bare copy`, bare / first, 0.2, detail);
  report('the same again, nothing of it new', bare / again, 0.25, seconds(again));
}

const seconds = (ms: number): string => `${(ms / 1000).toFixed(1)} s`;

const SEARCHES = { 'one part': 'bench-77777', 'a few': 'thwaitecrag 500', 'ten thousands': 'fell', misspelt: 'thwaitcrag 50' } as const;

async function benchSearch(app: App, url: string): Promise<void> {
  const client = postgres(url, { max: 1 });
  const bare = (search: string, misspelt: boolean): Promise<readonly object[]> => {
    if (misspelt)
      return client`select document from catalogue where current and words %> ${search}
        order by word_similarity(${search}, words) desc, id limit 21`;
    const words = search.split(' ').map((one) => `%${one}%`);
    const every = words.map((_, i) => `words ilike $${i + 1}`).join(' and ');
    return client.unsafe(`select document from catalogue where noun = 'part' and current and ${every} order by id limit 21`, words);
  };
  for (const [name, search] of Object.entries(SEARCHES)) {
    const times: [number[], number[]] = [[], []];
    const works = [
      () => app.inject({ url: `/v1/parts?limit=20&search=${encodeURIComponent(search)}` }),
      () => bare(search, name === 'misspelt'),
    ];
    for (let i = 0; i < 15; i++)
      for (const [which, work] of works.entries()) {
        const start = performance.now();
        await work();
        times[which]?.push(performance.now() - start);
      }
    const [ours, theirs] = times.map(median) as [number, number];
    report(
      `a search among them, ${name}, against its statement`,
      theirs / ours,
      0.25,
      `${ours.toFixed(1)} ms against ${theirs.toFixed(1)} ms`,
    );
  }
  await client.end();
}
