import { execFile } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { testApp } from '../api/testing.ts';
import { DEMO_FOLDER } from '../paths.ts';
import { demoBuild } from '../workshop/testing.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'fettle-'));
const build = (name: string): string => join(DEMO_FOLDER, 'builds', `${name}.yaml`);

function run(script: string, ...args: string[]): Promise<{ code: number; out: string; err: string }> {
  return new Promise((done) => {
    execFile(
      process.execPath,
      ['--import', 'tsx', `services/cli/${script}.ts`, ...args],
      { cwd: root, maxBuffer: 1 << 26 },
      (error, out, err) => {
        done({ code: error ? Number(error.code) : 0, out, err });
      },
    );
  });
}

describe('every command', { timeout: 180_000 }, () => {
  it.each(['check', 'plan', 'ask', 'sheet', 'what-if', 'planning-workbook', 'rules'])('%s says how it is called', async (script) => {
    const { code, out } = await run(script, '--help');
    expect([code, out.split(' ').slice(0, 4)]).toEqual([0, ['usage:', 'npm', 'run', '-s']]);
  });

  it.each([
    ['planning-workbook', '--uri', ''],
    ['rules', 'no-such-folder', 'there is no folder `no-such-folder`'],
    ['what-if', '--off', "Unknown option '--off'"],
  ])('%s ends with its usage at `%s`', async (script, wrong, why) => {
    const { code, err } = await run(script, wrong);
    expect(code).toBe(2);
    expect(err).toContain(why);
    expect(err).toMatch(/^usage: /m);
  });
});

describe('check', { timeout: 180_000 }, () => {
  it.each([
    ['modest', 0],
    ['bold', 1],
    ['bolder', 3],
  ])('ends the %s build with %i', async (name, code) => {
    const ran = await run('check', build(name));
    expect(ran.code).toBe(code);
    expect(ran.out.length).toBeGreaterThan(500);
  });

  it('reads an answer that is unknown as 3', async () => {
    const file = join(folder, 'unknown.json');
    writeFileSync(file, JSON.stringify({ vehicle: { from: 'inline', class: 'midsize_independent_front' } }));
    const { code, out } = await run('check', file, '--all');
    expect(code).toBe(3);
    expect(out).toContain('Measure next');
    expect(out).not.toContain('prints them');
  });

  it('--json prints exactly what the API answers', async () => {
    const app = await testApp();
    const response = await app.inject({ method: 'POST', url: '/v1/checks', payload: demoBuild('bold') });
    expect((await run('check', build('bold'), '--json')).out).toBe(response.body);
    await app.close();
  });

  it('--units us answers in inches and pounds', async () => {
    const { out } = await run('check', build('bold'), '--units', 'us');
    const margins = out.split('\n').filter((line) => line.includes('margin'));
    expect(margins.some((line) => line.includes(' in'))).toBe(true);
    expect(margins.filter((line) => /\d (mm|kg|kPa|kN|km\/h)\b/.test(line))).toEqual([]);
  });

  it.each([
    ['nothing.yaml', undefined, 'is not there'],
    ['typo.yaml', 'vehicel: { from: inline, class: x }', 'did you mean `vehicle`?'],
    ['twice.json', '{"vehicle": 1, "vehicle": 2}', 'is here twice'],
    ['class.yaml', 'vehicle: { from: inline, class: midsize }', 'there is no class'],
    ['broken.yaml', 'vehicle: [', 'the build'],
  ])('ends %s with 2 and says why', async (name, text, why) => {
    const file = join(folder, name);
    if (text !== undefined) writeFileSync(file, text);
    const { code, err } = await run('check', file);
    expect(code).toBe(2);
    expect(err).toContain(why);
  });

  it('says how it is used', async () => expect((await run('check')).err).toContain('usage'));
});

describe('demo', { timeout: 180_000 }, () => {
  it('prints verdict, margins, why, sources and ordered work', async () => {
    const { code, out } = await run('demo');
    expect(code).toBe(0);
    for (const words of [
      'CONFLICT',
      'margin -16 ± 11 mm',
      'rests on UN Regulation No. 39',
      'common practice, no source',
      'The work, in order',
      'CANNOT BE UNDONE',
      'Measure next',
      'invented',
    ])
      expect(out).toContain(words);
  });
});

describe('rules', () => {
  it('finds the rules in order', async () => {
    const { code, out } = await run('rules');
    expect([code, out]).toEqual([0, expect.stringContaining('all in order')]);
  });

  it('finds a rule whose example is wrong', async () => {
    const { cpSync, readFileSync } = await import('node:fs');
    const copy = join(folder, 'rules');
    cpSync(join(root, 'rules'), copy, { recursive: true });
    const file = join(copy, 'constraints/brakes/brake-hose-reach.yaml');
    writeFileSync(file, readFileSync(file, 'utf8').replace('shortfall: 15 mm', 'shortfall: 16 mm'));
    const { code, err } = await run('rules', copy);
    expect(code).toBe(1);
    expect(err).toContain('brake-hose-reach.yaml');
    expect(err).toContain("the example's margin is");
  });
});
