import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { uniform } from '../../../tests/published/suspension/uniform.ts';
import {
  leastDistance,
  leastOnSegments,
  makeProfile,
  nearestOnSegment,
  nearestOnTriangle,
  type Profile,
  type TyreShape,
  tyreDistance,
  tyreNormal,
} from './tyre-shape.ts';
import { addScaled, distance, length, scale, turn, type Vec3 } from './vector.ts';

function profile(shape: Partial<TyreShape>): Profile {
  const made = makeProfile({ freeRadius: 0.388, loadedRadius: 0.372, sectionWidth: 0.272, shoulderRadius: 0.035, ...shape });
  if (!made.ok) throw new Error(made.reason);
  return made.value;
}

const origin: Vec3 = [0, 0, 0];
const y: Vec3 = [0, 1, 0];
const stock = profile({});
/** Tread narrower than the section: a slanted wall from the shoulder down to the belly. */
const slanted = profile({ treadWidth: 0.18, bellyRadius: 0.29, shoulderRadius: 0.02 });
const coordinate = uniform(-0.7, 0.7);
const points = fc.tuple(coordinate, coordinate, coordinate) as fc.Arbitrary<Vec3>;
const shapes = fc.constantFrom(stock, slanted, profile({ shoulderRadius: 0 }), profile({ treadWidth: 0, shoulderRadius: 0.136 }));

describe('distance to a tyre', () => {
  it('is that to a torus where the tread has no width (worked by hand: 265, 135, point 0 150 300 → 19.029218)', () => {
    const torus = profile({ freeRadius: 0.4, sectionWidth: 0.27, treadWidth: 0, shoulderRadius: 0.135 });
    expect(tyreDistance(torus, origin, y, [0, 0.15, 0.3]) * 1000).toBeCloseTo(19.029218, 6);
  });

  it('is that to a cylinder where the shoulders are sharp (worked by hand: 400, 270, point 0 150 420 → 25)', () => {
    const cylinder = profile({ freeRadius: 0.4, sectionWidth: 0.27, shoulderRadius: 0 });
    expect(tyreDistance(cylinder, origin, y, [0, 0.15, 0.42]) * 1000).toBeCloseTo(25, 9);
  });

  it('is flat across the crown: offset and width do not move a contact there', () => {
    const over: Vec3 = [0, 0.02, 0.45];
    expect(tyreDistance(stock, origin, y, over)).toBeCloseTo(0.062, 12);
    expect(tyreDistance(profile({ sectionWidth: 0.31 }), [0, 0.03, 0], y, over)).toBeCloseTo(0.062, 12);
  });

  it('agrees with the distance to each edge of its outline, outside and inside', () => {
    const toEdge = ([ax, ay]: number[], [bx, by]: number[], [px, py]: number[]): number => {
      const [dx, dy] = [bx! - ax!, by! - ay!];
      const t = Math.max(0, Math.min(1, ((px! - ax!) * dx + (py! - ay!) * dy) / (dx * dx + dy * dy || 1)));
      return Math.hypot(px! - ax! - t * dx, py! - ay! - t * dy);
    };
    fc.assert(
      fc.property(shapes, points, (p, point) => {
        const [a, r] = [Math.abs(point[1]), Math.hypot(point[0], point[2])];
        const corners = [
          [0, p.top],
          [p.crown, p.top],
          [p.belly, p.waist],
          [p.belly, 0],
        ];
        const edge = Math.min(...[1, 2, 3].map((i) => toEdge(corners[i - 1]!, corners[i]!, [a, r])));
        const underSlant = a <= p.crown || (r - p.top) * (p.belly - p.crown) <= (p.waist - p.top) * (a - p.crown);
        const inside = a <= p.belly && r <= p.top && underSlant;
        expect(tyreDistance(p, origin, y, point)).toBeCloseTo((inside ? -edge : edge) - p.round, 10);
      }),
      { numRuns: 500 },
    );
  });

  it('grows along its normal at the rate of one', () => {
    fc.assert(
      fc.property(shapes, points, (p, point) => {
        const d = tyreDistance(p, origin, y, point);
        fc.pre(d > 1e-3);
        const n = tyreNormal(p, origin, y, point);
        expect(length(n)).toBeCloseTo(1, 9);
        expect(tyreDistance(p, origin, y, addScaled(point, n, 0.05))).toBeCloseTo(d + 0.05, 9);
      }),
    );
  });

  it('does not care which way the wheel is laid in space', () => {
    fc.assert(
      fc.property(shapes, points, uniform(-3, 3), (p, point, angle) => {
        const axis = turn(y, [1, 0, 0], angle);
        expect(tyreDistance(p, [1, 2, 3], axis, addScaled([1, 2, 3], turn(point, [1, 0, 0], angle), 1))).toBeCloseTo(
          tyreDistance(p, origin, y, point),
          9,
        );
      }),
    );
  });

  it('is the same in a batch', () => {
    fc.assert(
      fc.property(shapes, fc.array(points, { minLength: 1, maxLength: 30 }), (p, many) => {
        const one = Math.min(...many.map((q) => tyreDistance(p, [0.1, 0.2, 0], y, q)));
        expect(leastDistance(p, Float64Array.from([0.1, 0.2, 0, 0, 1, 0]), Float64Array.from(many.flat()))).toBeCloseTo(one, 12);
      }),
    );
  });

  it('never grows when the tyre grows round the same crown, wall or shoulder', () => {
    const size = fc.record({
      r: uniform(0.35, 0.42),
      w: uniform(0.22, 0.32),
      s: uniform(0.01, 0.05),
    });
    const more = uniform(0, 0.03);
    fc.assert(
      fc.property(size, more, more, more, points, ({ r, w, s }, dr, dw, ds, point) => {
        const less = profile({ freeRadius: r, sectionWidth: w, shoulderRadius: s });
        const greater = profile({ freeRadius: r + dr, sectionWidth: w + dw, shoulderRadius: Math.max(0, s - ds) });
        expect(tyreDistance(greater, origin, y, point)).toBeLessThanOrEqual(tyreDistance(less, origin, y, point) + 1e-12);
      }),
    );
  });
});

