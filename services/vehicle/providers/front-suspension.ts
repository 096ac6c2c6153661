import type { Ask, Provider } from '../../engine/values.ts';
import { motionRatio, ROD_INNER } from '../../models/suspension/attachments.ts';
import { solvePose } from '../../models/suspension/double-wishbone.ts';
import type { When } from '../../models/suspension/front-study.ts';
import { standsLower } from '../../models/suspension/ride-height.ts';
import { steeringLock } from '../../models/suspension/steering-lock.ts';
import { lastInDroop, nextInDroop, type StopName, stopMargin } from '../../models/suspension/travel.ts';
import { addScaled, length, type Vec3 } from '../../models/suspension/vector.ts';
import { type WheelAngles, wheelAngles } from '../../models/suspension/wheel-angles.ts';
import { bothWays, type HalfWidths, stacked } from '../../units/index.ts';
import type { Part } from '../assembly.ts';
import type { AskFront, Compared, FrontCase, Known } from '../front-corner.ts';
import { isKind } from '../library-view.ts';
import { MovedByParts } from '../moved-by-parts.ts';
import { subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import {
  atRide,
  bothEnds,
  contactOf,
  difference,
  endOf,
  heightOfHub,
  hose,
  hoseOn,
  measureAt,
  rollCentre,
  type Stands,
  seen,
  shaftAtRide,
  smoothWay,
  springGap,
  standing,
  standsAt,
  stopAt,
  type Trait,
  toeGained,
} from './front-traits.ts';
import { structureOf, sum } from './structure.ts';
import { atRest } from './swept-gaps.ts';
import { settled } from './tyres.ts';

const FRONT = subjectOf('front');

/** By how much the wheel has come down where camber and caster are read a second time. */
const LOWERED = 0.05;

/** Travel either side of ride height over which toe is watched. */
const BUMP_STEER_TRAVEL = 0.05;

/** What geometry says of the front suspension, apart from what the tyre can touch. */
export function frontProviders(world: VehicleWorld, front: AskFront): Provider[] {
  const parts = new MovedByParts();
  /** A number of the front's case; a half-width beside it is the drawing's. */
  const from = (provides: string, model: string, give: (front: FrontCase, ask: Ask) => Known | number): Provider => {
    // A case never changes while a world lives, and a band asks again and again.
    let given: { readonly value: number; readonly off?: HalfWidths } | undefined;
    const numberOf = (answer: Known | number): number => (typeof answer === 'number' ? answer : answer.value);
    return {
      provides,
      model,
      compute: (ask) => {
        const known = front(ask);
        if (!known) return Number.NaN;
        if (!given) {
          const answer = give(known, ask);
          given = typeof answer === 'number' ? { value: answer } : { value: answer.value, off: answer.off() };
        }
        if (Number.isNaN(given.value)) return given.value;
        const off = given.off ?? EXACT;
        const offAt = (end: FrontCase): HalfWidths => {
          const answer = give(end, ask);
          return typeof answer === 'number' ? off : answer.off();
        };
        const moved = parts.at(ask, known, provides, off, (end) => numberOf(give(end, ask)), offAt);
        if (given.off) ask.folds(moved.off);
        return given.value + moved.by;
      },
    };
  };
  /** A trait's numbers of two states; undefined with the reason recorded. */
  const studied = (name: string, of: (known: Compared, ask: Ask) => Trait | undefined, known: Compared, ask: Ask) => {
    const remembered = answers.get(known)?.get(name);
    if (remembered) return remembered;
    const answer = study(known, of(known, ask));
    if (answer) answers.set(known, (answers.get(known) ?? new Map<string, Studied>()).set(name, answer));
    return answer;
  };
  const plannedArms = structureOf(world).added.filter(({ kind }) => isKind(world.library, kind, 'upper_arms'));
  /** Another maker's arm is not the factory's slid to another place: what its shape leaves the spring is its own. */
  const withPlannedArms = (provider: Provider): Provider => ({
    ...provider,
    compute: (ask, axle) =>
      plannedArms.reduce(
        (gap, { subject }) => {
          const gained = ask.value('upper_arms.spring_gap_gained', subject);
          return Number.isNaN(gained) ? ask.unknown(NO_SHAPE) : gap + gained;
        },
        provider.compute(ask, axle as number),
      ),
  });
  const structure = structureOf(world);
  /** The tyre and how far out it stands against the drawing's wheel, before and after; undefined with the reason recorded. */
  const standsOn = (ask: Ask): Readonly<Record<When, Stands>> | undefined => {
    const corner = subjectOf('front-left');
    const [wheel] = structure.fitted('wheel', corner);
    const tyres = { before: structure.fitted('tyre', corner)[0], after: structure.planned('tyre', corner)[0] };
    if (!tyres.before || !tyres.after || !wheel) return void ask.unknown('no tyre or no wheel is known there');
    const { value } = ask;
    const radius = (tyre: Part): number => (value('tyre.overall_diameter', tyre.subject) / 2) * STANDING;
    const spacers = structure.fitted('wheel_spacer', corner).map(({ subject }) => value('wheel_spacer.thickness', subject));
    const now = value('design_wheel_offset', FRONT) - value('wheel.offset', wheel.subject) + sum(spacers);
    const stands = {
      before: { radius: radius(tyres.before), outward: now },
      after: { radius: radius(tyres.after), outward: now + value('wheel_outward_shift', corner) },
    };
    const known = Object.values(stands).every(({ radius, outward }) => !Number.isNaN(radius + outward));
    return known ? stands : undefined;
  };
  const BY_TYRE = { keyed: (ask: Ask): string => JSON.stringify(standsOn(ask)) };
  /** A number of the wheel on the road, at ride height, with the tyre and the wheel that are on it. */
  const onTheRoad = (known: Compared, ask: Ask, of: (angles: WheelAngles) => number): Trait | undefined => {
    const stands = standsOn(ask);
    return (
      stands &&
      seen(known, (fitted, when) => {
        const pose = solvePose(fitted.linkage, standsAt(known, fitted, when));
        if (!pose.ok) return Number.NaN;
        const { radius, outward } = stands[when];
        const { wheelCentre, wheelAxis } = pose.value;
        return of(wheelAngles({ ...pose.value, wheelCentre: addScaled(wheelCentre, wheelAxis, outward) }, radius));
      })
    );
  };
  /** The first things that end the wheel's travel one way, with the planned parts, by name, and how far apart they are. */
  const stopsOf = (way: 'droop' | 'bump'): Provider[] => {
    const stops = (ask: Ask) => {
      const ends = front(ask)?.after.ends();
      return ends && settled(ends, ask)?.[way].filter(({ name }) => name !== 'brake_hose');
    };
    const name = (nth: number) => (ask: Ask) => {
      const stop = stops(ask)?.[nth];
      return stop ? world.values.intern(STOPS[stop.name]) : Number.NaN;
    };
    const model = 'double wishbone in closed form; every stop asked over the rack';
    const [first, next, inHand] = way === 'droop' ? DROOP_STOPS : BUMP_STOPS;
    return [
      { provides: first, model, compute: name(0) },
      { provides: next, model, compute: name(1) },
      { provides: inHand, model, compute: (ask) => stops(ask)?.[1]?.travelInHand ?? Number.NaN },
    ];
  };
  /**
   * What parts change: as it was built if that is known, else as geometry has it; then, for the parts that are on it and
   * for the planned ones, the difference, which a drawing gives far more surely than the thing itself.
   */
  const both = (
    name: string,
    model: string,
    trait: (known: Compared, ask: Ask) => Trait | undefined,
    {
      planned = world.library.quantities.get(`${name}_fitted`)?.unladen ? SINCE_READ : AS_STUDIED,
      keyed,
    }: {
      readonly planned?: (known: FrontCase) => Compared;
      /** What the trait hangs on besides the suspension, as a text; nobody states such a one as built. */
      readonly keyed?: (ask: Ask) => string;
    } = {},
  ): Provider[] => {
    const nameIn = (ask: Ask): string => (keyed ? `${name} ${keyed(ask)}` : name);
    /** Studied with nothing moved, which says how far the drawing leaves it open; what it hangs on besides moves its numbers alone. */
    const asked = (ask: Ask, known: Compared): Studied | undefined => {
      if (!keyed) return studied(name, trait, known, ask);
      const of = studied(nameIn(atRest(ask)), trait, known, atRest(ask));
      const now = of && trait(known, ask);
      return of && now && { ...of, ...numbersOf(now) };
    };
    /** The same with what is stated of the parts moved; what the drawing leaves open of it is folded in. */
    const moved = (
      ask: Ask,
      key: string,
      front: FrontCase,
      in_: (front: FrontCase) => Compared,
      when: 'before' | 'change',
      pinned?: HalfWidths,
    ): number => {
      const of = asked(ask, in_(front));
      if (!of) return Number.NaN;
      const rest = keyed ? atRest(ask) : ask;
      const at = (end: FrontCase): Studied | undefined => studied(nameIn(rest), trait, in_(end), rest);
      const offAt = (end: FrontCase): HalfWidths => at(end)?.spread(when, pinned) ?? UNKNOWN;
      const { by, off } = parts.at(ask, front, key, of.spread(when, pinned), (end) => at(end)?.[when] ?? Number.NaN, offAt);
      ask.folds(off);
      return of[when] + by;
    };
    const carried = (ask: Ask, base: string, front: FrontCase, in_: (front: FrontCase) => Compared, axle: number): number =>
      moved(ask, `${name} from ${base}`, front, in_, 'change', ask.halfWidths(base, axle)) + ask.value(base, axle);
    return [
      {
        provides: `${name}_fitted`,
        model,
        compute: (ask, axle) => {
          const known = front(ask);
          if (!known) return Number.NaN;
          if (!keyed && !Number.isNaN(ask.value(`${name}_as_built`, axle as number)))
            return carried(ask, `${name}_as_built`, known, SINCE_BUILT, axle as number);
          return moved(ask, `${name}_fitted`, known, planned === SINCE_READ ? SINCE_READ : AS_STUDIED, 'before');
        },
      },
      {
        provides: name,
        model,
        compute: (ask, axle) => {
          const known = front(ask);
          return known ? carried(ask, `${name}_fitted`, known, planned, axle as number) : Number.NaN;
        },
      },
    ];
  };

  /** An angle as it stands, with the frame raised until the wheel has come down by so much: how it moves with travel is told by two. */
  const lowered = (provides: string, of: (angles: WheelAngles) => number): Provider =>
    from(provides, 'wheel angles below ride height', ({ sinceRead: known }) => {
      const trait = seen(known, (fitted, when) => {
        const pose = solvePose(fitted.linkage, standsAt(known, fitted, when) - LOWERED);
        return pose.ok ? of(wheelAngles(pose.value, 0.4)) : Number.NaN;
      });
      return { value: trait.at('before'), off: () => known.spread('before', trait.moving) };
    });

  /** Only the coil-overs themselves can tell it: what is read of others before they are on says nothing of them. */
  const unstated = (attribute: string, { stated }: Compared, ask: Ask): undefined => {
    const name = `front_coilover.${attribute}`;
    ask.lacks(structure[stated.of]('front_coilover', FRONT).map(({ subject }) => ({ name, subject })));
    return void ask.unknown(`\`${attribute}\` of the coil-overs is not stated`);
  };
  const hubBelow = ({ sinceRead: known }: FrontCase, ask: Ask): Studied | undefined => {
    const trait = () => seen(known, (fitted, when) => heightOfHub(fitted, standsAt(known, fitted, when)));
    return studied('hub_to_arch', trait, known, ask);
  };

  const furthest = (provides: string, beyond: string): Provider => ({
    provides,
    model: 'greatest span, and what the wheel gains below its damper',
    compute: (ask, axle) => ask.value('hose_span', axle as number) + Math.max(0, ask.value(beyond, axle as number)),
  });

  return [
    // Cams hardly move the ends: what parts do to them is asked with nothing adjusted, so that what leaves them alone does so exactly.
    ...both('full_droop', 'double wishbone in closed form; the damper fully out', endOf('droop'), {
      planned: ({ unaligned }) => unaligned,
    }),
    ...both('full_bump', 'double wishbone in closed form; the bump stop solid', endOf('bump'), { planned: ({ unaligned }) => unaligned }),
    from('front_rise', 'spring force times motion ratio holds the sprung load', ({ ride, spread }) => ({
      value: ride.before.travel - ride.after.travel,
      off: () => spread('change', (fitted, when) => standsLower(fitted, ride[when])),
    })),
    ...both('droop_left', 'ride height less full droop', (known) => difference(standing(known), endOf('droop')(known))),
    ...both('bump_stop_gap', 'travel from ride height to where the stop is touched', (known) =>
      difference(contactOf(known), standing(known)),
    ),
    from('camber_change', 'wheel angles at ride height, nothing adjusted', ({ camberChange }) => camberChange),
    from('caster_change', 'wheel angles at ride height, nothing adjusted', ({ casterChange }) => casterChange),
    from('wheel_forward', 'what bringing camber, caster and toe to what is set moves the wheel', ({ wheelForward }) => ({
      value: wheelForward,
      off: () => bothWays(0),
    })),
    from('cam_needed', 'settings that bring camber, caster and toe back', ({ camNeeded }) => camNeeded()),
    from(
      'upper_joint_back_needed',
      'joint that brings camber and caster back',
      ({ jointNeeded }, ask) => jointNeeded()?.back ?? ask.unknown(NO_JOINT),
    ),
    from(
      'upper_joint_out_needed',
      'joint that brings camber and caster back',
      ({ jointNeeded }, ask) => jointNeeded()?.out ?? ask.unknown(NO_JOINT),
    ),
    ...both('toe_gained_up', TOE_GAINED, toeGained(BUMP_STEER_TRAVEL)),
    ...both('toe_gained_down', TOE_GAINED, toeGained(-BUMP_STEER_TRAVEL)),
    {
      provides: 'toe_change',
      model: 'the greater of toe gained up and down',
      compute: (ask, axle) => Math.max(...['toe_gained_up', 'toe_gained_down'].map((name) => Math.abs(ask.value(name, axle as number)))),
    },
    ...both('camber_at_ride', ALIGNED, (known) => atRide(known, ({ camber }) => camber)),
    ...both('caster_at_ride', ALIGNED, (known) => atRide(known, ({ caster }) => caster)),
    lowered('camber_lowered', ({ camber }) => camber),
    lowered('caster_lowered', ({ caster }) => caster),
    {
      provides: 'hub_to_arch',
      model: 'the lip of the arch above the wheel’s centre where it stands on its springs',
      compute: (ask) => {
        const known = front(ask);
        const lip = known && lipAbove(structure.fitted('wing_lip', subjectOf('front-left'))[0], known.before.corner.hardpoints.wheelCentre);
        if (!known) return Number.NaN;
        if (!lip) return ask.unknown('where the lip of the arch is, nobody has drawn');
        const of = hubBelow(known, ask);
        if (!of) return Number.NaN;
        const moved = parts.at(ask, known, 'hub_to_arch', of.spread('before'), (end) => hubBelow(end, ask)?.before ?? Number.NaN);
        ask.folds(stacked([bothWays(lip.plusMinus), moved.off]));
        return lip.height - of.before - moved.by + ask.value('body_lift_fitted');
      },
    },
    ...both('inclination_at_ride', ALIGNED, (known) => atRide(known, ({ inclination }) => inclination)),
    ...both('mechanical_trail', ALIGNED, (known, ask) => onTheRoad(known, ask, ({ mechanicalTrail }) => mechanicalTrail), BY_TYRE),
    ...both(
      'steering_axis_offset',
      ALIGNED,
      (known, ask) => onTheRoad(known, ask, ({ steeringAxisOffset }) => steeringAxisOffset),
      BY_TYRE,
    ),
    ...both(
      'roll_centre_height',
      'instant centre of both arms where the tyre stands',
      (known, ask) => {
        const stands = standsOn(ask);
        return stands && seen(known, (fitted, when) => rollCentre(fitted.linkage, standsAt(known, fitted, when), stands[when]));
      },
      BY_TYRE,
    ),
    ...both('coil_over_motion_ratio', 'velocities at ride height', (known) =>
      seen(known, (fitted, when) => {
        const { linkage, corner } = fitted;
        const pose = solvePose(linkage, standsAt(known, fitted, when));
        const ratio = pose.ok ? motionRatio(linkage, pose.value, corner.coilOver) : pose;
        return ratio.ok ? ratio.value : Number.NaN;
      }),
    ),
    ...both('tie_rod_angle', 'tie rod against the rack, at both ends of travel and lock', (known) =>
      seen(known, (fitted) => {
        const r = fitted.corner.steering.rackTravel;
        return Math.max(...bothEnds(fitted).flatMap((travel) => [-r, 0, r].map((rack) => measureAt(fitted, travel, rack, ROD_INNER))));
      }),
    ),
    ...both('upper_joint_left', 'swing of the stud at full droop, over the rack', stopAt('upper_ball_joint', 'droop')),
    ...both('lower_joint_left', 'swing of the stud at full droop, over the rack', stopAt('lower_ball_joint', 'droop')),
    ...both('shaft_inner_left', 'angle of the inner joint at full droop', stopAt('halfshaft_inner', 'droop')),
    ...both('shaft_outer_left', 'angle of the outer joint at full droop and lock', stopAt('halfshaft_outer', 'droop')),
    ...both('shaft_plunge_left', 'slide of the inner joint at the worse end of travel', (known) =>
      seen(known, (fitted) => Math.min(...bothEnds(fitted).map((travel) => stopMargin(fitted.bench, 'halfshaft_plunge', travel)))),
    ),
    ...both('shaft_slope_at_ride', 'half-shaft seen from the front, at ride height', (known) =>
      shaftAtRide(known, ([, y, z]) => Math.atan2(-z, y)),
    ),
    ...both('shaft_sweep_at_ride', 'half-shaft out of the plane across the truck, at ride height', (known) =>
      shaftAtRide(known, (along) => Math.asin(along[0] / length(along))),
    ),
    {
      provides: 'shaft_angle_at_ride',
      model: 'angle of the inner joint, of its slope and its sweep',
      compute: (ask, axle) => {
        const [slope, sweep] = ['shaft_slope_at_ride', 'shaft_sweep_at_ride'].map((name) => ask.value(name, axle as number));
        return Math.acos(Math.cos(slope as number) * Math.cos(sweep as number));
      },
    },
    ...both('anti_roll_link_left', 'angle of the link from in line with the bar’s arm', stopAt('anti_roll_link', 'droop')),
    ...both('damper_left_at_stop', 'stroke left where the bump stop is solid', (known, ask) =>
      known.stated.collapsed ? stopAt('damper_collapsed', 'bump')(known) : unstated('collapsed_length', known, ask),
    ),
    ...both('coil_bind_left', 'length of the coil-over where the bump stop is solid, less that at which its coils touch', (known, ask) =>
      known.stated.coilBind ? stopAt('coil_bind', 'bump')(known) : unstated('coil_bind_length', known, ask),
    ),
    ...(['droop', 'bump'] as const).flatMap((way) => stopsOf(way)),
    ...both('spring_to_arm_gap', 'coil spring as a cylinder against the upper arm, over travel', (known, ask) =>
      springGap(known, world, ask),
    ).map((provider) => (provider.provides === 'spring_to_arm_gap' ? withPlannedArms(provider) : provider)),
    ...both('hose_span', 'greatest straight line between the hose’s ends', (known) => hose(known)),
    ...both('hose_span_to_next_stop', 'the same, with the damper missing, on what binds next', (known, ask) =>
      hoseOn(known, nextInDroop, ask),
    ),
    ...both('hose_span_to_last_stop', 'the same where the last of all stops would hold the wheel', (known, ask) =>
      hoseOn(known, lastInDroop, ask),
    ),
    furthest('hose_span_furthest', 'hose_span_to_next_stop'),
    furthest('hose_span_last_stop', 'hose_span_to_last_stop'),
    ...both('hose_way', 'arc, straight and arc between the fittings, the longest over travel and lock', smoothWay),
    from('lock_angle', 'inner wheel at the end of the rack', (known) => {
      const trait = seen(known, ({ linkage, corner }) => {
        const lock = steeringLock(linkage, corner.steering);
        return lock.ok ? lock.value.inner : Number.NaN;
      });
      return { value: trait.at('before'), off: () => known.spread('before', trait.moving) };
    }),
  ];
}

const DROOP_STOPS = ['droop_stop', 'droop_stop_next', 'droop_in_hand'] as const;
const BUMP_STOPS = ['bump_stop_first', 'bump_stop_next', 'bump_in_hand'] as const;

/** As people call them. */
const STOPS: Readonly<Record<StopName, string>> = {
  damper_extended: 'the damper fully out',
  damper_collapsed: 'the damper fully in',
  coil_bind: 'the coils of the spring',
  bump_stop_solid: 'the bump stop',
  upper_ball_joint: 'the upper ball joint',
  lower_ball_joint: 'the lower ball joint',
  halfshaft_inner: 'the inner joint of the half-shaft',
  halfshaft_outer: 'the outer joint of the half-shaft at lock',
  halfshaft_plunge: 'the slide of the half-shaft',
  brake_hose: 'the brake hose',
  anti_roll_link: 'the link of the anti-roll bar',
  linkage: 'the arms themselves',
};

/** A trait with its numbers, kept with the case: the same vehicle is asked in several states of work. */
interface Studied {
  readonly before: number;
  readonly change: number;
  spread(of: When | 'change', pinned?: HalfWidths): HalfWidths;
}

const answers = new WeakMap<Compared, Map<string, Studied>>();

function study(known: Compared, trait: Trait | undefined): Studied | undefined {
  if (!trait) return undefined;
  return { ...numbersOf(trait), spread: known.spreads(trait.moving) };
}

function numbersOf(trait: Trait): Pick<Studied, 'before' | 'change'> {
  const before = trait.at('before');
  return { before, change: trait.at('after') - before };
}

const SINCE_BUILT = ({ sinceBuilt }: FrontCase): Compared => sinceBuilt;
const SINCE_READ = ({ sinceRead }: FrontCase): Compared => sinceRead;
const AS_STUDIED = (front: FrontCase): Compared => front;
const EXACT = bothWays(0);
const UNKNOWN = bothWays(Number.POSITIVE_INFINITY);

const ALIGNED = 'wheel angles at ride height, aligned as far as the cams go';

/** Share of its radius at which a tyre stands under its load; common practice, no source. */
const STANDING = 0.97;

const TOE_GAINED = 'toe against that at ride height';
const NO_SHAPE = 'the shape of the planned upper arms is not known: give their `spring_gap_gained`, or gauge coil to arm with them on';
const NO_JOINT = 'no place of the joint within 50 mm brings the angles back';

/** How high the lip of the arch is straight above a point, where its shape crosses there. */
function lipAbove(lip: Part | undefined, [x]: Vec3): { readonly height: number; readonly plusMinus: number } | undefined {
  const heights = (lip?.shape?.lines ?? []).flatMap((line) =>
    line.slice(1).flatMap((b, i) => {
      const a = line[i] as Vec3;
      const part = (x - a[0]) / (b[0] - a[0]);
      return part >= 0 && part <= 1 ? [a[2] + part * (b[2] - a[2])] : [];
    }),
  );
  return lip?.shape && heights.length > 0 ? { height: Math.max(...heights), plusMinus: lip.shape.plusMinus } : undefined;
}
