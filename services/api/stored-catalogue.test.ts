import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { DEMO_FOLDER } from '../paths.ts';
import { readDemo } from './catalogue.ts';
import { storedCatalogue } from './stored-catalogue.ts';

describe('an empty database', () => {
  it('begins with all of the demo or nothing of it, and can be opened again after a failure', async () => {
    const dir = mkdtempSync(join(tmpdir(), 'fettle-'));
    try {
      const demo = readDemo(DEMO_FOLDER);
      const broken = { ...demo.parts[0], id: 'broken', name: null } as unknown as (typeof demo.parts)[number];
      await expect(storedCatalogue({ dir }, { ...demo, parts: [...demo.parts, broken] })).rejects.toThrow();
      const bare = await storedCatalogue({ dir }, { ...demo, vehicles: [], parts: [] });
      expect(await bare.vehicles({ limit: 10 })).toEqual([]);
      await bare.close();
      const whole = await storedCatalogue({ dir }, demo);
      expect(await whole.vehicles({ limit: 10 })).toHaveLength(demo.vehicles.length);
      expect(await whole.parts({ limit: 100 })).toHaveLength(demo.parts.length);
      await whole.close();
    } finally {
      rmSync(dir, { recursive: true, force: true });
    }
  });
});
