/**
 * One front corner before and after its parts are changed, with how far each answer may be off for what the drawing
 * leaves open.
 *
 * A drawing is a row of numbers with half-widths (hardpoints, lengths, rates). A class of vehicle knows them roughly,
 * a bench-measured truck well; nobody answers for them one by one. So each is moved by its half-width on its own, up and down, and
 * the further ways are added as a tolerance stack-up does (textbook, memory), both ways: as they are, which is the worst that all of them can do
 * together, and by root sum of squares, as independent and small. Both to first order.
 * What a reading pins down (a gap, a lock angle) is not folded in here: it is an input of its own.
 *
 * Numbers that were made to agree with readings together leave less than that (`leftTogether`); the worst case takes each as it is by itself.
 */
import { type HalfWidths, LOOSE, leftTogether, type Pin } from '../../units/index.ts';
import { found, type Outcome } from '../result.ts';
import { ByNumbers } from './by-numbers.ts';
import { type Linkage, type LinkageChange, makeLinkage } from './double-wishbone.ts';
import type { FrontCorner, Hardpoints } from './geometry.ts';
import { type Bench, makeBench, type Range, type TravelEnds, travelEnds, travelRange } from './travel.ts';

/** A corner with its parts, as a drawing describes it. */
export interface Described {
  readonly corner: FrontCorner;
  readonly change: LinkageChange;
  /** What its spring carries, N. */
  readonly sprungLoad: number;
}

/** Ready to be posed and asked where its stops are. */
export interface Fitted extends Described {
  readonly linkage: Linkage;
  readonly bench: Bench;
}

/** With the range that its damper and bump stop leave it. */
export interface End extends Fitted, Range {
  /** All that could end its travel, in order; made when first asked for. */
  readonly ends: () => Outcome<TravelEnds>;
}

/** Builds the corner before and after from the drawing's numbers. */
export type Build = (numbers: readonly number[]) => readonly [Described, Described];

export type When = 'before' | 'after';

/** A number of a corner that may be a moved one. */
export type Moving = (fitted: Fitted, when: When) => number;

export interface FrontStudy {
  readonly before: End;
  readonly after: End;
  /**
   * Half-widths of an answer of one state, or of the difference between both. NaN answers of a moved drawing leave it
   * open: infinite.
   */
  spread(of: When | 'change', answer: Moving): HalfWidths;
  /**
   * The same for one answer asked several ways: moved drawings answer once. What is known otherwise of the answer before, to within half-widths,
   * pins the drawing down as far as the difference goes with it (`changeSpread`).
   */
  spreads(answer: Moving): (of: When | 'change', pinned?: HalfWidths) => HalfWidths;
}

/**
 * Corners made ready, by what they are. A moved number leaves most states of a front what they were, rounds of work and
 * other checks share them, and what is the same object need not be asked again.
 */
export class Corners {
  readonly #benches: ByNumbers<Outcome<Bench>>;
  readonly #linkages: ByNumbers<Outcome<Linkage>>;
  readonly #ends = new WeakMap<Bench, Outcome<TravelEnds>>();

  /** So many are kept before all are forgotten. */
  constructor(most: number) {
    this.#benches = new ByNumbers(most);
    this.#linkages = new ByNumbers(most);
  }

  linkage(hardpoints: Hardpoints, change: LinkageChange = {}): Outcome<Linkage> {
    return this.#linkages.get(numbersIn(change, numbersIn(hardpoints, [])), () => makeLinkage(hardpoints, change));
  }

  ends(bench: Bench): Outcome<TravelEnds> {
    const known = this.#ends.get(bench);
    if (known) return known;
    const ends = travelEnds(bench);
    this.#ends.set(bench, ends);
    return ends;
  }

  ready(described: Described): Outcome<Fitted> {
    const { corner, change } = described;
    const bench = this.#benches.get(numbersIn(change, numbersIn(corner, [])), () => {
      const linkage = this.linkage(corner.hardpoints, change);
      return linkage.ok ? found(makeBench(linkage.value, corner)) : linkage;
    });
    return bench.ok ? found({ ...described, linkage: bench.value.linkage, bench: bench.value }) : bench;
  }
}

const keys = new Map<string, number>();

