/**
 * Parameters that agree best with what was known of them and with readings, by least squares between bounds.
 *
 * Each parameter is counted in its own half-width: 0 is what it was taken for, ±1 the ends of its tolerance, which are its bounds; what is
 * a root sum of squares of many tolerances ends where they all end at once, further out.
 * A half-width is what nineteen in twenty keep to, so its standard deviation is one half. Minimised is
 *
 *   Σ (u_i / ½)² + Σ ((f_j(u) − y_j) / (a_j / 2))²
 *
 * u: parameters; f_j: what they make of reading j; y_j: the reading, a_j: its half-width. What the readings leave open of them,
 * with G the slopes of f_j / a_j at the solution, is
 *
 *   (I + GᵀG)⁻¹ = I − WWᵀ,   W = (L⁻¹G)ᵀ,   LLᵀ = I + GGᵀ   (Woodbury; Cholesky),
 *
 * in squares of half-widths: of each alone the diagonal, and never more than before. Several parameters that one reading rests on each stay
 * nearly as open as they were, while their sum is as sure as the reading; that is in W alone. Method: Levenberg–Marquardt (general textbook method; the library's), started at 0.
 * Worked: one parameter, f = u, y = 0.5, a = 1: u = 0.25, left open 1/√2 = 0.707.
 */
import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { CholeskyDecomposition, Matrix, solve as solveLinear } from 'ml-matrix';

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
  /** What the readings take off what parameters leave open together, W: a row for each, in its half-widths. */
  readonly pinned: readonly (readonly number[])[];
  /** What the solution makes of each reading less the reading, in half-widths of the reading; beyond ±1 they do not agree. */
  readonly residuals: readonly number[];
}

const SIGMA = 0.5;
const STEP = 1e-3;
const ROUNDS = 15;
const SETTLED = 1e-7;

/** `model` gives all readings at given parameters; `bounds`: how far each can be moved either way, 1 where nothing is said. */
export function fitBounded(
  count: number,
  readings: readonly FitReading[],
  model: (u: readonly number[]) => readonly number[],
  bounds: readonly number[] = [],
): Fit {
  const off = (u: readonly number[]): number[] => model(u).map((f, j) => (f - (readings[j]?.value ?? 0)) / (readings[j]?.plusMinus ?? 1));
  const terms = (u: readonly number[]): number[] => [...u.map((x) => x / SIGMA), ...off(u).map((r) => r / SIGMA)];
  const rows = Array.from({ length: count + readings.length }, (_, i) => i);
  const parameters =
    count === 0
      ? []
      : solve(
          Array.from({ length: count }, (_, i) => bounds[i] ?? 1),
          rows,
          terms,
        );
  const pinned = pinnedBy(parameters, off);
  const left = pinned.map((row) => Math.sqrt(Math.max(0, 1 - row.reduce((sum, w) => sum + w * w, 0))));
  return { parameters, left, pinned, residuals: off(parameters) };
}

/** What comes to rest on its bound stays there, and the rest are fitted again without it. */
function solve(bounds: readonly number[], rows: readonly number[], terms: (u: readonly number[]) => number[]): number[] {
  const u: number[] = bounds.map(() => 0);
  let free = u.map((_, i) => i);
  while (free.length > 0) {
    const at = (some: readonly number[]): number[] => {
      const all = [...u];
      for (const [k, i] of free.entries()) all[i] = some[k] as number;
      return all;
    };
    const boundAt = (i: number): number => bounds[i] as number;
    const solved = solveFree(free.map(boundAt), rows, (some) => terms(at(some)));
    for (const [k, i] of free.entries()) u[i] = solved[k] as number;
    const inside = free.filter((i) => Math.abs(u[i] as number) < boundAt(i) - STEP);
    if (inside.length === free.length) break;
    free = inside;
  }
  return u;
}

/** A few steps at a time, until they no longer move it: the library would go on to its last step. */
function solveFree(bounds: readonly number[], rows: readonly number[], terms: (u: readonly number[]) => number[]): number[] {
  let u: number[] = bounds.map(() => 0);
  for (let round = 0; round < ROUNDS; round++) {
    const was = u;
    u = fewSteps(u, bounds, rows, terms);
    if (u.every((x, i) => Math.abs(x - (was[i] as number)) < SETTLED)) break;
  }
  return u;
}

function fewSteps(from: number[], bounds: readonly number[], rows: readonly number[], terms: (u: readonly number[]) => number[]): number[] {
  const { parameterValues } = levenbergMarquardt(
    { x: [...rows], y: rows.map(() => 0) },
    (u: number[]) => {
      const at = terms(u);
      return (row: number) => at[row] ?? 0;
    },
    {
      initialValues: from,
      minValues: bounds.map((bound) => -bound),
      maxValues: [...bounds],
      gradientDifference: STEP,
      centralDifference: true,
      damping: 0.01,
      maxIterations: 4,
      errorTolerance: 1e-10,
    },
  );
  return parameterValues;
}

function pinnedBy(u: readonly number[], off: (u: readonly number[]) => number[]): number[][] {
  const moved = (i: number, by: number): number[] => off(u.map((x, k) => (k === i ? x + by : x)));
  const columns = u.map((_, i) => {
    const [up, down] = [moved(i, STEP), moved(i, -STEP)];
    return up.map((x, row) => (x - (down[row] as number)) / (2 * STEP));
  });
  const readings = columns[0]?.length ?? 0;
  if (readings === 0) return u.map(() => []);
  const slopes = new Matrix(columns).transpose();
  const lower = new CholeskyDecomposition(Matrix.eye(readings).add(slopes.mmul(slopes.transpose()))).lowerTriangularMatrix;
  return solveLinear(lower, slopes).transpose().to2DArray();
}
