/**
 * Gaps round a tyre without a drawing, as the difference from what is there: the gap as built or the one read at ride
 * height, the growth of tyre and wheel since, and the travel there is. It holds for any layout of the axle.
 */
import { formula } from '../../engine/formula.ts';
import type { Ask, Provider } from '../../engine/values.ts';
import { crossedTravel } from '../../models/suspension/beam-axle.ts';
import { gapAlong } from '../../models/tyres/gap-change.ts';
import {
  type AtRide,
  leastAllRound,
  leastOverTravel,
  mostOverTravel,
  pressedWithin,
  travelToHard,
} from '../../models/tyres/gap-over-travel.ts';
import { liesRoundTyre } from '../library-view.ts';
import { subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { type Structure, structureOf, sum } from './structure.ts';

/** What is pressed hard of a stop between frame and axle moves as the wheel does; further in, the wheel moves more. */
export function travelProviders(world: VehicleWorld): Provider[] {
  const { planned, fitted } = structureOf(world);
  const REAR = subjectOf('rear');
  return [
    {
      provides: 'bump_travel_left',
      model: 'gap to the stop and the part of its rubber that can be pressed, at the wheel',
      compute: (ask, axle) => {
        const stop = {
          gap: axle === REAR ? ask.value('rear_stop_gap') : ask.value('stop_gap', axle),
          freeHeight: ask.value('stop_free_height', axle),
          ratio: ask.value('stop_wheel_ratio', axle),
        };
        ask.within(Math.max(0, pressedWithin(stop)));
        return travelToHard(stop);
      },
    },
    {
      provides: 'droop_travel_left',
      model: 'hub to frame, hanging and at ride height; at the rear else what the dampers have left',
      ...formula((ask, axle) => {
        const taped = ask.minus(ask.value('hub_to_frame_hanging', axle), ask.value('hub_to_frame', axle));
        return axle === REAR && !ask.isKnown(taped) ? ask.value('rear_damper_droop_left') : taped;
      }),
    },
    {
      provides: 'crossed_travel_added',
      model: 'a beam between a solid stop and the other side’s damper fully out; wheels that hang one by one gain nothing',
      compute: (ask, axle) => {
        if (planned('live_axle', axle).length === 0) return 0;
        const [halfTrack, stopAt, damperAt] = [
          ask.value('wheel_track') / 2,
          ask.value('axle_stop_at', axle),
          ask.value('axle_damper_at', axle),
        ];
        const travel = { droop: -ask.value('droop_travel_left', axle), bump: ask.value('bump_travel_left', axle) };
        return crossedTravel({ halfTrack, stopAt, damperAt }, travel);
      },
    },
    {
      provides: 'tyre_gap_at_most',
      model: 'what travel leaves to the place where the tyre is nearest at ride height, for what is not drawn',
      compute: (ask, obstacle) => {
        const corner = world.placeOf(obstacle);
        const tyre = fitted('tyre', corner)[0];
        if (!tyre || world.partOf(obstacle)?.shape) return ask.unknown('it is drawn, or no tyre is known there');
        const [axle, rise] = [world.step(corner, 'axle'), ask.value('contact_rise', obstacle)];
        // Level travel alone, and the way that brings them nearer: what more there is can only leave less.
        return mostOverTravel({
          gap: ask.value('tyre_gap_at_ride', obstacle),
          rise,
          angle: ask.value('contact_angle', obstacle),
          radius: ask.value('tyre.overall_diameter', tyre.subject) / 2,
          up: rise < 0 ? 0 : Math.max(0, ask.value('bump_travel_left', axle)),
          down: rise < 0 ? Math.max(0, ask.value('droop_travel_left', axle)) : 0,
        });
      },
    },
  ];
}

/** The gap to something that is not drawn, from what was read at ride height, else from what the class has as built. */
export function undrawnGaps(world: VehicleWorld) {
  const structure = structureOf(world);
  return (ask: Ask, obstacle: number, corner: number): number => {
    const axle = world.step(corner, 'axle');
    const atRide = ask.value('tyre_gap_at_ride', obstacle);
    if (!Number.isNaN(atRide)) {
      const at = {
        gap: atRide,
        rise: ask.value('contact_rise', obstacle),
        up: Math.max(0, ask.value('bump_travel_left', axle) + ask.value('crossed_travel_added', axle)),
        down: Math.max(0, ask.value('droop_travel_left', axle)),
      };
      return liesRoundTyre(world.library, world.partOf(obstacle)?.kind ?? '')
        ? allRound(ask, at)
        : leastOverTravel({ ...at, angle: ask.value('contact_angle', obstacle) });
    }
    const built = ask.value('tyre_obstacle.gap_as_built', obstacle);
    if (Number.isNaN(built)) {
      // Any one of them tells it, and the gap itself before either.
      ask.lacks(['tyre_obstacle.gap_as_built', 'tyre_gap_at_ride'].map((name) => ({ name, subject: obstacle })));
      return ask.unknown('its place is not known; gauge the gap');
    }
    return gapAlong(built, sinceBuilt(ask, corner, axle, structure), ask.value('contact_angle', obstacle));
  };
}

function allRound(ask: Ask, at: AtRide): number {
  const { middle, within } = leastAllRound(at);
  if (!Number.isNaN(within)) ask.within(Math.max(0, within));
  return middle;
}

/** What the planned parts take of a gap along the direction in which tyre and obstacle were seen to be nearest. */
export function gapsByDirection(world: VehicleWorld) {
  return (ask: Ask, obstacle: number, corner: number): number => {
    const part = world.partOf(obstacle);
    const onBody = (part?.on ?? world.library.kinds.get(part?.kind ?? '')?.frame) === 'body';
    const lift = onBody ? ask.value('body_lift_total') - ask.value('body_lift_fitted') : 0;
    const taken = gapAlong(
      0,
      {
        radiusGrowth: ask.value('tyre_radius_growth', corner),
        widthGrowth: ask.value('tyre_width_growth', corner),
        outwardShift: ask.value('wheel_outward_shift', corner),
      },
      ask.value('contact_angle', obstacle),
      lift === 0 ? 0 : lift * ask.value('lift_gain', obstacle),
    );
    const stopped = world.step(corner, 'axle') === subjectOf('rear') ? ask.value('rear_stop_extended') : 0;
    return stopped === 0 ? taken : taken + stopped * Math.max(0, Math.sin(ask.value('contact_rise', obstacle)));
  };
}

/** The tyre and wheel that are on it against those it was built with. */
function sinceBuilt(ask: Ask, corner: number, axle: number, { fitted }: Structure) {
  const [tyre, wheel] = [fitted('tyre', corner)[0], fitted('wheel', corner)[0]];
  if (!tyre || !wheel) {
    const unknown = ask.unknown('no tyre and wheel are known there');
    return { radiusGrowth: unknown, widthGrowth: unknown, outwardShift: unknown };
  }
  const spacers = sum(fitted('wheel_spacer', corner).map(({ subject }) => ask.value('wheel_spacer.thickness', subject)));
  return {
    radiusGrowth: (ask.value('tyre.overall_diameter', tyre.subject) - ask.value('design_tyre_diameter', axle)) / 2,
    widthGrowth: ask.value('tyre.section_width', tyre.subject) - ask.value('design_tyre_width', axle),
    outwardShift: ask.value('design_wheel_offset', axle) - ask.value('wheel.offset', wheel.subject) + spacers,
  };
}
