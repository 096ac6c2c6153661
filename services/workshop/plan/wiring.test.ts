/** Cables and fuses of a build's electric parts, against the table by hand. */
import { describe, expect, it } from 'vitest';
import { checker, demoCatalogue } from '../testing.ts';
import type { PlanRequest } from './request.ts';

const lights = (attributes: Record<string, unknown>) => {
  const request = {
    vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll' },
    parts: [{ from: 'inline', kind: 'light_bar', id: 'lights', attributes: { mass: '6 kg', ...attributes } }],
  };
  const planned = checker.plan(request as unknown as PlanRequest, demoCatalogue);
  if (!planned.ok) throw new Error(JSON.stringify(planned.faults));
  const { wiring, still_open } = planned.plan.hand_over;
  return { ...wiring.circuits.find(({ part }) => part === 'lights'), still: still_open.map(({ id }) => id) };
};

describe('the wiring and fuse map', () => {
  it('asks for what is not stated, and invents nothing', () => {
    expect(lights({})).toMatchObject({ state: 'asked', needs: null, asked: ['current', 'cable_length', 'cable_area'] });
    // 16 A at 80 %: 20 A; AWG 16 bears 21.25 A in an engine bay.
    expect(lights({ current: '16 A ± 0' })).toMatchObject({
      state: 'asked',
      asked: ['cable_length'],
      needs: { gauge: 'AWG 16', for: 'heat' },
      fuse: { choose: { value: 20 }, fitted: null },
    });
  });

  it('takes a thicker cable over a long way: 16 A over 5 m, 3 % of 12.4 V', () => {
    // 2 · 0.01787 Ω mm²/m · 5 m · 16 A / 0.372 V = 7.7 mm²: AWG 8.
    expect(lights({ current: '16 A ± 0', cable_length: '5 m ± 0' })).toMatchObject({
      state: 'planned',
      needs: { gauge: 'AWG 8', area: { value: 10, unit: 'mm^2' }, for: 'heat and drop' },
    });
  });

  it('tells a fuse that the cable burns before, whatever else is known, and leaves it open', () => {
    const found = lights({ cable_area: '2.5 mm^2 ± 0', fuse_rating: '40 A ± 0' });
    expect(found).toMatchObject({ state: 'conflict', fuse: { at_most: { value: 25 } } });
    expect(found.still).toContain('wiring:lights');
  });

  it('is content with a fuse that cable and current suit', () => {
    const stated = { current: '8 A ± 0', cable_length: '2 m ± 0', cable_area: '2.5 mm^2 ± 0', fuse_rating: '10 A ± 0' };
    expect(lights(stated)).toMatchObject({ state: 'fits', asked: [], still: expect.not.arrayContaining(['wiring:lights']) });
    expect(lights({ ...stated, current: '12 A ± 0' })).toMatchObject({ state: 'conflict' });
  });
});
