/** Questions about which parts are where, before and after, that several providers ask. */
import type { Part } from '../assembly.ts';
import { isKind } from '../library-view.ts';
import { covers, PLACES } from '../places.ts';
import type { VehicleWorld } from '../world.ts';

export interface Structure {
  /** Parts as the vehicle stands now. */
  fitted(kind: string, subject: number): readonly Part[];
  /** Parts as it will be, the load included. */
  planned(kind: string, subject: number): readonly Part[];
  /** The parts that come on and those that go off. */
  readonly added: readonly Part[];
  readonly removed: readonly Part[];
  readonly load: readonly Part[];
}

export function structureOf({ assembly, library, present }: VehicleWorld): Structure {
  // Which parts are where does not change while a world lives, and is asked thousands of times.
  const at = (parts: readonly Part[]) => {
    const known = new Map<string, readonly Part[]>();
    return (kind: string, subject: number): readonly Part[] => {
      const key = `${kind} ${subject}`;
      const found =
        known.get(key) ?? parts.filter((part) => isKind(library, part.kind, kind) && covers(PLACES[subject] ?? 'vehicle', part.place));
      known.set(key, found);
      return found;
    };
  };
  return {
    fitted: at(assembly.parts.filter(({ state }) => state === 'fitted')),
    planned: at(present),
    added: present.filter(({ state }) => state === 'planned'),
    removed: [...assembly.removed].filter(({ state }) => state === 'fitted'),
    load: present.filter(({ state }) => state === 'load'),
  };
}

export const sum = (numbers: readonly number[]): number => numbers.reduce((total, x) => total + x, 0);
