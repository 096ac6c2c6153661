/**
 * One front corner before and after its parts are changed, with how far each answer may be off for what the drawing
 * leaves open.
 *
 * A drawing is a row of numbers with half-widths (hardpoints, lengths, rates). A class of vehicle knows them roughly,
 * a bench-measured truck well; nobody answers for them one by one. So each is moved by its half-width on its own and
 * the effects are added root-sum-square: independent and small, as a tolerance stack-up does (textbook, memory).
 * What a reading pins down (a gap, a lock angle) is not folded in here: it is an input of its own.
 */
import { found, type Outcome, refused } from '../result.ts';
import { type Linkage, type LinkageChange, makeLinkage } from './double-wishbone.ts';
import type { FrontCorner } from './geometry.ts';
import { hangingTravel, type StopName, stopMargin, type TravelEnds, travelEnds } from './travel.ts';

/** A corner as it is fitted, ready to be posed. */
export interface Fitted {
  readonly corner: FrontCorner;
  readonly change: LinkageChange;
  /** What its spring carries, N. */
  readonly sprungLoad: number;
  readonly linkage: Linkage;
}

export interface End extends Fitted {
  readonly ends: TravelEnds;
  /** Wheel travel at which it hangs, and at which it is hard up: from design, + in bump. */
  readonly droop: number;
  readonly bump: number;
  /** What stops it there. */
  readonly droopStop: StopName;
  readonly bumpStop: StopName;
}

/** Builds the corner before and after from the drawing's numbers. */
export type Build = (numbers: readonly number[]) => readonly [Described, Described];

export interface Described {
  readonly corner: FrontCorner;
  readonly change: LinkageChange;
  readonly sprungLoad: number;
}

export type When = 'before' | 'after';

/** A number of a corner that may be a moved one. */
export type Moving = (fitted: Fitted, when: When) => number;

export interface FrontStudy {
  readonly before: End;
  readonly after: End;
  /**
   * Half-width of an answer of one state, or of the difference between both. NaN answers of a moved drawing leave it
   * open: infinite.
   */
  spread(of: When | 'change', answer: Moving): number;
  /**
   * The same for one answer asked several ways: moved drawings answer once. What is known otherwise of the answer before, to within a half-width, pins the drawing down as far as
   * the difference goes with it (linear regression of the one on the other over the moved drawings).
   */
  spreads(answer: Moving): (of: When | 'change', pinned?: number) => number;
  /** To first order, where the wheel hangs or is hard up. */
  readonly end: { readonly [end in 'droop' | 'bump']: Moving };
}

export function studyFront(build: Build, numbers: readonly number[], halfWidths: readonly number[]): Outcome<FrontStudy> {
  const [first, second] = build(numbers);
  const before = endOf(first);
  if (!before.ok) return before;
  const after = endOf(second);
  if (!after.ok) return after;
  const ends = { before: before.value, after: after.value };
  let moved: readonly Moved[] | undefined;
  const offs = (answer: Moving): readonly Off[] => {
    moved ??= movedDrawings(build, numbers, halfWidths);
    const of = (pair: Pair): Off => ({ before: answer(pair.before, 'before'), after: answer(pair.after, 'after') });
    const nominal = of(ends);
    return moved.map(({ one, other }) => offBy(nominal, one && of(one), () => other() && of(other() as Pair)));
  };
  const spreads: FrontStudy['spreads'] = (answer) => {
    let all: readonly Off[] | undefined;
    return (of, pinned = Number.POSITIVE_INFINITY) => {
      all ??= offs(answer);
      return of === 'change' ? changeSpread(all, pinned) : Math.hypot(...all.map((off) => off[of]));
    };
  };
  return found({
    ...ends,
    spread: (of, answer) => spreads(answer)(of),
    spreads,
    end: { droop: endMoving(ends, 'droop'), bump: endMoving(ends, 'bump') },
  });
}

/** How far a moved drawing takes an answer off. */
interface Off {
  readonly before: number;
  readonly after: number;
}

function changeSpread(offs: readonly Off[], pinned: number): number {
  const change = offs.map(({ before, after }) => after - before);
  const before = Math.hypot(...offs.map((off) => off.before));
  if (!(pinned < before) || !Number.isFinite(before)) return Math.hypot(...change);
  const along = offs.reduce((sum, off, i) => sum + off.before * (change[i] as number), 0) / before ** 2;
  return Math.hypot(...offs.map((off, i) => (change[i] as number) - along * off.before), along * pinned);
}

/** The margin is 0 at the end; its slope there turns what a moved drawing leaves of it into travel. */
function endMoving(ends: { readonly before: End; readonly after: End }, end: 'droop' | 'bump'): Moving {
  const slopes = { before: slopeAt(ends.before, end), after: slopeAt(ends.after, end) };
  return ({ linkage, corner }, when) => {
    const [stop, at] = placeOf(ends[when], end);
    return at - stopMargin(linkage, corner, stop, at) / slopes[when];
  };
}

const placeOf = ({ droop, bump, droopStop, bumpStop }: End, end: 'droop' | 'bump'): readonly [StopName, number] =>
  end === 'droop' ? [droopStop, droop] : [bumpStop, bump];

/** Margin gained a metre of travel away from the end. */
function slopeAt(fitted: End, end: 'droop' | 'bump'): number {
  const [stop, at] = placeOf(fitted, end);
  const step = end === 'droop' ? 1e-3 : -1e-3;
  return stopMargin(fitted.linkage, fitted.corner, stop, at + step) / step;
}

type Pair = { readonly before: Fitted; readonly after: Fitted };

interface Moved {
  readonly one: Pair | undefined;
  /** Moved the other way, for what has no answer one way. */
  readonly other: () => Pair | undefined;
}

function offBy(nominal: Off, one: Off | undefined, other: () => Off | undefined): Off {
  const off = ({ before, after }: Off): Off => ({ before: before - nominal.before, after: after - nominal.after });
  if (one && !Number.isNaN(one.before + one.after)) return off(one);
  const opposite = other();
  const open = { before: Number.POSITIVE_INFINITY, after: Number.POSITIVE_INFINITY };
  return opposite && !Number.isNaN(opposite.before + opposite.after) ? off(opposite) : open;
}

function movedDrawings(build: Build, numbers: readonly number[], halfWidths: readonly number[]): readonly Moved[] {
  const at = (i: number, by: number): Pair | undefined => {
    const [before, after] = build(numbers.map((n, k) => (k === i ? n + by : n)));
    const [a, b] = [ready(before), ready(after)];
    return a.ok && b.ok ? { before: a.value, after: b.value } : undefined;
  };
  return halfWidths.flatMap((width, i) => (width > 0 ? [{ one: at(i, width), other: () => at(i, -width) }] : []));
}

function ready(described: Described): Outcome<Fitted> {
  const linkage = makeLinkage(described.corner.hardpoints, described.change);
  return linkage.ok ? found({ ...described, linkage: linkage.value }) : linkage;
}

function endOf(described: Described): Outcome<End> {
  const fitted = ready(described);
  if (!fitted.ok) return fitted;
  const ends = travelEnds(fitted.value.linkage, described.corner);
  if (!ends.ok) return ends;
  const droop = hangingTravel(ends.value);
  const [bump] = ends.value.bump;
  if (droop === undefined || !bump) return refused('coil_over_extended: travel has no end one way; give the damper’s lengths');
  const droopStop = ends.value.droop.find((stop) => stop.travel === droop && stop.name !== 'brake_hose')?.name ?? 'linkage';
  return found({ ...fitted.value, ends: ends.value, droop, bump: bump.travel, droopStop, bumpStop: bump.name });
}
