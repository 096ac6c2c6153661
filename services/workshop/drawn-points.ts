/** Numbers of a class's drawing that readings rest on, as parameters of a fit: each moved by so many of its half-widths. */
import type { Assembly, Said } from '../vehicle/assembly.ts';
import { saidKey } from '../vehicle/assembly.ts';
import type { VehicleWorld } from '../vehicle/world.ts';

export interface Point {
  readonly key: string;
  readonly name: string;
  readonly subjects: readonly number[];
  /** As the class has it; SI. */
  readonly value: number;
  readonly plusMinus: number;
  /** What is said of it once it is moved, with what is left of its half-width. */
  moved(u: number, left: number, note?: string): readonly Said[];
}

/** What is folded into computed values and is a default of the class. */
export function drawnPoints(assembly: Assembly, { values }: VehicleWorld, twins: readonly number[]): readonly Point[] {
  const moving = new Set(values.givensOf(twins));
  return values
    .givensOf(twins, { folded: true })
    .filter((slot) => !moving.has(slot))
    .flatMap((slot): Point[] => {
      const { name, subjects, chosen } = values.node(slot);
      if (chosen === undefined || chosen === 'computed' || chosen.rank !== 'class-default' || !(chosen.plusMinus > 0)) return [];
      const key = saidKey(name, subjects);
      const others = (assembly.said.get(key) ?? []).filter(({ rank }) => rank !== 'class-default');
      const { value, plusMinus } = chosen;
      const moved: Point['moved'] = (u, left, note) => [
        ...others,
        { ...chosen, rank: 'class-default', value: value + u * plusMinus, plusMinus: left * plusMinus, ...(note && { note }) },
      ];
      return [{ key, name, subjects, value, plusMinus, moved }];
    });
}

/** The vehicle with its drawing so, and exact: what it leaves open is in the parameters then, and nowhere else. */
export function redrawn(assembly: Assembly, points: readonly Point[], at: readonly number[]): Assembly {
  const said = new Map(assembly.said);
  for (const [i, point] of points.entries()) said.set(point.key, point.moved(at[i] as number, 0));
  return { ...assembly, said };
}
