/** Defaults made to agree with readings, on vehicles whose truth is known. */
import { describe, expect, it } from 'vitest';
import type { VehicleReading } from '../vehicle/index.ts';
import { answer, faults } from './testing.ts';

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
    expect(Math.abs(Number(given.values['axle_load_as_fitted(front)']?.value) - 1400)).toBeLessThan(15);
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
