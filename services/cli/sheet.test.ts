/** `npm run -s sheet` and `workbook` as somebody runs them. */
import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { rowsOf } from '../sheets/testing.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'fettle-sheet-cli-'));

const run = (script: string, ...args: string[]): Promise<{ code: number; out: string; err: string }> =>
  new Promise((done) =>
    execFile(
      process.execPath,
      ['--import', 'tsx', `services/cli/${script}.ts`, ...args],
      { cwd: root, maxBuffer: 1 << 24 },
      (error, out, err) => done({ code: error ? Number(error.code) : 0, out, err }),
    ),
  );

describe('a sheet from a file', { timeout: 180_000 }, () => {
  const file = join(folder, 'fleet.csv');
  writeFileSync(file, 'Build,Truck,Winch,Wishes\nOne,merrowdale-ghyll,hallrigg-winch-45,=1+1\nTwo,nosuch,,\n');

  it('comes back answered, and says what its headings were taken for', async () => {
    const { code, out, err } = await run('sheet', file, '--units', 'us');
    expect(code).toBe(0);
    const rows = out.trimEnd().split('\n');
    expect(rows[0]).toContain('Build,Truck,Winch,Wishes,verdict,');
    expect(rows[0]).toContain('added mass front [lb]');
    expect(rows[1]).toMatch(/^One,merrowdale-ghyll,hallrigg-winch-45,'=1\+1,(conflict|unknown|close|clear),/);
    expect(rows[2]).toContain('not checked');
    expect(err).toContain('Wishes: not read');
    expect(err).toContain('"not_checked":1');
  });

  it.each([
    [[], 'usage'],
    [['nowhere.csv'], 'is not there'],
    [[file, '--units', 'roman'], 'usage'],
  ])('%j ends with 2 and says why', async (args, why) => {
    const { code, err } = await run('sheet', ...args);
    expect([code, err]).toEqual([2, expect.stringContaining(why)]);
  });
});

describe('the sample workbook', () => {
  it('is made, of invented parts, with formulas that fetch from the address given', async () => {
    const file = join(folder, 'plan.xlsx');
    expect((await run('planning-workbook', file, '--url', 'http://shop.example', '--token', 'abc')).code).toBe(0);
    const bytes = readFileSync(file);
    expect((await rowsOf(bytes))[1]?.cells.slice(0, 2)).toEqual(['As it is', 'merrowdale-ghyll']);
    expect((await rowsOf(bytes, 'Service')).map(({ cells }) => cells[1])).toEqual(['http://shop.example', 'abc']);
  });
});
