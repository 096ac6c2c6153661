import type { Provider } from '../../engine/values.ts';
import { gapAlong } from '../../models/tyres/gap-change.ts';
import type { VehicleWorld } from '../world.ts';

const MODEL = 'the gap that is there, less what tyre and wheel take of it along the direction of contact';

/** Gaps round the front tyre, from what they are now. */
export function gapProviders(_world: VehicleWorld): Provider[] {
  const gap = (obstacle: 'cab_mount' | 'liner', gained: string): Provider => ({
    provides: `${obstacle}_gap_after`,
    model: MODEL,
    compute: (ask, corner) => {
      const change = {
        radiusGrowth: ask.value('tyre_radius_growth', corner),
        widthGrowth: ask.value('tyre_width_growth', corner),
        outwardShift: ask.value('wheel_outward_shift', corner),
      };
      const trim = gained === 'body_lift_total' ? ask.value(gained) : ask.value(gained, corner);
      return gapAlong(ask.value(`${obstacle}_gap`, corner), change, ask.value(`${obstacle}_contact_angle`, corner), trim);
    },
  });
  // The mount is on the chassis and is cut; the liner is on the body and rises with it.
  return [gap('cab_mount', 'cab_mount_trimmed'), gap('liner', 'body_lift_total')];
}
