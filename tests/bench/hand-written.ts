/**
 * The demo's constraints as a person would write them by hand over the same typed slots: the floor the generated code is
 * held against. Each takes the values, the slot numbers and where its tuple's block starts, and answers 1, 0 or NaN as
 * the rules do. The places of leaves in a block are looked up once by their text.
 */
import type { BoundRule } from '../../services/engine/bind.ts';
import type { Question } from '../../services/engine/compile.ts';

type Make = (at: (text: string) => number) => Question;

const met = (margin: number): number => (margin >= 0 ? 1 : margin < 0 ? 0 : Number.NaN);
const G = 9.80665;
const DEG = Math.PI / 180;

/** `a >= b`, both single values. */
const atLeast =
  (a: string, b: string): Make =>
  (at) => {
    const [i, j] = [at(a), at(b)];
    return (v, s, p) => met(v[s[p + i]!]! - v[s[p + j]!]!);
  };

/** `a >= number`. */
const atLeastNumber =
  (a: string, least: number): Make =>
  (at) => {
    const i = at(a);
    return (v, s, p) => met(v[s[p + i]!]! - least);
  };

/** The tyre stays clear of something by what running takes and some air. */
const gap =
  (name: string, air: number): Make =>
  (at) => {
    const [after, loss] = [at(`tyre_gap_after(${name})`), at(`running_loss(${name})`)];
    return (v, s, p) => met(v[s[p + after]!]! - v[s[p + loss]!]! - air);
  };

/** Of a thing that may not be there: 3 where it is not, not known where nobody has looked, unless it does not apply anyway. */
const there = (seen: number, answer: number): number => (seen === 0 || answer === 3 ? 3 : seen === 1 ? answer : Number.NaN);

const slack: Make = (at) => {
  const [lift, own, shift] = [at('body_lift_total'), at('part.slack'), at('frame_shift(part)')];
  return (v, s, p) => (v[s[p + lift]!]! > 0 ? met(v[s[p + own]!]! - v[s[p + shift]!]!) : 3);
};

/** Something with slack that follows the axle down. */
const hangs =
  (what: string): Make =>
  (at) => {
    const [own, droop] = [at(`${what}.slack`), at(`droop_added(${what}.axle)`)];
    return (v, s, p) => (v[s[p + droop]!]! > 0 ? met(v[s[p + own]!]! - v[s[p + droop]!]!) : 3);
  };

