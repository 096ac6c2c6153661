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
  const { check, hand_over } = planned.plan;
  const about = (id: string): boolean => /^(fuse|cable)-.*:lights$/.test(id);
  return {
    ...hand_over.wiring.circuits.find(({ part }) => part === 'lights'),
    found: check.findings
      .filter(({ id, verdict }) => about(id) && verdict !== 'clear')
      .map(({ id, verdict, hazard }) => [id, verdict, hazard]),
    work: check.work.steps.flatMap(({ work, amounts }) => (['change-fuse', 'renew-cable'].includes(work) ? [[work, amounts]] : [])),
    left: [...check.after_work.remaining, ...hand_over.still_open].map(({ id }) => id).filter(about),
  };
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

  it('is put right where the cable burns before the fuse goes: a finding, with its work, and nothing left open', () => {
    // 2.5 mm² bears what AWG 14 does, 35 A · 0.85; the largest fuse below is 25 A.
    const found = lights({ cable_area: '2.5 mm^2 ± 0', fuse_rating: '40 A ± 0' });
    expect(found).toMatchObject({
      found: [['fuse-protects-cable:lights', 'conflict', 'safety']],
      work: [['change-fuse', { rating: { value: 25, unit: 'A' } }]],
      fuse: { fitted: { value: 25 } },
      left: [],
    });
  });

  it('takes a thicker cable where no fuse both protects it and lasts', () => {
    // 30 A at 80 %: 40 A, which AWG 12 is too thin for (38.25 A) and AWG 10 bears.
    const found = lights({ current: '30 A ± 0', cable_area: '2.5 mm^2 ± 0', fuse_rating: '40 A ± 0' });
    expect(found.found.map(([id]) => id).sort()).toEqual(['cable-bears-current:lights', 'fuse-protects-cable:lights']);
    expect(found.work).toEqual([
      ['renew-cable', { area: expect.objectContaining({ value: 6, unit: 'mm^2' }) }],
      ['change-fuse', { rating: expect.objectContaining({ value: 40, unit: 'A' }) }],
    ]);
    expect(found.left).toEqual([]);
  });

  it('is content with a fuse that cable and current suit, and says nothing of what works for minutes', () => {
    const stated = { current: '8 A ± 0', cable_length: '2 m ± 0', cable_area: '2.5 mm^2 ± 0', fuse_rating: '10 A ± 0' };
    expect(lights(stated)).toMatchObject({ state: 'fits', asked: [], found: [], left: [] });
    expect(lights({ ...stated, current: '12 A ± 0' }).found).toEqual([['fuse-bears-current:lights', 'conflict', 'damage']]);
    expect(lights({ ...stated, fuse_rating: '80 A ± 0', works_for_minutes: 'yes' })).toMatchObject({ found: [], state: 'maker' });
  });
});
