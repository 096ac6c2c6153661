import { type FormulaAsk, formula } from '../../engine/formula.ts';
import type { Provider } from '../../engine/values.ts';
import { shownSpeedIn } from '../../models/instruments/speedometer.ts';
import type { Part } from '../assembly.ts';
import { subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf } from './structure.ts';

const FIFTY = 50 / 3.6;

export function instrumentProviders(world: VehicleWorld): Provider[] {
  const { fitted, planned } = structureOf(world);
  /** Sensors at the gearbox read the driven axle; on these vehicles both turn alike, so the rear tyres stand for all. */
  const diameter = <N>(ask: FormulaAsk<N>, tyres: readonly Part[]): N =>
    tyres.length === 0
      ? ask.unknown('no rear tyre is known')
      : ask.times(ask.of(1 / tyres.length), ask.sum(tyres.map((tyre) => ask.value('tyre.overall_diameter', tyre.subject))));
  const rear = subjectOf('rear');

  return [
    {
      provides: 'speedometer_calibrated_diameter',
      model: 'set for the fitted tyres',
      ...formula((ask) => diameter(ask, fitted('tyre', rear))),
    },
    { provides: 'driven_tyre_diameter', model: 'mean of the rear tyres', ...formula((ask) => diameter(ask, planned('tyre', rear))) },
    {
      provides: 'odometer_error',
      model: 'counted distance by the ratio of the diameters',
      ...formula((ask) => ask.minus(ask.over(ask.value('speedometer_calibrated_diameter'), ask.value('driven_tyre_diameter')), ask.of(1))),
    },
    {
      provides: 'indicated_speed_at_50',
      model: 'shown speed by the ratio of the diameters',
      source: 'un-r39',
      ...formula((ask) =>
        shownSpeedIn(
          ask,
          ask.of(FIFTY),
          ask.value('speedometer_over_reading'),
          ask.value('speedometer_calibrated_diameter'),
          ask.value('driven_tyre_diameter'),
        ),
      ),
    },
  ];
}
