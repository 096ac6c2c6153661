import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readClassGeometry } from '../../../tests/published/suspension/class-geometry.ts';
import { uniform } from '../../../tests/published/suspension/uniform.ts';
import { armAt, makeLinkage, POSE_SIZE, solveTurn } from './double-wishbone.ts';
import { type SweptTyre, sampledDistances } from './gap-search.ts';
import type { Obstacle } from './geometry.ts';
import { leastToPieces, piecesOf, samplePoints, shapesOf } from './obstacle-shapes.ts';
import { solveGrid, tyrePlace } from './pose-grid.ts';
import { type Contact, leastGapsLeft, type SweepRequest, sweepTyre } from './swept-tyre.ts';
import { containing } from './testing-profiles.ts';
import { distance, length } from './vector.ts';

const { corner, tyre } = readClassGeometry();
const made = makeLinkage(corner.hardpoints);
if (!made.ok) throw new Error(made.reason);
const linkage = made.value;
const sweep = { droop: -0.09, bump: 0.11, rackRight: -0.072, rackLeft: 0.072 };
const request: SweepRequest = { linkage, tyre, sweep, antiRollBar: corner.antiRollBar!, coilOver: corner.coilOver };
const large = { ...tyre, freeRadius: 0.42, loadedRadius: 0.4, sectionWidth: 0.318 };
/** With what chains take at the tread and at either wall. */
const chained = (tread: number, side: number) => ({
  ...tyre,
  freeRadius: tyre.freeRadius + tread,
  loadedRadius: tyre.loadedRadius + tread,
  sectionWidth: tyre.sectionWidth + 2 * side,
});
const obstacle = (id: string): Obstacle => corner.obstacles.find((o) => o.id === id)!;

function swept(change: Partial<SweepRequest> = {}): SweptTyre {
  const result = sweepTyre({ ...request, ...change });
  if (!result.ok) throw new Error(result.reason);
  return result.value;
}

function gaps(s: SweptTyre, obstacles: readonly Obstacle[]): readonly Contact[] {
  const result = leastGapsLeft(s, obstacles);
  if (!result.ok) throw new Error(result.reason);
  return result.value;
}

const patched: Obstacle = {
  id: 'splash_plate',
  frame: 'chassis',
  side: 'both',
  radius: 0.002,
  flexible: false,
  lines: [],
  patches: [
    [
      [-0.5, 0.6, 0.35],
      [-0.5, 0.85, 0.35],
      [-0.47, 0.85, 0.6],
      [-0.47, 0.6, 0.6],
    ],
  ],
};

