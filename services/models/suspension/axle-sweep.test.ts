import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between } from '../../units/testing.ts';
import { type AxleInputs, areNear, searchAxleGaps } from './axle-gaps.ts';
import {
  type AxleContact,
  type AxleObstacle,
  type AxleSweepRequest,
  leastAxleGaps,
  levelGaps,
  pieceDistance,
  ridingPieces,
  type SweptAxle,
  sweepAxle,
  together,
} from './axle-sweep.ts';
import {
  type AxleFrame,
  axleMotion,
  type BeamAxle,
  crossedTravel,
  heaves,
  MOTION_SIZE,
  mostTilt,
  movePoint,
  ridingOn,
  swing,
  wheelPlace,
} from './beam-axle.ts';
import { containing } from './testing-profiles.ts';
import type { TyreShape } from './tyre-shape.ts';
import type { Vec3 } from './vector.ts';

/** An invented rear axle on leaves. */
const axle: BeamAxle = {
  halfTrack: 0.8,
  wheelHeight: 0.372,
  rollHeight: 0.453,
  stopAt: 0.48,
  damperAt: 0.48,
  springAt: 0.56,
  swingRadius: 0.44,
  swingDrop: 0.04,
};
const travel = { droop: -0.105, bump: 0.105 };
const tyre: TyreShape = { freeRadius: 0.388, loadedRadius: 0.37, sectionWidth: 0.272, shoulderRadius: 0.035 };
const request: AxleSweepRequest = { axle, tyre, travel };

const line = (id: string, frame: AxleFrame, radius: number, ...lines: Vec3[][]): AxleObstacle => ({
  id,
  frame,
  radius,
  lines,
  patches: [],
});
const arch: AxleObstacle = {
  ...line(
    'arch',
    'body',
    0,
    [
      [-0.3, 0.6, 0.93],
      [-0.3, 0.93, 0.93],
    ],
    [
      [0, 0.6, 0.985],
      [0, 0.93, 0.985],
    ],
    [
      [0.3, 0.6, 0.93],
      [0.3, 0.93, 0.93],
    ],
  ),
  patches: [
    [
      [-0.05, 0.65, 1],
      [0.05, 0.65, 1],
      [0.05, 0.9, 0.99],
    ],
  ],
};
const obstacles: readonly AxleObstacle[] = [
  arch,
  line(
    'inner_wing',
    'body',
    0,
    [
      [-0.35, 0.56, 0.8],
      [0.35, 0.56, 0.8],
    ],
    [
      [-0.2, 0.56, 0.95],
      [0.2, 0.56, 0.95],
    ],
  ),
  line('lip', 'body', 0.003, [
    [-0.4, 0.95, 0.7],
    [-0.2, 0.95, 0.88],
    [0, 0.95, 0.92],
    [0.2, 0.95, 0.88],
    [0.4, 0.95, 0.7],
  ]),
  line('leaf', 'rear_spring', 0.03, [
    [0.588, 0.56, 0.495],
    [0.3, 0.56, 0.47],
    [0, 0.56, 0.453],
    [-0.3, 0.56, 0.468],
    [-0.706, 0.56, 0.5],
  ]),
  line(
    'u_bolts',
    'rear_axle',
    0.008,
    [
      [0.06, 0.595, 0.3],
      [0.06, 0.595, 0.47],
    ],
    [
      [-0.06, 0.595, 0.3],
      [-0.06, 0.595, 0.47],
    ],
  ),
  line('damper', 'rear_damper', 0.03, [
    [-0.1, 0.55, 0.322],
    [-0.12, 0.52, 0.69],
  ]),
  line(
    'rail',
    'chassis',
    0,
    [
      [0.6, 0.5, 0.55],
      [-0.6, 0.5, 0.55],
    ],
    [
      [0.6, 0.5, 0.66],
      [-0.6, 0.5, 0.66],
    ],
  ),
];
const obstacle = (id: string): AxleObstacle => obstacles.find((o) => o.id === id)!;

