/** Boxes against every point of a fine grid that agrees with all readings: none lies outside, and a box that is empty has none. */
import { describe, expect, it } from 'vitest';
import { allowedBy, type Row } from './what-readings-allow.ts';

const BOX = [0, 1, 2].map(() => ({ low: -1, high: 1 }));
const STEPS = 20;
const AXIS = Array.from({ length: 2 * STEPS + 1 }, (_, i) => i / STEPS - 1);
const GRID = AXIS.flatMap((a) => AXIS.flatMap((b) => AXIS.map((c) => [a, b, c])));
const agrees = (rows: readonly Row[], u: readonly number[]): boolean =>
  rows.every(({ slopes, value, plusMinus }) => Math.abs(slopes.reduce((sum, s, i) => sum + s * (u[i] as number), 0) - value) <= plusMinus);

describe('what readings allow', () => {
  it('the worked value: of a sum near its end both are near theirs', () => {
    const [u, v] = allowedBy([{ slopes: [1, 1, 0], value: 1.5, plusMinus: 0.1 }], BOX) ?? [];
    for (const one of [u, v]) expect([one?.low, one?.high]).toEqual([expect.closeTo(0.4, 9), 1]);
  });

  it('leaves each of two as open as it was where only their sum was read, near its middle', () => {
    expect(allowedBy([{ slopes: [1, 1, 0], value: 0, plusMinus: 0.01 }], BOX)).toEqual(BOX);
  });

  it('is nothing where two readings cannot both be, though each can', () => {
    const rows = [0.5, -0.5].map((value): Row => ({ slopes: [1, 0.5, 0.2], value, plusMinus: 0.4 }));
    for (const row of rows) expect(allowedBy([row], BOX)).toBeDefined();
    expect(allowedBy(rows, BOX)).toBeUndefined();
    expect(
      allowedBy(
        rows.map((row) => ({ ...row, plusMinus: 0.5 })),
        BOX,
      ),
    ).toBeDefined();
  });

  it('has every point in it that agrees, whatever was read', () => {
    let state = 7;
    const next = (): number => {
      state = (state * 48271) % 2147483647;
      return (2 * state) / 2147483647 - 1;
    };
    let narrowed = 0;
    for (let trial = 0; trial < 60; trial++) {
      const rows = [0, 1].map(
        (): Row => ({ slopes: [next(), next(), next()], value: 1.5 * next(), plusMinus: 0.02 + 0.2 * Math.abs(next()) }),
      );
      const box = allowedBy(rows, BOX);
      const points = GRID.filter((u) => agrees(rows, u));
      narrowed += Number(box?.some(({ low, high }) => high - low < 1.9) ?? false);
      expect(box === undefined && points.length > 0).toBe(false);
      for (const u of points)
        expect(u.every((x, i) => x >= (box?.[i]?.low as number) - 1e-9 && x <= (box?.[i]?.high as number) + 1e-9)).toBe(true);
    }
    expect(narrowed).toBeGreaterThan(10);
  });
});
