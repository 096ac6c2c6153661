/**
 * Gaps round a front tyre without a drawing, as the difference from what is there: the gap as built or the one read at ride
 * height, the growth of tyre and wheel since, and the travel there is. It holds for any layout of the axle.
 */
import { formula } from '../../engine/formula.ts';
import type { Ask, Provider } from '../../engine/values.ts';
import { gapAlong } from '../../models/tyres/gap-change.ts';
import { leastOverTravel, pressedWithin, travelToHard } from '../../models/tyres/gap-over-travel.ts';
import type { VehicleWorld } from '../world.ts';
import { type Structure, structureOf, sum } from './structure.ts';

/** What is pressed hard of a stop between frame and axle moves as the wheel does; further in, the wheel moves more. */
export function travelProviders(): Provider[] {
  return [
    {
      provides: 'bump_travel_left',
      model: 'gap to the stop and the part of its rubber that can be pressed, at the wheel',
      compute: (ask, axle) => {
        const stop = {
          gap: ask.value('stop_gap', axle),
          freeHeight: ask.value('stop_free_height', axle),
          ratio: ask.value('stop_wheel_ratio', axle),
        };
        ask.within(Math.max(0, pressedWithin(stop)));
        return travelToHard(stop);
      },
    },
    {
      provides: 'droop_travel_left',
      model: 'hub to frame, hanging and at ride height',
      ...formula((ask, axle) => ask.minus(ask.value('hub_to_frame_hanging', axle), ask.value('hub_to_frame', axle))),
    },
  ];
}

/** The gap to something that is not drawn, from what was read at ride height, else from what the class has as built. */
export function undrawnGaps(world: VehicleWorld) {
  const structure = structureOf(world);
  return (ask: Ask, obstacle: number, corner: number): number => {
    const axle = world.step(corner, 'axle');
    const atRide = ask.value('tyre_gap_at_ride', obstacle);
    if (!Number.isNaN(atRide))
      return leastOverTravel({
        gap: atRide,
        rise: ask.value('contact_rise', obstacle),
        up: Math.max(0, ask.value('bump_travel_left', axle)),
        down: Math.max(0, ask.value('droop_travel_left', axle)),
      });
    const built = ask.value('tyre_obstacle.gap_as_built', obstacle);
    if (Number.isNaN(built)) return ask.unknown('its place is not known; gauge the gap');
    return gapAlong(built, sinceBuilt(ask, corner, axle, structure), ask.value('contact_angle', obstacle));
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