/** All numbers below a value, each field marked by a number of its name, so that what is absent tells two values apart. */
function numbersIn(value: object, into: number[]): number[] {
  for (const key in value) {
    const field = (value as Readonly<Record<string, unknown>>)[key];
    if (field === undefined) continue;
    if (!Array.isArray(value)) into.push(keyNumber(key));
    if (typeof field === 'number') into.push(field);
    else if (typeof field === 'object' && field !== null) numbersIn(field, into);
    else into.push(keyNumber(String(field)));
  }
  return into;
}

function keyNumber(key: string): number {
  const known = keys.get(key) ?? keys.size;
  if (known === keys.size) keys.set(key, known);
  return known;
}

/** `pins`: of each number; none where nothing was made to agree. */
export function studyFront(
  build: Build,
  numbers: readonly number[],
  halfWidths: readonly HalfWidths[],
  corners = new Corners(1024),
  pins: readonly Pin[] = [],
): Outcome<FrontStudy> {
  const [first, second] = build(numbers);
  const before = endOf(first, corners);
  if (!before.ok) return before;
  const after = endOf(second, corners);
  if (!after.ok) return after;
  const ends: Pair = { before: before.value, after: after.value };
  let moved: readonly Moved[] | undefined;
  const offs = (answer: Moving): readonly Off[] => {
    moved ??= movedDrawings(build, numbers, halfWidths, corners, pins);
    const nominal = { before: answer(before.value, 'before'), after: answer(after.value, 'after') };
    // What a moved number leaves what it was answers the same.
    const one = (fitted: Fitted, when: When): number =>
      fitted.bench === ends[when].bench && fitted.sprungLoad === ends[when].sprungLoad ? nominal[when] : answer(fitted, when);
    const of = (pair: Pair): Answers => ({ before: one(pair.before, 'before'), after: one(pair.after, 'after') });
    return moved.map(({ up, down, worst, pin }) => ({ sides: sides(nominal, up && of(up), down && of(down)), worst, pin }));
  };
  const spreads: FrontStudy['spreads'] = (answer) => {
    let all: readonly Off[] | undefined;
    const known = new Map<string, HalfWidths>();
    return (of, pinned = UNPINNED) => {
      const key = `${of} ${pinned.worst} ${pinned.rss}`;
      const before = known.get(key);
      if (before !== undefined) return before;
      all ??= offs(answer);
      const spread = of === 'change' ? changeSpread(all, pinned) : added(all, (off) => off[of]);
      known.set(key, spread);
      return spread;
    };
  };
  return found({ before: before.value, after: after.value, spread: (of, answer) => spreads(answer)(of), spreads });
}

const UNPINNED: HalfWidths = { worst: Number.POSITIVE_INFINITY, rss: Number.POSITIVE_INFINITY };

/** How far a moved drawing takes an answer in each state. */
interface Answers {
  readonly before: number;
  readonly after: number;
}

/** A number moved up, and down with the sign turned: alike where the answer is straight in it. */
interface Off {
  readonly sides: readonly [Answers, Answers];
  /** By how much further the number may be moved than it was. */
  readonly worst: number;
  readonly pin: Pin;
}

/** The further way of the two, with its sign: a bend, as of the least over both ends of travel, is felt one way only. */
function further({ sides: [up, down] }: Off, by: By): number {
  const [one, other] = [by(up), by(down)];
  return Math.abs(one) >= Math.abs(other) ? one : other;
}

type By = (off: Answers) => number;

const added = (offs: readonly Off[], by: By): HalfWidths => {
  const worst = offs.reduce((sum, off) => sum + Math.abs(further(off, by)) * off.worst, 0);
  const together = (): number => leftTogether(offs.map((off) => ({ by: further(off, by), pin: off.pin }))).left;
  return { worst, rss: Number.isFinite(worst) ? together() : worst };
};

/**
 * Of the difference between both states, where the answer before is known otherwise to within what it is pinned to. Off the drawing by
 * Σ b u before and Σ c u in the difference, the numbers moved by their parts u, whatever `along` is
 *
 *   Σ c u = Σ (c − along b) u + along Σ b u.
 *
 * By root sum of squares `along` is that of the linear regression of the one on the other; the worst case takes the one that leaves least,
 * which is then all it can be (a linear programme's dual). Both are found for slopes midway between the two sides, and hold for either.
 */
