/** Defaults made to agree with readings, on vehicles whose truth is known. */
import { describe, expect, it } from 'vitest';
import { assemble, saidKey } from '../vehicle/assembly.ts';
import type { VehicleReading } from '../vehicle/index.ts';
import { subjectOf } from '../vehicle/places.ts';
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

describe('what a fit leaves of a default', () => {
  const rules = makeRuleSet(checker.library);
  const fitted = (measured: readonly VehicleReading[]) => {
    const made = assemble(build(measured), demoCatalogue, checker.library);
    if (!made.ok) throw new Error(JSON.stringify(made.faults));
    return fitToReadings(made.assembly, rules, 'metric');
  };
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