function swept(change: Partial<AxleSweepRequest> = {}): SweptAxle {
  const made = sweepAxle({ ...request, ...change });
  if (!made.ok) throw new Error(made.reason);
  return made.value;
}
function gaps(s: SweptAxle, of: readonly AxleObstacle[] = obstacles): readonly AxleContact[] {
  const made = leastAxleGaps(s, of);
  if (!made.ok) throw new Error(made.reason);
  return made.value;
}

/** Straight pieces between corners, and what each end takes part in; a patch as straight pieces side by side. */
interface Straight {
  readonly a: Vec3;
  readonly b: Vec3;
  readonly shares: readonly [number, number];
}
const mix = (a: Vec3, b: Vec3, t: number): Vec3 => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])];
const far = (a: Vec3, b: Vec3): number => Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);

function straights(o: AxleObstacle, spacing: number): Straight[] {
  const out: Straight[] = [];
  for (const run of o.lines) {
    const riding = ridingOn(o.frame, run);
    if (!riding.ok) throw new Error(riding.reason);
    const { shares } = riding.value;
    for (let i = 1; i < run.length; i++) out.push({ a: run[i - 1]!, b: run[i]!, shares: [shares[i - 1]!, shares[i]!] });
  }
  for (const [a, b, c] of o.patches) {
    const rows = Math.ceil(far(a!, b!) / spacing);
    for (let i = 0; i <= rows; i++) out.push({ a: mix(a!, b!, i / rows), b: mix(a!, c!, i / rows), shares: [0, 0] });
  }
  return out;
}

/** The least gap over a grid of places, written out: no search, nothing of the product but the axle's motion and the limits of its travel. */
function bruteForce(s: SweptAxle, o: AxleObstacle, shape: TyreShape, tilts: readonly number[], steps: number): number {
  const { freeRadius, sectionWidth, shoulderRadius } = shape;
  const [half, top] = [sectionWidth / 2 - shoulderRadius, freeRadius - shoulderRadius];
  const pieces = straights(o, 0.01).map((piece) => ({ ...piece, samples: Math.ceil(far(piece.a, piece.b) / 0.01) }));
  const m = new Float64Array(MOTION_SIZE);
  const ends = new Float64Array(6);
  const place = new Float64Array(6);
  const most = mostTilt(axle, travel);
  const lift = o.frame === 'body' ? s.bodyLift : 0;
  // What is on the axle moves with it, also to a side.
  const off = o.frame === 'rear_axle' ? 0 : s.offCentre;
  let least = Number.POSITIVE_INFINITY;
  for (const tilt of tilts) {
    const [low, high] = heaves(axle, travel, tilt * most);
    for (let k = 0; k <= steps; k++) {
      axleMotion(axle, low + ((high - low) * k) / steps, tilt * most, m);
      wheelPlace(axle, m, s.outwardShift + off, place);
      const [cx, cy, cz, ax, ay, az] = [place[0]!, place[1]!, place[2]!, place[3]!, place[4]!, place[5]!];
      for (const { a, b, shares, samples } of pieces) {
        movePoint(axle, m, a[0], a[1], a[2], ends, 0);
        movePoint(axle, m, b[0], b[1], b[2], ends, 3);
        for (let n = 0; n < 3; n++) {
          ends[n] = a[n]! + shares[0] * (ends[n]! - a[n]!);
          ends[3 + n] = b[n]! + shares[1] * (ends[3 + n]! - b[n]!);
        }
        for (let n = 0; n <= samples; n++) {
          const t = n / samples;
          const x = ends[0]! + t * (ends[3]! - ends[0]!) - cx;
          const y = ends[1]! + t * (ends[4]! - ends[1]!) - cy;
          const z = ends[2]! + t * (ends[5]! - ends[2]!) + lift - cz;
          const along = x * ax + y * ay + z * az;
          const u = Math.abs(along) - half;
          const v = Math.sqrt(Math.max(0, x * x + y * y + z * z - along * along)) - top;
          const d = (u > 0 && v > 0 ? Math.sqrt(u * u + v * v) : Math.max(u, v)) - shoulderRadius - o.radius;
          if (d < least) least = d;
        }
      }
    }
  }
  return least;
}

