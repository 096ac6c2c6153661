/**
 * The precedence of operations: who comes before whom, and why. Pure; knows operations by number only.
 *
 * An operation that waits for itself by way of others stands in a ring. Rings are found (Tarjan's strongly connected
 * components, R. Tarjan, "Depth-first search and linear graph algorithms", SIAM J. Comput. 1 (1972) 146-160; from
 * memory) and told; so that there is an order all the same, the last of their edges as given are set aside.
 */

export interface Edge {
  readonly from: number;
  readonly to: number;
  /** What goes wrong in the other order, or why the one brings the other. */
  readonly why: string;
}

export interface Ordered {
  /** Edges among them, those of rings that were set aside left out. */
  readonly edges: readonly Edge[];
  readonly before: readonly (readonly number[])[];
  readonly after: readonly (readonly number[])[];
  /** One order that keeps every edge: the earliest number first. */
  readonly order: readonly number[];
  /** Each a way round, by operation; the first is not repeated. */
  readonly rings: readonly (readonly Edge[])[];
  readonly setAside: readonly Edge[];
}

export function orderGraph(count: number, edges: readonly Edge[]): Ordered {
  const rings: Edge[][] = [];
  const setAside: Edge[] = [];
  let kept = [...edges];
  for (let ring = ringIn(count, kept); ring; ring = ringIn(count, kept)) {
    rings.push(ring);
    const last = ring.reduce((a, b) => (kept.lastIndexOf(b) > kept.lastIndexOf(a) ? b : a));
    setAside.push(last);
    kept = kept.filter((edge) => edge.from !== last.from || edge.to !== last.to);
  }
  const [before, after] = [neighbours(count, kept, 'to', 'from'), neighbours(count, kept, 'from', 'to')];
  return { edges: kept, before, after, order: earliestFirst(before, after), rings, setAside };
}

function neighbours(count: number, edges: readonly Edge[], at: 'from' | 'to', other: 'from' | 'to'): number[][] {
  const found = Array.from({ length: count }, () => new Set<number>());
  for (const edge of edges) found[edge[at]]?.add(edge[other]);
  return found.map((set) => [...set].sort((a, b) => a - b));
}

function earliestFirst(before: readonly (readonly number[])[], after: readonly (readonly number[])[]): number[] {
  const waiting = before.map((list) => list.length);
  const free = waiting.flatMap((n, i) => (n === 0 ? [i] : []));
  const order: number[] = [];
  while (free.length > 0) {
    const next = free.splice(free.indexOf(Math.min(...free)), 1)[0] as number;
    order.push(next);
    for (const later of after[next] ?? []) {
      waiting[later] = (waiting[later] as number) - 1;
      if (waiting[later] === 0) free.push(later);
    }
  }
  return order;
}

/** One ring, as the edges round it; undefined where there is none. */
function ringIn(count: number, edges: readonly Edge[]): Edge[] | undefined {
  const component = components(
    count,
    edges.map(({ from, to }) => [from, to] as const),
  ).find((members) => members.length > 1 || edges.some(({ from, to }) => from === members[0] && to === from));
  if (!component) return undefined;
  const inside = new Set(component);
  const start = Math.min(...component);
  const way = new Map<number, Edge>();
  const queue = [start];
  for (let at = queue.shift(); at !== undefined; at = queue.shift()) {
    for (const edge of edges.filter(({ from, to }) => from === at && inside.has(to))) {
      if (edge.to === start) return wayBack(edge, start, way);
      if (way.has(edge.to)) continue;
      way.set(edge.to, edge);
      queue.push(edge.to);
    }
  }
  return undefined;
}

function wayBack(last: Edge, start: number, way: ReadonlyMap<number, Edge>): Edge[] {
  const ring = [last];
  for (let at = last.from; at !== start; at = (ring[0] as Edge).from) ring.unshift(way.get(at) as Edge);
  return ring;
}

/** Strongly connected components, without recursion. */
export function components(count: number, edges: readonly (readonly [number, number])[]): number[][] {
  const next = Array.from({ length: count }, (_, i) => edges.flatMap(([from, to]) => (from === i ? [to] : [])));
  const index = new Array<number>(count).fill(-1);
  const low = new Array<number>(count).fill(0);
  const stack: number[] = [];
  const onStack = new Set<number>();
  const found: number[][] = [];
  let counter = 0;
  for (let root = 0; root < count; root++) {
    if (index[root] !== -1) continue;
    const calls: { node: number; at: number }[] = [{ node: root, at: 0 }];
    while (calls.length > 0) {
      const call = calls[calls.length - 1] as { node: number; at: number };
      const { node } = call;
      if (call.at === 0) {
        index[node] = low[node] = counter++;
        stack.push(node);
        onStack.add(node);
      }
      const to = next[node]?.[call.at++];
      if (to !== undefined) {
        if (index[to] === -1) calls.push({ node: to, at: 0 });
        else if (onStack.has(to)) low[node] = Math.min(low[node] as number, index[to] as number);
        continue;
      }
      calls.pop();
      const parent = calls.at(-1)?.node;
      if (parent !== undefined) low[parent] = Math.min(low[parent] as number, low[node] as number);
      if (low[node] !== index[node]) continue;
      const members = stack.splice(stack.indexOf(node));
      for (const member of members) onStack.delete(member);
      found.push(members);
    }
  }
  return found;
}
