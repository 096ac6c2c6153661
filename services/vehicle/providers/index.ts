/**
 * What can be computed, and from what: the only place where models meet parts. Each provider gives one value of the
 * dictionary, reads what it needs through `ask`, and leaves the physics to a model.
 */
import type { Provider } from '../../engine/values.ts';
import { frontOf } from '../front-corner.ts';
import { subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { airedDownProviders } from './aired-down.ts';
import { brakeProviders } from './brakes.ts';
import { chainProviders } from './chains.ts';
import { drivelineProviders } from './driveline.ts';
import { electricProviders } from './electrics.ts';
import { frameProviders } from './frames.ts';
import { frontBeamProviders } from './front-beam.ts';
import { frontProviders } from './front-suspension.ts';
import { travelProviders } from './gap-readings.ts';
import { gapProviders } from './gaps.ts';
import { heightProviders } from './heights.ts';
import { instrumentProviders } from './instruments.ts';
import { loadProviders } from './loads.ts';
import { massProviders } from './masses.ts';
import { rearAxleProviders } from './rear-axle.ts';
import { rearGapProviders } from './rear-gaps.ts';
import { tyreProviders } from './tyres.ts';
import { wheelProviders } from './wheels.ts';

export function providersFor(world: VehicleWorld): ReadonlyMap<string, Provider> {
  const front = frontOf(world);
  const all = [
    ...[
      tyreProviders,
      wheelProviders,
      massProviders,
      loadProviders,
      frameProviders,
      brakeProviders,
      instrumentProviders,
      heightProviders,
      drivelineProviders,
      rearAxleProviders,
      airedDownProviders,
      electricProviders,
    ].flatMap((make) => make(world)),
    front.provider,
    ...byAxle(world, [...frontProviders(world, front.case), ...gapProviders(world, front.case)], rearGapProviders(world)),
    ...chainProviders(),
    ...frontBeamProviders(),
    ...travelProviders(world),
  ];
  return new Map(all.map((provider) => [provider.provides, provider]));
}

/** What both ends have is asked of the rear's where it belongs to the rear axle, a corner or a part of it. */
function byAxle(world: VehicleWorld, front: readonly Provider[], rear: readonly Provider[]): Provider[] {
  const REAR = subjectOf('rear');
  const ends = new Map(front.map((provider) => [provider.provides, provider]));
  const both = rear.map((provider): Provider => {
    const ahead = ends.get(provider.provides);
    if (!ahead) return provider;
    return {
      ...provider,
      compute: (ask, subject) => (world.step(subject as number, 'axle') === REAR ? provider : ahead).compute(ask, subject as number),
    };
  });
  const ahead = front
    .filter(({ provides }) => !rear.some((other) => other.provides === provides))
    .map((provider): Provider => {
      const { compute } = provider;
      return {
        ...provider,
        compute: (ask, ...of) => (of[0] === REAR ? ask.unknown('only a front axle that steers has it') : compute(ask, ...of)),
      };
    });
  return [...ahead, ...both];
}
