/** The largest tyre that is clear, and the least offset, of a demo truck: what a what-if says against whole checks, one at each step. */
import { describe, expect, it } from 'vitest';
import { worst } from '../../services/engine/evaluate.ts';
import type { CheckRequest, VaryInput } from '../../services/vehicle/index.ts';
import { answer, checker, demoBuild, demoCatalogue } from '../../services/workshop/testing.ts';

type Over = VaryInput & { readonly of: string; readonly from: string; readonly to: string };

/** The whole check of the build with that value read; that what was said before is another one is left aside, as a what-if does. */
function whole(build: CheckRequest, { quantity, of }: Over, value: number): string {
  const reading = { quantity, of, value: `${value} mm ± 0 mm` };
  const set = { ...build, vehicle: { ...build.vehicle, measured: [...(build.vehicle.measured ?? []), reading] }, most_readings: 1 };
  const counted = answer(set as CheckRequest).findings.filter(
    ({ rule, verdict, as_before }) => rule !== 'statements-agree' && (verdict === 'clear' || verdict === 'conflict' || !as_before),
  );
  return worst(counted.map(({ verdict }) => verdict));
}

describe.each<[string, Over]>([
  ['the largest tyre that is clear', { quantity: 'overall_diameter', of: 'trail-tyres', from: '792 mm', to: '828 mm', step: '18 mm' }],
  ['the least offset', { quantity: 'offset', of: 'road-wheels', from: '-15 mm', to: '25 mm', step: '20 mm' }],
])('%s', (_, vary) => {
  it('is that of whole checks at every step', () => {
    const build = demoBuild('modest') as CheckRequest;
    const asked = checker.whatIf({ ...build, vary }, demoCatalogue);
    if (!asked.ok) throw new Error(JSON.stringify(asked.faults));
    const { checked, bands } = asked.answer;
    const told = checked.values.map(({ value, verdict }) => [Number(value), verdict]);
    expect(told.length).toBe(3);
    expect(told).toEqual(told.map(([value]) => [value, whole(build, vary, value as number)]));
    expect(new Set(bands.map(({ verdict }) => verdict)).size).toBeGreaterThan(1);
  });
});
