/**
 * How far a number can move within the tolerances of what it rests on. The engine computes on plain numbers; this
 * goes around it and asks again with inputs moved to their ends. Only what an input touches is computed again.
 *
 * Each input is moved alone, both ways; then all of them at once to their worst ends; then one at a time from there,
 * and from other corners, for as long as that makes it worse. For a number that is monotone in each input this finds the true ends. It is a
 * search all the same, and says so; what proves an end is interval arithmetic over the rule (`proveBand`).
 */
import { unlessEmpty } from './interpret.ts';
import type { Values } from './values.ts';

export interface Band {
  readonly nominal: number;
  readonly low: number;
  readonly high: number;
  /** How far each slot is moved where it is at its lowest. */
  readonly worst: ReadonlyMap<number, number>;
  /** How much of the band each input causes, largest first; shares add up to 1. */
  readonly doubt: readonly { readonly slot: number; readonly share: number }[];
}

export function searchBand(values: Values, rests: readonly number[], ask: () => number): Band {
  const nominal = ask();
  const inputs = Number.isNaN(nominal) ? [] : inputsOf(values, rests);
  const again = (): number => unlessEmpty(ask);
  const singles = inputs.map((input) => ({ input, down: moved(values, input, -1, again), up: moved(values, input, 1, again) }));
  const seen = [nominal, ...singles.flatMap(({ down, up }) => [down, up])];
  // A tolerance that reaches where the model has no answer leaves no end to that side.
  if (seen.some(Number.isNaN)) {
    return { nominal, low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY, worst: new Map(), doubt: doubtOf(singles) };
  }
  const worst = corner(values, singles, nominal, again, (a, b) => a < b);
  const best = corner(values, singles, nominal, again, (a, b) => a > b);
  return { nominal, low: worst.value, high: best.value, worst: movesOf(values, singles, worst.ends), doubt: doubtOf(singles) };
}

function movesOf(values: Values, singles: readonly Single[], ends: readonly End[]): Map<number, number> {
  return new Map(
    singles.flatMap(({ input }, i) => (ends[i] ? input.map((slot) => [slot, (ends[i] as End) * values.toleranceOf(slot)] as const) : [])),
  );
}

/** Slots that move together: those one statement gave. */
type Input = readonly number[];

interface Single {
  readonly input: Input;
  readonly down: number;
  readonly up: number;
}

function inputsOf(values: Values, rests: readonly number[]): readonly Input[] {
  const groups = new Map<number, number[]>();
  for (const slot of values.givensOf(rests)) {
    if (!(values.toleranceOf(slot) > 0)) continue;
    const statement = values.statementOf(slot);
    const group = groups.get(statement);
    if (group) group.push(slot);
    else groups.set(statement, [slot]);
  }
  return [...groups.values()];
}

type End = -1 | 0 | 1;

function put(values: Values, input: Input, end: End): void {
  for (const slot of input) values.nudge(slot, end === 0 ? 0 : end * values.toleranceOf(slot));
}

function moved(values: Values, input: Input, end: End, ask: () => number): number {
  put(values, input, end);
  const answer = ask();
  put(values, input, 0);
  return answer;
}

/** What the last bits of sums in another order may differ by. */
const NOISE = 1e-9;

/** By how much a corner may differ from the sum of what each input does alone before that counts as acting together. */
const TOGETHER = 0.25;

/**
 * The end at the corner that each input alone points at. That is the true end where every input is monotone. One climbs
 * on from there, and from the two corners where all inputs are at the same end, where that is in doubt: an input moves it
 * the same way at both its ends, or does nothing alone but something at the corner, or they do much together.
 */
function corner(
  values: Values,
  singles: readonly Single[],
  nominal: number,
  ask: () => number,
  better: (a: number, b: number) => boolean,
): Found {
  const pointed = singles.map(({ down, up }): End => (better(up, down) ? (better(up, nominal) ? 1 : 0) : better(down, nominal) ? -1 : 0));
  const alone = singles.reduce((sum, { down, up }, i) => sum + (pointed[i] === 1 ? up : pointed[i] === -1 ? down : nominal) - nominal, 0);
  const climbs = new Climb(
    values,
    singles.map(({ input }) => input),
    ask,
    better,
  );
  const reached = { value: climbs.at(pointed), ends: pointed };
  const together = Math.abs(reached.value - nominal - alone) > TOGETHER * Math.abs(alone) + Number.EPSILON * Math.abs(nominal);
  const turning = singles.some(({ down, up }) => (down - nominal) * (up - nominal) > 0);
  const doubtful =
    singles.length > 1 &&
    (together ||
      turning ||
      climbs.wakes(
        singles.map(({ down, up }) => down === nominal && up === nominal),
        reached,
      ));
  const start = { value: nominal, ends: singles.map((): End => 0) };
  const found = doubtful ? climbs.all([pointed, singles.map((): End => 1), singles.map((): End => -1)]) : [reached];
  climbs.done();
  return [...found, ...singles.flatMap((single, i) => byItself(single, i, singles.length))].reduce(
    (a, b) => (better(b.value, a.value) ? b : a),
    start,
  );
}

