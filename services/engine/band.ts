/**
 * How far a number can move within the tolerances of what it rests on. The engine computes on plain numbers; this
 * goes around it and asks again with inputs moved to their ends. Only what an input touches is computed again.
 *
 * Each input is moved alone, both ways; then all of them at once to their worst ends; then one at a time from there
 * for as long as that makes it worse. For a number that is monotone in each input this finds the true ends. It is a
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

type Ends = Map<number, -1 | 0 | 1>;

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

/** From the corner that each input alone points at, to where no single input makes it worse. */
function climb(values: Values, singles: readonly Single[], ask: () => number, better: (a: number, b: number) => boolean): number {
  const tolerance = new Map(singles.map(({ slot }) => [slot, values.toleranceOf(slot)]));
  const put = (slot: number, end: number): void => values.nudge(slot, end * (tolerance.get(slot) as number));
  const ends: Ends = new Map(singles.map(({ slot, down, up }) => [slot, down === up ? 0 : better(up, down) ? 1 : -1]));
  for (const [slot, end] of ends) put(slot, end);
  let found = ask();
  for (let moved = singles.length > 1, rounds = 0; moved && rounds < 3; rounds++) {
    moved = false;
    for (const [slot, end] of ends) {
      for (const other of ([-1, 0, 1] as const).filter((e) => e !== end)) {
        put(slot, other);
        const answer = ask();
        if (better(answer, found)) {
          found = answer;
          ends.set(slot, other);
          moved = true;
        } else put(slot, ends.get(slot) as number);
      }
    }
  }
  for (const { slot } of singles) values.nudge(slot, 0);
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
