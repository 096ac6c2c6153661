import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readClassGeometry } from '../../../tests/published/suspension/class-geometry.ts';
import { uniform } from '../../../tests/published/suspension/uniform.ts';
import { makeLinkage } from './double-wishbone.ts';
import { segmentDistance, springToArmGap } from './spring-clearance.ts';
import { addScaled, distance, subtract, type Vec3 } from './vector.ts';

const { corner } = readClassGeometry();
const made = makeLinkage(corner.hardpoints);
if (!made.ok) throw new Error(made.reason);
const linkage = made.value;
const arm = corner.obstacles.find((o) => o.id === 'arm_edge')!;

describe('distance of two segments', () => {
  it.each([
    [
      'crossing apart',
      [
        [-1, 0, 0],
        [1, 0, 0],
        [0, -1, 0.3],
        [0, 1, 0.3],
      ],
      0.3,
    ],
    [
      'end to end',
      [
        [0, 0, 0],
        [1, 0, 0],
        [1.5, 0, 0],
        [2, 0, 0],
      ],
      0.5,
    ],
    [
      'side by side',
      [
        [0, 0, 0],
        [1, 0, 0],
        [0.2, 0.4, 0],
        [0.8, 0.4, 0],
      ],
      0.4,
    ],
    [
      'end against the middle',
      [
        [0, 0.2, 0],
        [0, 1, 0],
        [-1, 0, 0],
        [1, 0, 0],
      ],
      0.2,
    ],
  ] as [string, Vec3[], number][])('%s', (_, [a, b, c, d], expected) => {
    expect(segmentDistance(a!, b!, c!, d!)).toBeCloseTo(expected, 12);
  });

  it('is the least over a grid of points of both', () => {
    const part = uniform(-1, 1);
    const point = fc.tuple(part, part, part) as fc.Arbitrary<Vec3>;
    fc.assert(
      fc.property(point, point, point, point, (a, b, c, d) => {
        const n = 60;
        let least = 9;
        for (let i = 0; i <= n; i++)
          for (let j = 0; j <= n; j++)
            least = Math.min(least, distance(addScaled(a, subtract(b, a), i / n), addScaled(c, subtract(d, c), j / n)));
        const found = segmentDistance(a, b, c, d);
        expect(found).toBeLessThanOrEqual(least + 1e-12);
        expect(found).toBeGreaterThanOrEqual(least - (distance(a, b) + distance(c, d)) / n);
      }),
      { numRuns: 60 },
    );
  });
});

describe('spring and upper arm', () => {
  const gap = (droop: number) => {
    const g = springToArmGap(linkage, corner.coilOver, arm, droop, 0.1);
    if (!g.ok) throw new Error(g.reason);
    return g.value;
  };

  it('clear each other in the class as it is, least in full droop', () => {
    expect(gap(-0.09).gap).toBeGreaterThan(0.002);
    expect(gap(-0.09).travel).toBeCloseTo(-0.09, 6);
  });

  it('meet where the wheel may hang 30 mm lower', () => {
    expect(gap(-0.12).gap).toBeLessThan(0);
  });

  it('are refused beyond the linkage’s reach and for something that is not the arm', () => {
    expect(springToArmGap(linkage, corner.coilOver, arm, -0.5, 0).ok).toBe(false);
    const rail = corner.obstacles.find((o) => o.id === 'frame_rail')!;
    const wrong = springToArmGap(linkage, corner.coilOver, rail, -0.09, 0);
    expect(!wrong.ok && wrong.reason).toContain('not on the upper arm');
  });
});
