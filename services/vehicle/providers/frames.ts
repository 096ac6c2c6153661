import type { Ask, Provider } from '../../engine/values.ts';
import { type Raise, shiftBetween } from '../../models/frames/frames.ts';
import type { Part } from '../assembly.ts';
import { attributesOf, lineage } from '../library-view.ts';
import type { VehicleWorld } from '../world.ts';

/** The frame that works raise against the chassis, and the value that keeps by how much. */
const RAISED_BY_WORK = { frame: 'body', value: 'body_raised' } as const;

export function frameProviders(world: VehicleWorld): Provider[] {
  const { library, present, assembly } = world;
  const tree = new Map([...library.frames.values()].map(({ id, on }) => [id, on]));

  /** What raises frames: parts whose kind says so, and works. */
  const byParts = (ask: Ask, parts: readonly Part[]): Raise[] =>
    parts.flatMap((part): Raise[] => {
      const raise = lineage(library, part.kind).find((kind) => kind.raises)?.raises;
      const leaf = raise && attributesOf(library, part.kind).get(raise.by)?.leaf;
      return raise && leaf ? [{ frame: raise.frame, by: ask.value(leaf, part.subject) }] : [];
    });
  const raises = (ask: Ask): Raise[] => [...byParts(ask, present), { frame: RAISED_BY_WORK.frame, by: ask.value(RAISED_BY_WORK.value) }];
  const fitted = assembly.parts.filter(({ state }) => state === 'fitted');

  return [
    {
      provides: 'frame_shift',
      model: 'how far the frames have been raised against each other',
      compute: (ask, subject) => {
        const kinds = lineage(library, world.partOf(subject)?.kind ?? '');
        const bridge = kinds.find((kind) => kind.bridgesTo !== undefined);
        if (bridge?.bridgesTo === undefined) return ask.unknown('the part is fixed to one frame only');
        return shiftBetween(bridge.frame, bridge.bridgesTo, tree, raises(ask));
      },
    },
    {
      provides: 'body_lift_total',
      model: 'how far the body has been raised against the chassis',
      compute: (ask) => shiftBetween('chassis', 'body', tree, raises(ask)),
    },
    {
      provides: 'body_lift_fitted',
      model: 'how far the fitted parts raise the body against the chassis',
      compute: (ask) => shiftBetween('chassis', 'body', tree, byParts(ask, fitted)),
    },
  ];
}
