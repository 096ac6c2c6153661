/**
 * Gaps of a swept tyre that can be asked again and again: a full search once, then at nearby inputs only where the tyre
 * came nearest.
 *
 * At a least distance over positions, a small change of anything else changes it to first order as if the position
 * stood still (envelope theorem); where the position is an end of travel or of the lock, it moves with that end. So a
 * tolerance is followed at the price of a few poses, there and some steps about it, and is right to first order. The
 * error is of second order and on one side: a followed gap is never less than the true one. Inputs that are far from those searched are searched anew.
 */
import { found, type Outcome } from '../result.ts';
import { prepareBar } from './attachments.ts';
import { armAt, type Linkage, POSE_SIZE, solveTurn } from './double-wishbone.ts';
import type { FrontCorner, Obstacle } from './geometry.ts';
import { asVectors, nearest, type Shape, shapesOf } from './obstacle-shapes.ts';
import { tyrePlace } from './pose-grid.ts';
import { type SteeringLock, steeringLock } from './steering-lock.ts';
import { type Contact, leastGapsLeft, sweepTyre } from './swept-tyre.ts';
import { makeProfile, type Profile, type TyreShape } from './tyre-shape.ts';
import type { Vec3 } from './vector.ts';

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
  { antiRollBar, steering }: Pick<FrontCorner, 'antiRollBar' | 'steering'>,
  obstacles: readonly Obstacle[],
  inputs: GapInputs,
): Outcome<TyreGaps> {
  const { droop, bump, lock } = inputs;
  const locked = steeringLock(linkage, steering, 0, { inner: lock });
  if (!locked.ok) return locked;
  const searchedRack = locked.value.rack;
  const sweep = { droop, bump, rackLeft: searchedRack, rackRight: -searchedRack };
  const swept = sweepTyre({ linkage, ...inputs, sweep, ...(antiRollBar && { antiRollBar }) });
  if (!swept.ok) return swept;
  const least = leastGapsLeft(swept.value, obstacles);
  if (!least.ok) return least;
  const contacts = new Map(least.value.map((contact) => [contact.obstacle, contact]));
  const shapes = new Map(obstacles.map((obstacle) => [obstacle.id, { obstacle, pieces: shapesOf(obstacle) }]));
  const racks = new WeakMap<Linkage, Map<number, number>>();
  /** The rack at that lock; NaN where the linkage cannot turn so far. */
  const rackAt = (of: Linkage, angle: number): number => {
    const known = racks.get(of) ?? new Map<number, number>();
    racks.set(of, known);
    const rack = known.get(angle) ?? orNaN(steeringLock(of, steering, 0, { inner: angle }));
    known.set(angle, rack);
    return rack;
  };
  const poses = new WeakMap<Linkage, Map<number, Map<number, Float64Array | undefined>>>();
  /** Few positions are asked for, each many times. */
  const poseAt = (of: Linkage, travel: number, rack: number): Float64Array | undefined => {
    const byTravel = poses.get(of) ?? new Map<number, Map<number, Float64Array | undefined>>();
    if (byTravel.size > MOST_POSES) byTravel.clear();
    poses.set(of, byTravel);
    const byRack = byTravel.get(travel) ?? new Map<number, Float64Array | undefined>();
    if (byRack.size > MOST_POSES) byRack.clear();
    byTravel.set(travel, byRack);
    if (!byRack.has(rack)) byRack.set(rack, solved(of, travel, rack));
    return byRack.get(rack);
  };
  const place = new Float64Array(6);
  return found({
    contacts,
    inputs,
    follow: (id, now, other = linkage) => {
      const contact = contacts.get(id);
      const shape = shapes.get(id);
      const profile = makeProfile(now.tyre);
      if (!contact || !shape || !profile.ok) return Number.NaN;
      const rack = rackAt(other, now.lock);
      if (Number.isNaN(rack)) return Number.NaN;
      const at = {
        travel: along(contact.travel, droop, bump, now.droop, now.bump),
        rack: along(contact.rack, -searchedRack, searchedRack, -rack, rack),
      };
      const bar = antiRollBar && shape.obstacle.frame === 'anti_roll_bar' ? { bar: prepareBar(other, antiRollBar) } : {};
      const around = { linkage: other, outwardShift: now.outwardShift, bodyShift: [0, 0, now.bodyLift] as const, ...bar };
      // Other inputs may come nearest some way off; a moved drawing is followed where it was.
      const steps = other === linkage ? AROUND : HERE;
      let least = Number.POSITIVE_INFINITY;
      for (const [byTravel, byRack] of steps) {
        const [t, r] = [at.travel + byTravel, at.rack + byRack];
        if (t < now.droop - EDGE || t > now.bump + EDGE || Math.abs(r) > rack + EDGE) continue;
        const raw = poseAt(other, t, r);
        if (!raw || !tyrePlace(around, raw, 0, shape.obstacle.frame, place)) {
          if (byTravel === 0 && byRack === 0) return Number.NaN;
          continue;
        }
        const { centre, axis } = asVectors(place);
        least = Math.min(least, leastOf(shape.pieces, profile.value, centre, axis));
      }
      return least - shape.obstacle.radius;
    },
  });
}

const HERE = [[0, 0]] as const;
/** Steps of travel and rack about where a gap was least, metres. */
const AROUND = [-0.03, -0.012, 0, 0.012, 0.03].flatMap((travel) => [-0.008, 0, 0.008].map((rack) => [travel, rack] as const));
const EDGE = 1e-9;

const orNaN = (lock: Outcome<SteeringLock>): number => (lock.ok ? lock.value.rack : Number.NaN);

function solved(linkage: Linkage, travel: number, rack: number): Float64Array | undefined {
  const arm = armAt(linkage, travel);
  const raw = new Float64Array(POSE_SIZE);
  return arm.ok && solveTurn(linkage, arm.value, rack, raw, 0) === 0 ? raw : undefined;
}

/** Positions kept of one kind; a band asks for a handful. */
const MOST_POSES = 64;

function leastOf(pieces: readonly Shape[], profile: Profile, centre: Vec3, axis: Vec3): number {
  let least = Number.POSITIVE_INFINITY;
  for (const piece of pieces) least = Math.min(least, nearest(profile, centre, axis, piece).distance);
  return least;
}

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
