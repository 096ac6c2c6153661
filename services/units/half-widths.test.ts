/** What is left of a sum and a difference of two numbers of which the sum was read: closed forms of the normal distribution. */
import { describe, expect, it } from 'vitest';
import { type Agreed, LOOSE, leftTogether, pinOf } from './half-widths.ts';

/** Both ± 1 before; their sum read to ± a: W of both is √((1 − c) / 2), c what the sum's square is left as, a part of 2. */
const READ_TO = 0.1;
const LEFT_OF_SUM = 1 / (1 / 2 + 1 / READ_TO ** 2);
const W = Math.sqrt((2 - LEFT_OF_SUM) / 4);
const OPEN = Math.sqrt(1 - W ** 2);
const moved: Agreed = { plusMinus: 1, open: OPEN, pinned: [W] };

describe('what numbers that agree with readings leave together', () => {
  const pin = pinOf(moved, OPEN);

  it('is of their sum what the reading leaves, and of their difference what it was', () => {
    const left = (sign: number): number => leftTogether([OPEN, sign * OPEN].map((by) => ({ by, pin }))).left;
    expect(left(1)).toBeCloseTo(Math.sqrt(LEFT_OF_SUM), 9);
    expect(left(-1)).toBeCloseTo(Math.SQRT2, 9);
  });

  it('is of one alone its own half-width', () => {
    expect(leftTogether([{ by: OPEN, pin }]).left).toBeCloseTo(OPEN, 9);
  });

  it('goes through a value between as if it were not there', () => {
    const through = leftTogether([OPEN, OPEN].map((by) => ({ by, pin })));
    const { left, loose, pinned } = through;
    const whole = { by: left, pin: { was: loose / left, pinned: pinned.map((p) => p / left) } };
    expect(leftTogether([whole]).left).toBeCloseTo(Math.sqrt(LEFT_OF_SUM), 9);
  });

  it('is loose where something else has come to be said', () => {
    expect(pinOf(moved, 0.5)).toBe(LOOSE);
    expect(pinOf(moved, 0)).toBe(LOOSE);
  });
});
