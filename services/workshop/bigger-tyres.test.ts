import { describe, expect, it } from 'vitest';
import type { CheckRequest, PartInput } from '../vehicle/index.ts';
import { answer, findingsOf } from './testing.ts';

const tyres = (diameter: string): PartInput => ({
  from: 'inline',
  kind: 'tyre',
  id: 'tall',
  at: 'all',
  replaces: 'road-tyres',
  attributes: { designation: '40x13.50R17LT 121Q D', overall_diameter: diameter, section_width: '340 mm', mass: '38 kg' },
});
const build = (diameter: string, values: Record<string, string>, more: readonly PartInput[] = []): CheckRequest => ({
  vehicle: {
    from: 'catalogue',
    vehicle: 'merrowdale-ghyll',
    measured: Object.entries(values).map(([quantity, value]) => {
      const [name = '', of] = quantity.split('@');
      return { quantity: name, value, ...(of && { of }) };
    }),
  },
  parts: [tyres(diameter), ...more],
  use: { top_speed: '120 km/h' },
  values: 'all',
});
const GEARS = {
  'axle_ratio@front': '4.1 ± 0',
  'axle_ratio@rear': '4.1 ± 0',
  top_gear_ratio: '0.78 ± 0',
  engine_pulls_from: '1500 rpm ± 0',
};

const forty = answer(build('1010 mm ± 0', GEARS));
const value = (name: string): number => Number(Object.values(forty.values).find((each) => each.name === name)?.value);

describe('much larger tyres', () => {
  // By hand: 1000/36/(3.05·1.010) = 9.017 turns a second, · 4.1 · 0.78 · 60 = 1730 rpm; 4.1·1010/776 = 5.336, of which 5.38 is nearest.
  it('slow the engine, and ask for another ratio by name', () => {
    expect(value('engine_speed_at_cruise')).toBeCloseTo(1730, -1);
    expect(value('axle_ratio_wanted')).toBeCloseTo(5.336, 2);
    expect(value('axle_ratio_nearest')).toBeCloseTo(5.38, 2);
    const regear = forty.work.steps.find(({ work }) => work === 'change-axle-ratio');
    expect(regear?.title).toContain('5.38');
  });
  it('once geared for leave nothing of the ratio open', () =>
    expect(forty.after_work.remaining.some(({ id }) => id.startsWith('axle-ratio:'))).toBe(false));
  it('weigh on engine and brakes more than their mass', () => {
    // Four times 21 kg more, 1.7 times as heavy.
    expect(value('rotating_mass_added')).toBeCloseTo(4 * 21 * 1.7, 0);
  });
});

describe('both axles', () => {
  const verdict = (front: string, rear: string) =>
    findingsOf(answer(build('788 mm', { 'axle_ratio@front': front, 'axle_ratio@rear': rear })), 'axle-ratios-alike')[0]?.verdict;
  it('have one ratio, or the driveline winds up', () => {
    expect(verdict('4.10 ± 0', '4.11 ± 0')).toBe('clear');
    expect(verdict('4.10 ± 0', '4.56 ± 0')).toBe('conflict');
  });
});

describe('the spare', () => {
  const spare = (diameter: string) =>
    findingsOf(
      answer(build('838 mm', {}, [{ from: 'inline', kind: 'spare_tyre', attributes: { overall_diameter: diameter } }])),
      'spare-matches',
    )[0]?.verdict;
  it('that stayed as it was is told', () => expect([spare('776 mm'), spare('838 mm')]).toEqual(['conflict', 'clear']));
});

describe('off the road', () => {
  const verdict = (pressure?: string) =>
    findingsOf(answer(build('788 mm', pressure === undefined ? {} : { 'off_road_pressure@front': pressure })), 'off-road-pressure').find(
      ({ parts }) => parts[0]?.at.startsWith('front'),
    )?.verdict;
  it('the pressure recommended holds the bead; one too soft does not', () => {
    expect(verdict()).toBe('clear');
    expect(verdict('70 kPa ± 0')).toBe('conflict');
  });
});

describe('a wheel far out', () => {
  it('loads its bearings by the arm as well as by its mass', () => {
    const out = (offset: string) =>
      findingsOf(
        answer(
          build('788 mm', { 'wheel_bearing_arm@all': '10 mm ± 0' }, [
            {
              from: 'inline',
              kind: 'wheel',
              at: 'all',
              replaces: 'road-wheels',
              attributes: { rim_diameter: '432 mm', rim_width: '8 in', offset },
            },
          ]),
        ),
        'bearing-load',
      )[0]?.verdict;
    expect([out('10 mm'), out('-60 mm')]).toEqual(['clear', 'conflict']);
  });
});
