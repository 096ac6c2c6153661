/** Snow chains: the room they take at tread and wall, by their class, and what that leaves of a gap. */
import type { Ask, Provider } from '../../engine/values.ts';
import { gapAlong } from '../../models/tyres/gap-change.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf } from './structure.ts';

/** Least clearance at tread and sidewall by class of SAE J1232, as trade pages quote it: 1.46, 1.97, 2.50 in and 0.59, 0.91, 1.50 in. */
const CHAIN_ROOM: Readonly<Record<string, { readonly tread: number; readonly sidewall: number }>> = {
  S: { tread: 0.037, sidewall: 0.015 },
  U: { tread: 0.05, sidewall: 0.023 },
  W: { tread: 0.064, sidewall: 0.038 },
};

export function chainProviders(): Provider[] {
  return (['tread', 'sidewall'] as const).map((where) => ({
    provides: `snow_chains.${where}_clearance`,
    model: 'least clearance of its class',
    source: 'sae-j1232',
    compute: (ask, chains) => {
      const room = CHAIN_ROOM[ask.text('snow_chains.class', chains) ?? ''];
      return room ? room[where] : ask.unknown('neither their class nor the room they take is known');
    },
  }));
}

/** What a gap loses to a tyre that is larger by so much at tread and at either wall; undefined where nothing is drawn. */
type Lost = (ask: Ask, obstacle: number, tread: number, side: number) => number | undefined;

export function chainedGap(world: VehicleWorld, lost: Lost): Provider {
  const { planned } = structureOf(world);
  return {
    provides: 'tyre_gap_chained',
    model: 'the gap with the tyre grown by what its chains take at tread and wall',
    source: 'sae-j1232',
    compute: (ask, obstacle) => {
      const chains = planned('snow_chains', world.step(obstacle, 'axle'))[0];
      if (!chains) return ask.unknown('no snow chains are planned there');
      const after = ask.value('tyre_gap_after', obstacle);
      const [tread, side] = (['tread', 'sidewall'] as const).map((where) =>
        ask.value(`snow_chains.${where}_clearance`, chains.subject),
      ) as [number, number];
      if (Number.isNaN(after + tread + side)) return Number.NaN;
      const drawn = lost(ask, obstacle, tread, side);
      if (drawn !== undefined) return after - drawn;
      return gapAlong(after, { radiusGrowth: tread, widthGrowth: 2 * side, outwardShift: 0 }, ask.value('contact_angle', obstacle));
    },
  };
}

interface Shaped {
  readonly freeRadius: number;
  readonly loadedRadius: number;
  readonly sectionWidth: number;
}

/** Grown outward all round at the tread and at either wall. */
export const grownBy = <T extends Shaped>(tyre: T, tread: number, side: number): T => ({
  ...tyre,
  freeRadius: tyre.freeRadius + tread,
  loadedRadius: tyre.loadedRadius + tread,
  sectionWidth: tyre.sectionWidth + 2 * side,
});
