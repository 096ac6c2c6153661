import { type FormulaAsk, formula } from '../../engine/formula.ts';
import type { Provider } from '../../engine/values.ts';
import { shownSpeed } from '../../models/instruments/speedometer.ts';
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
      provides: 'axle_ratio_gain',
      model: 'the fitted ratio over that it came with; none until somebody has said a ratio',
      ...formula((ask) =>
        isGeared(world) ? ask.minus(ask.over(ask.value('axle_ratio', rear), ask.value('factory_axle_ratio')), ask.of(1)) : ask.of(0),
      ),
    },
    {
      provides: 'speedometer_set_ratio',
      model: 'the fitted ratio less its rise: that it came with',
      ...formula((ask) => ask.over(ask.value('axle_ratio', rear), ask.sum([ask.of(1), ask.value('axle_ratio_gain')]))),
    },
    {
      provides: 'speedometer_gear_factor',
      model: 'the fitted ratio over the one it is set for, where the gearbox feeds it',
      compute: (ask) => {
        if (isSetFor(world)) return 1;
        if (ask.value('speedometer_set_again') === 1) return 1;
        const set = ask.value('speedometer_set_ratio');
        const factor = ask.value('axle_ratio', rear) / set;
        if (Math.abs(factor - 1) + ask.halfWidths('speedometer_set_ratio').worst / set <= ROUNDED) return 1;
        const signal = ask.text('speedometer_signal');
        if (signal === undefined)
          return ask.unknown('where its signal comes from is not known, and the axle ratio is not the one it was set for');
        return signal === 'gearbox_output' ? factor : 1;
      },
      range: (ask) => (isSetFor(world) ? ask.of(1) : ask.unknown('it hangs on where the signal comes from')),
    },
    {
      provides: 'odometer_error',
      model: 'counted distance by the ratio of the diameters, and of the gears where they feed it',
      ...formula((ask) => {
        const ratio = ask.over(ask.value('speedometer_calibrated_diameter'), ask.value('driven_tyre_diameter'));
        return ask.minus(ask.times(ratio, ask.value('speedometer_gear_factor')), ask.of(1));
      }),
    },
    {
      provides: 'indicated_speed_at_50',
      model: 'shown speed by the ratio of the diameters, and of the gears where they feed it',
      source: 'un-r39',
      ...formula((ask) => shownBy(ask, ask.of(FIFTY))),
    },
  ];
}

/** What the speedometer shows at a true speed. */
export const shownBy = <N>(ask: FormulaAsk<N>, trueSpeed: N): N =>
  shownSpeed(ask, trueSpeed, {
    overReading: ask.value('speedometer_over_reading'),
    setDiameter: ask.value('speedometer_calibrated_diameter'),
    diameter: ask.value('driven_tyre_diameter'),
    gearFactor: ask.value('speedometer_gear_factor'),
  });

/** What is rounded on a tag, as a share: 4.10 and 4.11 are one ratio. */
const ROUNDED = 0.006;

const SAID: ReadonlySet<string> = new Set(['work', 'measured', 'stated']);

/** The ranks of what was said of a value, other than by the class, or by the catalogue, which has a vehicle as it came. */
function saidOf({ values }: VehicleWorld, name: string, subjects: readonly number[] = []): readonly string[] {
  return values
    .node(values.slot(name, subjects))
    .candidates.map(({ rank }) => rank)
    .filter((rank) => SAID.has(rank));
}

/** Whether somebody has said the ratio, or work has changed it: until then it is the one it came with, whichever that is. */
const isGeared = (world: VehicleWorld): boolean => saidOf(world, 'axle_ratio', [subjectOf('rear')]).length > 0;

/** Whether it shows what it shows with the gears that are in it: none were changed, or it was read with them. */
function isSetFor(world: VehicleWorld): boolean {
  const ratio = saidOf(world, 'axle_ratio', [subjectOf('rear')]);
  const changed = ratio.length > 0 || saidOf(world, 'axle_ratio_gain').length > 0;
  const read = saidOf(world, 'speedometer_over_reading').includes('measured');
  return !changed || (read && !ratio.includes('work'));
}
