/** What a drawing leaves open of an answer, against drawings made by hand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readClassGeometry } from '../../../tests/published/suspension/class-geometry.ts';
import { bothWays, type HalfWidths } from '../../units/index.ts';
import { type Build, type Moving, studyFront } from './front-study.ts';

const { corner } = readClassGeometry();

/** Answers that are a sum of the drawing's numbers, before and after: what each does is known. */
function study(
  before: readonly number[],
  after: readonly number[],
  halfWidths: readonly HalfWidths[],
  bent: (load: number) => number = (load) => load,
) {
  // The numbers ride on the load that the springs carry, and move nothing else; each state has its own.
  const sum = (terms: readonly number[], n: readonly number[]): number => terms.reduce((all, term, i) => all + term * (n[i] as number), 0);
  const build: Build = (n) => [
    { corner, change: {}, sprungLoad: 5000 + sum(before, n) },
    { corner, change: {}, sprungLoad: 5000 + sum(after, n) },
  ];
  const made = studyFront(
    build,
    before.map(() => 0),
    halfWidths,
  );
  if (!made.ok) throw new Error(made.reason);
  const load: Moving = ({ sprungLoad }) => bent(sprungLoad);
  return made.value.spreads(load);
}

/** The most that Σ c u is with Σ b u within what it is pinned to, u from -1 to 1: on a grid that has every vertex, b and what it is pinned to being as they are below. */
function enumerated(b: readonly number[], c: readonly number[], pinned: number): number {
  const steps = Array.from({ length: 17 }, (_, i) => i / 8 - 1);
  let all: (readonly number[])[] = [[]];
  for (const _ of b) all = all.flatMap((u) => steps.map((x) => [...u, x]));
  const sum = (terms: readonly number[], u: readonly number[]): number => terms.reduce((s, term, i) => s + term * (u[i] as number), 0);
  return all.filter((u) => Math.abs(sum(b, u)) <= pinned + 1e-9).reduce((most, u) => Math.max(most, sum(c, u)), 0);
}

describe('what a drawing leaves open', () => {
  it('is added as it is for the worst case, and by root sum of squares', () => {
    const of = study([3, -4], [1, 12], [bothWays(1), bothWays(1)]);
    expect(of('before')).toEqual({ worst: expect.closeTo(7, 9), rss: expect.closeTo(5, 9) });
    expect(of('change')).toEqual({ worst: expect.closeTo(18, 9), rss: expect.closeTo(Math.hypot(2, 16), 9) });
  });

  it('keeps both half-widths of a number that is itself computed', () => {
    const of = study([2, 1], [2, 1], [{ worst: 3, rss: 1 }, bothWays(4)]);
    expect(of('before')).toEqual({ worst: expect.closeTo(10, 9), rss: expect.closeTo(Math.hypot(2, 4), 9) });
  });

  it('is what the further way does of an answer that bends, whichever way that is', () => {
    // The least of two: it falls by all of the load where that is less, and stays where it is more.
    const least = (load: number): number => Math.min(load, 5000);
    for (const sign of [1, -1])
      expect(study([3 * sign], [3 * sign], [bothWays(1)], least)('before')).toEqual({
        worst: expect.closeTo(3, 9),
        rss: expect.closeTo(3, 9),
      });
    // A gap in a band of answers: what has none one way is as far off as the other way.
    const none = (load: number): number => (load > 5000 ? Number.NaN : load);
    expect(study([2], [2], [bothWays(1)], none)('after').rss).toBeCloseTo(2, 9);
  });

  it('is nothing of what goes with an answer that is known', () => {
    const of = study([1, 2], [2, 4], [bothWays(1), bothWays(1)]);
    expect(of('change', bothWays(0))).toEqual({ worst: expect.closeTo(0, 9), rss: expect.closeTo(0, 9) });
  });

  it('is, at its worst, the most that numbers can do which keep to what is known of the answer before', () => {
    const effect = fc.constantFrom(0, 1, -1, 2, -2, 4, -4);
    fc.assert(
      fc.property(fc.tuple(effect, effect, effect), fc.tuple(effect, effect, effect), fc.integer({ min: 0, max: 8 }), (b, c, half) => {
        const pinned = half / 2;
        const after = b.map((x, i) => x + (c[i] as number));
        const { worst, rss } = study(
          b,
          after,
          b.map(() => bothWays(1)),
        )('change', bothWays(pinned));
        const most = enumerated(b, c, pinned);
        expect(worst).toBeCloseTo(most, 6);
        expect(rss).toBeLessThanOrEqual(worst + 1e-9);
      }),
      { numRuns: 40, seed: 20261126 },
    );
  });
});
