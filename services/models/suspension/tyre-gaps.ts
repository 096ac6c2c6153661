/**
 * Gaps of a swept tyre that can be asked again and again: a full search once, then at nearby inputs only where the tyre
 * came nearest, or nearly so.
 *
 * At a least distance over positions, a small change of anything else changes it to first order as if the position
 * stood still (envelope theorem); where the position is an end of travel or of the lock, it moves with that end. So a
 * tolerance is followed at the price of a few poses, there and some steps about it, and is right to first order. The
 * error is of second order and on one side: a followed gap is never less than the true one. Inputs that are far from those searched are searched anew.
 */
import { found, type Outcome } from '../result.ts';
import { prepareBar, prepareCoil } from './attachments.ts';
import { ByNumbers } from './by-numbers.ts';
import { armAt, type Linkage, POSE_SIZE, solveTurn } from './double-wishbone.ts';
import type { FrameName, FrontCorner, Obstacle } from './geometry.ts';
import { leastToPieces, type Pieces, piecesOf, shapesOf } from './obstacle-shapes.ts';
import { tyrePlace } from './pose-grid.ts';
import { type SteeringLock, steeringLock } from './steering-lock.ts';
import { type Contact, leastGapsLeft, sweepTyre } from './swept-tyre.ts';
import { makeProfile, numbersOfTyre, type Profile, type TyreShape } from './tyre-shape.ts';

/** Everything a gap depends on apart from the linkage. Metres. */
export interface GapInputs {
  readonly tyre: TyreShape;
  readonly outwardShift: number;
  readonly bodyLift: number;
  /** Wheel travel at either end, + in bump. */
  readonly droop: number;
  readonly bump: number;
  /** Angle of the inner wheel at full lock: what a person reads, whatever the rack does for it. */
  readonly lock: number;
}

export interface TyreGaps {
  /** Where each obstacle is nearest at the inputs searched. */
  readonly contacts: ReadonlyMap<string, Contact>;
  /** Gap to an obstacle at nearby inputs, and with another linkage; NaN where there is no pose. */
  follow(obstacle: string, inputs: GapInputs, linkage?: Linkage): number;
  readonly inputs: GapInputs;
}

export function searchGaps(
  linkage: Linkage,
  { antiRollBar, coilOver, steering }: Pick<FrontCorner, 'antiRollBar' | 'steering'> & Partial<Pick<FrontCorner, 'coilOver'>>,
  obstacles: readonly Obstacle[],
  inputs: GapInputs,
): Outcome<TyreGaps> {
  const { droop, bump, lock } = inputs;
  const locked = steeringLock(linkage, steering, 0, { inner: lock });
  if (!locked.ok) return locked;
  const searchedRack = locked.value.rack;
  const sweep = { droop, bump, rackLeft: searchedRack, rackRight: -searchedRack };
  const swept = sweepTyre({ linkage, ...inputs, sweep, ...(antiRollBar && { antiRollBar }), ...(coilOver && { coilOver }) });
  if (!swept.ok) return swept;
  const least = leastGapsLeft(swept.value, obstacles);
  if (!least.ok) return least;
  const contacts = new Map(least.value.map((contact) => [contact.obstacle, contact]));
  const targets = new Map(
    obstacles.map(({ id, frame, radius, ...shape }): [string, Target] => [
      id,
      { contact: contacts.get(id) as Contact, frame, radius, pieces: piecesOf(shapesOf({ id, frame, radius, ...shape })) },
    ]),
  );
  const barOf = antiRollBar && onceEach((of) => prepareBar(of, antiRollBar));
  const coilOf = coilOver && onceEach((of) => prepareCoil(of, coilOver));
  const racks = new WeakMap<Linkage, Map<number, number>>();
  /** The rack at that lock; NaN where the linkage cannot turn so far. */
  const rackAt = (of: Linkage, angle: number): number => {
    const known = racks.get(of)?.get(angle);
    if (known !== undefined) return known;
    const rack = orNaN(steeringLock(of, steering, 0, { inner: angle }));
    racks.set(of, (racks.get(of) ?? new Map<number, number>()).set(angle, rack));
    return rack;
  };
  const tyre = new Float64Array(6);
  const positions = new Positions(linkage);
  /** Other inputs may come nearest some way off; a moved drawing is followed where it was. */
  const followed = (
    { contact, frame, radius, pieces }: Target,
    { now, profile }: State,
    of: Linkage,
    solve: (travel: number, rack: number) => Float64Array | undefined,
    steps: readonly (readonly [number, number])[],
  ): number => {
    const rack = rackAt(of, now.lock);
    if (!profile || Number.isNaN(rack)) return Number.NaN;
    const bar = frame === 'anti_roll_bar' ? barOf?.(of) : undefined;
    const coil = frame === 'coil_over' ? coilOf?.(of) : undefined;
    const bodyShift = [0, 0, now.bodyLift] as const;
    const around = { linkage: of, outwardShift: now.outwardShift, bodyShift, ...(bar && { bar }), ...(coil && { coil }) };
    let least = Number.POSITIVE_INFINITY;
    for (const [n, place] of (steps === HERE ? [contact] : [contact, ...contact.rivals]).entries()) {
      const travel = along(place.travel, droop, bump, now.droop, now.bump);
      const racked = along(place.rack, -searchedRack, searchedRack, -rack, rack);
      for (const [byTravel, byRack] of steps) {
        const [t, r] = [travel + byTravel, racked + byRack];
        if (t < now.droop - EDGE || t > now.bump + EDGE || Math.abs(r) > rack + EDGE) continue;
        const raw = solve(t, r);
        if (raw && tyrePlace(around, raw, 0, frame, tyre)) least = leastToPieces(profile, tyre, pieces, least);
        else if (n === 0 && byTravel === 0 && byRack === 0) return Number.NaN;
      }
    }
    return least - radius;
  };
  const states = new ByNumbers<State>(MOST_STATES);
  return found({
    contacts,
    inputs,
    follow: (id, now, other = linkage) => {
      const target = targets.get(id);
      if (!target) return Number.NaN;
      const state = states.get(numbersOf(now), () => stateOf(now));
      if (other !== linkage) return followed(target, state, other, (travel, rack) => solved(other, travel, rack), HERE);
      const known = state.gaps.get(id);
      if (known !== undefined) return known;
      const gap = followed(target, state, linkage, positions.at, AROUND);
      state.gaps.set(id, gap);
      return gap;
    },
  });
}