interface Found {
  readonly value: number;
  readonly ends: readonly End[];
}

/** What one input does alone counts too: together they may do less. */
function byItself({ down, up }: Single, i: number, n: number): readonly Found[] {
  const only = (end: End): End[] => Array.from({ length: n }, (_, j): End => (j === i ? end : 0));
  return [
    { value: down, ends: only(-1) },
    { value: up, ends: only(1) },
  ];
}

const MOST_ROUNDS = 3;

class Climb {
  readonly #values: Values;
  readonly #inputs: readonly Input[];
  readonly #ask: () => number;
  readonly #better: (a: number, b: number) => boolean;

  constructor(values: Values, inputs: readonly Input[], ask: () => number, better: (a: number, b: number) => boolean) {
    this.#values = values;
    this.#inputs = inputs;
    this.#ask = ask;
    this.#better = better;
  }

  at(ends: readonly End[]): number {
    ends.forEach((end, i) => this.#put(i, end));
    return this.#ask();
  }

  /** Whether inputs that do nothing alone do something at a corner. */
  wakes(idle: readonly boolean[], { value, ends }: Found): boolean {
    if (!idle.includes(true)) return false;
    return ([1, -1] as const).some(
      (end) => Math.abs(this.at(ends.map((at, i) => (idle[i] ? end : at))) - value) > NOISE * Math.max(1, Math.abs(value)),
    );
  }

  all(starts: readonly (readonly End[])[]): readonly Found[] {
    return starts.map((start) => this.#from(start));
  }

  done(): void {
    this.#inputs.forEach((_, i) => this.#put(i, 0));
  }

  #put(i: number, end: End): void {
    put(this.#values, this.#inputs[i] as Input, end);
  }

  /** Changes one input at a time for as long as that makes it better. */
  #from(start: readonly End[]): Found {
    const ends = [...start];
    let found = this.at(ends);
    for (let moving = true, rounds = 0; moving && rounds < MOST_ROUNDS; rounds++) {
      moving = false;
      for (const i of ends.keys()) {
        const better = this.#betterEnd(i, ends[i] as End, found);
        if (better) {
          ends[i] = better.end;
          found = better.answer;
          moving = true;
        }
        this.#put(i, ends[i] as End);
      }
    }
    return { value: found, ends };
  }

  #betterEnd(i: number, now: End, found: number): { readonly end: End; readonly answer: number } | undefined {
    let best: { end: End; answer: number } | undefined;
    for (const end of ([-1, 0, 1] as const).filter((other) => other !== now)) {
      this.#put(i, end);
      const answer = this.#ask();
      if (this.#better(answer, best?.answer ?? found)) best = { end, answer };
    }
    return best;
  }
}

/** The doubt of slots that move together is told of the first of them. */
function doubtOf(singles: readonly Single[]): Band['doubt'] {
  const swings = singles.map(({ input, down, up }) => ({ slot: input[0] as number, swing: Math.abs(up - down) }));
  const total = swings.reduce((sum, { swing }) => sum + swing, 0);
  return swings
    .filter(({ swing }) => swing > 0)
    .map(({ slot, swing }) => ({ slot, share: Number.isFinite(total) ? swing / total : 1 / swings.length }))
    .sort((a, b) => b.share - a.share || a.slot - b.slot);
}

/** The slots of a node's own band are asked once; values do not change while a world lives. */
export class Bands {
  readonly #values: Values;
  readonly #known = new Map<number, Band>();

  constructor(values: Values) {
    this.#values = values;
  }

  of(slot: number): Band {
    const known = this.#known.get(slot);
    if (known) return known;
    const band = searchBand(this.#values, [slot], () => this.#values.read(slot));
    this.#known.set(slot, band);
    return band;
  }
}
