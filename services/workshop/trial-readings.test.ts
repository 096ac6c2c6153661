/** What an open finding is said to be settled by, where its band does not shrink evenly. */
import { describe, expect, it } from 'vitest';
import type { Evaluation } from '../engine/evaluate.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { Grouped } from './findings.ts';
import { OpenFinding } from './trial-readings.ts';

const evaluation = (low: number, high: number): Evaluation =>
  ({ verdict: 'close', reads: [], missing: [], controlling: { low, high, rss: { low, high } } }) as unknown as Evaluation;

const open = (low: number, high: number): OpenFinding => {
  const group = { verdict: 'close', evaluations: [evaluation(low, high)] } as unknown as Grouped;
  return new OpenFinding(group, { values: { below: () => new Set() } } as unknown as VehicleWorld);
};

describe('the chance that a reading settles a finding', () => {
  it('is that of the band it leaves, where that lies: from -33 to 1 a reading that leaves -24 to 5 settles nothing', () => {
    const finding = open(-33, 1.4);
    finding.now = evaluation(-24, 5);
    expect(finding.chance).toBeLessThan(0.01);
    const even = open(-33, 1.4);
    even.now = evaluation(-30, -1.6);
    expect(even.chance).toBeGreaterThan(0.7);
  });
});