/** What is prepared of a linkage, once for each. */
function onceEach<T extends object>(prepare: (of: Linkage) => T): (of: Linkage) => T {
  const made = new WeakMap<Linkage, T>();
  return (of) => {
    const known = made.get(of);
    if (known) return known;
    const prepared = prepare(of);
    made.set(of, prepared);
    return prepared;
  };
}

/** What a gap is followed to, and from where. */
interface Target {
  readonly contact: Contact;
  readonly frame: FrameName;
  readonly radius: number;
  readonly pieces: Pieces;
}

/** Inputs asked for, with what was followed at them: a band asks for one obstacle after another at the same. */
interface State {
  readonly now: GapInputs;
  /** Undefined for a tyre that is none. */
  readonly profile: Profile | undefined;
  readonly gaps: Map<string, number>;
}

const MOST_STATES = 4096;

function stateOf(now: GapInputs): State {
  const profile = makeProfile(now.tyre);
  return { now, profile: profile.ok ? profile.value : undefined, gaps: new Map() };
}

const numbersOf = ({ tyre, outwardShift, bodyLift, droop, bump, lock }: GapInputs): readonly number[] => [
  ...numbersOfTyre(tyre),
  outwardShift,
  bodyLift,
  droop,
  bump,
  lock,
];

/** Poses of one linkage. Few positions are asked for, each many times. */
class Positions {
  readonly #linkage: Linkage;
  readonly #rows = new Map<number, { readonly arm: number | undefined; readonly byRack: Map<number, Float64Array | undefined> }>();

  constructor(linkage: Linkage) {
    this.#linkage = linkage;
  }

  readonly at = (travel: number, rack: number): Float64Array | undefined => {
    const row = this.#rows.get(travel) ?? this.#row(travel);
    if (row.arm === undefined) return undefined;
    const known = row.byRack.get(rack);
    if (known) return known;
    const raw = turned(this.#linkage, row.arm, rack);
    if (row.byRack.size >= MOST_POSES) row.byRack.clear();
    row.byRack.set(rack, raw);
    return raw;
  };

  #row(travel: number) {
    const arm = armAt(this.#linkage, travel);
    const row = { arm: arm.ok ? arm.value : undefined, byRack: new Map<number, Float64Array | undefined>() };
    if (this.#rows.size >= MOST_POSES) this.#rows.clear();
    this.#rows.set(travel, row);
    return row;
  }
}

const HERE = [[0, 0]] as const;
/** Steps of travel and rack about where a gap was least, metres; the place itself first, which passes most of the others by. */
const AROUND = [0, -0.012, 0.012, -0.03, 0.03].flatMap((travel) => [0, -0.008, 0.008].map((rack) => [travel, rack] as const));
const EDGE = 1e-9;

const orNaN = (lock: Outcome<SteeringLock>): number => (lock.ok ? lock.value.rack : Number.NaN);

function solved(linkage: Linkage, travel: number, rack: number): Float64Array | undefined {
  const arm = armAt(linkage, travel);
  return arm.ok ? turned(linkage, arm.value, rack) : undefined;
}

function turned(linkage: Linkage, arm: number, rack: number): Float64Array | undefined {
  const raw = new Float64Array(POSE_SIZE);
  return solveTurn(linkage, arm, rack, raw, 0) === 0 ? raw : undefined;
}

/** Positions kept of one kind; a band asks for a handful. */
const MOST_POSES = 64;

/** A position within a range that has moved: one at an end stays at that end. */
function along(at: number, low: number, high: number, newLow: number, newHigh: number): number {
  const near = 1e-6 * (high - low);
  if (at <= low + near) return newLow;
  if (at >= high - near) return newHigh;
  return Math.min(newHigh, Math.max(newLow, at));
}

/** How far inputs may lie from those searched for a gap to be followed: well within what a sweep's grid resolves. */
const NEAR = 0.03;
const NEAR_ANGLE = 0.1;

/** Whether all inputs are close to those of a search. */
export function isNear(a: GapInputs, b: GapInputs): boolean {
  return (
    Math.abs(a.tyre.freeRadius - b.tyre.freeRadius) <= NEAR &&
    Math.abs(a.tyre.sectionWidth - b.tyre.sectionWidth) <= NEAR &&
    Math.abs(a.outwardShift - b.outwardShift) <= NEAR &&
    Math.abs(a.bodyLift - b.bodyLift) <= NEAR &&
    Math.abs(a.droop - b.droop) <= NEAR &&
    Math.abs(a.bump - b.bump) <= NEAR &&
    Math.abs(a.lock - b.lock) <= NEAR_ANGLE
  );
}
