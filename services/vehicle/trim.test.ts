/** What a cut gains: a drawn thing is moved back by the stated amount, the stated way, and searched again. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Texts } from '../engine/values.ts';
import { between } from '../units/testing.ts';
import { checker, demoCatalogue } from '../workshop/testing.ts';
import { assemble } from './assembly.ts';
import { wayOf } from './providers/swept-gaps.ts';
import type { CheckRequest } from './request.ts';
import { createWorld } from './world.ts';

type Point = readonly [number, number, number];

const tyre = {
  from: 'inline',
  kind: 'tyre',
  at: 'all',
  id: 'new',
  replaces: 'fitted',
  attributes: { overall_diameter: '840 mm ± 0', section_width: '300 mm ± 0' },
};

/** Gap, cut that gains nothing, and the way back, of something at a left corner, drawn as runs of points in millimetres. */
function served(at: 'front-left' | 'rear-left', on: string, runs: readonly (readonly Point[])[], cut = 0) {
  const lines = runs.map((run) => run.map((point) => `${point.join(', ')} mm`));
  const own = { from: 'inline', kind: 'own_obstacle', id: 'thing', at, attributes: { cut_back: `${cut} mm ± 0` }, shape: { on, lines } };
  const vehicle = { from: 'inline', class: 'midsize_independent_front', fitted: [own] };
  const made = assemble({ vehicle, parts: [tyre] } as unknown as CheckRequest, demoCatalogue, checker.library);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  const world = createWorld(made.assembly, checker.library, new Texts());
  const subject = made.assembly.parts.find(({ id }) => id === 'thing')?.subject as number;
  const of = (name: string): number => world.values.read(world.values.slot(name, [subject]));
  return { gap: 1000 * of('tyre_gap_after'), lost: 1000 * of('trim_lost'), way: world.values.textOf(of('contact_way')) ?? '' };
}

/** The direction that the words say. */
function wayIn(words: string): Point {
  const along = (plus: string, minus: string): number => {
    const [, share, which] = new RegExp(`([\\d.]+) % (${plus}|${minus})`).exec(words) ?? [];
    return share === undefined ? 0 : (Number(share) / 100) * (which === plus ? 1 : -1);
  };
  return [along('forward', 'rearward'), along('outward', 'inward'), along('up', 'down')];
}

const back = (runs: readonly (readonly Point[])[], way: Point, by: number) =>
  runs.map((run) => run.map((p): Point => [p[0] + by * way[0], p[1] + by * way[1], p[2] + by * way[2]]));

/** Millimetres; what the quantity takes. */
const MOST_CUT = 60;

/** What is short is cut and asked again until the gap is there, each time by what the last cut gained. */
function cutUntil(at: 'front-left' | 'rear-left', on: string, runs: readonly (readonly Point[])[], required: number) {
  let [cut, slope] = [0, 1];
  let now = served(at, on, runs);
  for (let i = 0; i < 10 && Math.abs(now.gap - required) > 0.01; i++) {
    const before = { cut, gap: now.gap };
    cut = Math.min(MOST_CUT, cut + (required - now.gap) / slope);
    now = served(at, on, runs, cut);
    slope = Math.max(0.1, (now.gap - before.gap) / (cut - before.cut));
  }
  return { cut, now };
}

const places = {
  // Behind the front tyre, and above it, which is nearest once the first is moved back.
  'front-left': {
    on: 'chassis',
    runs: (y: number): Point[][] => [
      [
        [-470, y, 420],
        [-455, y + 60, 300],
      ],
      [[0, y, 922]],
    ],
  },
  // Above and inboard of the rear tyre.
  'rear-left': {
    on: 'body',
    runs: (y: number): Point[][] => [
      [
        [-150, y - 180, 880],
        [100, y - 180, 900],
      ],
      [[-50, y - 100, 930]],
    ],
  },
} as const;

describe.each(['front-left', 'rear-left'] as const)('a cut at something %s', (at) => {
  const { on, runs } = places[at];

  it('by the stated amount, the stated way, leaves exactly the gap required when the thing is put there and asked again', () => {
    fc.assert(
      fc.property(between(745, 790), between(2, 22), (y, more) => {
        // At the rear the second place is so much aslant that a cut at the first hardly gains there: that is for reshaping.
        const thing = at === 'rear-left' ? runs(Math.round(y)).slice(0, 1) : runs(Math.round(y));
        const first = served(at, on, thing);
        const required = first.gap + more;
        const { cut, now } = cutUntil(at, on, thing, required);
        // Where another end of it is then the nearest, and looks aslant, more of a cut hardly gains, and that is told.
        if (cut === MOST_CUT && now.gap < required) return expect(now.lost).toBeGreaterThan(1);
        expect(Math.abs(now.gap - required)).toBeLessThan(0.02);
        expect(cut).toBeGreaterThanOrEqual(more - 0.05);
        expect(cut - now.lost).toBeCloseTo(now.gap - first.gap, 6);
        const again = served(at, on, back(thing, wayIn(now.way), cut));
        expect(Math.abs(again.gap - required)).toBeLessThan(0.1);
      }),
      { numRuns: 4, endOnFailure: true },
    );
  });

  it('gains nothing more where another place is then the nearest', () => {
    const still: Point[][] = [...runs(760)];
    expect(served(at, on, still, 40).lost).toBeGreaterThan(0.5);
    expect(served(at, on, still).lost).toBe(0);
  });
});

describe('the way back in words', () => {
  it('has shares of one length', () => {
    expect(wayOf([-0.6, 0, 0.8])).toBe('60 % rearward and 80 % up');
    expect(wayOf([0, -1, 0])).toBe('100 % inward');
    expect(wayOf([0.36, 0.48, -0.8])).toBe('36 % forward, 48 % outward and 80 % down');
  });
});
