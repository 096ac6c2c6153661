import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { App } from './app.ts';
import { testApp } from './testing.ts';

let app: App;
beforeAll(async () => {
  app = await testApp();
});
afterAll(() => app.close());

const ask = (vary: unknown) =>
  app.inject({
    method: 'POST',
    url: '/v1/what-ifs',
    payload: {
      vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll' },
      parts: [{ from: 'inline', kind: 'body_lift', id: 'lift', attributes: { height: '25 mm' } }],
      vary,
    },
  });

describe('a what-if over HTTP', () => {
  it('tells where the verdict turns, the same bytes each time', async () => {
    const vary = { quantity: 'height', of: 'lift', from: '0 mm', to: '90 mm', step: '30 mm' };
    const [first, second] = [await ask(vary), await ask(vary)];
    expect([first.statusCode, first.body]).toEqual([200, second.body]);
    const { bands, checked, findings } = first.json();
    expect(checked.values.map(({ value }: { value: number }) => value)).toEqual([0, 30, 60, 90]);
    expect(bands.at(-1)).toMatchObject({ verdict: 'conflict', to: { value: 90, unit: 'mm' } });
    const height = findings.find(({ rule }: { rule: string }) => rule === 'body-lift-height');
    expect(height.bands.map(({ verdict }: { verdict: string }) => verdict)).toEqual(['clear', 'conflict']);
    expect(height).toMatchObject({ sort: 'fit', varies: true });
    // What decides the last stretch is told inside it, with its margin.
    const { decided_at, decided_by, more } = bands.at(-1);
    expect(checked.values.map(({ value }: { value: number }) => value)).toContain(decided_at.value);
    expect(decided_by.length + more).toBeGreaterThan(0);
    const margins = decided_by.flatMap(({ margin }: { margin: { value: number } | null }) => (margin ? [margin.value] : []));
    expect(margins.length).toBeGreaterThan(0);
    expect(Math.max(...margins)).toBeLessThan(0);
  });

  it('names the fault where it is', async () => {
    const refused = await ask({ quantity: 'height', of: 'lift', from: '0 mm', to: '90 kg' });
    expect([refused.statusCode, refused.json().code]).toEqual([422, 'BUILD_INVALID']);
    expect(refused.json().faults.map(({ pointer }: { pointer: string }) => pointer)).toEqual(['/vary/to']);
    expect((await ask({ quantity: 'height', by: '1 mm' })).statusCode).toBe(400);
    // The word for the part is none of a quantity: what can be said of such a part is offered.
    const [fault] = (await ask({ quantity: 'lift', of: 'front', from: '0 mm', to: '90 mm' })).json().faults;
    expect([fault.pointer, fault.code]).toEqual(['/vary/quantity', 'QUANTITY_UNKNOWN']);
    expect(fault.help).toMatch(/`height` of a `body_lift`/);
    expect(fault.help).toMatch(/`height_added`.* of a `front_coilover` or a `front_spring` or a `rear_spring`/);
  });
});
