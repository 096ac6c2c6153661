import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readClassGeometry } from '../../../tests/published/suspension/class-geometry.ts';
import { uniform } from '../../../tests/published/suspension/uniform.ts';
import { hoseEnds } from './attachments.ts';
import { makeLinkage, steeredPose } from './double-wishbone.ts';
import { type HoseReach, hoseReach, smoothRoute } from './hose.ts';
import { distance, turn, unit, type Vec3 } from './vector.ts';

const { corner } = readClassGeometry();
const made = makeLinkage(corner.hardpoints);
if (!made.ok) throw new Error(made.reason);
const linkage = made.value;
const hose = corner.brakeHose!;
const sweep = { droop: -0.09, bump: 0.11, rackRight: -0.072, rackLeft: 0.072 };

function reach(h = hose, s = sweep): HoseReach {
  const result = hoseReach(linkage, h, s);
  if (!result.ok) throw new Error(result.reason);
  return result.value;
}

function span(travel: number, rack: number): number {
  const pose = steeredPose(linkage, travel, rack);
  if (!pose.ok) throw new Error(pose.reason);
  const ends = hoseEnds(linkage, pose.value, hose);
  return distance(ends.chassis, ends.caliper);
}

describe('the straight span', () => {
  it('is no less than at any position of a fine sweep, and is reached where it says', () => {
    const r = reach();
    let most = 0;
    for (let i = 0; i <= 80; i++) for (let j = 0; j <= 60; j++) most = Math.max(most, span(-0.09 + 0.0025 * i, -0.072 + 0.0024 * j));
    expect(r.span).toBeGreaterThanOrEqual(most - 1e-12);
    expect(r.span).toBeLessThan(most + 0.0002);
    expect(span(r.travel, r.rack)).toBeCloseTo(r.span, 12);
    expect(r.travel).toBeCloseTo(-0.09, 6);
    expect(r.spareAtMost).toBeCloseTo(hose.freeLength - r.span, 12);
  });

  it('proves a hose too short when the wheel may hang lower', () => {
    expect(reach().spareAtMost).toBeGreaterThan(0.02);
    expect(reach(hose, { ...sweep, droop: -0.14 }).spareAtMost).toBeLessThan(0);
  });

  it('comes without a route where the fittings are not known, and says so', () => {
    expect(reach().route).toBeUndefined();
    expect(reach().noRoute).toContain('directions');
  });
});

describe('a smooth route', () => {
  const out: Vec3 = [1, 0, 0];

  it('is straight between ends that face each other', () => {
    expect(smoothRoute([0, 0, 0], out, [0.3, 0, 0], [-1, 0, 0], 0.05)).toEqual({ ok: true, value: 0.3 });
  });

  it('is Dubins’ left-straight-left for a quarter turn (by its own closed form)', () => {
    const r = smoothRoute([0, 0, 0], out, [0.2, 0.15, 0], [0, -1, 0], 0.04);
    expect(r.ok && r.value).toBeCloseTo(Math.hypot(0.16, 0.11) + (0.04 * Math.PI) / 2, 10);
  });

  it('is Dubins’ left-straight-right for a step aside (by its own closed form)', () => {
    const [l, h, radius] = [0.3, 0.2, 0.04];
    const d = Math.hypot(l, h - 2 * radius);
    const theta = Math.atan2(h - 2 * radius, l) + Math.asin((2 * radius) / d);
    const r = smoothRoute([0, 0, 0], out, [l, h, 0], [-1, 0, 0], radius);
    expect(r.ok && r.value).toBeCloseTo(Math.sqrt(d * d - 4 * radius * radius) + 2 * radius * theta, 10);
  });

  const part = uniform(-1, 1);
  const direction = fc
    .tuple(part, part, part)
    .map((d) => unit(d as Vec3))
    .filter((d): d is Vec3 => d !== undefined);

  it('is never shorter than straight, not longer for a smaller radius, and does not care how it is turned in space', () => {
    fc.assert(
      fc.property(direction, direction, direction, uniform(0.01, 0.03), (a, b, to, radius) => {
        const end: Vec3 = [0.4 * to[0], 0.4 * to[1], 0.4 * to[2]];
        const r = smoothRoute([0, 0, 0], a, end, b, radius);
        fc.pre(r.ok);
        if (!r.ok) return;
        expect(r.value).toBeGreaterThanOrEqual(0.4 - 1e-12);
        const tighter = smoothRoute([0, 0, 0], a, end, b, radius * 0.8);
        expect(tighter.ok && tighter.value).toBeLessThanOrEqual(r.value + 1e-9);
        const spin = (v: Vec3) => turn(v, [0, 0, 1], 1.1);
        const turned = smoothRoute([0, 0, 0], spin(a), spin(end), spin(b), radius);
        expect(turned.ok && turned.value).toBeCloseTo(r.value, 9);
      }),
    );
  });

  it('is refused where the ends are too near for the bends', () => {
    const r = smoothRoute([0, 0, 0], out, [0, 0.02, 0], [-1, 0, 0], 0.05);
    expect(!r.ok && r.reason).toContain('too near');
  });

  it('of the class’s hose is longer than its span with fittings that do not face each other', () => {
    const r = reach({ ...hose, chassisDirection: [0, 0, -1], caliperDirection: [0, 0, 1], leastBendRadius: 0.03 });
    expect(r.route!).toBeGreaterThan(r.span);
    expect(r.route!).toBeLessThan(r.span + 0.05);
  });
});
