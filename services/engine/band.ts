/**
 * How far a number can move within the tolerances of what it rests on. The engine computes on plain numbers; this
 * goes around it and asks again with inputs moved to their ends. Only what an input touches is computed again.
 *
 * Inputs that reach a number through one value alone, as all masses reach a rating through the axle's load, are moved
 * together there: by the band of that value, which is searched once for all that rest on it.
 *
 * Each input is moved alone, both ways; then all of them at once to where each alone is worst. That is the end where
 * inputs do not meddle with each other. Those that do are climbed over, one at a time, from several corners; what bends is followed between its ends. How often
 * is asked grows in proportion to the number of inputs. It is a search, and says so; what proves an end is interval
 * arithmetic over the rule (`proof.ts`).
 */
import { EQUAL_WITHIN, unlessEmpty } from './interpret.ts';
import type { Values } from './values.ts';

export interface Band {
  readonly nominal: number;
  readonly low: number;
  readonly high: number;
  /** By root sum of squares; absent where there is no number or no end. */
  readonly rss: Rss | undefined;
  /** By what part of what it leaves open each slot is moved where the number is at its lowest, and at its highest. */
  readonly worst: ReadonlyMap<number, number>;
  readonly best: ReadonlyMap<number, number>;
  /** How much of the band each input causes, largest first; shares add up to 1. */
  readonly doubt: readonly { readonly slot: number; readonly share: number }[];
  /** By how much further either end is, to first order, with all that models have folded by root sum of squares at its worst at once. */
  readonly folded: number;
}

/**
 * The band by root sum of squares: what each input does alone, squared, summed and rooted. Inputs of different
 * statements are taken as independent. Where each tolerance is what nineteen readings in twenty keep to, so is the band;
 * it holds that where the number moves nearly in a straight line with its inputs.
 */
export interface Rss {
  readonly low: number;
  readonly high: number;
  readonly nearLinear: boolean;
}

/** From one end of an input, -1, over what it is, 0, to the other, 1. */
type At = number;

/** What moves together: the slots of one statement, or one value with all that reaches nothing but through it. */
interface Input {
  move(at: At): void;
  /** By what part of what it leaves open each given slot below it is moved there. */
  readonly given: { readonly down: ReadonlyMap<number, number>; readonly up: ReadonlyMap<number, number> };
  readonly doubt: Band['doubt'];
  /** Its own band by root sum of squares, as parts of its whole one; 1 for what was given. */
  readonly spread: { readonly down: number; readonly up: number; readonly nearLinear: boolean };
}

interface Single {
  readonly down: number;
  readonly up: number;
}

type Better = (a: number, b: number) => boolean;

/** Bands in one vehicle's values, which do not change while they live. */
export class Bands {
  readonly #values: Values;
  readonly #known = new Map<number, Band>();
  readonly #statements = new Map<number, ReadonlySet<number>>();

  constructor(values: Values) {
    this.#values = values;
  }

  /** The band of a value. */
  of(slot: number): Band {
    const known = this.#known.get(slot);
    if (known) return known;
    const ask = (): number => this.#values.read(slot);
    const band = this.#search(ask(), ask, () => this.#inputs(this.#below(slot)));
    this.#known.set(slot, band);
    return band;
  }

  /** The band of an answer that rests on those slots. */
  search(rests: readonly number[], ask: () => number): Band {
    return this.#search(ask(), ask, () => this.#inputs(rests.map((slot) => ({ slot, own: false }))));
  }

