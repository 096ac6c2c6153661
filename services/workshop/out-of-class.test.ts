/** Readings that no vehicle of the class can have. */
import { describe, expect, it } from 'vitest';
import type { CheckRequest, PartInput, VehicleReading } from '../vehicle/index.ts';
import { answer, findingsOf } from './testing.ts';

const tyre = (designation: string) => ({
  from: 'inline',
  kind: 'tyre',
  id: 'new',
  at: 'all',
  replaces: 'fitted',
  attributes: { designation, mass: '20 kg ± 1' },
});
const build = (designation: string, measured: readonly VehicleReading[] = []): CheckRequest => ({
  vehicle: { from: 'inline', class: 'solid_axle_long', measured },
  parts: [tyre(designation)] as PartInput[],
  most_readings: 3,
});
const gap = (value: string, date: string): VehicleReading => ({ quantity: 'tyre_gap', of: 'cab-mounts', value, date });

describe('a single reading outside all that the class allows', { timeout: 120_000 }, () => {
  const once = answer(build('265/75R16 116S', [gap('340 mm ± 5', '2026-11-01')]));

  it('settles nothing, says why, and is asked for first', () => {
    expect(findingsOf(once, 'cab-mount-gap').map(({ verdict }) => verdict)).toEqual(['close']);
    const [said] = findingsOf(once, 'statements-agree');
    expect(said?.says).toMatch(/340 mm \(measured, ± 5 mm\) against .* \(class, ± .*two readings that agree stand/);
    expect(once.measure.slice(0, 3).map(({ quantity }) => quantity)).toContain('tyre_gap');
  });

  it('stands once a second one agrees with it', () => {
    const twice = answer(build('265/75R16 116S', [gap('340 mm ± 5', '2026-11-01'), gap('338 mm ± 5', '2026-11-02')]));
    expect(findingsOf(twice, 'cab-mount-gap').map(({ verdict }) => verdict)).toEqual(['clear']);
    expect(findingsOf(twice, 'statements-agree')).toEqual([]);
  });
});
