import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const ask = (...args: string[]): Promise<{ code: number; out: string; err: string }> =>
  new Promise((done) => {
    execFile(process.execPath, ['--import', 'tsx', 'services/cli/ask.ts', ...args], { cwd: root }, (error, out, err) =>
      done({ code: error ? Number(error.code) : 0, out, err }),
    );
  });

describe('ask', { timeout: 180_000 }, () => {
  const TEXT = '33x12.50R15 on 17x8.5 -10, merowdale ghyl';

  it('prints the short answer, and ends by its verdict', async () => {
    const { code, out } = await ask(TEXT);
    expect([code, out]).toEqual([1, expect.stringMatching(/^No: no stated work clears it with the part asked about\. .*\n$/)]);
    expect((await ask('will it fit')).code).toBe(3);
  });

  it('takes what the API takes', async () => {
    const { out } = await ask(TEXT, '--json', '--units', 'us', '--markdown', '--length', '900', '--vehicle', 'merrowdale-ghyll');
    expect(JSON.parse(out)).toMatchObject({ verdict: 'no', answer: expect.stringMatching(/^\*\*No: /), build: { units: 'us' } });
  });

  it.each([
    [[], 'usage'],
    [['x', '--wrong'], 'usage'],
    [['x', '--length', 'many'], '/length'],
    [[TEXT, '--length', '20'], 'send '],
    [[TEXT, '--vehicle', 'flurbo'], 'merrowdale-ghyll'],
  ])('ends %j with 2 and says why', async (args, why) => {
    const { code, err } = await ask(...args);
    expect([code, err]).toEqual([2, expect.stringContaining(why)]);
  });
});
