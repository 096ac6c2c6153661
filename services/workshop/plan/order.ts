/**
 * One order for a job: precedence always; then the least set-up time (exact where that can be proven); then the least
 * risk of rework; then what belongs together side by side. The last two by moving operations about wherever that costs
 * no set-up, which finds a good order, not surely the best.
 */
import { type Edge, type Ordered, orderGraph } from './graph.ts';
import { cheapestOrder, costOf, type Prepared, prepare, type SetupProblem } from './setup-order.ts';

/** What `later` was decided with changes when `earlier` is done, so in the other order it may be done twice. */
export interface Rework {
  readonly earlier: number;
  readonly later: number;
  /** Hours at risk. */
  readonly weight: number;
}

export interface OrderProblem extends Pick<SetupProblem, 'setups' | 'operations'> {
  readonly edges: readonly Edge[];
  readonly rework: readonly Rework[];
  /** Operations of one kind that are best done one after the other, by a number for the kind. */
  readonly kinds: readonly number[];
  /** Which operations are done whatever is found. */
  readonly sure: readonly boolean[];
}

export interface OrderFound {
  readonly graph: Ordered;
  readonly order: readonly number[];
  /** Bits of the set-ups that stand while each operation of the order is done. */
  readonly standing: readonly number[];
  /** The same if nothing is done that may turn out not to be needed; undefined for what may. */
  readonly standingSure: readonly (number | undefined)[];
  readonly setup: { readonly cost: number; readonly bound: number; readonly exact: boolean };
  /** Hours at risk that no order of the same set-up time was found to avoid. */
  readonly risk: number;
}

export function findOrder(problem: OrderProblem): OrderFound {
  const graph = orderGraph(problem.operations.length, problem.edges);
  const setup = { ...problem, before: graph.before };
  const cheapest = cheapestOrder(setup);
  const prepared = prepare(setup);
  const score = scorer(prepared, problem);
  const order = improve(cheapest.order, graph, score);
  const [cost, risk] = score(order);
  const { standing } = costOf(order, prepared);
  const sure = costOf(
    order.filter((i) => problem.sure[i]),
    prepared,
  ).standing.values();
  const standingSure = order.map((i) => (problem.sure[i] ? (sure.next().value as number) : undefined));
  return { graph, order, standing, standingSure, setup: { cost, bound: cheapest.bound, exact: cheapest.exact }, risk };
}

type Score = readonly [cost: number, risk: number, apart: number];

function scorer(prepared: Prepared, { rework, kinds }: OrderProblem): (order: readonly number[]) => Score {
  const place = new Int32Array(kinds.length);
  return (order) => {
    order.forEach((operation, i) => {
      place[operation] = i;
    });
    let risk = 0;
    for (const { earlier, later, weight } of rework) if ((place[earlier] as number) > (place[later] as number)) risk += weight;
    let apart = 0;
    for (let i = 1; i < order.length; i++) if (kinds[order[i] as number] !== kinds[order[i - 1] as number]) apart++;
    return [costOf(order, prepared).cost, risk, apart];
  };
}

const MOST_SWEEPS = 8;
const NOISE = 1e-6;

const less = (a: Score, b: Score): boolean => {
  for (const i of [0, 1, 2] as const) if (Math.abs(a[i] - b[i]) > NOISE) return a[i] < b[i];
  return false;
};

/** Takes each operation out and puts it back where the order is best, until nothing is gained. */
function improve(first: readonly number[], graph: Ordered, score: (order: readonly number[]) => Score): number[] {
  let order = [...first];
  let best = score(order);
  for (let sweep = 0, gained = true; gained && sweep < MOST_SWEEPS; sweep++) {
    gained = false;
    for (const operation of first) {
      const moved = bestPlace(operation, order, graph, score, best);
      if (!moved) continue;
      [order, best, gained] = [moved.order, moved.score, true];
    }
  }
  return order;
}

function bestPlace(
  operation: number,
  order: readonly number[],
  { before, after }: Ordered,
  score: (order: readonly number[]) => Score,
  best: Score,
): { readonly order: number[]; readonly score: Score } | undefined {
  const rest = order.filter((other) => other !== operation);
  const from = 1 + Math.max(-1, ...(before[operation] ?? []).map((earlier) => rest.indexOf(earlier)));
  const to = Math.min(rest.length, ...(after[operation] ?? []).map((later) => rest.indexOf(later)));
  let found: { readonly order: number[]; readonly score: Score } | undefined;
  for (let at = from; at <= to; at++) {
    const candidate = [...rest.slice(0, at), operation, ...rest.slice(at)];
    const reached = score(candidate);
    if (less(reached, found?.score ?? best)) found = { order: candidate, score: reached };
  }
  return found;
}
