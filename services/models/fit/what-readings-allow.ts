/**
 * What readings leave possible of parameters, never narrower than the truth: bounds, where a least-squares fit gives what is likely.
 *
 * A reading says |Σ s_k u_k − y| ≤ a; each parameter lies between its bounds. What is left of u_i is what all others can do at most:
 *
 *   s_i u_i ∈ [y − a, y + a] − Σ_{k≠i} s_k u_k   over the box of the others,
 *
 * asked in turns until nothing moves (interval propagation; textbook). Of two readings r, q also r − λ q says as much, to within a_r + |λ| a_q: with
 * λ = Σ s_r s_q / Σ s_q² it leaves out most of what both rest on. A box that comes to nothing is a contradiction, and nothing else is.
 * That the terms of a sum go together is not in a box: of a sum that was read each term may stay as open as it was.
 * Worked: u + v = 1.5 ± 0.1, both within ±1: each of both is at least 0.4.
 */

export interface Interval {
  readonly low: number;
  readonly high: number;
}

export interface Row {
  readonly slopes: readonly number[];
  readonly value: number;
  readonly plusMinus: number;
}

const MOST_ROUNDS = 30;
const STILL = 1e-6;
/** Two that only just touch overlap. */
const TOUCH = 1e-9;

/** What is left of the box; undefined where nothing is. */
export function allowedBy(rows: readonly Row[], box: readonly Interval[]): readonly Interval[] | undefined {
  const all = [...rows, ...combined(rows)];
  let now = box.map(({ low, high }) => ({ low, high }));
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const was = now.map(({ low, high }) => high - low);
    for (const row of all) {
      const next = narrowed(row, now);
      if (!next) return undefined;
      now = next;
    }
    if (now.every(({ low, high }, i) => (was[i] as number) - (high - low) < STILL)) break;
  }
  return now;
}

function combined(rows: readonly Row[]): Row[] {
  return rows.flatMap((row, r) =>
    rows.flatMap((other, q): Row[] => {
      const square = other.slopes.reduce((sum, s) => sum + s * s, 0);
      const along = q === r || square === 0 ? 0 : row.slopes.reduce((sum, s, i) => sum + s * (other.slopes[i] as number), 0) / square;
      if (along === 0) return [];
      const slopes = row.slopes.map((s, i) => s - along * (other.slopes[i] as number));
      return [{ slopes, value: row.value - along * other.value, plusMinus: row.plusMinus + Math.abs(along) * other.plusMinus }];
    }),
  );
}

function narrowed({ slopes, value, plusMinus }: Row, box: readonly Interval[]): Interval[] | undefined {
  const reach = box.map(({ low, high }, i): Interval => {
    const [a, b] = [(slopes[i] as number) * low, (slopes[i] as number) * high];
    return { low: Math.min(a, b), high: Math.max(a, b) };
  });
  const [least, most] = [reach.reduce((sum, { low }) => sum + low, 0), reach.reduce((sum, { high }) => sum + high, 0)];
  const room = TOUCH * (Math.abs(value) + plusMinus + most - least);
  if (least > value + plusMinus + room || most < value - plusMinus - room) return undefined;
  return box.map((interval, i): Interval => {
    const slope = slopes[i] as number;
    if (slope === 0) return interval;
    const own = reach[i] as Interval;
    const ends = [value - plusMinus - (most - own.high), value + plusMinus - (least - own.low)].map((end) => end / slope);
    const [low, high] = [Math.max(interval.low, Math.min(...ends)), Math.min(interval.high, Math.max(...ends))];
    // What only touches is a point.
    return low <= high ? { low, high } : { low: (low + high) / 2, high: (low + high) / 2 };
  });
}
