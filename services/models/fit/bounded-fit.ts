/**
 * Parameters that agree best with what was known of them and with readings, by least squares between bounds.
 *
 * Each parameter is counted in its own half-width: 0 is what it was taken for, ±1 the ends of its tolerance, which are its bounds.
 * A half-width is what nineteen in twenty keep to, so its standard deviation is one half. Minimised is
 *
 *   Σ (u_i / ½)² + Σ ((f_j(u) − y_j) / (a_j / 2))²
 *
 * u: parameters; f_j: what they make of reading j; y_j: the reading, a_j: its half-width. What the readings leave open of a
 * parameter is twice the root of the diagonal of (JᵀJ)⁻¹, J the slopes of all those terms at the solution, and never more than
 * before. Method: Levenberg–Marquardt (general textbook method; the library's), started at 0.
 * Worked: one parameter, f = u, y = 0.5, a = 1: u = 0.25, left open 1/√2 = 0.707.
 */
import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { inverse, Matrix } from 'ml-matrix';

export interface FitReading {
  readonly value: number;
  /** Half-width; positive. */
  readonly plusMinus: number;
}

export interface Fit {
  /** In half-widths of what each was taken for. */
  readonly parameters: readonly number[];
  /** Half-width that is left, as a part of what it was. */
  readonly left: readonly number[];
  /** What the solution makes of each reading less the reading, in half-widths of the reading; beyond ±1 they do not agree. */
  readonly residuals: readonly number[];
}

const SIGMA = 0.5;
const STEP = 1e-3;

/** `model` gives all readings at given parameters. */
export function fitBounded(count: number, readings: readonly FitReading[], model: (u: readonly number[]) => readonly number[]): Fit {
  const off = (u: readonly number[]): number[] => model(u).map((f, j) => (f - (readings[j]?.value ?? 0)) / (readings[j]?.plusMinus ?? 1));
  const terms = (u: readonly number[]): number[] => [...u.map((x) => x / SIGMA), ...off(u).map((r) => r / SIGMA)];
  const rows = Array.from({ length: count + readings.length }, (_, i) => i);
  const parameters = count === 0 ? [] : solve(count, rows, terms);
  return { parameters, left: leftOpen(parameters, terms), residuals: off(parameters) };
}

/** What comes to rest on its bound stays there, and the rest are fitted again without it. */
function solve(count: number, rows: readonly number[], terms: (u: readonly number[]) => number[]): number[] {
  const u: number[] = Array(count).fill(0);
  let free = u.map((_, i) => i);
  while (free.length > 0) {
    const at = (some: readonly number[]): number[] => {
      const all = [...u];
      for (const [k, i] of free.entries()) all[i] = some[k] as number;
      return all;
    };
    const solved = solveFree(free.length, rows, (some) => terms(at(some)));
    for (const [k, i] of free.entries()) u[i] = solved[k] as number;
    const inside = free.filter((i) => Math.abs(u[i] as number) < 1 - STEP);
    if (inside.length === free.length) break;
    free = inside;
  }
  return u;
}

function solveFree(count: number, rows: readonly number[], terms: (u: readonly number[]) => number[]): number[] {
  const { parameterValues } = levenbergMarquardt(
    { x: [...rows], y: rows.map(() => 0) },
    (u: number[]) => {
      const at = terms(u);
      return (row: number) => at[row] ?? 0;
    },
    {
      initialValues: Array(count).fill(0),
      minValues: Array(count).fill(-1),
      maxValues: Array(count).fill(1),
      gradientDifference: STEP,
      centralDifference: true,
      damping: 0.01,
      maxIterations: 60,
      errorTolerance: 1e-10,
    },
  );
  return parameterValues;
}

function leftOpen(u: readonly number[], terms: (u: readonly number[]) => number[]): number[] {
  if (u.length === 0) return [];
  const moved = (i: number, by: number): number[] => terms(u.map((x, k) => (k === i ? x + by : x)));
  const columns = u.map((_, i) => {
    const [up, down] = [moved(i, STEP), moved(i, -STEP)];
    return up.map((x, row) => (x - (down[row] as number)) / (2 * STEP));
  });
  const slopes = new Matrix(columns).transpose();
  const covariance = inverse(slopes.transpose().mmul(slopes));
  return u.map((_, i) => Math.min(1, Math.sqrt(Math.max(0, covariance.get(i, i))) / SIGMA));
}
