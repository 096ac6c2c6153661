/**
 * Where the wheel stands against the chassis on its spring, and what lifting parts change.
 *
 * Virtual work: spring force × motion ratio = sprung load of the corner. Spring force F = F_ext + k·(L_ext − L), with
 * F_ext its force on the seats with the damper fully out. Wheel rate k·MR² + F·dMR/dz. Friction, bush stiffness and
 * the anti-roll bar (both wheels move alike) are left out; a load that the spring cannot carry before the bump stop is
 * touched is said to rest on the stop. Source: textbook virtual work (memory). Travel + in bump: a chassis that stands
 * higher has a lower travel.
 */
import { found, type Outcome, refused } from '../result.ts';
import { carried, motionRatio, prepareCoilOver } from './attachments.ts';
import { type Linkage, type LinkageChange, makeLinkage, solvePose } from './double-wishbone.ts';
import type { FrontCorner } from './geometry.ts';
import { rootBetween } from './root-search.ts';
import { makeBench, type Range, type TravelEnds, travelEnds, travelOfCoilOver, travelRange } from './travel.ts';
import { distance, type Vec3 } from './vector.ts';

const GRAVITY = 9.80665;

export interface RideHeight {
  readonly travel: number;
  readonly coilOverLength: number;
  readonly springForce: number;
  readonly motionRatio: number;
  /** N/m at the wheel. */
  readonly wheelRate: number;
  /** Undamped ride frequency of the sprung load on this rate, Hz. */
  readonly frequency: number;
  readonly rests: 'on_spring' | 'topped_out' | 'on_bump_stop';
}

/** `sprungLoad`: what the corner's spring carries, N: axle load over two less the unsprung weight. */
export function rideHeight(
  linkage: Linkage,
  corner: FrontCorner,
  { droop, bump, bumpStopContact }: Range,
  sprungLoad: number,
): Outcome<RideHeight> {
  if (!(sprungLoad > 0)) return refused('sprung load: it must be above 0 N');
  const lift = (travel: number) => supportAt(linkage, corner, travel) - sprungLoad;
  const [atDroop, atBump] = [lift(droop), lift(bump)];
  const travel = atDroop > 0 ? droop : atBump < 0 ? bump : rootBetween(lift, droop, bump, atDroop, atBump);
  const rests = travel <= droop + 1e-9 ? 'topped_out' : travel > (bumpStopContact ?? bump) ? 'on_bump_stop' : 'on_spring';
  return describe(linkage, corner, travel, sprungLoad, rests);
}

/** Upward force the spring gives the chassis at the wheel; the search stays within travel, where it has a value. */
export function supportAt(linkage: Linkage, corner: FrontCorner, travel: number): number {
  const state = springAt(linkage, corner, travel);
  return state ? state.force * state.ratio : Number.POSITIVE_INFINITY;
}

/** By how much further up the wheel of another corner stands than where this one's does, to first order: what its spring carries too little there, over the wheel rate. Metres. */
export const standsLower = (
  { linkage, corner, sprungLoad }: { readonly linkage: Linkage; readonly corner: FrontCorner; readonly sprungLoad: number },
  { travel, wheelRate }: RideHeight,
): number => (sprungLoad - supportAt(linkage, corner, travel)) / wheelRate;

function springAt(linkage: Linkage, corner: FrontCorner, travel: number): { force: number; ratio: number; length: number } | undefined {
  const pose = solvePose(linkage, travel);
  if (!pose.ok) return undefined;
  const { coilOver } = corner;
  const length = distance(carried(linkage, pose.value, 'lower_arm', coilOver.lower), coilOver.upper);
  const ratio = motionRatio(linkage, pose.value, coilOver);
  if (!ratio.ok) return undefined;
  return {
    length,
    ratio: ratio.value,
    force: Math.max(0, coilOver.springForceExtended + coilOver.springRate * (coilOver.extended - length)),
  };
}