/** How far up the wheel's centre has gone. */
function wheelTravel(of: BeamAxle, { heave, tilt }: { heave: number; tilt: number }): number {
  const [m, place] = [new Float64Array(MOTION_SIZE), new Float64Array(6)];
  axleMotion(of, heave, tilt, m);
  wheelPlace(of, m, 0, place);
  return place[2]! - of.wheelHeight;
}

const everyTilt = Array.from({ length: 241 }, (_, i) => (i - 120) / 120);

describe('a beam axle', () => {
  it('goes as far as its stops and dampers let it', () => {
    // Both at 0.48 m, 105 mm each way: sin φ = 0.21 / 0.96.
    expect(mostTilt(axle, travel)).toBeCloseTo(0.21875, 12);
    expect(heaves(axle, travel, 0)).toEqual([-0.105, 0.105]);
    // At half of the most tilt 0.109375 · 0.48 = 52.5 mm are gone at either end.
    expect(heaves(axle, travel, 0.109375).map((x) => Math.round(x * 1e6))).toEqual([-52500, 52500]);
    // A stop further out than the damper: where both hold, the heave is no longer nothing. 0.105 − 0.6 s = −0.105 + 0.4 s at s = 0.21.
    const other = { ...axle, stopAt: 0.6, damperAt: 0.4 };
    expect(mostTilt(other, travel)).toBeCloseTo(0.21, 12);
    expect(heaves(other, travel, 0.21)[0]).toBeCloseTo(-0.021, 12);
  });

  it('carries a wheel further up when crossed, by what it is further out than the stop', () => {
    // 0.32 m outboard of its stop at sin φ = 0.21875: 70 mm more than the 105 of both alike.
    expect(crossedTravel(axle, travel)).toBeCloseTo(0.07, 12);
    const straight = wheelTravel({ ...axle, rollHeight: axle.wheelHeight }, { heave: 0, tilt: 0.21875 });
    expect(straight).toBeCloseTo(0.8 * 0.21875, 9);
    // 81 mm below the roll centre it comes up 81 · (1 − cos φ) = 1.96 mm more.
    expect(wheelTravel(axle, { heave: 0, tilt: 0.21875 }) - straight).toBeCloseTo(0.081 * (1 - Math.sqrt(1 - 0.21875 ** 2)), 9);
  });

  it('leans its tyre and carries it in, as a hand has it', () => {
    const m = new Float64Array(MOTION_SIZE);
    const place = new Float64Array(6);
    axleMotion({ ...axle, swingRadius: 1e6, swingDrop: 0 }, 0.02, 0.2, m);
    wheelPlace(axle, m, 0, place);
    const cos = Math.sqrt(1 - 0.04);
    // Centre (0.8, −0.081) about the roll centre, turned by φ, sin φ = 0.2.
    expect(place[1]).toBeCloseTo(0.8 * cos + 0.081 * 0.2, 5);
    expect(place[2]).toBeCloseTo(0.453 + 0.02 + 0.8 * 0.2 - 0.081 * cos, 5);
    expect([place[4], place[5]]).toEqual([expect.closeTo(cos, 6), expect.closeTo(0.2, 6)]);
  });

  it('swings fore and aft on its arc and steers when tilted', () => {
    // Up 105 mm, pivot 40 mm above the axle: √(0.44² − 0.04²) − √(0.44² − 0.065²) = 438.18 − 435.17 = 3.0 mm forward; as far down 438.18 − 415.42 = 22.8 mm.
    expect(swing(axle, 0.105)).toBeCloseTo(0.003, 4);
    expect(swing(axle, -0.105)).toBeCloseTo(0.0228, 4);
    expect(swing(axle, 0)).toBe(0);
    // Up to where the pivot is level it goes rearward first.
    expect(swing(axle, 0.04)).toBeLessThan(0);
    const m = new Float64Array(MOTION_SIZE);
    axleMotion(axle, 0, 0.2, m);
    expect(m[3]).toBeCloseTo((swing(axle, -0.112) - swing(axle, 0.112)) / 1.12, 12);
    const still = Array.from({ length: 3 }, (_, i) => [0, 1, 2].map((k) => m[3 * i + k]!));
    for (let i = 0; i < 3; i++)
      for (let k = 0; k < 3; k++) expect(still[i]!.reduce((sum, x, n) => sum + x * still[k]![n]!, 0)).toBeCloseTo(i === k ? 1 : 0, 12);
  });

  it('is refused with a reason where it has no places', () => {
    expect(sweepAxle({ ...request, travel: { droop: 0.1, bump: 0 } })).toMatchObject({
      ok: false,
      reason: expect.stringContaining('full bump'),
    });
    expect(sweepAxle({ ...request, axle: { ...axle, stopAt: 0 } })).toMatchObject({
      ok: false,
      reason: expect.stringContaining('beside the centre line'),
    });
    expect(sweepAxle({ ...request, axle: { ...axle, swingRadius: 0.1 } })).toMatchObject({
      ok: false,
      reason: expect.stringContaining('do not reach'),
    });
    expect(
      leastAxleGaps(swept(), [
        line('short', 'rear_spring', 0, [
          [0.1, 0, 0],
          [0.4, 0, 0],
        ]),
      ]),
    ).toMatchObject({ ok: false, reason: expect.stringContaining('short: a leaf') });
    expect(leastAxleGaps(swept(), [line('none', 'body', 0)])).toMatchObject({ ok: false, reason: 'none: it has no points' });
  });
});

