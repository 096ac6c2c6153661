import type { Ask, Provider } from '../../engine/values.ts';
import { longestRoute } from '../../models/brakes/hose-reach.ts';
import { torqueGrowth } from '../../models/brakes/torque-arm.ts';
import { subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf, sum } from './structure.ts';

export function brakeProviders(world: VehicleWorld): Provider[] {
  const { fitted, planned } = structureOf(world);
  const droop = (ask: Ask, parts: ReturnType<typeof fitted>): number =>
    sum(parts.map((part) => ask.value('suspension_lift.droop_added', part.subject)));
  /** A live axle hangs as low as its dampers let it, and never higher than it stands. */
  const rearDroop = (ask: Ask, axle: number): readonly number[] => {
    const longer = sum(planned('rear_dampers', axle).map(({ subject }) => ask.value('rear_dampers.longer_out', subject)));
    const dampers = longer + ask.value('rear_droop_gained');
    const rise = ask.value('ride_height_change', axle);
    return [...(dampers > 0 ? [dampers] : []), ...(rise > 0 ? [rise - ask.value('rear_damper_droop_left')] : [])];
  };
  const radius = (ask: Ask, tyres: ReturnType<typeof fitted>): number =>
    tyres[0] ? ask.value('tyre.overall_diameter', tyres[0].subject) / 2 : ask.unknown('no tyre is known there');

  return [
    {
      provides: 'droop_added',
      model: 'where the wheel hangs, before and after; without a drawing what the suspension’s makers state',
      compute: (ask, axle) => {
        // A longer coil-over, a spacer above it or work on the dampers: geometry has them all, where it is known.
        const drawn = axle === subjectOf('front') ? ask.value('full_droop_fitted', axle) - ask.value('full_droop', axle) : Number.NaN;
        if (!Number.isNaN(drawn)) return drawn;
        const springs = droop(ask, planned('suspension_lift', axle)) - droop(ask, fitted('suspension_lift', axle));
        return axle === subjectOf('rear') ? Math.max(springs, ...rearDroop(ask, axle)) : springs;
      },
    },
    {
      provides: 'hose_route_max',
      model: 'measured route and the droop added (triangle inequality)',
      compute: (ask, hose) => {
        // A string is laid along the way of the hose that is there; the one that replaces it goes the same way.
        const before = world.partOf(hose)?.replaces[0]?.subject;
        const own = ask.value('hose_route', hose);
        const measured = Number.isNaN(own) && before !== undefined ? ask.value('hose_route', before) : own;
        const droop = ask.value('droop_added', world.step(hose, 'axle'));
        return Number.isNaN(measured) ? measured : longestRoute(measured, droop);
      },
    },
    {
      provides: 'torque_arm_growth',
      model: 'axle load times tyre radius, against the rated axle load at the radius of the fitted tyres',
      compute: (ask, axle) =>
        torqueGrowth(
          { load: ask.value('axle_rating', axle), radius: radius(ask, fitted('tyre', axle)) },
          { load: ask.value('axle_load', axle), radius: radius(ask, planned('tyre', axle)) },
        ),
    },
  ];
}
