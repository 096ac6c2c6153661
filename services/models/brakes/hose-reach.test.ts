import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NUMBERS } from '../../units/index.ts';
import { between } from '../../units/testing.ts';
import { longestRoute } from './hose-reach.ts';

const metres = between(-0.3, 0.3);
const point = fc.tuple(metres, metres, metres);
type Point = readonly [number, number, number];
const apart = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

describe('hose reach', () => {
  it('covers every route that goes round a corner to an end that has moved by no more than the droop', () => {
    fc.assert(
      fc.property(point, point, point, point, between(0, 0.15), (top, corner, end, way, droop) => {
        const size = apart(way, [0, 0, 0]) || 1;
        const moved = end.map((x, i) => x + (way[i]! / size) * droop) as unknown as Point;
        const before = apart(top, corner) + apart(corner, end);
        const after = apart(top, corner) + apart(corner, moved);
        expect(after).toBeLessThanOrEqual(longestRoute(NUMBERS, before, droop) + 1e-12);
      }),
    );
  });
});