function describe(linkage: Linkage, corner: FrontCorner, travel: number, load: number, rests: RideHeight['rests']): Outcome<RideHeight> {
  const h = 1e-4;
  const here = springAt(linkage, corner, travel);
  const above = supportAt(linkage, corner, travel + h);
  const below = supportAt(linkage, corner, travel - h);
  if (!here || !Number.isFinite(above) || !Number.isFinite(below)) return refused('wheel_centre: the linkage is at its end at ride height');
  const wheelRate = (above - below) / (2 * h);
  return found({
    travel,
    coilOverLength: here.length,
    springForce: here.force,
    motionRatio: here.ratio,
    wheelRate,
    frequency: Math.sqrt(Math.max(0, wheelRate) / (load / GRAVITY)) / (2 * Math.PI),
    rests,
  });
}

/** Parts that lift the front, as they act on the geometry. Metres, N, N/m; absent means not fitted. */
export interface Lift {
  /** Another coil-over: its own lengths and spring in place of the first one's. */
  readonly coilOver?: Partial<
    Pick<FrontCorner['coilOver'], 'extended' | 'collapsed' | 'springRate' | 'springForceExtended' | 'coilBindLength'>
  >;
  /** Between the coil-over's top and the chassis: the whole unit sits lower by it. */
  readonly topSpacer?: number;
  /** Between spring and seat: more force at the same length, no more damper. */
  readonly preloadSpacer?: number;
  /** Under or on the bump stop: touched and solid sooner. */
  readonly bumpStopSpacer?: number;
  /** Other upper arms: where their ball joint is against the first ones', with the arm at design. */
  readonly upperBallJointInArm?: Vec3;
  /** Differential lowered against the chassis. */
  readonly diffDrop?: number;
}

/** The corner with the parts fitted, and the linkage's change. Nothing is checked here: `liftEffects` does. */
export function fitLift(corner: FrontCorner, lift: Lift): { readonly corner: FrontCorner; readonly change: LinkageChange } {
  // Another coil-over has other coils: what the first one's bind at says nothing of it.
  const { coilBindLength: bind, ...factory } = corner.coilOver;
  const first = { ...factory, ...(lift.coilOver ?? (bind !== undefined && { coilBindLength: bind })) };
  const top = lift.topSpacer ?? 0;
  const preload = lift.preloadSpacer ?? 0;
  const stop = lift.bumpStopSpacer ?? 0;
  const coilOver = {
    ...first,
    extended: first.extended + top,
    collapsed: first.collapsed + top,
    springForceExtended: first.springForceExtended + first.springRate * preload,
    ...(first.coilBindLength !== undefined && { coilBindLength: first.coilBindLength + top + preload }),
  };
  const { bumpStop, halfShaft } = corner;
  const lowered = halfShaft && lift.diffDrop ? loweredShaft(halfShaft, lift.diffDrop) : halfShaft;
  return {
    corner: {
      ...corner,
      coilOver,
      ...(bumpStop && { bumpStop: { contactLength: bumpStop.contactLength + stop, solidLength: bumpStop.solidLength + stop } }),
      ...(lowered && { halfShaft: lowered }),
    },
    change: lift.upperBallJointInArm ? { upperBallJointInArm: lift.upperBallJointInArm } : {},
  };
}

function loweredShaft(shaft: NonNullable<FrontCorner['halfShaft']>, drop: number): NonNullable<FrontCorner['halfShaft']> {
  return {
    ...shaft,
    shaftLength: shaft.shaftLength ?? distance(shaft.inner, shaft.outer),
    inner: [shaft.inner[0], shaft.inner[1], shaft.inner[2] - drop],
  };
}

/** What a maker states of a coil-over: lengths and spring, or only by how much it lifts. */
export type StatedCoilOver = NonNullable<Lift['coilOver']>;

/**
 * A coil-over of which only height and droop are stated, as lengths and force: as long at full droop as hanging so much
 * lower asks, and as strong as standing so much higher under the load asks. What is stated itself stands. `linkage` is
 * that of the factory's hardpoints.
 */