const RULES: Readonly<Record<string, Make>> = {
  'cab-mount-gap': gap('mount', 0.006),
  'pinch-seam-gap': gap('seam', 0.006),
  'wing-lip-gap': gap('lip', 0.006),
  'frame-rail-gap': gap('rail', 0.006),
  'upper-arm-gap': gap('arm', 0.006),
  'ball-joint-gap': gap('joint', 0.006),
  'anti-roll-bar-gap': gap('bar', 0.003),
  'hose-bracket-gap': gap('bracket', 0.006),
  'bumper-corner-gap': gap('corner', 0.006),
  'mud-flap-gap': gap('flap', 0),
  'liner-gap': gap('liner', 0),
  'top-liner-gap': gap('liner', 0),
  'alignment-in-range': atLeast('cam_throw(front.axle)', 'cam_needed(front.axle)'),
  'anti-roll-link-angle': (at) => {
    const [left, matched] = [at('anti_roll_link_left(front.axle)'), at('anti_roll_links_matched(front.axle)')];
    return (v, s, p) => met(v[s[p + left]!]! + v[s[p + matched]!]! - 20 * DEG);
  },
  'bump-steer': (at) => {
    const [toe, corrected] = [at('toe_change(front.axle)'), at('steering_corrected(front.axle)')];
    return (v, s, p) => met(0.4 * DEG + v[s[p + corrected]!]! - v[s[p + toe]!]!);
  },
  'bump-stop-gap': atLeastNumber('bump_stop_gap(front.axle)', 0.025),
  'damper-before-stop': atLeastNumber('damper_left_at_stop(front.axle)', 0.013),
  'droop-left': atLeastNumber('droop_left(front.axle)', 0.035),
  'lower-ball-joint-swing': atLeastNumber('lower_joint_left(front.axle)', 2 * DEG),
  'upper-ball-joint-swing': atLeastNumber('upper_joint_left(front.axle)', 2 * DEG),
  'shaft-inner-joint': atLeastNumber('shaft_inner_left(front.axle)', DEG),
  'shaft-outer-joint': atLeastNumber('shaft_outer_left(front.axle)', DEG),
  'shaft-plunge': atLeastNumber('shaft_plunge_left(front.axle)', 0.003),
  'shaft-angle-at-ride': atLeast('shaft_inner_lasting_angle(front.axle)', 'shaft_angle_at_ride(front.axle)'),
  'spring-to-upper-arm': (at) => {
    const [gap_, relieved] = [at('spring_to_arm_gap(front.axle)'), at('upper_arm_relieved(front.axle)')];
    return (v, s, p) => met(v[s[p + gap_]!]! + v[s[p + relieved]!]! - 0.003);
  },
  'hose-spans': (at) => {
    const [laid, length, furthest, span] = [
      at('hose_way_laid(hose)'),
      at('hose.free_length'),
      at('hose_span_furthest(front.axle)'),
      at('hose_span(front.axle)'),
    ];
    return (v, s, p) =>
      v[s[p + laid]!]! === 0 && v[s[p + length]!]! < v[s[p + furthest]!]! + 0.025 ? met(v[s[p + length]!]! - v[s[p + span]!]!) : 3;
  },
  'hose-not-the-limiter': (at) => {
    const [length, furthest, droop, before] = [
      at('hose.free_length'),
      at('hose_span_furthest(front.axle)'),
      at('full_droop(front.axle)'),
      at('full_droop_fitted(front.axle)'),
    ];
    return (v, s, p) => (v[s[p + droop]!]! < v[s[p + before]!]! - 0.003 ? met(v[s[p + length]!]! - v[s[p + furthest]!]!) : 3);
  },
  'tyre-fits-rim': (at) => {
    const [asBuilt, a, b] = [at('mounted_as_built(tyre)'), at('tyre.rim_diameter'), at('wheel.rim_diameter')];
    return (v, s, p) => (v[s[p + asBuilt]!]! === 1 ? 3 : met(0.002 - Math.abs(v[s[p + a]!]! - v[s[p + b]!]!)));
  },
  'tyre-load': atLeast('tyre_rating(tyre)', 'tyre_load(tyre.corner)'),
  'tyre-pressure': atLeast('tyre_pressure(tyre.axle)', 'pressure_needed(tyre)'),
  'tyre-speed': atLeast('tyre.speed_capability', 'top_speed'),
  'tyres-alike': (at) => {
    const [a, b] = [at('front_tyre.overall_diameter'), at('rear_tyre.overall_diameter')];
    return (v, s, p) => met(0.015 - Math.abs(v[s[p + a]!]! - v[s[p + b]!]!));
  },
  'brake-torque-front': atLeast('brake_uprated(front)', 'torque_arm_growth(front)'),
  'brake-torque-rear': atLeast('brake_uprated(rear)', 'torque_arm_growth(rear)'),
  'brake-hose-reach': (at) => {
    const [length, route] = [at('hose.free_length'), at('hose_route_max(hose)')];
    return (v, s, p) => met(v[s[p + length]!]! - v[s[p + route]!]! - 0.025);
  },
  'caliper-gap': (at) => {
    const [clears, anew, gap] = [at('wheel.clears_calipers'), at('wheel_chosen_anew(wheel.corner)'), at('caliper_gap_left(wheel.corner)')];
    return (v, s, p) => (v[s[p + clears]!]! === 0 || v[s[p + anew]!]! === 1 ? met(v[s[p + gap]!]! - 0.003) : 3);
  },
  'wheel-outward-shift': (at) => {
    const shift = at('wheel_outward_shift(wheel.corner)');
    return (v, s, p) => met(0.03 - v[s[p + shift]!]!);
  },
  'spacer-thread': atLeast('spacer.stud_engagement', 'spacer.stud_diameter'),
  'spacer-centred': (at) => {
    const centred = at('spacer.hub_centric');
    return (v, s, p) => v[s[p + centred]!]!;
  },
  'wheel-load': atLeast('wheel.load_rating', 'tyre_load(wheel.corner)'),
  'speedometer-not-under': (at) => {
    const shown = at('indicated_speed_at_50');
    return (v, s, p) => met(v[s[p + shown]!]! - 50 / 3.6);
  },
  'speedometer-not-over': (at) => {
    const shown = at('indicated_speed_at_50');
    return (v, s, p) => met(59 / 3.6 - v[s[p + shown]!]!);
  },
  'fuel-filler-slack': slack,
  'ground-strap-slack': slack,
  'body-brake-line-slack': slack,
  'shift-linkage-slack': (at) => {
    const [lever, whole] = [at('part.moves_by_lever'), slack(at)];
    return (v, s, p) => there(v[s[p + lever]!]!, whole(v, s, p));
  },
  'steering-shaft-engagement': (at) => {
    const [lift, engagement, shift, needed] = [
      at('body_lift_total'),
      at('shaft.engagement'),
      at('frame_shift(shaft)'),
      at('shaft.engagement_needed'),
    ];
    return (v, s, p) => (v[s[p + lift]!]! > 0 ? met(v[s[p + engagement]!]! - v[s[p + shift]!]! - v[s[p + needed]!]!) : 3);
  },
  'fan-shroud-clearance': (at) => {
    const [lift, turned, gap, shift, lowered] = [
      at('body_lift_total'),
      at('shroud.turned_by_engine'),
      at('shroud.gap_below'),
      at('frame_shift(shroud)'),
      at('shroud.shroud_lowered'),
    ];
    return (v, s, p) => {
      const left = met(v[s[p + gap]!]! - v[s[p + shift]!]! + v[s[p + lowered]!]! - 0.01);
      return there(v[s[p + turned]!]!, v[s[p + lift]!]! > 0 ? left : 3);
    };
  },
  'bumper-alignment': (at) => {
    const [lift, shift, raised, travel] = [
      at('body_lift_total'),
      at('frame_shift(bumper)'),
      at('bumper.bracket_raised'),
      at('bumper.slot_travel'),
    ];
    return (v, s, p) => (v[s[p + lift]!]! > 0 ? met(v[s[p + travel]!]! - Math.abs(v[s[p + shift]!]! - v[s[p + raised]!]!)) : 3);
  },
  'steel-bumper-gap': (at) => {
    const [steel, gap, shift, raised] = [
      at('bumper.steel'),
      at('bumper.gap_to_body'),
      at('frame_shift(bumper)'),
      at('bumper.bracket_raised'),
    ];
    return (v, s, p) => (v[s[p + steel]!]! === 1 ? met(0.03 - v[s[p + gap]!]! - v[s[p + shift]!]! + v[s[p + raised]!]!) : 3);
  },
  'body-lift-height': (at) => {
    const lift = at('body_lift_total');
    return (v, s, p) => (v[s[p + lift]!]! > 0 ? met(0.075 - v[s[p + lift]!]!) : 3);
  },
  'aligned-after-lift': (at) => {
    const [change, aligned] = [at('ride_height_change(front.axle)'), at('wheels_aligned')];
    return (v, s, p) => (Math.abs(v[s[p + change]!]!) > 0.01 ? v[s[p + aligned]!]! : 3);
  },
  'axle-rating-front': atLeast('axle_rating(front)', 'axle_load(front)'),
  'axle-rating-rear': atLeast('axle_rating(rear)', 'axle_load(rear)'),
  'ride-height-front': (at) => {
    const drop = at('ride_height_drop(front)');
    return (v, s, p) => met(0.015 - v[s[p + drop]!]!);
  },
  'ride-height-rear': (at) => {
    const drop = at('ride_height_drop(rear)');
    return (v, s, p) => met(0.015 - v[s[p + drop]!]!);
  },
  'ride-height-front-high': (at) => {
    const drop = at('ride_height_drop(front)');
    return (v, s, p) => met(v[s[p + drop]!]! + 0.015);
  },
  'ride-height-rear-high': (at) => {
    const drop = at('ride_height_drop(rear)');
    return (v, s, p) => met(v[s[p + drop]!]! + 0.015);
  },
  'gross-mass': atLeast('gross_mass_rating', 'gross_mass'),
  'tyre-suits-rim-width': (at) => {
    const [asBuilt, width, narrowest, widest] = [
      at('mounted_as_built(tyre)'),
      at('wheel.rim_width'),
      at('tyre.narrowest_rim'),
      at('tyre.widest_rim'),
    ];
    // Exactly on the line is met: a difference of the last bits is none.
    const room = (v: Float64Array, s: Int32Array, p: number): number =>
      Math.min(v[s[p + width]!]! - v[s[p + narrowest]!]!, v[s[p + widest]!]! - v[s[p + width]!]!);
    return (v, s, p) => (v[s[p + asBuilt]!]! === 1 ? 3 : met(room(v, s, p) + 1e-9));
  },
  'tyre-overinflated': atLeast('tyre.greatest_pressure', 'tyre_pressure(tyre.axle)'),
  'roof-rating': (at) => {
    const [mass, rating] = [at('roof_load_mass'), at('roof_rating')];
    return (v, s, p) => (v[s[p + mass]!]! > 0 ? met(v[s[p + rating]!]! - v[s[p + mass]!]!) : 3);
  },
  'roll-over': (at) => {
    const factor = at('stability_factor');
    return (v, s, p) => met(v[s[p + factor]!]! - 1);
  },
  'brake-hose-too-long': (at) => {
    const [length, route, clear] = [at('hose.free_length'), at('hose_route_max(hose)'), at('hose.touches_nothing')];
    return (v, s, p) => (v[s[p + length]!]! > v[s[p + route]!]! + 0.1 ? v[s[p + clear]!]! : 3);
  },
  'rear-arch-gap': gap('arch', 0.006),
  'rear-inner-wing-gap': gap('wing', 0.006),
  'rear-wing-lip-gap': gap('lip', 0.006),
  'rear-spring-gap': gap('spring', 0.006),
  'spring-clamp-gap': gap('clamp', 0.006),
  'rear-damper-gap': gap('damper', 0.006),
  'rear-frame-rail-gap': gap('rail', 0.006),
  'axle-ratio': (at) => {
    const [matched, growth] = [at('axle_ratio_matched'), at('tyre_size_growth')];
    return (v, s, p) => (v[s[p + matched]!]! === 0 ? met(0.1 - v[s[p + growth]!]!) : 3);
  },
  'spare-fits': (at) => {
    const [relocated, carriers, diameter, room] = [
      at('spare_relocated'),
      at('spare_carriers'),
      at('driven_tyre_diameter'),
      at('spare_room'),
    ];
    return (v, s, p) => (v[s[p + relocated]!]! === 0 && v[s[p + carriers]!]! < 1 ? met(v[s[p + room]!]! - v[s[p + diameter]!]!) : 3);
  },
  'steering-load': (at) => {
    const [strong, growth] = [at('steering_strengthened'), at('wheel_mass_growth(tyre.corner)')];
    return (v, s, p) => (v[s[p + strong]!]! === 0 ? met(15 - v[s[p + growth]!]!) : 3);
  },
  'body-raised': (at) => {
    const [total, work, before, torqued] = [at('body_lift_total'), at('body_raised'), at('body_lift_fitted'), at('body_mounts_torqued')];
    return (v, s, p) => (v[s[p + total]!]! - v[s[p + work]!]! > v[s[p + before]!]! ? v[s[p + torqued]!]! : 3);
  },
  'rear-dampers-droop': (at) => {
    const [left, longer, gained, rise] = [
      at('rear_damper_droop_left'),
      at('damper.longer_out'),
      at('rear_droop_gained'),
      at('ride_height_change(rear)'),
    ];
    return (v, s, p) => met(v[s[p + left]!]! + v[s[p + longer]!]! + v[s[p + gained]!]! - v[s[p + rise]!]! - 0.04);
  },
  'rear-dampers-bump': (at) => {
    const [left, longer, extended] = [at('rear_damper_bump_left'), at('damper.longer_in'), at('rear_stop_extended')];
    return (v, s, p) => met(v[s[p + left]!]! - v[s[p + longer]!]! + v[s[p + extended]!]! - 0.013);
  },
  'rear-stop-gap': (at) => {
    const [gap, rise, extended] = [at('rear_stop_gap'), at('ride_height_change(rear)'), at('rear_stop_extended')];
    return (v, s, p) => met(v[s[p + gap]!]! + v[s[p + rise]!]! - v[s[p + extended]!]! - 0.04);
  },
  'parking-cable-slack': hangs('cable'),
  'axle-breather-slack': hangs('hose'),
  'wheel-wire-slack': hangs('wire'),
  'propeller-shaft-slip': (at) => {
    const [droop, rise, engagement, out, needed] = [
      at('droop_added(rear)'),
      at('ride_height_change(rear)'),
      at('shaft.slip_engagement'),
      at('shaft_pull_out(shaft)'),
      at('shaft.engagement_needed'),
    ];
    return (v, s, p) =>
      v[s[p + droop]!]! > 0 || v[s[p + rise]!]! > 0.01 ? met(v[s[p + engagement]!]! - v[s[p + out]!]! - v[s[p + needed]!]!) : 3;
  },
  'propeller-shaft-angle': (at) => {
    const [rise, angle, steeper, relieved, lasting] = [
      at('ride_height_change(rear)'),
      at('shaft.joint_angle'),
      at('shaft_slope_change(shaft)'),
      at('shaft_joint_relieved'),
      at('shaft.lasting_angle'),
    ];
    return (v, s, p) =>
      v[s[p + rise]!]! > 0.01 ? met(v[s[p + lasting]!]! - v[s[p + angle]!]! - v[s[p + steeper]!]! + v[s[p + relieved]!]!) : 3;
  },
  'load-sensing-valve': (at) => {
    const [rise, set, valve] = [at('ride_height_change(rear)'), at('load_sensing_valve_set'), at('axle.load_sensing_valve')];
    return (v, s, p) => (Math.abs(v[s[p + rise]!]!) > 0.01 && v[s[p + set]!]! === 0 ? 1 - v[s[p + valve]!]! : 3);
  },
  'new-u-bolts': (at) => {
    const bolts = at('spring.new_u_bolts');
    return (v, s, p) => v[s[p + bolts]!]!;
  },
  'rear-stop-gap-loaded': (at) => {
    const [gap, rise, drop, extended] = [
      at('rear_stop_gap'),
      at('ride_height_change(rear)'),
      at('load_drop(rear)'),
      at('rear_stop_extended'),
    ];
    return (v, s, p) => met(v[s[p + gap]!]! + v[s[p + rise]!]! - v[s[p + drop]!]! - v[s[p + extended]!]! - 0.015);
  },
  'headlamps-loaded': (at) => {
    const [levelled, raised] = [at('headlamps_levelled'), at('beam_raised_by_load')];
    return (v, s, p) => (v[s[p + levelled]!]! === 0 ? met(0.01 - v[s[p + raised]!]!) : 3);
  },
  'headlamps-aimed': (at) => {
    const [aimed, raised] = [at('headlamps_aimed'), at('beam_raised')];
    return (v, s, p) => (v[s[p + aimed]!]! === 0 ? met(0.005 - Math.abs(v[s[p + raised]!]!)) : 3);
  },
  'winch-pull': (at) => {
    const [pull, mass] = [at('winch.line_pull'), at('gross_mass')];
    return (v, s, p) => met(v[s[p + pull]!]! - 1.5 * v[s[p + mass]!]! * G);
  },
};

/** Rules that have none are left out on both sides. */
export const isHandWritten = ({ rule }: BoundRule['compiled']): boolean => rule.id in RULES;

/** The hand-written function of each bound rule. */
export function handWritten(bound: readonly BoundRule[]): readonly Question[] {
  return bound.map(({ compiled: { rule } }) => {
    const make = RULES[rule.id];
    if (!make) throw new Error(`\`${rule.id}\` has no hand-written counterpart: write one in hand-written.ts`);
    return make((text) => {
      const index = rule.scope.leaves.findIndex((leaf) => leaf.text === text);
      if (index < 0) throw new Error(`\`${rule.id}\` reads no \`${text}\``);
      return index;
    });
  });
}
