import type { Ask, Provider } from '../../engine/values.ts';
import { HOSE_SPAN, MEASURES, measureFittings, prepareFittings, SHAFT_INNER } from '../../models/suspension/attachments.ts';
import { armAt, POSE_SIZE, solvePose, solveTurn } from '../../models/suspension/double-wishbone.ts';
import type { End, Fitted, When } from '../../models/suspension/front-study.ts';
import type { Obstacle } from '../../models/suspension/geometry.ts';
import { hoseReach } from '../../models/suspension/hose.ts';
import { type RideHeight, supportAt } from '../../models/suspension/ride-height.ts';
import { springToArmGap } from '../../models/suspension/spring-clearance.ts';
import { steeringLock } from '../../models/suspension/steering-lock.ts';
import { furthestDroop, type StopName, stopMargin } from '../../models/suspension/travel.ts';
import { wheelAngles } from '../../models/suspension/wheel-angles.ts';
import type { FrontCase } from '../front-corner.ts';
import { frontOf, obstacleOf } from '../front-corner.ts';
import type { VehicleWorld } from '../world.ts';
import { settled } from './tyres.ts';

/** Travel either side of ride height over which toe is watched. */
const BUMP_STEER_TRAVEL = 0.05;

/** What geometry says of the front suspension, apart from what the tyre can touch. */
export function frontProviders(world: VehicleWorld): Provider[] {
  const front = frontOf(world);

  /** A number of the front's case; a half-width beside it is the drawing's. */
  const from = (
    provides: string,
    model: string,
    give: (front: FrontCase, ask: Ask) => { value: number; plusMinus: number } | number,
  ): Provider => ({
    provides,
    model,
    compute: (ask) => {
      const known = settled(front(ask), ask);
      if (!known) return Number.NaN;
      const given = give(known, ask);
      if (typeof given === 'number') return given;
      ask.within(given.plusMinus);
      return given.value;
    },
  });
  /** One answer of the corner as it will be or as it was, with its half-width. */
  const answer =
    (when: When, of: (fitted: Fitted, known: FrontCase) => number): Answer =>
    (known) => ({
      value: of(known[when], known),
      plusMinus: known.spread(when, (fitted) => of(fitted, known)),
    });
  const end =
    (when: When, which: 'droop' | 'bump'): Answer =>
    (known) => ({
      value: known[when][which],
      plusMinus: known.endSpread(when, which),
    });

  return [
    from('full_droop', 'double wishbone in closed form; the first stop in droop', end('after', 'droop')),
    from('full_droop_fitted', 'double wishbone in closed form; the first stop in droop', end('before', 'droop')),
    from('full_bump', 'double wishbone in closed form; the first stop in bump', end('after', 'bump')),
    from('full_bump_fitted', 'double wishbone in closed form; the first stop in bump', end('before', 'bump')),
    from('front_rise', 'spring force times motion ratio holds the sprung load', ({ ride, spread }) => ({
      value: ride.before.travel - ride.after.travel,
      plusMinus: spread('change', (fitted, when) => standsLower(fitted, ride[when])),
    })),
    from('droop_left', 'ride height less full droop', (known) => ({
      value: known.ride.after.travel - known.after.droop,
      plusMinus: Math.hypot(rideSpread(known), known.endSpread('after', 'droop')),
    })),
    from('bump_stop_gap', 'travel from ride height to where the stop is touched', (known) => ({
      value: (known.after.ends.bumpStopContact ?? known.after.bump) - known.ride.after.travel,
      plusMinus: Math.hypot(rideSpread(known), known.endSpread('after', 'bump')),
    })),
    from('camber_change', 'wheel angles at ride height, nothing adjusted', ({ camberChange }) => camberChange),
    from('caster_change', 'wheel angles at ride height, nothing adjusted', ({ casterChange }) => casterChange),
    from('cam_needed', 'settings that bring camber, caster and toe back', ({ camNeeded }) => camNeeded),
    from(
      'upper_joint_back_needed',
      'joint that brings camber and caster back',
      ({ jointNeeded }, ask) => jointNeeded?.back ?? ask.unknown(NO_JOINT),
    ),
    from(
      'upper_joint_out_needed',
      'joint that brings camber and caster back',
      ({ jointNeeded }, ask) => jointNeeded?.out ?? ask.unknown(NO_JOINT),
    ),
    from(
      'toe_change',
      'toe over travel either side of ride height',
      answer('after', (fitted, { ride }) => toeChange(fitted, ride.after.travel)),
    ),
    from('upper_joint_left', 'swing of the stud at full droop, over the rack', answer('after', stopAt('upper_ball_joint', hanging))),
    from('lower_joint_left', 'swing of the stud at full droop, over the rack', answer('after', stopAt('lower_ball_joint', hanging))),
    from('shaft_inner_left', 'angle of the inner joint at full droop', answer('after', stopAt('halfshaft_inner', hanging))),
    from('shaft_outer_left', 'angle of the outer joint at full droop and lock', answer('after', stopAt('halfshaft_outer', hanging))),
    from(
      'shaft_plunge_left',
      'slide of the inner joint at full droop',
      answer('after', (fitted, { after }) =>
        Math.min(...[after.droop, after.bump].map((travel) => stopMargin(fitted.linkage, fitted.corner, 'halfshaft_plunge', travel))),
      ),
    ),
    from(
      'shaft_angle_at_ride',
      'angle of the inner joint at ride height',
      answer('after', (fitted, { ride }) => measureAt(fitted, ride.after.travel, 0, SHAFT_INNER)),
    ),
    from('anti_roll_link_left', 'angle of the link from in line with the bar’s arm', answer('after', stopAt('anti_roll_link', hanging))),
    from('damper_left_at_stop', 'stroke left where the bump stop is solid', (known, ask) =>
      known.collapsedKnown
        ? answer('after', stopAt('damper_collapsed', solidAt))(known)
        : ask.unknown('`collapsed_length` of the coil-overs is not stated'),
    ),
    from('spring_to_arm_gap', 'coil spring as a cylinder against the upper arm, over travel', (known, ask) => {
      const arm = armOf(world);
      if (!arm) return ask.unknown('the upper arm’s shape is not known');
      const of = ({ linkage, corner }: Fitted, low: number, high: number): number => {
        const gap = springToArmGap(linkage, corner.coilOver, arm, low, high);
        return gap.ok ? gap.value.gap : Number.NaN;
      };
      const least = springToArmGap(known.after.linkage, known.after.corner.coilOver, arm, known.after.droop, known.after.bump);
      if (!least.ok) return ask.unknown(least.reason);
      const { travel } = least.value;
      // Where it is least, one step of travel is enough to follow a moved drawing.
      return { value: least.value.gap, plusMinus: known.spread('after', (fitted) => of(fitted, travel, travel)) };
    }),
    from(
      'hose_span',
      'greatest straight line between the hose’s ends',
      hose('after', ({ after }) => after.droop),
    ),
    from(
      'hose_span_fitted',
      'greatest straight line between the hose’s ends',
      hose('before', ({ before }) => before.droop),
    ),
    from(
      'hose_span_furthest',
      'the same with every stop of droop but the last one missing',
      hose('after', ({ after }) => furthestDroop(after.ends) ?? after.droop),
    ),
    {
      provides: 'lock_angle',
      model: 'inner wheel at the end of the rack',
      compute: (ask, _corner) => {
        const known = settled(front(ask), ask);
        if (!known) return Number.NaN;
        const inner = ({ linkage, corner }: Fitted): number => {
          const lock = steeringLock(linkage, corner.steering);
          return lock.ok ? lock.value.inner : Number.NaN;
        };
        ask.within(known.spread('before', inner));
        return inner(known.before);
      },
    },
  ];
}