function changeSpread(offs: readonly Off[], pinned: HalfWidths): HalfWidths {
  const free = added(offs, change);
  const before = added(offs, (off) => off.before);
  if (!Number.isFinite(before.worst + free.worst)) return free;
  const left = (along: number): HalfWidths => {
    const rest = added(offs, (off) => change(off) - along * off.before);
    const by = Math.abs(along);
    return { worst: rest.worst + (by && by * pinned.worst), rss: Math.hypot(rest.rss, by && by * pinned.rss) };
  };
  const midway = offs.map(({ sides: [up, down], worst, pin }) => ({
    worst,
    pin,
    before: (up.before + down.before) / 2,
    change: (change(up) + change(down)) / 2,
  }));
  const regression = alongBefore(midway);
  const worst = Math.min(free.worst, left(leastAlong(midway, pinned.worst)).worst);
  return { worst, rss: Math.min(worst, pinned.rss < before.rss && Number.isFinite(regression) ? left(regression).rss : free.rss) };
}

const change = ({ before, after }: Answers): number => after - before;

/** An effect midway between those of the two ways. */
interface Midway {
  readonly before: number;
  readonly change: number;
  readonly worst: number;
  readonly pin: Pin;
}

/** How the difference goes with the answer before: Σ b c / Σ b², with numbers that agree with readings as they go together. */
function alongBefore(offs: readonly Midway[]): number {
  const left = (by: (off: Midway) => number): number => leftTogether(offs.map((off) => ({ by: by(off), pin: off.pin }))).left ** 2;
  const both = left((off) => off.before + off.change) - left((off) => off.before - off.change);
  return both / 4 / left((off) => off.before);
}

/** Where Σ w |c − along b| + |along| pinned is least: at a weighted median of the ratios c / b, and of none at the weight of what it is pinned to. */
function leastAlong(offs: readonly Midway[], pinned: number): number {
  const turns = offs.flatMap((off) =>
    off.before === 0 ? [] : [{ along: off.change / off.before, weight: off.worst * Math.abs(off.before) }],
  );
  const all = [...turns, { along: 0, weight: pinned }].sort((a, b) => a.along - b.along);
  const half = all.reduce((sum, { weight }) => sum + weight, 0) / 2;
  let below = 0;
  for (const { along, weight } of Number.isFinite(half) ? all : []) {
    below += weight;
    if (below >= half) return along;
  }
  return 0;
}

type Pair = { readonly before: Fitted; readonly after: Fitted };

interface Moved {
  readonly up: Pair | undefined;
  readonly down: Pair | undefined;
  readonly worst: number;
  readonly pin: Pin;
}

/** What has no answer one way is taken for as far off as the other way; what has none either way is open. */
function sides(nominal: Answers, up: Answers | undefined, down: Answers | undefined): Off['sides'] {
  const off = (answers: Answers | undefined, way: 1 | -1): Answers | undefined =>
    answers && !Number.isNaN(answers.before + answers.after)
      ? { before: way * (answers.before - nominal.before), after: way * (answers.after - nominal.after) }
      : undefined;
  const [one, other] = [off(up, 1), off(down, -1)];
  const known = one ?? other ?? OPEN;
  return [one ?? known, other ?? known];
}

const OPEN: Answers = { before: Number.POSITIVE_INFINITY, after: Number.POSITIVE_INFINITY };

function movedDrawings(
  build: Build,
  numbers: readonly number[],
  halfWidths: readonly HalfWidths[],
  corners: Corners,
  pins: readonly Pin[],
): readonly Moved[] {
  const at = (i: number, by: number): Pair | undefined => {
    const [before, after] = build(numbers.map((n, k) => (k === i ? n + by : n)));
    const [a, b] = [corners.ready(before), corners.ready(after)];
    return a.ok && b.ok ? { before: a.value, after: b.value } : undefined;
  };
  return halfWidths.flatMap(({ worst, rss: width }, i) =>
    width > 0 ? [{ up: at(i, width), down: at(i, -width), worst: worst / width, pin: pins[i] ?? LOOSE }] : [],
  );
}

function endOf(described: Described, corners: Corners): Outcome<End> {
  const fitted = corners.ready(described);
  if (!fitted.ok) return fitted;
  const { bench } = fitted.value;
  const range = travelRange(bench);
  if (!range.ok) return range;
  return found({ ...fitted.value, ...range.value, ends: () => corners.ends(bench) });
}
