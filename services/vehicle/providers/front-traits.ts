/**
 * Numbers of one front as it stands before and after, each followed where a moved drawing takes it: to where that then stands on its springs, and to
 * where its own travel ends. Travel + in bump; metres, radians.
 */
import type { Ask } from '../../engine/values.ts';
import { HOSE_SPAN, MEASURES, measureFittings, shaftAlong } from '../../models/suspension/attachments.ts';
import { armAt, type Linkage, POSE_SIZE, solvePose, solveTurn } from '../../models/suspension/double-wishbone.ts';
import type { End, Fitted, Moving, When } from '../../models/suspension/front-study.ts';
import type { BrakeHose, Obstacle } from '../../models/suspension/geometry.ts';
import { hoseReach, longestWay, wayAt } from '../../models/suspension/hose.ts';
import { standsLower } from '../../models/suspension/ride-height.ts';
import { springToArmGap } from '../../models/suspension/spring-clearance.ts';
import { type Range, type Stop, type StopName, stopMargin, type TravelEnds, travelRange } from '../../models/suspension/travel.ts';
import { addScaled, type Vec3 } from '../../models/suspension/vector.ts';
import { rollCentreHeight, type WheelAngles, wheelAngles } from '../../models/suspension/wheel-angles.ts';
import { type Compared, obstacleOf } from '../front-corner.ts';
import type { VehicleWorld } from '../world.ts';

export interface Stands {
  readonly radius: number;
  readonly outward: number;
}

/** Angles are the same at any radius. */
export const atRide = (known: Compared, of: (angles: WheelAngles) => number): Trait =>
  seen(known, (fitted, when) => {
    const pose = solvePose(fitted.linkage, standsAt(known, fitted, when));
    return pose.ok ? of(wheelAngles(pose.value, 0.4)) : Number.NaN;
  });

export function rollCentre(linkage: Linkage, travel: number, { radius, outward }: Stands): number {
  const pose = solvePose(linkage, travel);
  if (!pose.ok) return Number.NaN;
  const { wheelCentre, wheelAxis } = pose.value;
  return rollCentreHeight(linkage, { ...pose.value, wheelCentre: addScaled(wheelCentre, wheelAxis, outward) }, radius) ?? Number.NaN;
}

/** One number of the front before and after, and how a moved drawing moves it, to first order. */
export interface Trait {
  at(when: When): number;
  readonly moving: Moving;
}

export const seen = (known: Compared, moving: Moving): Trait => ({ at: (when) => moving(known[when], when), moving });

/** Travel at which a moved drawing stands on its springs, to first order; at the end of its own range where the spring has it there. */
export function standsAt(known: Compared, fitted: Fitted, when: When): number {
  const [ride, drawn] = [known.ride[when], known[when]];
  if (fitted.bench === drawn.bench && fitted.sprungLoad === drawn.sprungLoad) return ride.travel;
  // Aligned, the front no longer stands to the last tenth where it was found to.
  return endMoved(known, fitted, when, ride.travel) ?? ride.travel + standsLower(fitted, ride) - standsLower(drawn, ride);
}

/** Where the moved drawing's own range ends, if that travel is where this one's does. */
function endMoved(known: Compared, fitted: Fitted, when: When, travel: number): number | undefined {
  const { droop, bump } = known[when];
  return travel === droop ? endsOf(fitted).droop : travel === bump ? endsOf(fitted).bump : undefined;
}

/** Full droop and full bump. */
function endsOf({ bench }: Fitted): Pick<Range, 'droop' | 'bump'> {
  const range = travelRange(bench);
  return range.ok ? range.value : { droop: Number.NaN, bump: Number.NaN };
}

export const bothEnds = (fitted: Fitted): readonly number[] => {
  const { droop, bump } = endsOf(fitted);
  return [droop, bump];
};

export const endOf =
  (end: 'droop' | 'bump') =>
  (known: Compared): Trait =>
    seen(known, (fitted) => endsOf(fitted)[end]);

/** Where the bump stop is touched; where the wheel is hard up without one. */
export const contactOf = (known: Compared): Trait =>
  seen(known, ({ bench }) => {
    const range = travelRange(bench);
    return range.ok ? (range.value.bumpStopContact ?? range.value.bump) : Number.NaN;
  });

export const standing = (known: Compared): Trait => seen(known, (fitted, when) => standsAt(known, fitted, when));

export const difference = (a: Trait, b: Trait): Trait => ({
  at: (when) => a.at(when) - b.at(when),
  moving: (fitted, when) => a.moving(fitted, when) - b.moving(fitted, when),
});

export const stopAt =
  (stop: StopName, end: 'droop' | 'bump') =>
  (known: Compared): Trait =>
    seen(known, (fitted) => stopMargin(fitted.bench, stop, endsOf(fitted)[end]));

/** Of the wheel's centre, from the ground of the drawing. */
export function heightOfHub({ linkage }: Fitted, travel: number): number {
  const pose = solvePose(linkage, travel);
  return pose.ok ? pose.value.wheelCentre[2] : Number.NaN;
}

export function measureAt({ linkage, bench }: Fitted, travel: number, rack: number, column: number): number {
  const arm = armAt(linkage, travel);
  const raw = new Float64Array(POSE_SIZE);
  if (!arm.ok || solveTurn(linkage, arm.value, rack, raw, 0)) return Number.NaN;
  const row = new Float64Array(MEASURES);
  measureFittings(bench.fittings, raw, 0, row, 0);
  return row[column] as number;
}

/** Of the half-shaft as it lies at ride height, from its inner joint outboard. */
export const shaftAtRide = (known: Compared, of: (along: Vec3) => number): Trait =>
  seen(known, (fitted, when) => {
    const pose = solvePose(fitted.linkage, standsAt(known, fitted, when));
    const along = pose.ok ? shaftAlong(fitted.bench.fittings, pose.value) : undefined;
    return along ? of(along) : Number.NaN;
  });

