import type { Ask, Provider } from '../../engine/values.ts';
import { bornBy, cableFor, FUSES, fuseFor, MOST_DROP, voltageDrop } from '../../models/electrics/cable.ts';
import { attributesOf } from '../library-view.ts';
import type { VehicleWorld } from '../world.ts';

/** Cable and fuse of each electric part, from what is stated of them. */
export function electricProviders(world: VehicleWorld): Provider[] {
  const of = (name: string, ask: Ask, part: number): number => {
    const found = attributesOf(world.library, world.partOf(part)?.kind ?? '').get(name);
    return found ? ask.value(found.leaf, part) : Number.NaN;
  };
  const bears = (ask: Ask, part: number): number => {
    const area = of('cable_area', ask, part);
    return Number.isNaN(area) ? area : (bornBy(area) ?? 0);
  };
  const fuse = (ask: Ask, part: number): number => {
    const current = of('current', ask, part);
    return Number.isNaN(current) ? current : (fuseFor(current) ?? Number.NaN);
  };
  const known = (ask: Ask, part: number, ...names: readonly string[]): number =>
    Number(of('works_for_minutes', ask, part) !== 1 && names.every((name) => !Number.isNaN(of(name, ask, part))));

  return [
    {
      provides: 'cable_bears',
      model: 'what a cable of that cross-section bears for good, in an engine bay',
      source: 'abyc-e-11',
      compute: (ask, part) => bears(ask, part as number),
    },
    {
      provides: 'fuse_fitting',
      model: 'the smallest fuse that the current does not tire; without one, the largest that the cable bears',
      source: 'abyc-e-11',
      compute: (ask, part) => {
        const asked = fuse(ask, part as number);
        const most = bears(ask, part as number);
        return Number.isNaN(asked) ? (FUSES.findLast((rating) => rating <= most) ?? Number.NaN) : asked;
      },
    },
    {
      provides: 'cable_area_needed',
      model: 'the thinnest cable of the table that bears the fuse and loses no more than 3 % of the voltage',
      source: 'abyc-e-11',
      compute: (ask, part) => {
        const rating = fuse(ask, part as number);
        const current = of('current', ask, part as number);
        const length = of('cable_length', ask, part as number);
        const volts = ask.value('supply_voltage');
        if (Number.isNaN(rating) || Number.isNaN(volts)) return Number.NaN;
        return cableFor(rating, current, Number.isNaN(length) ? undefined : length, MOST_DROP * volts)?.metric ?? Number.NaN;
      },
    },
    {
      provides: 'cable_drop',
      model: 'volts lost there and back in copper, over those of the supply',
      source: 'abyc-e-11',
      compute: (ask, part) => {
        const [current, length, area] = ['current', 'cable_length', 'cable_area'].map((name) => of(name, ask, part as number));
        return voltageDrop(current as number, length as number, area as number) / ask.value('supply_voltage');
      },
    },
    {
      provides: 'fuse_and_cable_stated',
      model: 'whether both are stated of a part that works for longer than minutes',
      compute: (ask, part) => known(ask, part as number, 'fuse_rating', 'cable_area'),
    },
    {
      provides: 'fuse_and_current_stated',
      model: 'whether both are stated of a part that works for longer than minutes',
      compute: (ask, part) => known(ask, part as number, 'fuse_rating', 'current'),
    },
    {
      provides: 'cable_and_current_stated',
      model: 'whether both are stated of a part that works for longer than minutes',
      compute: (ask, part) => known(ask, part as number, 'cable_area', 'current'),
    },
    {
      provides: 'cable_run_stated',
      model: 'whether length, cross-section and current are stated of a part that works for longer than minutes',
      compute: (ask, part) => known(ask, part as number, 'cable_length', 'cable_area', 'current'),
    },
  ];
}