  #search(nominal: number, ask: () => number, inputsOf: () => readonly Input[]): Band {
    const inputs = Number.isNaN(nominal) ? [] : inputsOf();
    const probe = new Probe(inputs, () => unlessEmpty(ask));
    const singles = inputs.map((_, i): Single => ({ down: probe.alone(i, -1), up: probe.alone(i, 1) }));
    const doubt = doubtOf(inputs, singles);
    // A tolerance that reaches where the model has no answer leaves no end to that side.
    if ([nominal, ...singles.flatMap(({ down, up }) => [down, up])].some(Number.isNaN))
      return {
        nominal,
        low: Number.NEGATIVE_INFINITY,
        high: Number.POSITIVE_INFINITY,
        rss: undefined,
        worst: new Map(),
        best: new Map(),
        doubt,
        folded: 0,
      };
    const low = endOf(probe, singles, nominal, (a, b) => a < b);
    const high = endOf(probe, singles, nominal, (a, b) => a > b);
    const rss = rssOf(inputs, singles, nominal, low.value, high.value, wakes(probe, singles, nominal, low, high));
    probe.rest();
    probe.ask();
    const swing = singles.reduce((sum, { down, up }) => sum + Math.abs(up - down), 0);
    const folded = doubt.reduce((sum, { slot, share }) => sum + (share * swing * (this.#values.timesAtWorst(slot) - 1)) / 2, 0);
    const ends = { low: low.value, high: high.value, worst: movesOf(inputs, low.ends), best: movesOf(inputs, high.ends) };
    return { nominal, ...ends, rss, doubt, folded: Number.isFinite(folded) ? folded : 0 };
  }

  /** Opens what shares an input with something else, until nothing does; what is left shut is moved as one. */
  #inputs(rests: readonly Item[]): readonly Input[] {
    let items = rests;
    for (;;) {
      const seen = new Map<number, number>();
      for (const item of items) for (const statement of this.#statementsOf(item)) seen.set(statement, (seen.get(statement) ?? 0) + 1);
      const shut = (item: Item): boolean => item.own || [...this.#statementsOf(item)].every((statement) => seen.get(statement) === 1);
      if (items.every(shut)) break;
      items = unique(items.flatMap((item) => (shut(item) ? [item] : this.#below(item.slot))));
    }
    const loose: number[] = [];
    const inputs = items.flatMap((item): Input[] => {
      const whole = this.#statementsOf(item).size > 1 ? this.#whole(item) : undefined;
      if (!whole) loose.push(...this.#givensOf(item));
      return whole ? [whole] : [];
    });
    return [...this.#together(loose), ...inputs];
  }

  /** What a value was computed from, and its model's own error; a given one is itself. */
  #below(slot: number): readonly Item[] {
    const { chosen, inputs, folded } = this.#values.node(slot);
    const below = chosen === 'computed' ? [...inputs].filter((input) => !folded.has(input)) : chosen === undefined ? [...inputs] : [];
    const shared = this.#values.sharedBy(slot);
    const all = shared ? [...below, shared.slot] : below;
    return [{ slot, own: true }, ...all.map((input) => ({ slot: input, own: false }))];
  }

  #givensOf({ slot, own }: Item): readonly number[] {
    return (own ? [slot] : this.#values.givensOf([slot])).filter((given) => this.#values.toleranceOf(given) > 0);
  }

  /** Numbers of the statements below an item that leave something open. */
  #statementsOf(item: Item): ReadonlySet<number> {
    const known = item.own ? undefined : this.#statements.get(item.slot);
    if (known) return known;
    const found = new Set(this.#givensOf(item).map((given) => this.#values.statementOf(given)));
    if (!item.own) this.#statements.set(item.slot, found);
    return found;
  }

  /** One value moved over its own band. Only a number with both ends can be. */
  #whole({ slot }: Item): Input | undefined {
    const type = this.#values.node(slot).signature?.type.is ?? 'number';
    const { nominal, low, high, rss, worst, best, doubt } = this.of(slot);
    if (type !== 'number' || !Number.isFinite(low) || !Number.isFinite(high)) return undefined;
    const move = (at: At): void => this.#values.nudge(slot, at < 0 ? at * (nominal - low) : at * (high - nominal));
    const part = (by: number, whole: number): number => (whole > 0 ? Math.abs(by) / whole : 0);
    const spread = {
      down: part(nominal - (rss?.low ?? low), nominal - low),
      up: part((rss?.high ?? high) - nominal, high - nominal),
      nearLinear: rss?.nearLinear ?? false,
    };
    return { move, given: { down: worst, up: best }, doubt, spread };
  }

  /** Inputs of what was given, those of one statement together. Their doubt is told of the first of them. */
  #together(given: readonly number[]): readonly Input[] {
    const groups = new Map<number, number[]>();
    for (const slot of given) {
      const statement = this.#values.statementOf(slot);
      const group = groups.get(statement);
      if (group) group.push(slot);
      else groups.set(statement, [slot]);
    }
    return [...groups.values()].map((group): Input => {
      const move = (at: At): void => {
        for (const slot of group) this.#values.lean(slot, at);
      };
      const all = (at: At): Map<number, number> => new Map(group.map((slot) => [slot, at]));
      return { move, given: { down: all(-1), up: all(1) }, doubt: [{ slot: group[0] as number, share: 1 }], spread: GIVEN_SPREAD };
    });
  }
}

const GIVEN_SPREAD = { down: 1, up: 1, nearLinear: true } as const;

/** A value with all that is below it, or only what its own statement or model leaves open. */
interface Item {
  readonly slot: number;
  readonly own: boolean;
}

const unique = (items: readonly Item[]): readonly Item[] => [...new Map(items.map((item) => [`${item.slot} ${item.own}`, item])).values()];

/** Asks with inputs moved. Only what has changed since it was last asked is moved again. */
class Probe {
  readonly inputs: readonly Input[];
  readonly #ask: () => number;
  readonly #now: At[];

  constructor(inputs: readonly Input[], ask: () => number) {
    this.inputs = inputs;
    this.#ask = ask;
    this.#now = inputs.map(() => 0);
  }

  at(ends: readonly At[]): number {
    for (let i = 0; i < ends.length; i++) this.#put(i, ends[i] as At);
    return this.#ask();
  }

  alone(i: number, end: At): number {
    this.#put(i, end);
    const answer = this.#ask();
    this.#put(i, 0);
    return answer;
  }

  /** As it now is; what models then leave open of their own is theirs again. */
  ask(): number {
    return this.#ask();
  }

  rest(): void {
    for (let i = 0; i < this.inputs.length; i++) this.#put(i, 0);
  }

  #put(i: number, end: At): void {
    if (this.#now[i] === end) return;
    this.#now[i] = end;
    (this.inputs[i] as Input).move(end);
  }
}

interface Found {
  readonly value: number;
  readonly ends: readonly At[];
}

/** By how much an input may do otherwise among others than alone before it is climbed over, as a part of what it does alone. */
const MEDDLES = 0.25;

/** So many inputs at most are climbed over, those that meddle most. With more, the end is taken as far out as what the others do alone and among others adds up to. */
const MOST_CLIMBED = 16;

function endOf(probe: Probe, singles: readonly Single[], nominal: number, better: Better): Found {
  const pointed = singles.map(({ down, up }): At => (better(up, down) ? (better(up, nominal) ? 1 : 0) : better(down, nominal) ? -1 : 0));
  const alone = singles.map(({ down, up }, i) => (pointed[i] === 1 ? up : pointed[i] === -1 ? down : nominal) - nominal);
  const reached = { value: probe.at(pointed), ends: pointed };
  const doubts = singles.length > 1 ? doubtsAt(probe, singles, nominal, alone, reached, better) : [];
  const loose = doubts.map(({ i }) => i);
  const climbed = loose.slice(0, MOST_CLIMBED);
  const starts = climbed.length > 0 ? [pointed, putAll(pointed, loose, 1), putAll(pointed, loose, -1)] : [];
  const found = starts.map((start) => climb(probe, start, climbed, better));
  const turned = settle(probe, found, reached, climbed, better);
  const beyond = doubts.slice(MOST_CLIMBED).reduce((sum, { doubt }) => sum + doubt, 0);
  const sum = nominal + alone.reduce((total, by) => total + by, 0);
  const wide = [sum, reached.value + beyond, reached.value - beyond].map((value) => ({ value, ends: pointed }));
  const still = { value: nominal, ends: singles.map(() => 0) };
  const corner = [still, ...byItself(singles, better), reached, ...found, ...turned, ...(beyond > 0 ? wide : [])].reduce((a, b) =>
    better(b.value, a.value) ? b : a,
  );
  const bent = followed(probe, corner, bendsIn(probe, corner, singles, nominal, better), better);
  const swing = alone.reduce((total, by) => total + Math.abs(by), 0);
  const passed = singles.length > 1 && Math.abs(reached.value - sum) > TURNS * swing;
  return passed ? along(probe, bent, pointed, better) : bent;
}

/** What was climbed may have turned the others about: each that is better at its other end goes there, and those that meddle are climbed once more. */
function settle(probe: Probe, found: readonly Found[], reached: Found, climbed: readonly number[], better: Better): readonly Found[] {
  const top = found.reduce<Found>((a, b) => (better(b.value, a.value) ? b : a), reached);
  if (top === reached) return [];
  const turned = top.ends.reduce<Found>((at, end, i) => {
    if (end === 0 || climbed.includes(i)) return at;
    const ends = putAll(at.ends, [i], -end);
    const value = probe.at(ends);
    return better(value, at.value) ? { value, ends } : at;
  }, top);
  return turned === top ? [] : [climb(probe, turned.ends, climbed, better)];
}

/** By how much what lies between an input's ends must promise to be better, as a part of all that the inputs do alone. */
const WORTH_A_LOOK = 1e-3;

/** What an input's bend must be, as a part of its slope, for a look just inside its end. */
const BENDS = 0.02;
/** How far inside. */
const INSIDE = 0.02;

/**
 * Inputs whose best is not at an end, the most promising first: as a parabola through what they do alone has it, or because a little inside the end
 * where the corner has them is better already, as where a margin to both sides of a value turns about close to that end.
 */
function bendsIn(probe: Probe, corner: Found, singles: readonly Single[], nominal: number, better: Better): number[] {
  const swing = singles.reduce((sum, { down, up }) => sum + Math.abs(up - nominal) + Math.abs(down - nominal), 0);
  return singles
    .map(({ down, up }, i) => {
      const [bend, slope] = [(up + down) / 2 - nominal, (up - down) / 2];
      const top = nominal - slope ** 2 / (4 * bend);
      const ends = [nominal, down, up].reduce((a, b) => (better(b, a) ? b : a));
      // What turns sharply has its best further out than a parabola, by as much as it slopes at most.
      if (Math.abs(slope) < 2 * Math.abs(bend))
        return { i, gain: better(top, nominal) ? Math.max(Math.abs(top - ends), Math.abs(slope)) : 0 };
      const end = corner.ends[i] as At;
      if (end === 0 || Math.abs(bend) < Math.max(BENDS * Math.abs(slope), WORTH_A_LOOK * swing)) return { i, gain: 0 };
      const inside = probe.at(putAll(corner.ends, [i], end * (1 - INSIDE)));
      return { i, gain: better(inside, corner.value) ? Math.abs(inside - corner.value) / INSIDE : 0 };
    })
    .filter(({ gain }) => gain > WORTH_A_LOOK * swing)
    .sort((a, b) => b.gain - a.gain || a.i - b.i)
    .slice(0, MOST_CLIMBED)
    .map(({ i }) => i);
}

/** Each of them followed between its ends, and some rounds more while one lets another go further, as the greater of two is let down by both. */
function followed(probe: Probe, corner: Found, bends: readonly number[], better: Better): Found {
  let found = corner;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const next = bends.reduce((at, i) => between(probe, at, i, better), found);
    if (!better(next.value, found.value) || bends.length < 2) return next;
    found = next;
  }
  return found;
}

/** By how much less than their sum all inputs together may do before the way to their corner is searched, as a part of what they do alone. */
const TURNS = 0.05;

const GOLDEN = (Math.sqrt(5) - 1) / 2;
const STEPS = 20;

/** The best of one input over all of its tolerance, the others where they are. */
function between(probe: Probe, found: Found, i: number, better: Better): Found {
  const at = (end: At): Found => {
    const ends = putAll(found.ends, [i], end);
    return { value: probe.at(ends), ends };
  };
  return bestWithin(-1, 1, at, found, better);
}

/** By golden section; what was found already, if nothing on the way is better. */
function bestWithin(first: number, last: number, at: (x: number) => Found, found: Found, better: Better): Found {
  let [from, to] = [first, last];
  let best = found;
  const look = (x: number): number => {
    const there = at(x);
    if (better(there.value, best.value)) best = there;
    return there.value;
  };
  let [left, right] = [to - GOLDEN * (to - from), from + GOLDEN * (to - from)];
  let [atLeft, atRight] = [look(left), look(right)];
  for (let step = 0; step < STEPS; step++) {
    if (better(atLeft, atRight)) {
      [to, right, atRight] = [right, left, atLeft];
      left = to - GOLDEN * (to - from);
      atLeft = look(left);
    } else {
      [from, left, atLeft] = [left, right, atRight];
      right = from + GOLDEN * (to - from);
      atRight = look(right);
    }
  }
  return best;
}

/** The best on the way from where nothing is moved to that corner, all inputs by the same part: a sum of them may turn where none does alone. */
function along(probe: Probe, found: Found, corner: readonly At[], better: Better): Found {
  const to = (part: number): Found => {
    const ends = corner.map((end) => end * part);
    return { value: probe.at(ends), ends };
  };
  return bestWithin(0, 1, to, found, better);
}

const putAll = (ends: readonly At[], which: readonly number[], end: At): readonly At[] =>
  ends.map((at, i) => (which.includes(i) ? end : at));

/** What one input does alone counts too: together they may do less. */
function byItself(singles: readonly Single[], better: Better): Found[] {
  const best = singles
    .flatMap(({ down, up }, i) => [
      { value: down, i, end: -1 },
      { value: up, i, end: 1 },
    ])
    .reduce<{ value: number; i: number; end: At } | undefined>((a, b) => (a && !better(b.value, a.value) ? a : b), undefined);
  return best ? [{ value: best.value, ends: singles.map((_, i) => (i === best.i ? best.end : 0)) }] : [];
}

/**
 * Inputs that the corner they point at leaves in doubt, the most doubtful first: those that turn, moving the answer the
 * same way at both their ends; those that do nothing alone, at one end at least, and something there; and where all do much together that they
 * do not do alone, those that do otherwise there.
 */
function doubtsAt(
  probe: Probe,
  singles: readonly Single[],
  nominal: number,
  alone: readonly number[],
  reached: Found,
  better: Better,
): { readonly i: number; readonly doubt: number }[] {
  const { value, ends } = reached;
  const noise = EQUAL_WITHIN * Math.max(1, Math.abs(value));
  const doubts = singles.map(({ down, up }) => ((down - nominal) * (up - nominal) > 0 ? Math.abs(down + up - 2 * nominal) : 0));
  const raise = (i: number, by: number): void => {
    doubts[i] = Math.max(doubts[i] as number, by);
  };
  // Tied contacts, say: neither is let off by itself, and both together are.
  const idle = singles.flatMap(({ down, up }, i) => (ends[i] === 0 && (down === nominal || up === nominal) ? [i] : []));
  const idly = (end: At): readonly At[] =>
    ends.map((at, i) => (idle.includes(i) ? ((end < 0 ? singles[i]?.down : singles[i]?.up) === nominal ? end : -end) : at));
  const awake = idle.length === 0 ? 0 : Math.max(...[1, -1].map((end) => Math.abs(probe.at(idly(end)) - value)));
  if (awake > noise) {
    for (const i of idle)
      for (const end of [1, -1]) raise(i, Math.max(awake / idle.length, Math.abs(probe.at(putAll(ends, [i], end)) - value)));
  }
  const together = Math.abs(value - nominal - alone.reduce((sum, by) => sum + by, 0));
  if (together > noise) {
    const much = together > MEDDLES * Math.abs(alone.reduce((sum, by) => sum + by, 0));
    for (const [i, { down, up }] of singles.entries()) {
      if (ends[i] === 0) continue;
      const other = probe.at(putAll(ends, [i], -(ends[i] as At)));
      const swing = ends[i] === 1 ? up - down : down - up;
      const otherwise = Math.abs(value - other - swing);
      if (better(other, value) || (much && otherwise > MEDDLES * Math.abs(swing))) raise(i, Math.max(noise, otherwise));
    }
  }
  return doubts
    .map((doubt, i) => ({ doubt, i }))
    .filter(({ doubt }) => doubt > 0)
    .sort((a, b) => b.doubt - a.doubt || a.i - b.i);
}

const MOST_ROUNDS = 3;

/** Changes one of those inputs at a time for as long as that makes it better. */
function climb(probe: Probe, start: readonly At[], which: readonly number[], better: Better): Found {
  let found: Found = { value: probe.at(start), ends: start };
  for (let round = 0, moving = true; moving && round < MOST_ROUNDS; round++) {
    moving = false;
    for (const i of which) {
      for (const end of [-1, 0, 1].filter((other) => other !== found.ends[i])) {
        const ends = putAll(found.ends, [i], end);
        const value = probe.at(ends);
        if (!better(value, found.value)) continue;
        found = { value, ends };
        moving = true;
      }
    }
  }
  return found;
}

/** How much of a band, by root sum of squares or whole, may be due to bends and to inputs that meddle for it to count as straight. */
const STRAIGHT_WITHIN = 0.1;

/** What does nothing alone does something at one of the ends, as the lesser of two contacts where the other one is let off. */
function wakes(probe: Probe, singles: readonly Single[], nominal: number, low: Found, high: Found): boolean {
  const idle = singles.flatMap(({ down, up }, i) => (down === nominal && up === nominal ? [i] : []));
  const much = STRAIGHT_WITHIN * (high.value - low.value);
  const turned = ({ value, ends }: Found): boolean => [1, -1].some((end) => Math.abs(probe.at(putAll(ends, idle, end)) - value) > much);
  return idle.length > 0 && [low, high].some(turned);
}

function rssOf(
  inputs: readonly Input[],
  singles: readonly Single[],
  nominal: number,
  low: number,
  high: number,
  turned: boolean,
): Rss | undefined {
  if (!Number.isFinite(nominal + low + high)) return undefined;
  let [below, above, bends, alone] = [0, 0, 0, 0];
  let nearLinear = !turned;
  for (const [i, { down, up }] of singles.entries()) {
    const { spread } = inputs[i] as Input;
    const [atDown, atUp] = [(down - nominal) * spread.down, (up - nominal) * spread.up];
    below += Math.min(0, atDown, atUp) ** 2;
    above += Math.max(0, atDown, atUp) ** 2;
    bends += Math.abs(atDown + atUp);
    alone += Math.abs(up - down);
    nearLinear &&= spread.nearLinear || up === down;
  }
  const half = (Math.sqrt(below) + Math.sqrt(above)) / 2;
  const meddled = Math.abs(high - low - alone);
  nearLinear &&= bends / 2 <= STRAIGHT_WITHIN * half && meddled <= STRAIGHT_WITHIN * (high - low);
  return { low: Math.max(low, nominal - Math.sqrt(below)), high: Math.min(high, nominal + Math.sqrt(above)), nearLinear };
}

/** Of what was given, by what part each is moved. */
function movesOf(inputs: readonly Input[], ends: readonly At[]): Map<number, number> {
  return new Map(
    inputs.flatMap(({ given: { down, up } }, i) => {
      const end = ends[i] as At;
      return end === 0 ? [] : [...(end < 0 ? down : up)].map(([slot, part]) => [slot, Math.abs(end) * part] as const);
    }),
  );
}

function doubtOf(inputs: readonly Input[], singles: readonly Single[]): Band['doubt'] {
  const swings = singles.map(({ down, up }) => Math.abs(up - down));
  const total = swings.reduce((sum, swing) => sum + swing, 0);
  const moving = swings.filter((swing) => swing > 0).length;
  return inputs
    .flatMap(({ doubt }, i) => {
      const swing = swings[i] as number;
      const share = Number.isFinite(total) ? swing / total : 1 / moving;
      return swing > 0 ? doubt.map((each) => ({ slot: each.slot, share: share * each.share })) : [];
    })
    .sort((a, b) => b.share - a.share || a.slot - b.slot);
}
