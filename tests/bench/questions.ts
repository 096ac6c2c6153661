/** Questions over HTTP on one core, beside a bare echo of as many bytes; and reading alone. */
import fastify from 'fastify';
import { MOST_MEASURES } from '../../services/api/questions.ts';
import { checker, demoCatalogue } from '../../services/workshop/testing.ts';
import { held, read } from '../questions/held.ts';
import { served } from './served.ts';
import { callsOfAll, posting, rate, report, timeAll } from './timing.ts';

/** Of the rate of the check alone, what a question with that check must leave: reading, names, judging and fitting come to it. */
const CHECK_FLOOR = 0.7;
/** Of a bare echo's rate, what reading a question and looking up its names, among vehicles and parts, must leave. */
const READ_FLOOR = 0.05;

export async function benchQuestions(): Promise<void> {
  let i = 0;
  const { reading } = timeAll({ reading: () => read(held[i++ % held.length]?.ask ?? '') });
  console.log(`  reading a question, nothing checked: ${rate(reading.rate)}`);
  await served(async (_, url) => {
    await beside(url, 'a question that asks nothing, names looked up', 'will the flurbo bracket clear?', READ_FLOOR);
    for (const text of [
      '100Ah LFP and a 50qt fridge, Merrowdale Ghyll',
      '265/70R17 115S, Merrowdale Ghyll',
      '2.5" lift and 33x12.50R17, Merrowdale Ghyll',
    ])
      await besideCheck(url, text);
  });
}

/** What comes back has the build that was checked: the same check is done without a question round it. */
async function besideCheck(url: string, text: string): Promise<void> {
  const ask = posting(`${url}/v1/questions`, JSON.stringify({ text }));
  const { build } = JSON.parse(Buffer.from((await ask()) as ArrayBuffer).toString());
  const check = async (): Promise<unknown> => checker.check({ ...build, most_readings: MOST_MEASURES }, demoCatalogue);
  const [ours, alone] = (await callsOfAll([ask, check])) as [number, number];
  report(`“${text}”, against its check alone`, ours / alone, CHECK_FLOOR, `${rate(ours)} against ${rate(alone)}`);
}

async function beside(url: string, what: string, text: string, floor: number): Promise<void> {
  const body = JSON.stringify({ text });
  const ask = posting(`${url}/v1/questions`, body);
  const answer = Buffer.from((await ask()) as ArrayBuffer).toString();
  const echo = fastify();
  echo.post('/', async (_request, reply) => reply.type('application/json').send(answer));
  const [ours, bare] = (await callsOfAll([ask, posting(await echo.listen({ port: 0, host: '127.0.0.1' }), body)])) as [number, number];
  await echo.close();
  report(
    `${what}, against a bare echo`,
    ours / bare,
    floor,
    `${rate(ours)} against ${rate(bare)} (${(answer.length / 1024).toFixed(0)} KiB out)`,
  );
}
