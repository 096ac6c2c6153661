/** What the tyre meets beyond its own gap: snow chains, tyres let down, nuts, the odometer, a shaft made longer. */
import { describe, expect, it } from 'vitest';
import type { CheckRequest, PartInput } from '../vehicle/index.ts';
import { answer, findingsOf } from './testing.ts';

const check = (parts: readonly unknown[], more: Partial<CheckRequest> = {}, of = 'midsize_independent_front') =>
  answer({ vehicle: { from: 'inline', class: of }, parts: parts as PartInput[], ...more });
const numberOf = (given: ReturnType<typeof answer>, rule: string, name: string, part = '') =>
  Number(
    findingsOf(given, rule)
      .find(({ parts }) => parts.some(({ id }) => id.startsWith(part)))
      ?.numbers.find((n) => n.name.startsWith(name))?.value,
  );

describe('snow chains', () => {
  const chains = (attributes: Record<string, string>, at = 'front') => ({
    from: 'inline',
    kind: 'snow_chains',
    id: 'chains',
    at,
    attributes,
  });
  const [tight, wide] = [check([chains({ class: 'S' })]), check([chains({ class: 'W' })])];

  it('are told with and without, for each thing the tyre can touch on their axle', () => {
    const told = findingsOf(tight, 'snow-chain-gap');
    expect(told.length).toBeGreaterThan(8);
    for (const { numbers } of told) {
      const at = (name: string) => Number(numbers.find((n) => n.name.startsWith(name))?.value);
      expect(at('tyre_gap_chained')).toBeLessThan(at('tyre_gap_after'));
    }
    expect(findingsOf(check([]), 'snow-chain-gap')).toEqual([]);
  });

  it('take the room of their class: 15 mm beside the wall and 37 mm at the tread, 38 and 64 of class W (SAE J1232, second-hand)', () => {
    const taken = (given: typeof tight, part: string) =>
      numberOf(given, 'snow-chain-gap', 'tyre_gap_after', part) - numberOf(given, 'snow-chain-gap', 'tyre_gap_chained', part);
    // The knuckle stands beside the wall and turns with the wheel: nothing but the wall counts.
    expect(taken(tight, 'knuckle-necks')).toBeCloseTo(15, 0);
    expect(taken(wide, 'knuckle-necks')).toBeCloseTo(38, 0);
    for (const part of ['cab-mounts', 'top-liners', 'front-liners']) {
      expect(taken(tight, part)).toBeGreaterThan(14.9);
      expect(taken(tight, part)).toBeLessThan(40.5);
      expect(taken(wide, part)).toBeGreaterThan(taken(tight, part));
    }
  });

  it('may state the room they take, which wins over the class', () => {
    const stated = check([chains({ class: 'W', tread_clearance: '20 mm', sidewall_clearance: '9 mm' })]);
    expect(numberOf(stated, 'snow-chain-gap', 'chains.sidewall_clearance')).toBe(9);
  });

  it('belong on an axle that drives', () => {
    const driven = { vehicle: { from: 'inline', class: 'van', values: { axle_driven: { front: true, rear: false } } } } as const;
    const at = (axle: string) =>
      findingsOf(answer({ ...driven, parts: [chains({ class: 'S' }, axle) as PartInput] }), 'chains-on-driven-axle')[0];
    expect(at('rear')?.verdict).toBe('conflict');
    expect(at('front')?.verdict).toBe('clear');
    expect(findingsOf(check([chains({ class: 'S' })], {}, 'van'), 'chains-on-driven-axle')[0]?.verdict).toBe('unknown');
  });

  it('are answered for a front that nobody has drawn, by the difference', () => {
    const van = check([chains({ class: 'U' })], {}, 'van');
    // Beside the strut the wall counts in full, the tread next to nothing: 23 mm of class U along 75 deg out of the plane, and what the tread adds.
    const took =
      numberOf(van, 'snow-chain-gap', 'tyre_gap_after', 'front-struts') -
      numberOf(van, 'snow-chain-gap', 'tyre_gap_chained', 'front-struts');
    expect(took).toBeCloseTo(23 * Math.sin((75 * Math.PI) / 180) + 50 * Math.cos((75 * Math.PI) / 180), 0);
  });
});

describe('the odometer', () => {
  it('counts by the ratio of the diameters, and is set with the speedometer', () => {
    const larger = {
      from: 'inline',
      kind: 'tyre',
      at: 'all',
      replaces: 'fitted',
      attributes: { designation: '285/75R17 121T', overall_diameter: '860 mm ± 0' },
    };
    const given = check([larger]);
    const [finding] = findingsOf(given, 'odometer-error');
    expect(finding?.verdict).toBe('conflict');
    expect(finding?.work[0]?.work).toBe('recalibrate-speedometer');
    expect(given.after_work.remaining.some(({ id }) => id === 'odometer-error')).toBe(false);
  });
});

describe('another set of nuts', () => {
  it('is held to the studs and to the seats of the wheel', () => {
    const nuts = (pitch: string) => ({
      from: 'inline',
      kind: 'wheel_nuts',
      at: 'all',
      attributes: { thread_diameter: '12 mm', thread_pitch: pitch, seat: 'conical' },
    });
    const vehicle = {
      from: 'inline',
      class: 'midsize_independent_front',
      fitted: [
        { from: 'inline', kind: 'hub', id: 'factory-hubs', at: 'all', attributes: { stud_diameter: '12 mm', stud_pitch: '1.5 mm' } },
      ],
    } as const;
    const verdict = (pitch: string) => findingsOf(answer({ vehicle, parts: [nuts(pitch) as PartInput] }), 'wheel-nut-thread')[0]?.verdict;
    expect([verdict('1.5 mm'), verdict('1.25 mm')]).toEqual(['clear', 'conflict']);
  });
});

describe('tyres let down', () => {
  it('stand lower and keep less of their wall, the heavier the axle', () => {
    const given = check([], { values: 'all' });
    const [finding] = findingsOf(given, 'aired-down-wall');
    const wall = Number(finding?.numbers.find(({ name }) => name.startsWith('aired_down_wall'))?.value);
    const drop = Number(finding?.numbers.find(({ name }) => name.startsWith('aired_down_drop'))?.value);
    expect(wall).toBeGreaterThan(60);
    expect(wall).toBeLessThan(95);
    expect(drop).toBeGreaterThan(3);
    expect(drop).toBeLessThan(30);
  });
});