export function liftedCoilOver(
  linkage: Linkage,
  factory: FrontCorner,
  stated: StatedCoilOver,
  by: { readonly height?: number | undefined; readonly droop?: number | undefined },
  sprungLoad: number,
): StatedCoilOver {
  const { coilOver } = factory;
  const hangs = travelOfCoilOver(linkage, prepareCoilOver(linkage, coilOver), coilOver.extended);
  if (hangs === undefined) return stated;
  const extended = stated.extended ?? (by.droop === undefined ? coilOver.extended : lengthAt(linkage, factory, hangs - by.droop));
  if (stated.springForceExtended !== undefined || by.height === undefined) return { ...stated, extended };
  const lift = (travel: number): number => supportAt(linkage, factory, travel) - sprungLoad;
  const stood = lift(hangs) >= 0 ? hangs : rootBetween(lift, hangs, highest(linkage));
  const stands = springAt(linkage, factory, stood - by.height);
  if (!stands) return { ...stated, extended };
  const rate = stated.springRate ?? coilOver.springRate;
  return { ...stated, extended, springForceExtended: Math.max(0, sprungLoad / stands.ratio - rate * (extended - stands.length)) };
}

/** Length fully out of a coil-over that lets the wheel hang so much lower than this one, on the linkage of the corner's hardpoints. */
export function longerFor(linkage: Linkage, corner: FrontCorner, droop: number): number {
  const { coilOver } = corner;
  const hangs = travelOfCoilOver(linkage, prepareCoilOver(linkage, coilOver), coilOver.extended);
  return hangs === undefined ? coilOver.extended : lengthAt(linkage, corner, hangs - droop);
}

const lengthAt = (linkage: Linkage, corner: FrontCorner, travel: number): number => springAt(linkage, corner, travel)?.length ?? Number.NaN;

/** Wheel travel above which a front corner surely does not stand, or the linkage's own end before it. */
function highest(linkage: Linkage): number {
  let at = 0.2;
  while (at > 0.02 && !solvePose(linkage, at).ok) at -= 0.02;
  return at;
}

export interface LiftEffects {
  readonly before: { readonly ends: TravelEnds; readonly ride: RideHeight };
  readonly after: { readonly ends: TravelEnds; readonly ride: RideHeight };
  /** How much higher the chassis stands at this corner, same tyre. */
  readonly chassisRise: number;
  /** More droop than there was, against the chassis: + further down, on the damper. */
  readonly droopAdded: number;
  /** More bump than there was: + further up. */
  readonly bumpAdded: number;
  readonly corner: FrontCorner;
  readonly linkage: Linkage;
}

export function liftEffects(corner: FrontCorner, lift: Lift, sprungLoad: number): Outcome<LiftEffects> {
  const fitted = fitLift(corner, lift);
  const before = standing(corner, {}, sprungLoad);
  if (!before.ok) return before;
  const after = standing(fitted.corner, fitted.change, sprungLoad);
  if (!after.ok) return after;
  const [x, y] = [before.value, after.value];
  return found({
    before: { ends: x.ends, ride: x.ride },
    after: { ends: y.ends, ride: y.ride },
    chassisRise: x.ride.travel - y.ride.travel,
    droopAdded: x.range.droop - y.range.droop,
    bumpAdded: y.ends.bump[0]!.travel - x.ends.bump[0]!.travel,
    corner: fitted.corner,
    linkage: y.linkage,
  });
}

function standing(
  corner: FrontCorner,
  change: LinkageChange,
  load: number,
): Outcome<{ linkage: Linkage; ends: TravelEnds; range: Range; ride: RideHeight }> {
  const linkage = makeLinkage(corner.hardpoints, change);
  if (!linkage.ok) return linkage;
  const bench = makeBench(linkage.value, corner);
  const [ends, range] = [travelEnds(bench), travelRange(bench)];
  if (!ends.ok) return ends;
  if (!range.ok) return range;
  const ride = rideHeight(linkage.value, corner, range.value, load);
  if (!ride.ok) return ride;
  return found({ linkage: linkage.value, ends: ends.value, range: range.value, ride: ride.value });
}
