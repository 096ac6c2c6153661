/** Defaults made to agree with readings, on vehicles whose truth is known. */
import { describe, expect, it } from 'vitest';
import { assemble, saidKey } from '../vehicle/assembly.ts';
import type { VehicleReading } from '../vehicle/index.ts';
import { subjectOf } from '../vehicle/places.ts';
import { createWorld } from '../vehicle/world.ts';
import { contestedSlots } from './contradictions.ts';
import { fitToReadings } from './fit-readings.ts';
import { makeRuleSet } from './rule-set.ts';
import { answer, checker, demoCatalogue, faults } from './testing.ts';

const build = (measured: readonly VehicleReading[], fit = true) => ({
  vehicle: { from: 'inline' as const, class: 'solid_axle_long', measured },
  load: { occupants: 2 },
  fit_to_readings: fit,
  values: 'all' as const,
});
const scale = (place: string, value: string): VehicleReading => ({ quantity: 'axle_load', of: place, value });

describe('a fit to readings', () => {
  it('moves the default of an axle’s own mass to what a loaded scale ticket asks for, and keeps what is left open', () => {
    const plain = answer(build([], false)).values['kerb_axle_mass(front)'];
    const given = answer(build([scale('front', '1400 kg ± 10')]));
    const mass = given.values['kerb_axle_mass(front)'];
    expect(plain).toMatchObject({ value: 1180, plus_minus: 120 });
    const load = given.values['axle_load_as_fitted(front)'];
    expect(Math.abs(Number(load?.value) - 1400)).toBeLessThan(Number(load?.plus_minus));
    expect(Number(load?.value)).toBeGreaterThan(1340);
    expect(Number(mass?.value)).toBeGreaterThan(1200);
    expect(Number(mass?.plus_minus)).toBeLessThan(80);
    expect(mass?.origin).toMatchObject({ kind: 'class-default', note: 'made to agree with the readings' });
    expect(given.fit?.readings).toEqual([expect.objectContaining({ id: 'axle_load(front)', agrees: true })]);
    expect(given.fit?.adjusted.flatMap(({ ids }) => ids)).toContain('kerb_axle_mass(front)');
  });

  it('changes nothing where nothing computed was read', () => {
    const given = answer(build([{ quantity: 'wheelbase', value: '2840 mm ± 5' }]));
    expect(given.fit).toEqual({ readings: [], adjusted: [] });
    expect(given.values['kerb_axle_mass(front)']).toMatchObject({ value: 1180, plus_minus: 120 });
  });

  it('is answered without it where it was not asked for', () => {
    expect(answer(build([scale('front', '1400 kg ± 10')], false)).fit).toBeUndefined();
  });

  it('refuses two readings that contradict each other, and names both', () => {
    const [fault] = faults(build([scale('front', '1300 kg ± 5'), { quantity: 'axle_load_as_fitted', of: 'front', value: '1450 kg ± 5' }]));
    expect(fault?.code).toBe('READINGS_CONTRADICT');
    expect(JSON.stringify(fault)).toMatch(/1300 kg ± 5 kg.*1450 kg ± 5 kg|1450 kg ± 5 kg.*1300 kg ± 5 kg/);
  });
});

const rules = makeRuleSet(checker.library);
const fitted = (measured: readonly VehicleReading[]) => {
  const made = assemble(build(measured), demoCatalogue, checker.library);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  return fitToReadings(made.assembly, rules, 'metric');
};

describe('what a fit leaves of a default', () => {
  const kerbMass = (measured: readonly VehicleReading[]) => {
    const done = fitted(measured);
    if (!done.ok) throw new Error(JSON.stringify(done.faults));
    const [kept] = done.assembly.said.get(saidKey('kerb_axle_mass', [subjectOf('front')])) ?? [];
    return { low: (kept?.value ?? 0) - (kept?.plusMinus ?? 0), high: (kept?.value ?? 0) + (kept?.plusMinus ?? 0), told: done.fit };
  };

  it('is of a term of a sum that was read all it may be: the others may be off the other way', () => {
    const { low, high } = kerbMass([{ quantity: 'gross_mass', value: '2490 kg ± 10' }]);
    expect([low, high]).toEqual([expect.closeTo(1060, 6), expect.closeTo(1300, 6)]);
  });

  it('never lies outside what the class allows, and has the truth in it at its very end', () => {
    expect(kerbMass([scale('front', '1400 kg ± 10')]).high).toBeLessThanOrEqual(1300 + 1e-6);
    expect(kerbMass([scale('front', '1300 kg ± 100')]).high).toBeCloseTo(1300, 6);
  });

  it('is not settled by what no vehicle of the class could show, which is told and moves nothing', () => {
    const wrong = { quantity: 'tyre_gap', of: 'cab-mounts', value: '240 mm ± 5' };
    const done = fitted([wrong]);
    expect(done.ok && done.fit.readings.map(({ agrees }) => agrees)).toEqual([false, false]);
    expect(done.ok && done.fit.adjusted).toEqual([]);
  });

  it('takes two readings that overlap, however little', () => {
    const done = fitted([{ quantity: 'kerb_axle_mass', of: 'front', value: '1180 kg ± 10' }, scale('front', '1340 kg ± 60')]);
    expect(done.ok && done.fit.readings.map(({ agrees }) => agrees)).toEqual([true]);
  });
});

