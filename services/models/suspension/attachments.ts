/**
 * What hangs on the linkage: coil-over, half-shaft, brake hose, anti-roll link and the swing of its joints.
 * Lengths in metres, angles in radians; points as in `geometry.ts` (left corner, at design).
 */
import { found, type Outcome, refused } from '../result.ts';
import type { Linkage, Pose } from './double-wishbone.ts';
import type { AntiRollBar, BallJointLimit, BrakeHose, CoilOver, FrameName, HalfShaft } from './geometry.ts';
import {
  addScaled,
  angleBetween,
  type Basis,
  cross,
  directionFromLocal,
  directionToLocal,
  distance,
  dot,
  fromLocal,
  length,
  scale,
  subtract,
  toLocal,
  turn,
  type Vec3,
} from './vector.ts';
import { travelMotion } from './wheel-angles.ts';

/** Where a point that is fixed in a moving frame at design is at this pose. Body and chassis stand still here. */
export function carried(linkage: Linkage, pose: Pose, frame: FrameName, point: Vec3): Vec3 {
  if (frame === 'lower_arm') return fromLocal(pose.lowerArm, toLocal(linkage.design.lowerArm, point));
  if (frame === 'upper_arm') return fromLocal(pose.upperArm, toLocal(linkage.design.upperArm, point));
  if (frame === 'knuckle') return fromLocal(pose.knuckle, toLocal(linkage.design.knuckle, point));
  return point;
}

function carriedDirection(design: Basis, now: Basis, d: Vec3): Vec3 {
  return directionFromLocal(now, directionToLocal(design, d));
}

/** Distance between the coil-over's mounting points. */
export function coilOverLength(linkage: Linkage, pose: Pose, coilOver: CoilOver): number {
  return distance(carried(linkage, pose, 'lower_arm', coilOver.lower), coilOver.upper);
}

/** Shortening of the coil-over for each metre the wheel centre rises, from the velocities at the pose. */
export function motionRatio(linkage: Linkage, pose: Pose, coilOver: CoilOver): Outcome<number> {
  const motion = travelMotion(linkage, pose);
  if (!motion) return refused('wheel_centre: the linkage is at its end, where a motion ratio has no value');
  const lower = carried(linkage, pose, 'lower_arm', coilOver.lower);
  const speed = scale(cross(pose.lowerArm.a, subtract(lower, pose.lowerArm.origin)), motion.lowerArm);
  const along = subtract(coilOver.upper, lower);
  return found(dot(speed, along) / length(along));
}

export interface HalfShaftAngles {
  /** Between shaft and the inner joint's axis (y). */
  readonly inner: number;
  /** Between shaft and wheel axis. */
  readonly outer: number;
  /** Slide of the inner joint from design, + outboard. */
  readonly plunge: number;
}

/** The shaft keeps its length; its inner end slides along y. */
export function halfShaftAngles(linkage: Linkage, pose: Pose, shaft: HalfShaft): Outcome<HalfShaftAngles> {
  const outer = carried(linkage, pose, 'knuckle', shaft.outer);
  const long = designLength(shaft);
  const aside2 = (outer[0] - shaft.inner[0]) ** 2 + (outer[2] - shaft.inner[2]) ** 2;
  if (aside2 >= long * long) return refused('halfshaft_outer: it is further from the inner joint’s axis than the shaft is long');
  const reach = Math.sqrt(long * long - aside2);
  const direction: Vec3 = [outer[0] - shaft.inner[0], reach, outer[2] - shaft.inner[2]];
  return found({
    inner: Math.atan2(Math.sqrt(aside2), reach),
    outer: angleBetween(direction, pose.wheelAxis),
    plunge: outer[1] - reach - shaft.inner[1],
  });
}

/** The length is that between both joints at design; a lowered differential does not change the shaft. */
function designLength(shaft: HalfShaft & { readonly shaftLength?: number }): number {
  return shaft.shaftLength ?? distance(shaft.inner, shaft.outer);
}

/** Swing of a ball joint from the position in which its housing is square to the stud: a cone angle, 0…π. */
export function ballJointSwing(linkage: Linkage, pose: Pose, joint: 'upper' | 'lower', limit: Pick<BallJointLimit, 'neutralBias'>): number {
  const design = joint === 'upper' ? linkage.design.upperArm : linkage.design.lowerArm;
  const now = joint === 'upper' ? pose.upperArm : pose.lowerArm;
  const neutral = turn(linkage.design.knuckle.c, design.a, -limit.neutralBias);
  return angleBetween(carriedDirection(design, now, neutral), pose.knuckle.c);
}

export interface TieRodAngles {
  /** Between tie rod and rack (y). */
  readonly inner: number;
  /** Swing of the outer joint from design. */
  readonly outer: number;
}

export function tieRodAngles(linkage: Linkage, pose: Pose): TieRodAngles {
  const rod = subtract(pose.tieRodOuter, pose.tieRodInner);
  const { tieRodInner, tieRodOuter } = linkage.hardpoints;
  const design = subtract(tieRodOuter, tieRodInner);
  return {
    inner: angleBetween(rod, [0, 1, 0]),
    outer: angleBetween(rod, carriedDirection(linkage.design.knuckle, pose.knuckle, design)),
  };
}

export interface HoseEnds {
  readonly chassis: Vec3;
  readonly caliper: Vec3;
  readonly chassisDirection?: Vec3;
  readonly caliperDirection?: Vec3;
}

export function hoseEnds(linkage: Linkage, pose: Pose, hose: BrakeHose): HoseEnds {
  const caliper = carried(linkage, pose, 'knuckle', hose.caliperEnd);
  const { chassisDirection, caliperDirection } = hose;
  return {
    chassis: hose.chassisEnd,
    caliper,
    ...(chassisDirection && { chassisDirection }),
    ...(caliperDirection && { caliperDirection: carriedDirection(linkage.design.knuckle, pose.knuckle, caliperDirection) }),
  };
}

export interface AntiRollPose {
  /** Turn of the bar about its axis from design, + about `axisDirection`. */
  readonly turn: number;
  readonly linkLower: Vec3;
  readonly linkUpper: Vec3;
  /** Between link and the bar's arm: the link turns over centre at 0 or π. */
  readonly linkToArm: number;
}

/** The link keeps its length; its upper end stays on its circle about the bar's axis. */
export function antiRollPose(linkage: Linkage, pose: Pose, bar: AntiRollBar): Outcome<AntiRollPose> {
  const axis = bar.axisDirection;
  const origin = addScaled(bar.axisPoint, axis, dot(subtract(bar.linkUpper, bar.axisPoint), axis));
  const arm = subtract(bar.linkUpper, origin);
  const side = cross(axis, arm);
  const lower = carried(linkage, pose, 'lower_arm', bar.linkLower);
  const w = subtract(origin, lower);
  const long = distance(bar.linkUpper, bar.linkLower);
  const a = dot(w, arm);
  const b = dot(w, side);
  const k = (long * long - dot(w, w) - dot(arm, arm)) / 2;
  const h = a * a + b * b;
  if (!(h >= k * k)) return refused('anti_roll_link_upper: the link does not reach from the bar to the lower arm');
  const branch = -Math.sign(dot(subtract(origin, bar.linkLower), side)) * Math.sqrt(h - k * k);
  const angle = Math.atan2(b * k + a * branch, a * k - b * branch);
  const linkUpper = addScaled(origin, turn(arm, axis, angle), 1);
  return found({ turn: angle, linkLower: lower, linkUpper, linkToArm: angleBetween(subtract(lower, linkUpper), subtract(origin, linkUpper)) });
}
