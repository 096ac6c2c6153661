/**
 * The order of operations in which set-ups are made as cheaply as precedence allows.
 *
 * A set-up that stands costs nothing to keep, so it is made when first needed and unmade only for an operation it is in
 * the way of; both halves are paid when it is made. With that, what can still be done is told by the operations done and
 * the set-ups that stand, and whatever can be done as things stand is done at once: it costs nothing and frees others.
 * A best-first search over these states (A*; P. Hart, N. Nilsson, B. Raphael, IEEE Trans. SSC-4 (1968) 100-107; from
 * memory) is exact, since what it adds for the rest never overstates: along any chain of precedence a set-up must be made
 * again each time an operation in whose way it is stands between two that need it, and set-ups are paid one by one.
 * Where the search is cut off the best order found is given with the gap to what is proven.
 */

export interface SetupCost {
  /** Making and unmaking it, seconds. */
  readonly cost: number;
  /** Set-ups that must stand while it does, as bits. */
  readonly needs: number;
  /** Set-ups it cannot stand beside, as bits. */
  readonly without: number;
}

export interface SetupProblem {
  readonly setups: readonly SetupCost[];
  /** Bits of the set-ups each operation needs, and of those that must not stand. */
  readonly operations: readonly { readonly needs: number; readonly without: number }[];
  readonly before: readonly (readonly number[])[];
}

export interface SetupOrder {
  readonly order: readonly number[];
  /** What stands while each operation of the order is done, as bits. */
  readonly standing: readonly number[];
  readonly cost: number;
  /** No order can cost less. */
  readonly bound: number;
  readonly exact: boolean;
}

/** Bits of an integer that operators take. */
export const MOST_SETUPS = 30;
/** States looked into before the search is cut off: enough to prove any job of up to twelve groups of set-ups seen, quick beyond. */
const MOST_STATES = { upToTwelve: 60_000, beyond: 4_000 };
/** Groups are operations that need the same and are barred by the same. */
const groupsOf = ({ needs, inTheWay }: Prepared): number => new Set(needs.map((need, i) => `${need}:${inTheWay[i]}`)).size;
const BEAM = 24;

/** Everything worked out once about a problem. */
export interface Prepared {
  readonly count: number;
  readonly costs: readonly number[];
  /** With what they need in turn. */
  readonly needs: readonly number[];
  /** What cannot stand while it is done, with what stands on that. */
  readonly inTheWay: readonly number[];
  readonly before: readonly (readonly number[])[];
  readonly topological: readonly number[];
  /** For each set-up that is neither free nor idle, the operations that need it or that it is in the way of. */
  readonly relevant: readonly { readonly bit: number; readonly cost: number }[];
}

export function prepare({ setups, operations, before }: SetupProblem): Prepared {
  const closed = setups.map((_, i) => withNeeds(1 << i, setups));
  const needs = operations.map((operation) => bitsOf(operation.needs).reduce((all, i) => all | (closed[i] as number), 0));
  const inTheWay = operations.map(({ without }, i) => {
    const own = needs[i] as number;
    const beside = setups.reduce((bits, { without: not }, at) => bits | (not & own ? 1 << at : 0) | (own & (1 << at) ? not : 0), without);
    return setups.reduce((bits, _, at) => bits | ((closed[at] as number) & beside ? 1 << at : 0), beside) & ~own;
  });
  const all = needs.reduce((bits, need) => bits | need, 0);
  return {
    count: operations.length,
    costs: setups.map(({ cost }) => cost),
    needs,
    inTheWay,
    before,
    topological: topological(before),
    relevant: setups.flatMap(({ cost }, i) => (all & (1 << i) ? [{ bit: 1 << i, cost }] : [])),
  };
}

function withNeeds(bits: number, setups: readonly SetupCost[]): number {
  const more = bitsOf(bits).reduce((all, i) => all | (setups[i]?.needs ?? 0), bits);
  return more === bits ? bits : withNeeds(more, setups);
}

export const bitsOf = (bits: number): number[] => Array.from({ length: MOST_SETUPS }, (_, i) => i).filter((i) => bits & (1 << i));

