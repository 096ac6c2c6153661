import { type FormulaAsk, formula } from '../../engine/formula.ts';
import type { Ask, Provider } from '../../engine/values.ts';
import { longestRouteIn } from '../../models/brakes/hose-reach.ts';
import { torqueGrowth } from '../../models/brakes/torque-arm.ts';
import { subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf, sum } from './structure.ts';

export function brakeProviders(world: VehicleWorld): Provider[] {
  const { fitted, planned } = structureOf(world);
  const droop = <N>(ask: FormulaAsk<N>, parts: ReturnType<typeof fitted>): N =>
    ask.sum(parts.map((part) => ask.value('suspension_lift.droop_added', part.subject)));
  /** A live axle hangs as low as its dampers let it, and never higher than it stands. */
  const rearDroop = (ask: Ask, axle: number): readonly number[] => {
    const longer = sum(planned('rear_dampers', axle).map(({ subject }) => ask.value('rear_dampers.longer_out', subject)));
    const dampers = longer + ask.value('rear_droop_gained');
    const rise = ask.value('ride_height_change', axle);
    return [...(dampers > 0 ? [dampers] : []), ...(rise > 0 ? [rise - ask.value('rear_damper_droop_left')] : [])];
  };
  const radius = <N>(ask: FormulaAsk<N>, tyres: ReturnType<typeof fitted>): N =>
    tyres[0] ? ask.times(ask.of(1 / 2), ask.value('tyre.overall_diameter', tyres[0].subject)) : ask.unknown('no tyre is known there');

  return [
    {
      provides: 'droop_added',
      model: 'what the planned suspension adds, less what the fitted one had',
      compute: (ask, axle) => {
        const springs = droop(ask, planned('suspension_lift', axle)) - droop(ask, fitted('suspension_lift', axle));
        return axle === subjectOf('rear') ? Math.max(springs, ...rearDroop(ask, axle)) : springs;
      },
    },
    {
      provides: 'hose_route_max',
      model: 'measured route and the droop added (triangle inequality)',
      ...formula((ask, hose) => {
        // A string is laid along the way of the hose that is there; the one that replaces it goes the same way.
        const before = world.partOf(hose)?.replaces[0]?.subject;
        const own = ask.value('hose_route', hose);
        const measured = before !== undefined && !ask.isKnown(own) ? ask.value('hose_route', before) : own;
        return longestRouteIn(ask, measured, ask.value('droop_added', world.step(hose, 'axle')));
      }),
    },
    {
      provides: 'torque_arm_growth',
      model: 'axle load times tyre radius, against the rated axle load at the radius of the fitted tyres',
      ...formula((ask, axle) =>
        torqueGrowth(
          ask,
          { load: ask.value('axle_rating', axle), radius: radius(ask, fitted('tyre', axle)) },
          { load: ask.value('axle_load', axle), radius: radius(ask, planned('tyre', axle)) },
        ),
      ),
    },
  ];
}
