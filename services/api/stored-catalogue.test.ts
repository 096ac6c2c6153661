import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { listEntries } from '../../db/catalogue.ts';
import { openDatabase } from '../../db/open.ts';
import { DEMO_FOLDER } from '../paths.ts';
import { readDemo } from './catalogue.ts';
import { beginWithDemo } from './stored-catalogue.ts';

describe('an empty database', () => {
  it('begins with all of the demo or nothing of it', async () => {
    const dir = mkdtempSync(join(tmpdir(), 'fettle-'));
    const { tables, close } = await openDatabase({ dir });
    const count = async (noun: 'vehicle' | 'part') => (await listEntries(tables, noun, { limit: 200 })).items.length;
    try {
      const demo = readDemo(DEMO_FOLDER);
      const broken = { ...demo.parts[0], id: 'broken', name: null } as unknown as (typeof demo.parts)[number];
      await expect(beginWithDemo(tables, { ...demo, parts: [...demo.parts, broken] })).rejects.toThrow();
      expect([await count('vehicle'), await count('part')]).toEqual([0, 0]);
      await beginWithDemo(tables, demo);
      expect([await count('vehicle'), await count('part')]).toEqual([demo.vehicles.length, demo.parts.length]);
    } finally {
      await close();
      rmSync(dir, { recursive: true, force: true });
    }
  });
});
