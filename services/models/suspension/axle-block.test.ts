/** Blocks between a rear axle and its leaves, worked by hand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between } from '../../units/testing.ts';
import { type AxleInputs, areNear, searchAxleGaps } from './axle-gaps.ts';
import { type AxleObstacle, pieceDistance, ridingPieces, sweepAxle, together } from './axle-sweep.ts';
import { axleMotion, type BeamAxle, checkAxle, MOTION_SIZE, swing, wheelPlace } from './beam-axle.ts';

const axle: BeamAxle = {
  halfTrack: 0.8,
  wheelHeight: 0.4,
  rollHeight: 0.45,
  stopAt: 0.48,
  damperAt: 0.48,
  springAt: 0.56,
  swingRadius: 0.44,
  swingDrop: 0.04,
};
const blocked = { ...axle, block: 0.06 };
const tyre = { freeRadius: 0.4, loadedRadius: 0.38, sectionWidth: 0.25, shoulderRadius: 0 };
const leaf: AxleObstacle = {
  id: 'leaf',
  frame: 'rear_spring',
  radius: 0,
  lines: [
    [
      [0.5, 0.6, 0.79],
      [0, 0.6, 0.79],
      [-0.6, 0.6, 0.79],
    ],
  ],
  patches: [],
};

describe('a block below the leaves', () => {
  it('has the axle fore and aft where its leaves carry it, which stand higher against it', () => {
    // √(0.44² − 0.04²) − √(0.44² − (0.04 − 0.06 − h)²): level 438.178 − 439.545 = −1.367 mm; up 105 mm 438.178 − 421.871 = 16.307, where it had 3.0.
    expect(swing(blocked, 0)).toBeCloseTo(-0.001367, 6);
    expect(swing(blocked, 0.105)).toBeCloseTo(0.016307, 5);
    expect(swing(blocked, 0.045)).toBeCloseTo(swing(axle, 0.105), 12);
    const m = new Float64Array(MOTION_SIZE);
    const place = new Float64Array(6);
    axleMotion(blocked, 0.105, 0, m);
    wheelPlace(blocked, m, 0, place);
    expect([place[0], place[1], place[2]]).toEqual([expect.closeTo(0.016307, 5), 0.8, expect.closeTo(0.505, 12)]);
  });

  it('has it tilt about a point that much higher', () => {
    const m = new Float64Array(MOTION_SIZE);
    const [low, high] = [new Float64Array(6), new Float64Array(6)];
    const still = { swingRadius: 1e6, swingDrop: 0 };
    for (const [of, place] of [
      [{ ...axle, ...still }, low],
      [{ ...blocked, ...still }, high],
    ] as const) {
      axleMotion(of, 0, 0.2, m);
      wheelPlace(of, m, 0, place);
    }
    // Wheel below that point by 50 and by 110 mm: it goes out by so much times sin φ, and up by so much times 1 − cos φ.
    const cos = Math.sqrt(1 - 0.04);
    expect(high[1]! - low[1]!).toBeCloseTo(0.06 * 0.2, 6);
    expect(high[2]! - low[2]!).toBeCloseTo(0.06 * (1 - cos), 6);
  });

  it('stands the leaves higher beside the tyre: all of it at the axle, nothing at the eyes', () => {
    const pieces = ridingPieces(leaf);
    if (!pieces.ok) throw new Error(pieces.reason);
    const above = (of: BeamAxle): number => {
      const swept = sweepAxle({ axle: of, tyre: { ...tyre, sectionWidth: 0.5 }, travel: { droop: -0.1, bump: 0.1 } });
      if (!swept.ok) throw new Error(swept.reason);
      return pieceDistance(swept.value, together(pieces.value), 0, 0);
    };
    const still = { swingRadius: 1e6, swingDrop: 0 };
    // Right above the wheel's centre at design: 790 − 400 − 400 = −10 mm, inside the tyre; a block of 60 takes it out to 50, and no place is nearer: (0.25, 45 mm up) has 61.
    expect(above({ ...axle, ...still })).toBeCloseTo(-0.01, 6);
    const raised = above({ ...blocked, ...still });
    expect(raised).toBeGreaterThan(0.03);
    expect(raised).toBeLessThan(0.05 + 1e-9);
  });

  it('of nothing is none, and one that leaves the springs no reach is refused', () => {
    expect(swing({ ...axle, block: 0 }, 0.07)).toBe(swing(axle, 0.07));
    expect(checkAxle({ ...axle, block: 0.4 }, { droop: -0.1, bump: 0.1 })).toMatchObject({
      ok: false,
      reason: expect.stringContaining('do not reach'),
    });
  });

  it('is followed as a search of its own finds it', () => {
    const inputs: AxleInputs = { tyre, outwardShift: 0, offCentre: 0, bodyLift: 0, droop: -0.1, bump: 0.1, ride: 0, block: 0.04 };
    const rail: AxleObstacle = {
      id: 'flap',
      frame: 'body',
      radius: 0,
      lines: [
        [
          [-0.43, 0.75, 0.5],
          [-0.43, 0.85, 0.5],
        ],
      ],
      patches: [],
    };
    const search = (of: AxleInputs) => {
      const made = searchAxleGaps(axle, [leaf, rail], of);
      if (!made.ok) throw new Error(made.reason);
      return made.value;
    };
    const base = search(inputs);
    fc.assert(
      fc.property(between(0, 0.09), (block) => {
        const moved = { ...inputs, block };
        expect(areNear(inputs, moved)).toBe(true);
        for (const [id, { gap }] of search(moved).contacts) {
          expect(base.follow(id, moved), id).toBeGreaterThan(gap - 1e-6);
          expect(base.follow(id, moved) - gap, id).toBeLessThan(5e-4);
        }
      }),
      { numRuns: 8 },
    );
    // Behind the wheel there is more room with a higher block: the axle goes further forward as it rises.
    const gap = (block: number): number => search({ ...inputs, block }).contacts.get('flap')?.gap ?? Number.NaN;
    expect(gap(0.08)).toBeGreaterThan(gap(0) + 0.003);
  });
});
