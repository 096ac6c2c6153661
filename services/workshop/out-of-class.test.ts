/** Readings that no vehicle of the class can have. */
import { describe, expect, it } from 'vitest';
import { assemble } from '../vehicle/assembly.ts';
import type { CheckRequest, PartInput, VehicleReading } from '../vehicle/index.ts';
import { createWorld } from '../vehicle/world.ts';
import { contestedSlots } from './contradictions.ts';
import { makeRuleSet } from './rule-set.ts';
import { answer, checker, demoCatalogue, findingsOf } from './testing.ts';

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

  it('stands as it was read, wherever work moves what counts of it', () => {
    const contested = (by: number, measured: readonly VehicleReading[]): number => {
      const made = assemble(build('265/75R16 116S', measured), demoCatalogue, checker.library);
      if (!made.ok) throw new Error(JSON.stringify(made.faults));
      const said = [...made.assembly.said].map(([key, all]) => {
        const moved = all.map((one) => (one.rank === 'measured' ? { ...one, value: one.value + by } : one));
        return [key, moved] as const;
      });
      const assembly = { ...made.assembly, said: new Map(said) };
      return contestedSlots(createWorld(assembly, checker.library, makeRuleSet(checker.library).texts)).size;
    };
    const both = [gap('340 mm ± 5', '2026-11-01'), gap('338 mm ± 5', '2026-11-02')];
    expect([0, 0.03].map((by) => contested(by, both))).toEqual([0, 0]);
    expect(contested(0.03, both.slice(1))).toBeGreaterThan(0);
  });
});
