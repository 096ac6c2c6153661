/** What the bulge of a tyre that was let down takes of the gaps of a rear axle, worked by hand. */
import { describe, expect, it } from 'vitest';
import { type AxleInputs, searchAxleGaps } from './axle-gaps.ts';
import type { AxleObstacle } from './axle-sweep.ts';
import type { AxleFrame, BeamAxle } from './beam-axle.ts';
import type { Vec3 } from './vector.ts';

const axle: BeamAxle = {
  halfTrack: 0.8,
  wheelHeight: 0.4,
  rollHeight: 0.4,
  stopAt: 0.48,
  damperAt: 0.48,
  springAt: 0.56,
  swingRadius: 1e6,
  swingDrop: 0,
};
const tyre = { freeRadius: 0.4, loadedRadius: 0.38, sectionWidth: 0.25, shoulderRadius: 0.02 };
const inputs: AxleInputs = { tyre, outwardShift: 0, offCentre: 0, bodyLift: 0, droop: -0.1, bump: 0.1, ride: 0, block: 0 };
const on = (id: string, frame: AxleFrame, ...points: Vec3[]): AxleObstacle => ({ id, frame, radius: 0.01, lines: [points], patches: [] });

function lossOf(obstacle: AxleObstacle, bulge: number): number {
  const made = searchAxleGaps(axle, [obstacle], inputs);
  if (!made.ok) throw new Error(made.reason);
  return made.value.bulged(obstacle.id, bulge);
}

describe('the bulge of a rear tyre let down', () => {
  it('beside its wall is that share of it that the lowest point lies below the hub', () => {
    // U-bolts 100 mm inboard of the wall from hub height to 200 mm below: 200 of 400 mm, half of the bulge, though all of the bolt is as near.
    const bolts = on('bolts', 'rear_axle', [0, 0.575, 0.4], [0, 0.575, 0.2]);
    expect(lossOf(bolts, 0.012)).toBeCloseTo(0.006, 9);
    const upsideDown = on('bolts', 'rear_axle', [0, 0.575, 0.2], [0, 0.575, 0.4]);
    expect(lossOf(upsideDown, 0.012)).toBeCloseTo(0.006, 9);
    expect(lossOf(bolts, 0)).toBe(0);
  });

  it('is nothing above the hub and on the tread', () => {
    expect(lossOf(on('leaf', 'rear_axle', [0.2, 0.575, 0.45], [-0.2, 0.575, 0.45]), 0.012)).toBe(0);
    // Behind the tyre, below the hub, at the middle of the tread.
    expect(lossOf(on('flap', 'rear_axle', [-0.45, 0.8, 0.3]), 0.012)).toBe(0);
  });

  it('of something farther off but lower counts by what is then the nearest', () => {
    // One point at hub height 30 mm off the wall, another 300 mm below 33 mm off: 33 − 12·0.75 = 24 is nearer than 30, so 6 are lost.
    const two: AxleObstacle = { ...on('two', 'rear_axle'), radius: 0, lines: [[[0, 0.645, 0.4]], [[0, 0.642, 0.1]]] };
    expect(lossOf(two, 0.012)).toBeCloseTo(0.006, 9);
    expect(lossOf(two, 0.002)).toBe(0);
  });
});
