import { describe, expect, it } from 'vitest';
import { fitBounded } from './bounded-fit.ts';

describe('a bounded fit', () => {
  it('the worked value: half way between what was known and a reading as sure', () => {
    const { parameters, left, residuals } = fitBounded(1, [{ value: 0.5, plusMinus: 1 }], ([u = 0]) => [u]);
    expect(parameters[0]).toBeCloseTo(0.25, 5);
    expect(left[0]).toBeCloseTo(Math.SQRT1_2, 5);
    expect(residuals[0]).toBeCloseTo(-0.25, 5);
  });

  it('gives a straight line the closed solution of weighted least squares', () => {
    // (I/σ² + AᵀA/s²)⁻¹ Aᵀy/s² with A = [1 1], σ = ½, s = 0.1/2, y = 0.6.
    const { parameters } = fitBounded(2, [{ value: 0.6, plusMinus: 0.1 }], ([a = 0, b = 0]) => [a + b]);
    const each = 0.6 / 0.0025 / (1 / 0.0025) / (2 + 0.0025 / 0.25);
    for (const u of parameters) expect(u).toBeCloseTo(each, 5);
  });

  it('keeps to the bounds, and says by how much a reading then disagrees', () => {
    const { parameters, residuals } = fitBounded(1, [{ value: 3, plusMinus: 0.1 }], ([u = 0]) => [u]);
    expect(parameters[0]).toBeCloseTo(1, 6);
    expect(residuals[0]).toBeCloseTo(-20, 4);
  });

  it('lets the others take what one at its bound cannot', () => {
    const { parameters, residuals } = fitBounded(2, [{ value: 12, plusMinus: 0.1 }], ([a = 0, b = 0]) => [10 * a + 4 * b]);
    expect(parameters[0]).toBeCloseTo(1, 6);
    expect(parameters[1]).toBeCloseTo(0.5, 2);
    expect(Math.abs(residuals[0] as number)).toBeLessThan(0.2);
  });

  it('leaves open what nothing was read of', () => {
    const { parameters, left } = fitBounded(2, [{ value: 0.5, plusMinus: 0.01 }], ([u = 0]) => [u]);
    expect(parameters[1]).toBeCloseTo(0, 6);
    expect(left[1]).toBeCloseTo(1, 6);
    expect(left[0]).toBeLessThan(0.02);
  });

  it('bends with what it fits', () => {
    const { parameters } = fitBounded(1, [{ value: Math.sin(0.8), plusMinus: 0.001 }], ([u = 0]) => [Math.sin(u)]);
    expect(parameters[0]).toBeCloseTo(0.8, 3);
  });

  it('knows of a sum that was read as much as the reading, though each of both stays open', () => {
    const { left, pinned } = fitBounded(2, [{ value: 0.6, plusMinus: 0.1 }], ([a = 0, b = 0]) => [a + b]);
    const ofBoth = (sign: number): number => Math.sqrt(2 - ((pinned[0]?.[0] as number) + sign * (pinned[1]?.[0] as number)) ** 2);
    // Of the sum 1/(1/2 + 1/0.01) in squares; of the difference, of which nothing was read, what it was.
    expect(ofBoth(1)).toBeCloseTo(1 / Math.sqrt(1 / 2 + 1 / 0.01), 6);
    expect(ofBoth(-1)).toBeCloseTo(Math.SQRT2, 6);
    for (const one of left) expect(one).toBeGreaterThan(0.7);
  });

  it('goes as far as it is told that one can be moved', () => {
    const { parameters } = fitBounded(1, [{ value: 3, plusMinus: 0.1 }], ([u = 0]) => [u], [2.5]);
    expect(parameters[0]).toBeCloseTo(2.5, 6);
  });
});
