/** From which operation to which each set-up stands. */
import { withBelow } from '../../engine/planning.ts';
import type { Operation, OrderedJob, SetupHere } from './operations.ts';

export interface Period {
  readonly here: SetupHere;
  /** Places in the order of the operations it is made for: the first and the last that need it. */
  readonly from: number;
  readonly to: number;
  readonly first: Operation;
  readonly last: Operation;
  /** Only operations that may turn out not to be needed ask for it, or for it to be made once more. */
  readonly contingent: boolean;
}

type Ordered = Pick<OrderedJob, 'operations' | 'standing' | 'standingSure' | 'setups'>;

export function periodsOf({ operations, standing, standingSure, setups }: Ordered): Period[] {
  const onWhat = setupsUnder(setups);
  const under = (key: string): readonly string[] => onWhat.get(key) ?? [];
  const needs = operations.map((operation) => withBelow(operation.setups, under));
  const depths = new Map(setups.map(({ key }) => [key, withBelow([key], under).size]));
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
    return joined(found, (from, to) => standingSure.slice(from, to + 1).every((stands) => stands?.has(here.key) ?? true));
  });
  const depth = (key: string): number => depths.get(key) ?? 0;
  return periods.sort(
    (a, b) => a.from - b.from || depth(a.here.key) - depth(b.here.key) || b.to - a.to || (a.here.key < b.here.key ? -1 : 1),
  );
}

/** Sure periods of one set-up that only a contingent operation parts are one; that it is made once more is as contingent as that. */
function joined(periods: readonly Period[], stands: (from: number, to: number) => boolean): Period[] {
  const made: Period[] = [];
  let sure: number | undefined;
  for (const period of periods) {
    const before = sure === undefined ? undefined : (made[sure] as Period);
    if (period.contingent) made.push(period);
    else if (before && stands(before.to, period.from)) {
      made[sure as number] = { ...before, to: period.to, last: period.last };
      made.push({ ...period, contingent: true });
    } else sure = made.push(period) - 1;
  }
  return made;
}

/** What each set-up stands on itself, by key. */
function setupsUnder(setups: readonly SetupHere[]): ReadonlyMap<string, readonly string[]> {
  const under = ({ setup, of }: SetupHere): string[] =>
    setups.filter((other) => setup.needs.includes(other.setup.id) && (other.of === undefined || other.of === of)).map(({ key }) => key);
  return new Map(setups.map((here) => [here.key, under(here)]));
}
