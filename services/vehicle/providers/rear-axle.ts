import { type FormulaAsk, formula } from '../../engine/formula.ts';
import type { Ask, Provider } from '../../engine/values.ts';
import { pullOut, type Shaft, slopeChange } from '../../models/driveline/propeller-shaft.ts';
import { subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf } from './structure.ts';

/** Share of the pull-out, and of the fall, that the springs' swing fore and aft may add or take (common practice, no source). */
const SWING = { ofPullOut: 0.3, ofFall: 0.02 };

/** What the heights of both axles do to a live rear axle, its shaft, and the headlamps. */
export function rearAxleProviders(world: VehicleWorld): Provider[] {
  const { fitted, planned } = structureOf(world);
  const [FRONT, REAR] = [subjectOf('front'), subjectOf('rear')];
  const height = <N>(ask: FormulaAsk<N>, parts: ReturnType<typeof fitted>): N =>
    ask.sum(parts.map(({ subject }) => ask.value('suspension_lift.height_added', subject)));
  const difference = <N>(ask: FormulaAsk<N>, name: string, of: number, less: number): N =>
    ask.minus(ask.value(name, of), ask.value(name, less));
  const shaftOf = (ask: Ask, shaft: number): Shaft => ({
    length: ask.value('propeller_shaft.length', shaft),
    slope: ask.value('propeller_shaft.slope', shaft),
  });

  const isDrawn = planned('double_wishbone', FRONT).length > 0;

  return [
    {
      provides: 'ride_height_change',
      model: 'a drawn front by its geometry; else by what its springs state, and what they do not carry',
      ...formula((ask, axle) => {
        if (axle === FRONT && isDrawn) return ask.value('front_rise', axle);
        const [before, after] = [fitted('suspension_lift', axle), planned('suspension_lift', axle)];
        const same = before.length === after.length && before.every((part) => after.includes(part));
        const lift = same ? ask.of(0) : ask.minus(height(ask, after), height(ask, before));
        return ask.minus(lift, ask.value('ride_height_drop', axle));
      }),
    },
    {
      provides: 'rear_bump_left',
      model: 'as it stands, what the springs raise it by, less what work has the stop reach further',
      ...formula((ask) =>
        ask.minus(ask.sum([ask.value('rear_stop_gap'), ask.value('ride_height_change', REAR)]), ask.value('rear_stop_extended')),
      ),
    },
    {
      provides: 'rear_bump_left_loaded',
      model: 'the same less what the load takes',
      ...formula((ask) => ask.minus(ask.value('rear_bump_left'), ask.value('load_drop', REAR))),
    },
    {
      provides: 'beam_raised',
      model: 'difference of the heights over the wheelbase',
      ...formula((ask) => ask.over(difference(ask, 'ride_height_change', FRONT, REAR), ask.value('wheelbase'))),
    },
    {
      provides: 'beam_raised_by_load',
      model: 'difference of the drops over the wheelbase',
      ...formula((ask) => ask.over(difference(ask, 'load_drop', REAR, FRONT), ask.value('wheelbase'))),
    },
    {
      provides: 'shaft_pull_out',
      model: 'shaft between its joints, the axle falling straight down to full droop',
      compute: (ask, shaft) => {
        const fall = ask.value('rear_damper_droop_left') + Math.max(0, ask.value('droop_added', REAR));
        const out = pullOut(shaftOf(ask, shaft), fall);
        ask.within(SWING.ofPullOut * Math.abs(out) + SWING.ofFall * Math.abs(fall));
        return out;
      },
    },
    {
      provides: 'shaft_slope_change',
      model: 'shaft between its joints, the axle at its new height',
      compute: (ask, shaft) => slopeChange(shaftOf(ask, shaft), ask.value('ride_height_change', REAR)),
    },
  ];
}