export const toeGained =
  (by: number) =>
  (known: Compared): Trait =>
    seen(known, ({ linkage, ...fitted }, when) => {
      const ride = standsAt(known, { linkage, ...fitted }, when);
      return toeAt(linkage, ride + by) - toeAt(linkage, ride);
    });

function toeAt(linkage: Linkage, travel: number): number {
  const pose = solvePose(linkage, travel);
  return pose.ok ? wheelAngles(pose.value, 0.4).toe : Number.NaN;
}

/** Over the rack and over travel; the drawing's spread is taken where it is greatest. */
export function hose(known: Compared): Trait | undefined {
  const reach = { before: spanOver(known.before, known.before.droop), after: spanOver(known.after, known.after.droop) };
  const { before, after } = reach;
  if (!before || !after) return undefined;
  const greatest = { before, after };
  return seen(known, (fitted, when) => {
    const { travel, rack } = greatest[when];
    return measureAt(fitted, endMoved(known, fitted, when, travel) ?? travel, rack, HOSE_SPAN);
  });
}

function spanOver({ linkage, corner, bump }: End, droop: number) {
  const r = corner.steering.rackTravel;
  const found = corner.brakeHose && hoseReach(linkage, corner.brakeHose, { droop, bump, rackLeft: r, rackRight: -r });
  return found?.ok ? found.value : undefined;
}

/** A moved drawing may have another of the stops hold its wheel; further ones than so many are not met. */
const STOPS_FOLLOWED = 3;

/** How much further apart its ends come where the first of other stops holds the wheel than on its damper; nearer is negative, where it binds before. */
export function hoseOn(known: Compared, on: (ends: TravelEnds) => readonly Stop[], ask: Ask): Trait | undefined {
  const hung = (end: End) => {
    const all = end.ends();
    const stops = all.ok ? on(all.value).slice(0, STOPS_FOLLOWED) : [];
    const span = stops[0] && spanOver(end, Math.min(end.droop, stops[0].travel));
    return span && { stops, rack: span.rack };
  };
  const [before, after] = [hung(known.before), hung(known.after)];
  if (!before || !after) return void ask.unknown('with the damper missing nothing is drawn that would hold the wheel');
  const held = { before, after };
  return seen(known, (fitted, when) => {
    const { stops, rack } = held[when];
    const spanAt = (travel: number): number => measureAt(fitted, travel, rack, HOSE_SPAN);
    const hangs = Math.max(...stops.map((stop) => stopMoved(known, fitted, when, stop)));
    return spanAt(hangs) - spanAt(endsOf(fitted).droop);
  });
}

/** What is nearly the same over so much travel, metres or radians by metre, is no stop that a moved drawing could be followed by. */
const SLACK = 0.05;

/** Travel at which that stop holds the wheel of a moved drawing, to first order. */
function stopMoved(known: Compared, fitted: Fitted, when: When, { name, travel }: Stop): number {
  const of = (bench: Fitted['bench'], by = 0): number => stopMargin(bench, name, travel + by);
  const { bench } = known[when];
  if (fitted.bench === bench) return travel;
  const h = 1e-4;
  const slope = (of(bench, h) - of(bench)) / h;
  return slope > SLACK ? travel - (of(fitted.bench) - of(bench)) / slope : travel;
}

/** The shortest smooth way between the fittings; the drawing's spread is taken where it is longest. */
export function smoothWay(known: Compared, ask: Ask): Trait | undefined {
  const reach = (end: End) => {
    const { linkage, corner, droop, bump } = end;
    const r = corner.steering.rackTravel;
    return longestWay(linkage, corner.brakeHose as BrakeHose, { droop, bump, rackLeft: r, rackRight: -r });
  };
  const [before, after] = [reach(known.before), reach(known.after)];
  if (!before.ok) return void ask.unknown(before.reason);
  if (!after.ok) return void ask.unknown(after.reason);
  const longest = { before: before.value, after: after.value };
  return seen(known, (fitted, when) => {
    const { travel, rack } = longest[when];
    const { linkage, corner } = fitted;
    const way = wayAt(linkage, corner.brakeHose as BrakeHose, endMoved(known, fitted, when, travel) ?? travel, rack);
    return way.ok ? way.value : Number.NaN;
  });
}

/** Where it is least, one step of travel is enough to follow a moved drawing. */
export function springGap(known: Compared, world: VehicleWorld, ask: Ask): Trait | undefined {
  const arm = armOf(world);
  if (!arm) return void ask.unknown('the upper arm’s shape is not known');
  const least = ({ linkage, corner, droop, bump }: End) => springToArmGap(linkage, corner.coilOver, arm, droop, bump);
  const [before, after] = [least(known.before), least(known.after)];
  if (!before.ok) return void ask.unknown(before.reason);
  if (!after.ok) return void ask.unknown(after.reason);
  const nearest = { before: before.value.travel, after: after.value.travel };
  return seen(known, (fitted, when) => {
    const travel = endMoved(known, fitted, when, nearest[when]) ?? nearest[when];
    const gap = springToArmGap(fitted.linkage, fitted.corner.coilOver, arm, travel, travel);
    return gap.ok ? gap.value.gap : Number.NaN;
  });
}

/** The upper arm as an obstacle: what the coil spring must not meet. */
function armOf({ present }: VehicleWorld): Obstacle | undefined {
  const part = present.find(({ kind, shape }) => kind === 'arm_edge' && shape);
  return part?.shape && obstacleOf(part.id, part.shape, 'upper_arm');
}
