/**
 * Readings that cannot all be true of parameters between bounds, with a proof, and the fewest of them that cannot.
 *
 * A reading says |s_j · u − y_j| ≤ a_j (`Row`); each parameter lies between its bounds, counted from their middle in their half: u ∈ [−1, 1]ⁿ.
 * Least squares of what is beyond the tolerances,
 *
 *   ½ Σ e_j²,   e_j = sign(r_j) max(0, |r_j| − a_j),   r_j = s_j · u − y_j,
 *
 * comes to nothing where all can be true. Where it does not, the e_j are the weights of a sum of the readings that no parameters reach:
 *
 *   min over the box of Σ e_j r_j = −Σ e_j y_j − Σ_i |Σ_j e_j s_ji|  >  Σ |e_j| a_j     (theorem of the alternative, Farkas; textbook).
 *
 * So either answer has its witness, a point that agrees with all or such weights; where neither is found they are taken to be possible.
 * A reading of one parameter alone is a bound, and is taken as one.
 * Method: accelerated projected gradient with restarts (Beck and Teboulle 2009; textbook), rows counted in their own length. Sets are
 * thinned one by one, which leaves one of which none can be left out, and smaller ones are tried while they are few.
 * Worked: u = 0.5, v = 0.5, u + v = 0.6, each ± 0.1: any two can be, of all three the sum is 0.1 too far.
 */
import { allowedBy, type Interval, type Row } from './what-readings-allow.ts';

const MOST_ROUNDS = 2000;
/** The search aims so much inside the tolerances, and gets there. */
const INSIDE = 1e-4;
/** Further apart than rounding. */
const APART = 1e-9;
/** So many sets of one size are tried. */
const MOST_SETS = 5000;

/** Places of the fewest rows that cannot all be true, in order; undefined where all can. One alone may be. */
export function fewestApart(rows: readonly Row[], box: readonly Interval[]): readonly number[] | undefined {
  const cannot = (places: readonly number[]): boolean =>
    cannotAllBe(
      places.map((at) => rows[at] as Row),
      box,
    );
  const all = rows.map((_, at) => at);
  if (!cannot(all)) return undefined;
  const thinned = all.reduce((left, at) => {
    const without = left.filter((each) => each !== at);
    return cannot(without) ? without : left;
  }, all);
  for (let size = 1; size < thinned.length; size++) {
    const found = setsOf(all, size).find(cannot);
    if (found) return found;
  }
  return thinned;
}

/** All sets of a size, in order; none where they are too many. */
function setsOf(all: readonly number[], size: number): (readonly number[])[] {
  let sets: (readonly number[])[] = [[]];
  for (let taken = 0; taken < size; taken++) {
    sets = sets.flatMap((set) => all.filter((at) => at > (set.at(-1) ?? -1)).map((at) => [...set, at]));
    if (sets.length > MOST_SETS) return [];
  }
  return sets;
}

/** Whether it is proved that no point of the box agrees with all. */
export function cannotAllBe(rows: readonly Row[], box: readonly Interval[]): boolean {
  const isBound = ({ slopes }: Row): boolean => slopes.filter((slope) => slope !== 0).length === 1;
  const within = rows.filter(isBound).reduce<readonly Interval[] | undefined>((now, row) => now && allowedBy([row], now), box);
  return (
    within === undefined ||
    isProvedApart(
      rows.filter((row) => !isBound(row)).map((row) => scaled(row, within)),
      within.length,
    )
  );
}

function isProvedApart(lines: readonly Row[], count: number): boolean {
  const steepest = Math.max(...lines.map((line) => lines.reduce((sum, other) => sum + Math.abs(dot(line.slopes, other.slopes)), 0)));
  let point = Array.from({ length: count }, () => 0);
  let ahead = point;
  let pace = 1;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    if (lines.every((line) => Math.abs(offAt(line, point)) <= line.plusMinus)) return false;
    const excess = lines.map((line) => beyond(offAt(line, ahead), line.plusMinus * (1 - INSIDE)));
    if (isProof(excess, lines)) return true;
    if (!(steepest > 0)) return false;
    const pull = sumOf(excess, lines);
    const next = ahead.map((x, i) => Math.min(1, Math.max(-1, x - (pull[i] as number) / steepest)));
    const step = next.map((x, i) => x - (point[i] as number));
    const isBack = dot(pull, step) > 0;
    const faster = isBack ? 1 : (1 + Math.sqrt(1 + 4 * pace * pace)) / 2;
    const carry = isBack ? 0 : (pace - 1) / faster;
    ahead = next.map((x, i) => x + carry * (step[i] as number));
    [point, pace] = [next, faster];
  }
  return false;
}

/** A row over the box about its middle, at length one. */
function scaled({ slopes, value, plusMinus }: Row, box: readonly Interval[]): Row {
  const middle = box.map(({ low, high }) => (low + high) / 2);
  const over = slopes.map((slope, i) => (slope * ((box[i] as Interval).high - (box[i] as Interval).low)) / 2);
  const length = Math.sqrt(dot(over, over)) || 1;
  return { slopes: over.map((slope) => slope / length), value: (value - dot(slopes, middle)) / length, plusMinus: plusMinus / length };
}

function isProof(weights: readonly number[], lines: readonly Row[]): boolean {
  const total = weights.reduce((sum, weight) => sum + Math.abs(weight), 0);
  const least = sumOf(weights, lines).reduce((sum, slope) => sum - Math.abs(slope), 0) - weighed(weights, lines, ({ value }) => value);
  const most = weights.reduce((sum, weight, j) => sum + Math.abs(weight) * (lines[j] as Row).plusMinus, 0);
  return least - most > APART * total;
}

const offAt = ({ slopes, value }: Row, at: readonly number[]): number => dot(slopes, at) - value;
const beyond = (off: number, plusMinus: number): number => Math.sign(off) * Math.max(0, Math.abs(off) - plusMinus);
const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((sum, x, i) => sum + x * (b[i] as number), 0);
const weighed = (weights: readonly number[], lines: readonly Row[], of: (line: Row) => number): number =>
  weights.reduce((sum, weight, j) => sum + weight * of(lines[j] as Row), 0);
const sumOf = (weights: readonly number[], lines: readonly Row[]): number[] =>
  (lines[0]?.slopes ?? []).map((_, i) => weighed(weights, lines, ({ slopes }) => slopes[i] as number));
