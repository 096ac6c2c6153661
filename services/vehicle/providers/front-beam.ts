import type { Ask, Provider } from '../../engine/values.ts';
import { subjectOf } from '../places.ts';

/** What a lift does to a beam front axle on arms. */
export function frontBeamProviders(): Provider[] {
  const ofRadiusArms = (ask: Ask): number =>
    Math.asin(ask.value('ride_height_change', subjectOf('front')) / ask.value('control_arm_length'));
  return [
    {
      provides: 'beam_caster_lost',
      model: 'a radius arm turns the axle as it swings, by the lift over its length; of links only a reading tells',
      compute: (ask) => {
        const arms = ask.text('front_arms');
        if (arms === 'radius_arms') return ofRadiusArms(ask);
        return ask.unknown(
          arms === undefined ? 'what arms guide the axle is not known' : 'links turn the axle by the difference of their swings',
        );
      },
    },
  ];
}
