/** What was read so far: of each reading, which findings that rest on it are settled, and which are still open. */
import type { VehicleWorld } from '../vehicle/world.ts';
import type { TakenReading } from './answer.ts';
import { nameSubjects } from './describe.ts';
import { type Grouped, groupId } from './findings.ts';
import { valueId } from './values-out.ts';

/** In the order they were given. */
export function takenReadings(groups: readonly Grouped[], world: VehicleWorld): TakenReading[] {
  const byStatement = new Map<number, { readonly slots: Set<number>; readonly groups: Set<Grouped> }>();
  for (const group of groups)
    for (const slot of readBelow(group, world)) {
      const statement = world.values.statementOf(slot);
      const taken = byStatement.get(statement) ?? { slots: new Set(), groups: new Set() };
      taken.slots.add(slot);
      taken.groups.add(group);
      byStatement.set(statement, taken);
    }
  return [...byStatement].sort(([a], [b]) => a - b).map(([, { slots, groups: resting }]) => takenOf([...slots], [...resting], world));
}

/** The readings that a finding rests on. */
function readBelow({ evaluations }: Grouped, { values }: VehicleWorld): number[] {
  return values.givensOf(evaluations.flatMap(({ reads }) => reads)).filter((slot) => {
    const { chosen } = values.node(slot);
    return chosen !== undefined && chosen !== 'computed' && chosen.rank === 'measured';
  });
}

function takenOf(slots: readonly number[], groups: readonly Grouped[], world: VehicleWorld): TakenReading {
  const ordered = [...slots].sort((a, b) => a - b);
  const { name, signature } = world.values.node(ordered[0] as number);
  const ids = (settled: boolean): string[] =>
    groups.filter(({ verdict }) => (verdict === 'clear' || verdict === 'conflict') === settled).map((group) => groupId(group, world));
  return {
    ids: ordered.map((slot) => valueId(slot, world)),
    quantity: name,
    title: signature?.title ?? name,
    subject:
      nameSubjects(
        ordered.flatMap((slot) => world.values.node(slot).subjects),
        world,
      ) || 'the vehicle',
    settled: ids(true),
    open: ids(false),
  };
}
