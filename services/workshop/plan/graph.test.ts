/** Orders of graphs: every edge kept, rings found and told. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { components, type Edge, orderGraph } from './graph.ts';

const COUNT = 9;
const edges = fc.array(
  fc.record({ from: fc.nat(COUNT - 1), to: fc.nat(COUNT - 1), why: fc.constant('why') }).filter(({ from, to }) => from !== to),
  { maxLength: 24 },
);
/** Reachability by squaring nothing but the definition. */
function reaches(list: readonly Edge[]): boolean[][] {
  const reach = Array.from({ length: COUNT }, () => new Array<boolean>(COUNT).fill(false));
  for (const { from, to } of list) (reach[from] as boolean[])[to] = true;
  for (let k = 0; k < COUNT; k++)
    for (let i = 0; i < COUNT; i++) for (let j = 0; j < COUNT; j++) if (reach[i]?.[k] && reach[k]?.[j]) (reach[i] as boolean[])[j] = true;
  return reach;
}

describe('the order of a graph', () => {
  it('keeps every edge that is in no ring, and has every operation once', () => {
    fc.assert(
      fc.property(edges, (list) => {
        const { order, edges: kept, rings, setAside } = orderGraph(COUNT, list);
        expect([...order].sort()).toEqual(Array.from({ length: COUNT }, (_, i) => i));
        for (const { from, to } of kept) expect(order.indexOf(from)).toBeLessThan(order.indexOf(to));
        const reach = reaches(list);
        const ringed = reach.some((row, i) => row[i]);
        expect(rings.length > 0).toBe(ringed);
        for (const { from, to } of setAside) expect(reach[to]?.[from]).toBe(true);
      }),
    );
  });

  it('tells a ring as a way round that begins where it ends', () => {
    fc.assert(
      fc.property(edges, (list) => {
        for (const ring of orderGraph(COUNT, list).rings)
          ring.forEach((edge, i) => {
            expect(list).toContainEqual(edge);
            expect(edge.to).toBe(ring[(i + 1) % ring.length]?.from);
          });
      }),
    );
  });

  it('finds as components just those that reach each other', () => {
    fc.assert(
      fc.property(edges, (list) => {
        const reach = reaches(list);
        for (const members of components(
          COUNT,
          list.map(({ from, to }) => [from, to] as const),
        ))
          for (let other = 0; other < COUNT; other++)
            expect(members.includes(other)).toBe(members.every((m) => m === other || (reach[m]?.[other] && reach[other]?.[m])));
      }),
    );
  });
});