describe('readings that contradict each other only together', () => {
  const total = { quantity: 'gross_mass', value: '2490 kg ± 10' };
  const named = (measured: readonly VehicleReading[]): readonly (string | undefined)[] => {
    const done = fitted(measured);
    return done.ok ? [] : done.faults.map(({ message }) => message);
  };

  it('are named, the fewest of them, and nothing is settled', () => {
    const three = [total, scale('front', '1240 kg ± 10'), scale('rear', '1150 kg ± 10')];
    expect(named(three)).toEqual([
      expect.stringMatching(
        /^three readings cannot all be true .+, though without any one of them the others can: Gross mass, 2490 kg ± 10 kg; Axle load of the front axle, 1240 kg ± 10 kg; and Axle load of the rear axle, 1150 kg ± 10 kg$/,
      ),
    ]);
    for (const left of three) expect(named(three.filter((one) => one !== left))).toEqual([]);
    // What contradicts nothing is not named with them.
    const gap = { quantity: 'tyre_gap_at_ride', of: 'cab-mounts', value: '95 mm ± 5' };
    expect(named([gap, ...three])).toEqual(named(three));
  });

  it('a pair stays a pair, whatever else was read', () => {
    const pair = [scale('front', '1300 kg ± 5'), { quantity: 'axle_load_as_fitted', of: 'front', value: '1200 kg ± 5' }];
    expect(named([total, scale('rear', '1200 kg ± 20'), ...pair])).toEqual([expect.stringMatching(/^two readings .*1300 kg.*1200 kg ± 5/)]);
    expect(named([scale('front', '1300 kg ± 5'), scale('front', '1270 kg ± 5')])).toEqual([
      expect.stringMatching(/^two readings .*1270 kg ± 5 kg; and .*1300 kg ± 5 kg/),
    ]);
  });

  it('are those of which no two axle loads within their tolerances make the total', () => {
    const steps = Array.from({ length: 21 }, (_, i) => i - 10);
    for (const rear of [1190, 1215, 1225, 1245, 1265, 1275, 1285, 1310]) {
      const possible = steps.some((a) => steps.some((b) => Math.abs(1240 + a + rear + b - 2490) <= 10));
      expect([rear, named([total, scale('front', '1240 kg ± 10'), scale('rear', `${rear} kg ± 10`)]).length]).toEqual([
        rear,
        Number(!possible),
      ]);
    }
  });
});

describe('a reading that a fit leaves out', () => {
  const gap = (value: number, date = '2026-11-01') => ({
    quantity: 'tyre_gap',
    of: 'cab-mounts@front-left',
    value: `${value} mm ± 5`,
    date,
  });
  const judged = (measured: readonly VehicleReading[]) => {
    const done = fitted(measured);
    if (!done.ok) throw new Error(JSON.stringify(done.faults));
    const world = createWorld(done.assembly, rules.library, rules.texts);
    const slot = world.values.slot('tyre_gap', [done.assembly.parts.find(({ id }) => id === 'cab-mounts@front-left')?.subject as number]);
    const told = done.fit.readings.find(({ id }) => id.startsWith('tyre_gap('));
    return { told, isContested: contestedSlots(world).has(slot), adjusted: done.fit.adjusted };
  };

  it('settles nothing, and one that it takes is not contested: of any value, the two say the same', () => {
    const once = Array.from({ length: 16 }, (_, i) => -60 + 25 * i).map((value) => judged([gap(value)]));
    for (const { told, isContested, adjusted } of once) {
      expect(isContested).toBe(!told?.agrees);
      if (!told?.agrees)
        expect([adjusted, told?.remark]).toEqual([[], expect.stringContaining('settles nothing until another reading agrees')]);
    }
    expect(new Set(once.map(({ isContested }) => isContested)).size).toBe(2);
  });

  it('counts for itself where two agree, which is said, and moves nothing', () => {
    const { told, isContested, adjusted } = judged([gap(340), gap(338, '2026-11-02')]);
    expect([told?.agrees, told?.remark, isContested, adjusted]).toEqual([
      false,
      expect.stringContaining('two readings agree, so it counts'),
      false,
      [],
    ]);
  });
});
