/** What the README says is so: its commands, its curl and its client example are run, its quoted answer is the real one. */
import { execFile } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { App } from '../services/api/app.ts';
import { settingDocs } from '../services/api/settings.ts';
import { testApp } from '../services/api/testing.ts';
import type { Answer } from '../services/workshop/index.ts';

const root = fileURLToPath(new URL('..', import.meta.url));
const readme = readFileSync(`${root}/README.md`, 'utf8');
const blocks = (language: string): string[] =>
  [...readme.matchAll(new RegExp(`\`\`\`${language}\\n([\\s\\S]*?)\`\`\``, 'g'))].map((match) => match[1] as string);

let app: App;
let base = '';
beforeAll(async () => {
  app = await testApp();
  await app.listen({ port: 0, host: '127.0.0.1' });
  base = `http://127.0.0.1:${(app.server.address() as AddressInfo).port}`;
});
afterAll(() => app.close());

const shell = (command: string): Promise<{ code: number; out: string }> =>
  new Promise((done) => {
    execFile('bash', ['-c', command], { cwd: root, maxBuffer: 1 << 26 }, (error, out) =>
      done({ code: error ? Number(error.code) : 0, out }),
    );
  });

describe('README', { timeout: 180_000 }, () => {
  const [checks, curl] = blocks('sh') as [string, string];

  it.each(checks.trim().split('\n'))('%s', async (command) => {
    const { code, out } = await shell(command);
    expect([0, 1, 3]).toContain(code);
    expect(out.length).toBeGreaterThan(500);
  });

  it('its what-if is answered', async () => {
    const { code, out } = await shell((blocks('sh')[2] as string).trim());
    expect(code).toBe(0);
    expect(out).toMatch(/^Overall diameter of .+: clear up to [\d.]+ in, .*conflict( \(.+ after the stated work\))? beyond\./);
  });

  it('its curl is answered', async () => {
    const { code, out } = await shell(curl.replace('http://127.0.0.1:4750', base));
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      verdict: expect.stringMatching(/^(conflict|unknown|close|clear)$/),
      findings: expect.any(Array),
    });
  });

  it('its questions are answered as it says', async () => {
    const asks = blocks('sh').find((block) => block.includes('npm run -s ask')) as string;
    const said = /^ {4}(No, .*: .*) …$/m.exec(readme)?.[1] as string;
    const answered = await Promise.all(asks.trim().split('\n').map(shell));
    expect(answered.map(({ code }) => code)).toEqual([1, 1]);
    expect(answered[0]?.out.startsWith(said)).toBe(true);
    const question = JSON.parse(blocks('json').find((block) => block.includes('"text"')) as string);
    const reply = await app.inject({ method: 'POST', url: '/v1/questions', payload: question });
    expect([reply.statusCode, reply.json().answer.length <= question.length]).toEqual([200, true]);
    for (const verdict of ['yes', 'yes_with_work', 'no', 'cant_tell']) expect(readme).toContain(`| \`${verdict}\``);
  });

  it('its own truck is checked, and every part of it is put together', async () => {
    const file = join(mkdtempSync(join(tmpdir(), 'fettle-')), 'own.yaml');
    writeFileSync(file, blocks('yaml')[0] as string);
    const { code, out } = await shell(`npm run -s check -- ${file} --json`);
    expect([0, 1, 3]).toContain(code);
    const { findings, values } = JSON.parse(out) as Answer;
    expect(findings.length).toBeGreaterThan(20);
    expect(values['tyre_gap(cab-mounts@front-left)']).toMatchObject({ value: 24, plus_minus: 3, origin: { kind: 'measured' } });
    const loads = findings.filter(({ rule, subject }) => rule === 'wheel-load' && subject.startsWith('Factory wheels'));
    expect(loads.length).toBeGreaterThan(0);
    expect(loads.filter(({ verdict }) => verdict === 'unknown')).toEqual([]);
  });

  it('its table is imported', async () => {
    const table = {
      method: 'POST',
      url: '/v1/imports/parts',
      headers: { 'content-type': 'text/csv' },
      payload: blocks('csv')[0] as string,
    };
    expect((await app.inject(table as never)).json()).toMatchObject({ rows: 1, added: 1, faults: [] });
  });

  it('its plans are made', async () => {
    const plans = blocks('sh').find((block) => block.includes('npm run -s plan')) as string;
    const [toRead, toFile] = plans.trim().split('\n') as [string, string];
    const read = await shell(toRead);
    expect([[0, 1, 3].includes(read.code), read.out.startsWith('# Plan')]).toEqual([true, true]);
    const file = join(mkdtempSync(join(tmpdir(), 'fettle-')), 'plan.csv');
    await shell(toFile.replace(/--to \S+/, `--to ${file}`));
    expect(readFileSync(file, 'utf8').split('\r\n').length).toBeGreaterThan(40);
  });

  it('its table of builds is answered', async () => {
    const sheet = { method: 'POST', url: '/v1/sheets/check', headers: { 'content-type': 'text/csv' }, payload: blocks('csv')[1] as string };
    const response = await app.inject(sheet as never);
    expect(response.statusCode).toBe(200);
    const [headings, ...rows] = response.body.trimEnd().split('\n');
    expect(headings).toContain('People,verdict,controlling item,margin');
    expect(rows.map((row) => /,(conflict|unknown|close|clear),/.test(row))).toEqual([true, true]);
  });

  it('its client example runs as it says: built once, saved and run', async () => {
    const [example] = blocks('ts') as [string];
    const [, build] = /Build it once with `([^`]+)`/.exec(readme) as unknown as [string, string];
    const [, command, name] = /: `(npx tsx (\w+\.ts))`/.exec(readme) as unknown as [string, string, string];
    expect((await shell(build)).code).toBe(0);
    // A folder from which the client is found as from the root, and which is not kept.
    const folder = join(root, 'node_modules/.cache/readme');
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'package.json'), '{ "type": "module" }');
    writeFileSync(join(folder, name), example.replace('http://127.0.0.1:4750', base));
    const { code, out } = await shell(`cd ${folder} && ${command}`);
    expect(code).toBe(0);
    expect(out).toMatch(/^(conflict|unknown); next: .+ \[.+\]: \S/);
  });

  it('the answer it quotes is in what the demo prints', async () => {
    const { out } = await shell('npm run -s demo');
    for (const quoted of (blocks('text')[0] as string).split('\n\n')) expect(out).toContain(quoted.trimEnd());
  });

  it('names the findings that come from no rule', () => {
    for (const rule of ['position-filled', 'statements-agree', 'law-reaches']) expect(readme).toContain(`\`${rule}\``);
  });

  it('its table of settings has every setting', () => {
    expect([...readme.matchAll(/^\| `([A-Z_]+)` +\|/gm)].map((match) => match[1])).toEqual(settingDocs().map(({ name }) => name));
  });

  it('the numbers of rules and works in the changelog are those there are', async () => {
    const { out } = await shell('npm run -s rules');
    const [, rules, works] = /^(\d+) rules .* (\d+) works/.exec(out) ?? [];
    const changelog = readFileSync(`${root}/CHANGELOG.md`, 'utf8');
    expect(changelog).toContain(`${rules} rules`);
    expect(changelog).toContain(`${works} works`);
  });
});

