/**
 * How far a number can move within the tolerances of what it rests on. The engine computes on plain numbers; this
 * goes around it and asks again with inputs moved to their ends. Only what an input touches is computed again.
 *
 * Each input is moved alone, both ways; then all of them at once to their worst ends; then one at a time from there,
 * and from other corners, for as long as that makes it worse. For a number that is monotone in each input this finds the true ends. It is a
 * search all the same, and says so; what proves an end is interval arithmetic over the rule (`proveBand`).
 */
import { EmptyFold } from './interpret.ts';
import type { Values } from './values.ts';

export interface Band {
  readonly nominal: number;
  readonly low: number;
  readonly high: number;
  /** How much of the band each input causes, largest first; shares add up to 1. */
  readonly doubt: readonly { readonly slot: number; readonly share: number }[];
}

export function searchBand(values: Values, rests: readonly number[], ask: () => number): Band {
  const nominal = ask();
  const again = (): number => unlessEmpty(ask);
  const inputs = Number.isNaN(nominal) ? [] : values.givensOf(rests).filter((slot) => values.toleranceOf(slot) > 0);
  const singles = inputs.map((slot) => ({ slot, down: asked(values, slot, -1, again), up: asked(values, slot, 1, again) }));
  const seen = [nominal, ...singles.flatMap(({ down, up }) => [down, up])];
  // A tolerance that reaches where the model has no answer leaves no end to that side.
  if (seen.some(Number.isNaN)) return { nominal, low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY, doubt: doubtOf(singles) };
  const worst = climb(values, singles, again, (a, b) => a < b);
  const best = climb(values, singles, again, (a, b) => a > b);
  return { nominal, low: Math.min(...seen, worst), high: Math.max(...seen, best), doubt: doubtOf(singles) };
}

/** A fold that runs empty only at some end of the tolerances has no answer there. */
function unlessEmpty(ask: () => number): number {
  try {
    return ask();
  } catch (error) {
    if (error instanceof EmptyFold) return Number.NaN;
    throw error;
  }
}

interface Single {
  readonly slot: number;
  readonly down: number;
  readonly up: number;
}

function asked(values: Values, slot: number, end: -1 | 1, ask: () => number): number {
  values.nudge(slot, end * values.toleranceOf(slot));
  const answer = ask();
  values.nudge(slot, 0);
  return answer;
}

type End = -1 | 0 | 1;

/**
 * Climbs from several corners to where no single input makes it worse: from the one that each input alone points at, and
 * from the two where all inputs are at the same end, since inputs that do nothing alone may do much together.
 */
function climb(values: Values, singles: readonly Single[], ask: () => number, better: (a: number, b: number) => boolean): number {
  const tolerances = singles.map(({ slot }) => values.toleranceOf(slot));
  const put = (i: number, end: End): void => values.nudge((singles[i] as Single).slot, end * (tolerances[i] as number));
  const pointed = singles.map(({ down, up }): End => (down === up ? 0 : better(up, down) ? 1 : -1));
  const starts = singles.length > 1 ? [pointed, singles.map((): End => 1), singles.map((): End => -1)] : [pointed];
  const found = starts.map((start) => climbFrom(start, put, ask, better));
  for (const { slot } of singles) values.nudge(slot, 0);
  return found.reduce((a, b) => (better(b, a) ? b : a));
}

const MOST_ROUNDS = 3;

function climbFrom(start: readonly End[], put: (i: number, end: End) => void, ask: () => number, better: (a: number, b: number) => boolean): number {
  const ends = [...start];
  ends.forEach((end, i) => put(i, end));
  let found = ask();
  for (let moved = ends.length > 1, rounds = 0; moved && rounds < MOST_ROUNDS; rounds++) {
    moved = false;
    ends.forEach((end, i) => {
      for (const other of ([-1, 0, 1] as const).filter((e) => e !== end)) {
        put(i, other);
        const answer = ask();
        if (!better(answer, found)) continue;
        found = answer;
        ends[i] = other;
        moved = true;
      }
      put(i, ends[i] as End);
    });
  }
  return found;
}

function doubtOf(singles: readonly Single[]): Band['doubt'] {
  const swings = singles.map(({ slot, down, up }) => ({ slot, swing: Math.abs(up - down) }));
  const total = swings.reduce((sum, { swing }) => sum + swing, 0);
  return swings
    .filter(({ swing }) => swing > 0)
    .map(({ slot, swing }) => ({ slot, share: Number.isFinite(total) ? swing / total : 1 / swings.length }))
    .sort((a, b) => b.share - a.share || a.slot - b.slot);
}