function topological(before: readonly (readonly number[])[]): number[] {
  const order: number[] = [];
  const done = new Array<boolean>(before.length).fill(false);
  while (order.length < before.length) {
    const next = before.findIndex((list, i) => !done[i] && list.every((earlier) => done[earlier]));
    if (next < 0) throw new Error('operations wait for each other in a ring');
    done[next] = true;
    order.push(next);
  }
  return order;
}

/** What an order costs, and what stands at each of its operations. */
export function costOf(order: readonly number[], problem: Prepared): { readonly cost: number; readonly standing: readonly number[] } {
  let [cost, stands] = [0, 0];
  const standing = order.map((operation) => {
    const made = (problem.needs[operation] as number) & ~stands;
    cost += priceOf(made, problem);
    stands = (stands & ~(problem.inTheWay[operation] as number)) | (problem.needs[operation] as number);
    return stands;
  });
  return { cost, standing };
}

function priceOf(bits: number, { costs }: Prepared): number {
  let [sum, left] = [0, bits];
  while (left !== 0) {
    const i = 31 - Math.clz32(left & -left);
    sum += costs[i] as number;
    left &= left - 1;
  }
  return sum;
}

interface State {
  /** In the order they were done. */
  readonly order: readonly number[];
  readonly done: readonly boolean[];
  readonly stands: number;
  readonly paid: number;
  readonly rest: number;
}

/** The cheapest order; operations that can be done together keep the order of their numbers. */
export function cheapestOrder(problem: SetupProblem, most?: number): SetupOrder {
  const prepared = prepare(problem);
  const mostStates = most ?? (groupsOf(prepared) <= 12 ? MOST_STATES.upToTwelve : MOST_STATES.beyond);
  const start = settle({ order: [], done: new Array<boolean>(prepared.count).fill(false), stands: 0, paid: 0, rest: 0 }, prepared);
  const incumbent = byBeam(start, prepared);
  const found = bestFirst(start, incumbent.paid, prepared, mostStates);
  const best = found.state ?? incumbent;
  const { standing } = costOf(best.order, prepared);
  const bound = Math.min(best.paid, found.bound);
  return { order: best.order, standing, cost: best.paid, bound, exact: best.paid - bound <= 1e-6 };
}

/** Does all that can be done as things stand. */
function settle(state: State, problem: Prepared): State {
  const [order, done] = [[...state.order], [...state.done]];
  for (let more = true; more; ) {
    more = false;
    for (const i of problem.topological) {
      if (done[i] || !fits(i, state.stands, problem) || !(problem.before[i] as number[]).every((earlier) => done[earlier])) continue;
      done[i] = true;
      order.push(i);
      more = true;
    }
  }
  const settled = { ...state, order, done };
  return { ...settled, rest: restOf(settled, problem) };
}

const fits = (i: number, stands: number, { needs, inTheWay }: Prepared): boolean =>
  ((needs[i] as number) & ~stands) === 0 && ((inTheWay[i] as number) & stands) === 0;

/** The states one change of set-ups leads to, one for each kind of operation that could be next. */
function nextOf(state: State, problem: Prepared): State[] {
  const changes = new Map<number, State>();
  for (let i = 0; i < problem.count; i++) {
    if (state.done[i] || !(problem.before[i] as number[]).every((earlier) => state.done[earlier])) continue;
    const [needs, way] = [problem.needs[i] as number, problem.inTheWay[i] as number];
    const stands = (state.stands & ~way) | needs;
    if (!changes.has(stands))
      changes.set(stands, settle({ ...state, stands, paid: state.paid + priceOf(needs & ~state.stands, problem) }, problem));
  }
  return [...changes.values()];
}

/**
 * What the rest costs at least. For each set-up a count along every chain of precedence: even while it does not stand, odd
 * while it does; needing it makes an even count odd, being in its way an odd one even.
 */
export function restOf(
  { done, stands }: Pick<State, 'done' | 'stands'>,
  { topological: order, before, needs, inTheWay, relevant, count }: Prepared,
): number {
  let rest = 0;
  const turns = new Int32Array(count);
  for (const { bit, cost } of relevant) {
    const began = stands & bit ? 1 : 0;
    let most = began;
    for (const i of order) {
      if (done[i]) continue;
      let turn = began;
      for (const earlier of before[i] as number[]) if (!done[earlier] && (turns[earlier] as number) > turn) turn = turns[earlier] as number;
      const odd = turn & 1;
      if (!odd && (needs[i] as number) & bit) turn++;
      else if (odd && (inTheWay[i] as number) & bit) turn++;
      turns[i] = turn;
      if (turn > most) most = turn;
    }
    rest += cost * (((most + 1) >> 1) - began);
  }
  return rest;
}

