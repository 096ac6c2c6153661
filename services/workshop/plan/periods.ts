/** From which operation to which each set-up stands. */
import type { Operation, OrderedJob, SetupHere } from './operations.ts';

export interface Period {
  readonly here: SetupHere;
  /** Places in the order of the operations it is made for: the first and the last that need it. */
  readonly from: number;
  readonly to: number;
  readonly first: Operation;
  readonly last: Operation;
  /** Only operations that may turn out not to be needed ask for it. */
  readonly contingent: boolean;
}

export function periodsOf({ operations, standing, setups }: Pick<OrderedJob, 'operations' | 'standing' | 'setups'>): Period[] {
  const needs = neededBy(operations, setups);
  const periods = setups.flatMap((here): Period[] => {
    const found: Period[] = [];
    let open: number[] = [];
    const close = (): void => {
      const [from, to] = [open[0], open.at(-1)];
      if (from !== undefined && to !== undefined)
        found.push({
          here,
          from,
          to,
          first: operations[from] as Operation,
          last: operations[to] as Operation,
          contingent: open.every((i) => operations[i]?.step.contingent),
        });
      open = [];
    };
    operations.forEach((_, i) => {
      if (!standing[i]?.has(here.key)) close();
      else if (needs[i]?.has(here.key)) open.push(i);
    });
    close();
    return found;
  });
  return periods.sort((a, b) => a.from - b.from || b.to - a.to || (a.here.key < b.here.key ? -1 : 1));
}

/** What each operation needs, with what that stands on. */
function neededBy(operations: readonly Operation[], setups: readonly SetupHere[]): ReadonlySet<string>[] {
  const byKey = new Map(setups.map((here) => [here.key, here]));
  const onWhat = ({ setup, of }: SetupHere): string[] =>
    setup.needs.flatMap((id) =>
      [...byKey.values()].filter((other) => other.setup.id === id && (other.of === undefined || other.of === of)).map(({ key }) => key),
    );
  return operations.map((operation) => {
    const all = new Set(operation.setups);
    for (const key of all) for (const more of onWhat(byKey.get(key) as SetupHere) ?? []) all.add(more);
    return all;
  });
}
