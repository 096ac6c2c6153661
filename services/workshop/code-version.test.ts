import { cpSync, mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { codeVersions, hashOfCode } from './code-version.ts';
import { answer, demoBuild } from './testing.ts';

const models = fileURLToPath(new URL('../models', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'fettle-code-'));
cpSync(models, join(root, 'models'), { recursive: true });
afterAll(() => rmSync(root, { recursive: true }));
const copied = (): string => hashOfCode(['models'], root);

describe('the version of the code that answers', () => {
  it('is in every answer', () => {
    expect(answer(demoBuild('modest')).versions).toMatchObject(codeVersions());
  });

  it('is of the bytes, wherever they lie, and changes with any of them but those of tests', () => {
    const { models: before, engine } = codeVersions();
    expect(copied()).toBe(before);
    expect(engine).not.toBe(before);
    writeFileSync(join(root, 'models/loads/one-more.test.ts'), 'export {};\n');
    expect(copied()).toBe(before);
    writeFileSync(join(root, 'models/loads/one-more.ts'), 'export const FACTOR = 2;\n');
    const added = copied();
    writeFileSync(join(root, 'models/loads/one-more.ts'), 'export const FACTOR = 3;\n');
    const changed = copied();
    renameSync(join(root, 'models/loads/one-more.ts'), join(root, 'models/loads/one-less.ts'));
    expect(new Set([before, added, changed, copied()]).size).toBe(4);
  });
});