const isDone = (state: State, { count }: Prepared): boolean => state.order.length === count;
const total = ({ paid, rest }: State): number => paid + rest;

/** A good order quickly: the few most promising states of each length are followed. */
function byBeam(start: State, problem: Prepared): State {
  let states = [start];
  let best: State | undefined;
  while (states.length > 0) {
    const next = new Map<string, State>();
    for (const state of states) {
      if (isDone(state, problem)) {
        if (!best || state.paid < best.paid) best = state;
        continue;
      }
      for (const after of nextOf(state, problem)) {
        const key = keyOf(after);
        const known = next.get(key);
        if (!known || after.paid < known.paid) next.set(key, after);
      }
    }
    states = [...next.values()].sort((a, b) => total(a) - total(b) || b.order.length - a.order.length).slice(0, BEAM);
  }
  return best ?? start;
}

const keyOf = ({ done, stands }: State): string => `${stands}:${done.map(Number).join('')}`;

/** Gives the cheapest end state, if one below the limit is found in time, and what is proven. */
function bestFirst(start: State, limit: number, problem: Prepared, mostStates: number): { readonly state?: State; readonly bound: number } {
  const queue = new Heap<State>((a, b) => total(a) - total(b) || b.order.length - a.order.length);
  const paid = new Map<string, number>([[keyOf(start), start.paid]]);
  queue.push(start);
  for (let looked = 0; looked < mostStates; looked++) {
    const state = queue.pop();
    if (!state) return { bound: limit };
    if (total(state) >= limit - 1e-6) return { bound: limit };
    if (isDone(state, problem)) return { state, bound: state.paid };
    if (state.paid > (paid.get(keyOf(state)) ?? Number.POSITIVE_INFINITY)) continue;
    for (const next of nextOf(state, problem)) {
      const key = keyOf(next);
      if (next.paid >= (paid.get(key) ?? Number.POSITIVE_INFINITY)) continue;
      paid.set(key, next.paid);
      queue.push(next);
    }
  }
  const least = queue.pop();
  return { bound: least ? total(least) : limit };
}

/** A binary heap, the least first; of equals the one that was put in first. */
class Heap<T> {
  readonly #items: { readonly item: T; readonly nth: number }[] = [];
  readonly #compare: (a: T, b: T) => number;
  #count = 0;

  constructor(compare: (a: T, b: T) => number) {
    this.#compare = compare;
  }

  push(item: T): void {
    const items = this.#items;
    items.push({ item, nth: this.#count++ });
    for (let at = items.length - 1; at > 0; ) {
      const parent = (at - 1) >> 1;
      if (!this.#less(at, parent)) break;
      this.#swap(at, parent);
      at = parent;
    }
  }

  pop(): T | undefined {
    const items = this.#items;
    const [first] = items;
    const last = items.pop();
    if (!first || !last) return undefined;
    if (items.length > 0) {
      items[0] = last;
      this.#sink();
    }
    return first.item;
  }

  #sink(): void {
    for (let at = 0; ; ) {
      const [left, right] = [2 * at + 1, 2 * at + 2];
      let least = at;
      if (left < this.#items.length && this.#less(left, least)) least = left;
      if (right < this.#items.length && this.#less(right, least)) least = right;
      if (least === at) return;
      this.#swap(at, least);
      at = least;
    }
  }

  #less(a: number, b: number): boolean {
    const [x, y] = [this.#items[a], this.#items[b]] as [{ item: T; nth: number }, { item: T; nth: number }];
    return (this.#compare(x.item, y.item) || x.nth - y.nth) < 0;
  }

  #swap(a: number, b: number): void {
    const items = this.#items;
    [items[a], items[b]] = [items[b], items[a]] as [{ item: T; nth: number }, { item: T; nth: number }];
  }
}
