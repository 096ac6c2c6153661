/** Tyres let down for soft or rough ground: how much lower they stand, and how far their walls bulge. */
import type { Ask, Provider } from '../../engine/values.ts';
import { bulgeGrowth, deflection, STIFFNESS_SPREAD } from '../../models/tyres/condition.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf } from './structure.ts';
import { settled } from './tyres.ts';

const MODEL = 'deflection by vertical stiffness at both pressures';

export function airedDownProviders(world: VehicleWorld): Provider[] {
  const { planned } = structureOf(world);
  /** Deflections on the road and off it, and the height of the sidewall; undefined with the reason recorded. */
  const at = (ask: Ask, corner: number) => {
    const tyre = planned('tyre', corner)[0];
    if (!tyre) return void ask.unknown('no tyre is known there');
    const axle = world.step(corner, 'axle');
    const [diameter, width, rim] = (['overall_diameter', 'section_width', 'rim_diameter'] as const).map((name) =>
      ask.value(`tyre.${name}`, tyre.subject),
    ) as [number, number, number];
    const load = ask.value('tyre_load', corner);
    const [road, off] = [ask.value('tyre_pressure', axle), ask.value('off_road_pressure', axle)];
    if (Number.isNaN(diameter + width + rim + load + road + off)) return undefined;
    const shape = { width, rim, aspect: (diameter - rim) / 2 / width };
    const [standing, letDown] = [road, off].map((pressure) => settled(deflection(shape, pressure, load), ask));
    return standing === undefined || letDown === undefined ? undefined : { standing, letDown, wall: (diameter - rim) / 2 };
  };
  type At = NonNullable<ReturnType<typeof at>>;
  const provide = (provides: string, give: (at: At) => number): Provider => ({
    provides,
    model: MODEL,
    compute: (ask, corner) => {
      const known = at(ask, corner);
      if (!known) return Number.NaN;
      const value = give(known);
      // The regression is off by so much of what it gives.
      ask.within(
        Math.abs(
          give({ ...known, standing: known.standing * (1 + STIFFNESS_SPREAD), letDown: known.letDown * (1 + STIFFNESS_SPREAD) }) - value,
        ),
      );
      return value;
    },
  });
  return [
    provide('aired_down_drop', ({ standing, letDown }) => letDown - standing),
    // One wall of the two.
    provide('aired_down_bulge', ({ standing, letDown }) => bulgeGrowth(standing, letDown) / 2),
    provide('aired_down_wall', ({ letDown, wall }) => (wall - letDown) / wall),
  ];
}
