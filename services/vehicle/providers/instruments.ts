import type { Ask, Provider } from '../../engine/values.ts';
import { shownSpeed } from '../../models/instruments/speedometer.ts';
import type { Part } from '../assembly.ts';
import { subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf, sum } from './structure.ts';

const FIFTY = 50 / 3.6;

export function instrumentProviders(world: VehicleWorld): Provider[] {
  const { fitted, planned } = structureOf(world);
  /** Sensors at the gearbox read the driven axle; on these vehicles both turn alike, so the rear tyres stand for all. */
  const diameter = (ask: Ask, tyres: readonly Part[]): number =>
    tyres.length === 0
      ? ask.unknown('no rear tyre is known')
      : sum(tyres.map((tyre) => ask.value('tyre.overall_diameter', tyre.subject))) / tyres.length;
  const rear = subjectOf('rear');

  return [
    {
      provides: 'speedometer_calibrated_diameter',
      model: 'set for the fitted tyres',
      compute: (ask) => diameter(ask, fitted('tyre', rear)),
    },
    { provides: 'driven_tyre_diameter', model: 'mean of the rear tyres', compute: (ask) => diameter(ask, planned('tyre', rear)) },
    {
      provides: 'indicated_speed_at_50',
      model: 'shown speed by the ratio of the diameters',
      source: 'un-r39',
      compute: (ask) =>
        shownSpeed(
          FIFTY,
          ask.value('speedometer_over_reading'),
          ask.value('speedometer_calibrated_diameter'),
          ask.value('driven_tyre_diameter'),
        ),
    },
  ];
}