describe('the least gap over travel and steering', () => {
  it.each([
    ['as it stands', {}],
    ['with a larger tyre further out and the body lifted', { tyre: large, outwardShift: 0.03, bodyLift: 0.04 }],
    ['with chains of class U on it', { tyre: chained(0.05, 0.023) }],
  ] as const)('agrees with a sweep ten times as fine, point by point: %s', (_, change) => {
    const s = swept(change);
    const obstacles = [...corner.obstacles, patched];
    const found = gaps(s, obstacles);
    const fine = solveGrid(linkage, sweep, 401, 301);
    if (!fine.ok) throw new Error(fine.reason);
    const place = new Float64Array(6);
    const { freeRadius, sectionWidth, shoulderRadius } = { ...tyre, ...('tyre' in change ? change.tyre : {}) };
    const [half, top] = [sectionWidth / 2 - shoulderRadius, freeRadius - shoulderRadius];
    const least = obstacles.map(() => Number.POSITIVE_INFINITY);
    const points = obstacles.map((o) => samplePoints(shapesOf(o), 0.008));
    const frames = [...new Set(obstacles.map((o) => o.frame))];
    for (let n = 0; n < 401 * 301; n++) {
      for (const frame of frames) {
        if (!tyrePlace(s, fine.value.raw, n * POSE_SIZE, frame, place)) throw new Error('no place');
        const [cx, cy, cz, ax, ay, az] = [place[0]!, place[1]!, place[2]!, place[3]!, place[4]!, place[5]!];
        for (let o = 0; o < obstacles.length; o++) {
          if (obstacles[o]!.frame !== frame) continue;
          const own = points[o]!;
          let best = least[o]!;
          for (let i = 0; i < own.length; i += 3) {
            const [x, y, z] = [own[i]! - cx, own[i + 1]! - cy, own[i + 2]! - cz];
            const along = x * ax + y * ay + z * az;
            const u = Math.abs(along) - half;
            const v = Math.sqrt(x * x + y * y + z * z - along * along) - top;
            const d = (u > 0 && v > 0 ? Math.sqrt(u * u + v * v) : Math.max(u, v)) - shoulderRadius - obstacles[o]!.radius;
            if (d < best) best = d;
          }
          least[o] = best;
        }
      }
    }
    for (let o = 0; o < obstacles.length; o++) {
      expect(found[o]!.gap, `${obstacles[o]!.id} no larger`).toBeLessThanOrEqual(least[o]! + 1e-8);
      expect(least[o]! - found[o]!.gap, `${obstacles[o]!.id} within half a millimetre`).toBeLessThan(0.0005);
    }
  });

  it('is missed by no sampled position of other poses, for any tyre, offset, lift and range of travel', () => {
    const sets = corner.obstacles.map((o) => ({ frame: o.frame, points: samplePoints(shapesOf(o), 0.01) }));
    fc.assert(
      fc.property(
        uniform(0.38, 0.44),
        uniform(0.25, 0.34),
        uniform(-0.02, 0.05),
        uniform(0, 0.05),
        uniform(-0.11, -0.06),
        (freeRadius, sectionWidth, outwardShift, bodyLift, droop) => {
          const change = { tyre: { ...tyre, freeRadius, sectionWidth }, outwardShift, bodyLift, sweep: { ...sweep, droop } };
          const found = gaps(swept(change), corner.obstacles);
          const others = sampledDistances(swept({ ...change, travels: 87, racks: 71 }), sets);
          if (!others.ok) throw new Error(others.reason);
          for (let i = 0; i < found.length; i++) {
            const least = others.value[i]!.reduce((a, b) => Math.min(a, b)) - corner.obstacles[i]!.radius;
            expect(found[i]!.gap, found[i]!.obstacle).toBeLessThanOrEqual(least + 1e-8);
          }
        },
      ),
      { numRuns: 12 },
    );
  });

  it('says where: a point of the obstacle’s surface, within the sweep, with a unit normal', () => {
    for (const c of gaps(swept(), corner.obstacles)) {
      const o = obstacle(c.obstacle);
      const points = samplePoints(shapesOf(o), 0.001);
      let near = Number.POSITIVE_INFINITY;
      for (let i = 0; i < points.length; i += 3) near = Math.min(near, distance(c.at, [points[i]!, points[i + 1]!, points[i + 2]!]));
      expect(near, c.obstacle).toBeLessThan(o.radius + 0.001);
      expect(length(c.normal)).toBeCloseTo(1, 9);
      expect(c.travel).toBeGreaterThanOrEqual(sweep.droop - 1e-9);
      expect(c.travel).toBeLessThanOrEqual(sweep.bump + 1e-9);
      expect(Math.abs(c.rack)).toBeLessThanOrEqual(0.072);
    }
  });

  it('moves with a body lift for what is on the body, and not for the rest', () => {
    const [before, after] = [
      gaps(swept({ tyre: large }), corner.obstacles),
      gaps(swept({ tyre: large, bodyLift: 0.05 }), corner.obstacles),
    ];
    for (let i = 0; i < corner.obstacles.length; i++) {
      const same = Math.abs(after[i]!.gap - before[i]!.gap) < 1e-12;
      expect(same, before[i]!.obstacle).toBe(corner.obstacles[i]!.frame !== 'body');
    }
    const top = corner.obstacles.findIndex((o) => o.id === 'liner_top');
    expect(after[top]!.gap - before[top]!.gap).toBeGreaterThan(0.045);
  });

  it('of the upper ball joint is the same at every pose, for both ride on the knuckle', () => {
    const [c] = gaps(swept(), [obstacle('ball_joint_housing')]);
    // 170 mm inboard of the wheel centre, 136 mm of half section, 18 mm of its own.
    expect(c!.gap).toBeCloseTo(0.016, 9);
  });

  it('has the tyre carried back by a wheel further out as a hand has it, and a contact on the flat of the tread slides along it', () => {
    // A shift e along the axle of a wheel steered by δ moves its centre back by e·sin δ and out by e·cos δ (camber: some tenths of a per cent).
    const shift = 0.03;
    const [mount] = gaps(swept(), [obstacle('cab_mount')]) as [Contact];
    const arm = armAt(linkage, mount.travel);
    const raw = new Float64Array(POSE_SIZE);
    expect(arm.ok && solveTurn(linkage, arm.value, mount.rack, raw, 0)).toBe(0);
    const at = (outwardShift: number): Float64Array => {
      const place = new Float64Array(6);
      tyrePlace({ linkage, outwardShift, bodyShift: [0, 0, 0] }, raw, 0, 'chassis', place);
      return place;
    };
    const [first, second] = [at(0), at(shift)] as [Float64Array, Float64Array];
    const steered = Math.atan2(-first[3]!, first[4]!);
    expect(steered).toBeGreaterThan(0.5);
    expect(second[0]! - first[0]!).toBeCloseTo(-shift * Math.sin(steered), 4);
    expect(second[1]! - first[1]!).toBeCloseTo(shift * Math.cos(steered), 4);
    expect(Math.abs(mount.outOfPlane)).toBeLessThan(1e-6);
    const [shifted] = gaps(swept({ outwardShift: shift }), [obstacle('cab_mount')]) as [Contact];
    expect(shifted.gap).toBeCloseTo(mount.gap, 6);
    // Off the tread a shift counts: the frame rail meets the inner shoulder, and gains by it.
    const [rail] = gaps(swept(), [obstacle('frame_rail')]) as [Contact];
    const [further] = gaps(swept({ outwardShift: shift }), [obstacle('frame_rail')]) as [Contact];
    expect(rail.outOfPlane).toBeLessThan(-0.2);
    expect(further.gap).toBeGreaterThan(rail.gap + 0.005);
  });

  it('never grows with a tyre that contains the other', () => {
    fc.assert(
      fc.property(uniform(0, 0.03), uniform(0, 0.04), (dr, dw) => {
        const [a, b] = [
          gaps(swept(), corner.obstacles),
          gaps(swept({ tyre: { ...tyre, freeRadius: tyre.freeRadius + dr, sectionWidth: tyre.sectionWidth + dw } }), corner.obstacles),
        ];
        for (let i = 0; i < a.length; i++) expect(b[i]!.gap, a[i]!.obstacle).toBeLessThanOrEqual(a[i]!.gap + 1e-7);
      }),
      { numRuns: 8 },
    );
  });

  it('is no greater at any pose with a tyre that contains the other, of whatever profile', () => {
    const grid = solveGrid(linkage, sweep, 12, 9);
    if (!grid.ok) throw new Error(grid.reason);
    const s = swept();
    const place = new Float64Array(6);
    const pieces = [...corner.obstacles, patched].map((o) => ({ frame: o.frame, of: piecesOf(shapesOf(o)) }));
    fc.assert(
      fc.property(containing, fc.nat(12 * 9 - 1), uniform(-0.03, 0.05), ({ inner, outer }, n, outwardShift) => {
        for (const { frame, of } of pieces) {
          if (!tyrePlace({ ...s, outwardShift }, grid.value.raw, n * POSE_SIZE, frame, place)) throw new Error('no place');
          const [more, less] = [inner, outer].map((profile) => leastToPieces(profile, place, of, Number.POSITIVE_INFINITY)) as [
            number,
            number,
          ];
          expect(less, frame).toBeLessThanOrEqual(more + 1e-9);
        }
      }),
      { numRuns: 200 },
    );
  });

  it.each([
    ['S', 0.037, 0.015],
    ['U', 0.05, 0.023],
    ['W', 0.064, 0.038],
  ])('loses to chains of class %s no less than they take at the wall and no more than at both together', (_, tread, side) => {
    const [without, with_] = [gaps(swept(), corner.obstacles), gaps(swept({ tyre: chained(tread, side) }), corner.obstacles)];
    for (let i = 0; i < without.length; i++) {
      const lost = without[i]!.gap - with_[i]!.gap;
      expect(lost, without[i]!.obstacle).toBeGreaterThanOrEqual(Math.min(tread, side) - 1e-7);
      expect(lost, without[i]!.obstacle).toBeLessThanOrEqual(Math.hypot(tread, side) + 1e-7);
    }
  });

  it('of the neck of the knuckle and of a coil is what their points have: both are near the inner wall', () => {
    const [neck] = gaps(swept(), [obstacle('knuckle_neck')]);
    // The lower end is 164 mm inboard of the wheel's plane; 136 mm of half section and 15 mm of its own.
    expect(neck!.gap).toBeCloseTo(0.164 - 0.136 - 0.015, 9);
    const [narrower] = gaps(swept({ tyre: { ...tyre, sectionWidth: tyre.sectionWidth - 0.02 } }), [obstacle('knuckle_neck')]);
    expect(narrower!.gap - neck!.gap).toBeCloseTo(0.01, 9);
  });

  it('is refused with a reason for what cannot be swept', () => {
    const bar = leastGapsLeft(swept(), [{ ...obstacle('cab_mount'), lines: [] }]);
    expect(!bar.ok && bar.reason).toContain('it has no points');
    const { antiRollBar: _, ...without } = request;
    const bare = sweepTyre(without);
    const missing = bare.ok ? leastGapsLeft(bare.value, [obstacle('anti_roll_bar_end')]) : bare;
    expect(!missing.ok && missing.reason).toContain('anti_roll_bar');
    const far = sweepTyre({ ...request, sweep: { ...sweep, droop: -0.4 } });
    expect(!far.ok && far.reason).toContain('upper_ball_joint');
  });
});