describe('the least gap of a rear tyre, worked by hand', () => {
  const round: TyreShape = { freeRadius: 0.4, loadedRadius: 0.38, sectionWidth: 0.25, shoulderRadius: 0 };
  const stiff: BeamAxle = { ...axle, rollHeight: 0.372, swingRadius: 1e6, swingDrop: 0 };

  it('straight above it, level: height less radius less bump', () => {
    const roof = line('roof', 'body', 0, [
      [0, 0.79, 0.95],
      [0, 0.81, 0.95],
    ]);
    const s = swept({ axle: stiff, tyre: round, bodyLift: 0.02 });
    const level = levelGaps(s, roof);
    // 950 + 20 − 372 − 105 − 400 = 93 mm.
    expect(level.ok && level.value.level).toBeCloseTo(0.093, 9);
    // One wheel up with the other at ride: h = 0.8 s and h + 0.48 s = 0.105, s = 0.0820; the wheel is 131.25 mm up and leans.
    const s1 = 0.105 / 1.28;
    const c1 = Math.sqrt(1 - s1 * s1);
    // The point (0.79…0.81, 0.97) from the wheel's centre (0.8 c, 0.372 + 1.6 s), radially out of the axle that leans by φ: the nearer end is that at 0.81.
    const [y, z] = [0.81 - 0.8 * c1, 0.97 - 0.372 - 1.6 * s1];
    expect(level.ok && level.value.oneWheel).toBeCloseTo(Math.min(z * c1 - y * s1, z * c1 - (0.79 - 0.8 * c1) * s1) - 0.4, 6);
  });

  it('against a wall inboard, crossed up: the upper inner edge leans in', () => {
    // A rail 0.3 m above the hub's height at design, 0.5 m from the centre line; the tyre 0.675 at its inner face level.
    const wall = line('wall', 'chassis', 0, [
      [-0.4, 0.5, 1.2],
      [0.4, 0.5, 1.2],
      [0.4, 0.5, 0.3],
      [-0.4, 0.5, 0.3],
    ]);
    const face: AxleObstacle = {
      ...wall,
      lines: [],
      patches: [
        [
          [-0.5, 0.5, 0.2],
          [0.5, 0.5, 0.2],
          [0.5, 0.5, 1.4],
          [-0.5, 0.5, 1.4],
        ],
      ],
    };
    const [c] = gaps(swept({ axle: stiff, tyre: round }), [face]) as [AxleContact];
    const s = 0.21875;
    const cos = Math.sqrt(1 - s * s);
    // Centre at 0.8 cos φ; inner face 0.125 in along the axle, edge 0.4 up across it: 0.8 cos φ − 0.125 cos φ − 0.4 sin φ − 0.5.
    expect(c.gap).toBeCloseTo(0.675 * cos - 0.4 * s - 0.5, 6);
    expect(c.place.tilt).toBeCloseTo(s, 6);
    expect(c.travel).toBeCloseTo(0.8 * s, 6);
  });

  it('beside what is on the axle is the same everywhere: half track less half section, less the thing', () => {
    const [c] = gaps(swept({ offCentre: 0.01, bodyLift: 0.05 }), [obstacle('u_bolts')]) as [AxleContact];
    // 800 − 136 − 595 − 8 = 61 mm, and the axle's standing off centre changes nothing.
    expect(c.gap).toBeCloseTo(0.061, 9);
    expect(c.outOfPlane).toBeCloseTo(-Math.PI / 2, 6);
    expect(gaps(swept({ outwardShift: 0.02 }), [obstacle('u_bolts')])[0]!.gap).toBeCloseTo(0.081, 9);
  });

  it('beside a damper: its ends ride on axle and frame', () => {
    const upright = line('damper', 'rear_damper', 0.03, [
      [0, 0.5, 0.4],
      [0, 0.5, 0.7],
    ]);
    const s = swept({ axle: stiff, tyre: round });
    const level = levelGaps(s, upright);
    // Level nothing moves sideways: 800 − 125 − 500 − 30 = 145 mm.
    expect(level.ok && level.value.level).toBeCloseTo(0.145, 9);
    expect(gaps(s, [upright])[0]!.gap).toBeLessThan(0.13);
  });
});