describe('the nearest place', () => {
  it('on a segment is no further than any of a thousand of its points, and no nearer than the least by the step', () => {
    fc.assert(
      fc.property(shapes, points, points, (p, a, b) => {
        const found = nearestOnSegment(p, origin, y, a, b);
        let least = Number.POSITIVE_INFINITY;
        for (let i = 0; i <= 1000; i++)
          least = Math.min(least, tyreDistance(p, origin, y, addScaled(a, [b[0] - a[0], b[1] - a[1], b[2] - a[2]], i / 1000)));
        expect(found.distance).toBeLessThanOrEqual(least + 1e-9);
        expect(found.distance).toBeGreaterThanOrEqual(least - distance(a, b) / 2000);
        expect(tyreDistance(p, origin, y, found.point)).toBeCloseTo(found.distance, 12);
      }),
      { numRuns: 200 },
    );
  });

  it('on any of several segments and points is the least of them one by one, or the bound that none comes below', () => {
    const pairs = fc.array(fc.tuple(points, points), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(shapes, pairs, points, uniform(-0.1, 0.5), (p, ends, centre, bound) => {
        const least = Math.min(...ends.map(([a, b]) => nearestOnSegment(p, centre, y, a, b).distance));
        const place = Float64Array.from([...centre, ...y]);
        expect(leastOnSegments(p, place, Float64Array.from(ends.flat(2)), Number.POSITIVE_INFINITY)).toBeCloseTo(least, 11);
        expect(leastOnSegments(p, place, Float64Array.from(ends.flat(2)), bound)).toBeCloseTo(Math.min(least, bound), 11);
        const [[a]] = ends as [[Vec3, Vec3]];
        expect(leastOnSegments(p, place, Float64Array.from([...a, ...a]), Number.POSITIVE_INFINITY)).toBe(tyreDistance(p, centre, y, a));
      }),
      { numRuns: 300 },
    );
  });

  it('on a triangle is no further than any of its points on a fine grid', () => {
    fc.assert(
      fc.property(shapes, points, points, points, (p, a, b, c) => {
        const found = nearestOnTriangle(p, origin, y, a, b, c);
        const n = 60;
        let least = Number.POSITIVE_INFINITY;
        for (let i = 0; i <= n; i++) {
          for (let j = 0; j <= n - i; j++) {
            const q = addScaled(addScaled(scale(a, (n - i - j) / n), b, i / n), c, j / n);
            least = Math.min(least, tyreDistance(p, origin, y, q));
          }
        }
        const size = Math.max(distance(a, b), distance(b, c), distance(a, c));
        expect(found.distance).toBeLessThanOrEqual(least + 1e-7);
        expect(found.distance).toBeGreaterThanOrEqual(least - size / n);
      }),
      { numRuns: 100 },
    );
  });
});

describe('a shape that is no tyre', () => {
  it.each([
    [{ shoulderRadius: 0.2 }, 'half the section width'],
    [{ treadWidth: 0.3 }, 'wider than the section'],
    [{ freeRadius: -1 }, 'positive'],
    [{ sectionWidth: Number.NaN }, 'positive'],
  ])('%o is refused', (wrong, why) => {
    const made = makeProfile({ freeRadius: 0.388, loadedRadius: 0.372, sectionWidth: 0.272, shoulderRadius: 0.035, ...wrong });
    expect(made.ok).toBe(false);
    if (!made.ok) expect(made.reason).toContain(why);
  });
});
