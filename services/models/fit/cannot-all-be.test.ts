/** Readings that cannot all be true: against every point of a fine grid, and against a linear programme by another solver. */
import loadHighs from 'highs';
import { describe, expect, it } from 'vitest';
import { cannotAllBe, fewestApart } from './cannot-all-be.ts';
import type { Row } from './what-readings-allow.ts';

const box = (count: number) => Array.from({ length: count }, () => ({ low: -1, high: 1 }));
const AXIS = Array.from({ length: 41 }, (_, i) => i / 20 - 1);
const GRID = AXIS.flatMap((a) => AXIS.flatMap((b) => AXIS.map((c) => [a, b, c])));
const agrees = (rows: readonly Row[], u: readonly number[]): boolean =>
  rows.every(({ slopes, value, plusMinus }) => Math.abs(slopes.reduce((sum, s, i) => sum + s * (u[i] as number), 0) - value) <= plusMinus);

let state = 11;
const next = (): number => {
  state = (state * 48271) % 2147483647;
  return (2 * state) / 2147483647 - 1;
};
const rowsOf = (count: number, over: number): Row[] =>
  Array.from({ length: count }, () => ({
    slopes: Array.from({ length: over }, next),
    value: 1.2 * next(),
    plusMinus: 0.02 + 0.3 * Math.abs(next()),
  }));
const subsets = (all: readonly Row[]): Row[][] =>
  Array.from({ length: 2 ** all.length - 1 }, (_, mask) => all.filter((_row, j) => ((mask + 1) >> j) % 2 === 1));

describe('readings that cannot all be true', () => {
  const three: Row[] = [
    { slopes: [1, 0, 0], value: 0.5, plusMinus: 0.1 },
    { slopes: [0, 1, 0], value: 0.5, plusMinus: 0.1 },
    { slopes: [1, 1, 0], value: 0.6, plusMinus: 0.1 },
  ];

  it('the worked value: any two can be, the three cannot, and with a little more tolerance they can', () => {
    for (const left of three)
      expect(
        cannotAllBe(
          three.filter((row) => row !== left),
          box(3),
        ),
      ).toBe(false);
    expect(fewestApart(three, box(3))).toEqual([0, 1, 2]);
    const wider = (by: number) => three.map((row) => ({ ...row, plusMinus: 0.1 + by }));
    expect([0.033, 0.034].map((by) => fewestApart(wider(by), box(3)))).toEqual([[0, 1, 2], undefined]);
  });

  it('are told by the fewest: a pair among many stays a pair, and one that nothing shows is alone', () => {
    const beside: Row = { slopes: [0.3, 0.1, 1], value: 0.2, plusMinus: 0.5 };
    expect(fewestApart([beside, ...three, { slopes: [1, 0, 0], value: 0.2, plusMinus: 0.1 }], box(3))).toEqual([1, 4]);
    expect(fewestApart([...three, { slopes: [0, 0, 1], value: 1.5, plusMinus: 0.1 }], box(3))).toEqual([3]);
    expect(fewestApart([{ slopes: [0, 0, 0], value: 1, plusMinus: 0.5 }], box(3))).toEqual([0]);
    expect(fewestApart([beside], box(3))).toBeUndefined();
  });

  it('have no point of a grid that agrees with all, and each smaller set has one near', () => {
    let sets = 0;
    for (let trial = 0; trial < 80; trial++) {
      const rows = rowsOf(4, 3);
      const found = fewestApart(rows, box(3));
      const possible = GRID.some((u) => agrees(rows, u));
      expect(found !== undefined && possible).toBe(false);
      if (!found) continue;
      const members = found.map((at) => rows[at] as Row);
      expect(GRID.some((u) => agrees(members, u))).toBe(false);
      // Between the points of the grid a row moves by half a step at most.
      const near = (row: Row): Row => ({ ...row, plusMinus: row.plusMinus + 0.025 * row.slopes.reduce((sum, s) => sum + Math.abs(s), 0) });
      for (const fewer of subsets(rows).filter((set) => set.length < members.length))
        expect(GRID.some((u) => agrees(fewer.map(near), u))).toBe(true);
      sets += Number(members.length > 2);
    }
    expect(sets).toBeGreaterThan(5);
  });

  it('are those for which a linear programme has no solution, but for a hair', async () => {
    const { solve } = await (loadHighs as unknown as typeof loadHighs.default)();
    const leastTimes = (rows: readonly Row[], over: number): number => {
      const sum = (slopes: readonly number[], t: number): string =>
        `${slopes.map((s, i) => `${s < 0 ? '-' : '+'} ${Math.abs(s).toFixed(12)} u${i}`).join(' ')} ${t < 0 ? '-' : '+'} ${Math.abs(t).toFixed(12)} t`;
      const limits = rows.flatMap(({ slopes, value, plusMinus }, j) => [
        `h${j}: ${sum(slopes, -plusMinus)} <= ${value.toFixed(12)}`,
        `l${j}: ${sum(slopes, plusMinus)} >= ${value.toFixed(12)}`,
      ]);
      const bounds = Array.from({ length: over }, (_, i) => `-1 <= u${i} <= 1`);
      const { Columns } = solve(`Minimize\n t\nSubject To\n ${limits.join('\n ')}\nBounds\n ${bounds.join('\n ')}\n 0 <= t\nEnd\n`);
      return (Columns['t'] as { Primal: number }).Primal;
    };
    const told = { cannot: 0, can: 0, undecided: 0 };
    for (let trial = 0; trial < 300; trial++) {
      const over = 2 + (trial % 12);
      const rows = rowsOf(2 + (trial % 7), over).map((row) => ({ ...row, value: row.value * Math.sqrt(over / 3) }));
      const times = leastTimes(rows, over);
      const is = cannotAllBe(rows, box(over));
      if (Math.abs(times - 1) < 1e-3) told.undecided++;
      else {
        expect([trial, is, times]).toEqual([trial, times > 1, times]);
        told[is ? 'cannot' : 'can']++;
      }
    }
    expect(Math.min(told.cannot, told.can)).toBeGreaterThan(60);
  });
});