describe('the least gap over all places of a rear axle', () => {
  it.each([
    ['as it stands', {}],
    [
      'larger, further out, the body lifted, off centre',
      { tyre: { ...tyre, freeRadius: 0.42, sectionWidth: 0.32 }, outwardShift: 0.03, bodyLift: 0.04, offCentre: 0.006 },
    ],
  ] as const)('agrees with a sweep ten times as fine, crossed and level: %s', (_, change) => {
    const s = swept(change);
    const shape = 'tyre' in change ? change.tyre : tyre;
    const found = gaps(s);
    for (const [i, o] of obstacles.entries()) {
      const [crossed, level] = [bruteForce(s, o, shape, everyTilt, 120), bruteForce(s, o, shape, [0], 400)];
      expect(found[i]!.gap, `${o.id} no larger`).toBeLessThanOrEqual(crossed + 1e-8);
      expect(crossed - found[i]!.gap, `${o.id} crossed`).toBeLessThan(0.0005);
      const flat = levelGaps(s, o);
      expect(flat.ok && Math.abs(flat.value.level - level), `${o.id} level`).toBeLessThan(0.0005);
    }
  });

  it('is never more crossed up than with one wheel up, nor than level', () => {
    for (const o of obstacles) {
      const level = levelGaps(swept(), o);
      if (!level.ok) throw new Error(level.reason);
      const [c] = gaps(swept(), [o]) as [AxleContact];
      expect(c.gap).toBeLessThanOrEqual(level.value.level + 1e-9);
      expect(c.gap).toBeLessThanOrEqual(level.value.oneWheel + 1e-9);
    }
  });

  it('never grows with a tyre that contains the other, at any place', () => {
    fc.assert(
      fc.property(between(0, 0.03), between(0, 0.04), between(-0.02, 0.04), between(0, 0.04), (dr, dw, outwardShift, bodyLift) => {
        const larger = { ...tyre, freeRadius: tyre.freeRadius + dr, sectionWidth: tyre.sectionWidth + dw };
        const [a, b] = [gaps(swept({ outwardShift, bodyLift })), gaps(swept({ outwardShift, bodyLift, tyre: larger }))];
        for (const [i, { obstacle: id, gap }] of a.entries()) expect(b[i]!.gap, id).toBeLessThanOrEqual(gap + 1e-7);
      }),
      { numRuns: 12 },
    );
  });

  it('is no greater at any one place with a tyre that contains the other, of whatever profile', () => {
    const s = swept();
    const pieces = obstacles.map((o) => {
      const made = ridingPieces(o);
      if (!made.ok) throw new Error(made.reason);
      return together(made.value);
    });
    fc.assert(
      fc.property(containing, between(-1, 1), between(0, 1), between(-0.03, 0.05), ({ inner, outer }, share, up, outwardShift) => {
        const tilt = share * mostTilt(axle, travel);
        const [low, high] = heaves(axle, travel, tilt);
        for (const [i, piece] of pieces.entries()) {
          const [more, less] = [inner, outer].map((profile) =>
            pieceDistance({ ...s, profile, outwardShift }, piece, low + up * (high - low), tilt),
          ) as [number, number];
          expect(less, obstacles[i]!.id).toBeLessThanOrEqual(more + 1e-9);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('is never less with a stop that is met sooner, nor with a damper that is shorter', () => {
    fc.assert(
      fc.property(between(0, 0.04), between(0, 0.03), (stop, damper) => {
        const less = { droop: travel.droop + damper, bump: travel.bump - stop };
        const [a, b] = [gaps(swept()), gaps(swept({ travel: less }))];
        for (const [i, { obstacle: id, gap }] of a.entries()) expect(b[i]!.gap, id).toBeGreaterThanOrEqual(gap - 1e-7);
      }),
      { numRuns: 12 },
    );
  });

  it('says where: on the obstacle, within reach, with a unit normal', () => {
    for (const c of gaps(swept())) {
      const o = obstacle(c.obstacle);
      const points = straights(o, 0.001).flatMap(({ a, b }) => Array.from({ length: 1001 }, (_, i) => mix(a, b, i / 1000)));
      const near = points.reduce((least, point) => Math.min(least, far(point, c.at)), Number.POSITIVE_INFINITY);
      expect(near, c.obstacle).toBeLessThan(o.radius + 0.002);
      expect(Math.hypot(...c.normal)).toBeCloseTo(1, 9);
      expect(Math.abs(c.place.tilt)).toBeLessThanOrEqual(mostTilt(axle, travel) + 1e-9);
    }
  });
});

describe('gaps followed from a search of a rear axle', () => {
  const base: AxleInputs = { tyre, outwardShift: 0, offCentre: 0, bodyLift: 0, ride: 0, block: 0, ...travel };
  const search = (inputs: AxleInputs, of = axle) => {
    const made = searchAxleGaps(of, obstacles, inputs);
    if (!made.ok) throw new Error(made.reason);
    return made.value;
  };
  const searched = search(base);

  it('are those of the search at what was searched', () => {
    for (const [id, { gap }] of searched.contacts) expect(searched.follow(id, base), id).toBeCloseTo(gap, 6);
  });

  it('are near those of a search of their own, and never less', () => {
    const by = between(-0.015, 0.015);
    fc.assert(
      fc.property(by, by, by, by, by, between(-0.02, 0.02), (radius, shift, off, bump, droop, stop) => {
        const moved: AxleInputs = {
          ...base,
          tyre: { ...tyre, freeRadius: tyre.freeRadius + radius },
          outwardShift: shift,
          offCentre: off,
          bump: base.bump + bump,
          droop: base.droop + droop,
        };
        const other = { ...axle, stopAt: axle.stopAt + stop };
        expect(areNear(base, moved)).toBe(true);
        for (const [id, { gap }] of search(moved, other).contacts) {
          const followed = searched.follow(id, moved, other);
          expect(followed, id).toBeGreaterThan(gap - 1e-6);
          expect(followed - gap, id).toBeLessThan(5e-4);
        }
      }),
      { numRuns: 25 },
    );
  });

  it('have no answer for what is not there or has no places, and are not followed far', () => {
    expect(searched.follow('nothing', base)).toBeNaN();
    expect(searched.follow('arch', { ...base, bump: -0.2 })).toBeNaN();
    expect(areNear(base, { ...base, bodyLift: 0.08 })).toBe(false);
  });
});