describe('adding a rule', () => {
  it('a copied file is checked, tested and in the answer, with no code touched', async () => {
    const { cpSync } = await import('node:fs');
    const { createChecker, loadRules } = await import('../services/workshop/index.ts');
    const { demoBuild, demoCatalogue } = await import('../services/workshop/testing.ts');
    const rules = `${mkdtempSync(`${tmpdir()}/fettle-rules-`)}/rules`;
    cpSync(`${root}/rules`, rules, { recursive: true });
    const copied = readFileSync(`${rules}/constraints/loads/gross-mass.yaml`, 'utf8')
      .replace('id: gross-mass', 'id: shop-limit')
      .replace('gross_mass <= gross_mass_rating', 'gross_mass <= 2100 kg')
      .replace(/\{gross_mass_rating: kg\}/, '2100 kg')
      .replace(/, gross_mass_rating: 2550 kg/g, '')
      .replace('gross_mass: 2400 kg', 'gross_mass: 1950 kg')
      .replace('gross_mass: 2550 kg }, verdict: clear, margin: 0 kg', 'gross_mass: 2100 kg }, verdict: clear, margin: 0 kg')
      .replace('gross_mass: 2700 kg', 'gross_mass: 2250 kg');
    writeFileSync(`${rules}/constraints/loads/shop-limit.yaml`, copied);
    const { code, out } = await shell(`npm run -s rules -- ${rules}`);
    expect([code, out]).toEqual([0, expect.stringContaining('all in order')]);
    const checked = createChecker(loadRules(rules)).check(demoBuild('modest') as never, demoCatalogue);
    expect(checked.ok && checked.answer.findings.find(({ rule }) => rule === 'shop-limit')?.verdict).toBe('conflict');
  });
});
