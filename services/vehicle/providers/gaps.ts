import type { Ask, Provider } from '../../engine/values.ts';
import { gapAlong } from '../../models/tyres/gap-change.ts';
import type { VehicleWorld } from '../world.ts';

const MODEL = 'the gap that is there, less what tyre and wheel take of it along the direction of contact';

/** Gaps round the front tyre, from what they are now. */
export function gapProviders(_world: VehicleWorld): Provider[] {
  const gap = (obstacle: 'cab_mount' | 'liner', gained: (ask: Ask, corner: number) => number): Provider => ({
    provides: `${obstacle}_gap_after`,
    model: MODEL,
    compute: (ask, corner) => {
      const change = {
        radiusGrowth: ask.value('tyre_radius_growth', corner),
        widthGrowth: ask.value('tyre_width_growth', corner),
        outwardShift: ask.value('wheel_outward_shift', corner),
      };
      return gapAlong(ask.value(`${obstacle}_gap`, corner), change, ask.value(`${obstacle}_contact_angle`, corner), gained(ask, corner));
    },
  });
  return [
    // On the chassis: a body lift does nothing for it, and it is cut.
    gap('cab_mount', (ask, corner) => ask.value('cab_mount_trimmed', corner)),
    // On the body: it rises with it, and gains as much of that as points upward where they touch.
    gap('liner', (ask, corner) => {
      const lift = ask.value('body_lift_total');
      return lift === 0 ? 0 : lift * ask.value('liner_lift_gain', corner);
    }),
  ];
}
