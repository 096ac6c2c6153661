/**
 * Gap between the coil spring and the upper arm over travel: a coil-over that lets the arm hang lower brings the arm
 * down onto the spring. The spring is a cylinder about the line between the coil-over's mounting points, as long as
 * they are apart (a little longer than the coils: on the safe side); the arm is a run of inflated straight pieces.
 * Metres; negative is overlap. Rack displacement does not move either.
 */
import { found, type Outcome, refused } from '../result.ts';
import { carried } from './attachments.ts';
import { armAt, type Linkage, poseOfArm } from './double-wishbone.ts';
import type { CoilOver, Obstacle } from './geometry.ts';
import { addScaled, distance, dot, subtract, type Vec3 } from './vector.ts';

export interface SpringGap {
  readonly gap: number;
  readonly travel: number;
}

/** Least gap from `droop` to `bump`, at a millimetre's steps of travel. Patches of the arm are left out. */
export function springToArmGap(linkage: Linkage, coilOver: CoilOver, arm: Obstacle, droop: number, bump: number): Outcome<SpringGap> {
  if (arm.lines.length === 0) return refused(`${arm.id}: it has no lines`);
  if (arm.frame !== 'upper_arm') return refused(`${arm.id}: it is not on the upper arm`);
  const steps = Math.max(1, Math.ceil((bump - droop) / 0.001));
  let best: SpringGap = { gap: Number.POSITIVE_INFINITY, travel: droop };
  for (let i = 0; i <= steps; i++) {
    const travel = droop + ((bump - droop) * i) / steps;
    const gap = gapAt(linkage, coilOver, arm, travel);
    if (!gap.ok) return gap;
    if (gap.value < best.gap) best = { gap: gap.value, travel };
  }
  return found(best);
}

function gapAt(linkage: Linkage, coilOver: CoilOver, arm: Obstacle, travel: number): Outcome<number> {
  const turn = armAt(linkage, travel);
  if (!turn.ok) return turn;
  const pose = poseOfArm(linkage, turn.value, 0);
  if (!pose.ok) return pose;
  const lower = carried(linkage, pose.value, 'lower_arm', coilOver.lower);
  let least = Number.POSITIVE_INFINITY;
  for (const line of arm.lines) {
    const points = line.map((p) => carried(linkage, pose.value, 'upper_arm', p));
    for (let i = 1; i < points.length; i++) least = Math.min(least, segmentDistance(points[i - 1]!, points[i]!, lower, coilOver.upper));
  }
  return found(least - arm.radius - coilOver.springOuterRadius);
}

/** Least distance between two segments: where their lines are nearest, clamped in turn to both. */
export function segmentDistance(a: Vec3, b: Vec3, c: Vec3, d: Vec3): number {
  const u = subtract(b, a);
  const v = subtract(d, c);
  const w = subtract(a, c);
  const [uu, uv, vv, uw, vw] = [dot(u, u), dot(u, v), dot(v, v), dot(u, w), dot(v, w)];
  const det = uu * vv - uv * uv;
  const clamp = (x: number) => Math.min(1, Math.max(0, x));
  let s = det > 1e-12 * uu * vv ? clamp((uv * vw - vv * uw) / det) : 0;
  const t = vv > 0 ? clamp((uv * s + vw) / vv) : 0;
  s = uu > 0 ? clamp((uv * t - uw) / uu) : 0;
  return distance(addScaled(a, u, s), addScaled(c, v, t));
}