const NO_JOINT = 'no place of the joint within 50 mm brings the angles back';

type Answer = (known: FrontCase) => { readonly value: number; readonly plusMinus: number };

/** By how much a moved drawing would stand elsewhere: what its spring carries too little there, over the wheel rate. */
const standsLower = ({ linkage, corner, sprungLoad }: Fitted, { travel, wheelRate }: RideHeight): number =>
  (sprungLoad - supportAt(linkage, corner, travel)) / wheelRate;

const rideSpread = (known: FrontCase): number => known.spread('after', (fitted) => standsLower(fitted, known.ride.after));

const stopAt =
  (stop: StopName, at: (end: End) => number) =>
  (fitted: Fitted, { after }: FrontCase): number =>
    stopMargin(fitted.linkage, fitted.corner, stop, at(after));

const hanging = ({ droop }: End): number => droop;

/** Where the frame's bump stop is solid, which may lie beyond where something else ends the travel. */
const solidAt = ({ ends, bump }: End): number => ends.bump.find(({ name }) => name === 'bump_stop_solid')?.travel ?? bump;

function measureAt({ linkage, corner }: Fitted, travel: number, rack: number, column: number): number {
  const arm = armAt(linkage, travel);
  const raw = new Float64Array(POSE_SIZE);
  if (!arm.ok || solveTurn(linkage, arm.value, rack, raw, 0)) return Number.NaN;
  const row = new Float64Array(MEASURES);
  measureFittings(prepareFittings(linkage, corner), raw, 0, row, 0);
  return row[column] as number;
}

/** Most that toe moves off what it is at ride height. */
function toeChange({ linkage }: Fitted, ride: number): number {
  const toe = (travel: number): number => {
    const pose = solvePose(linkage, travel);
    return pose.ok ? wheelAngles(pose.value, 0.4).toe : Number.NaN;
  };
  const here = toe(ride);
  return Math.max(...[-1, -0.5, 0.5, 1].map((part) => Math.abs(toe(ride + part * BUMP_STEER_TRAVEL) - here)));
}

/** Over the rack and from full bump to that droop; the drawing's spread is taken where it is greatest. */
function hose(when: When, droop: (known: FrontCase) => number): Answer {
  return (known) => {
    const { linkage, corner, bump } = known[when];
    const r = corner.steering.rackTravel;
    const { brakeHose } = corner;
    const reach = brakeHose && hoseReach(linkage, brakeHose, { droop: droop(known), bump, rackLeft: r, rackRight: -r });
    if (!reach?.ok) return { value: Number.NaN, plusMinus: 0 };
    const { span, travel, rack } = reach.value;
    return { value: span, plusMinus: known.spread(when, (fitted) => measureAt(fitted, travel, rack, HOSE_SPAN)) };
  };
}

/** The upper arm as an obstacle: what the coil spring must not meet. */
function armOf({ present }: VehicleWorld): Obstacle | undefined {
  const part = present.find(({ kind, shape }) => kind === 'arm_edge' && shape);
  return part?.shape && obstacleOf(part.id, part.shape, 'upper_arm');
}
