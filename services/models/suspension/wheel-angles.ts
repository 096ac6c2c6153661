/**
 * What the pose of a left front wheel means on the road: its angles, its contact and its steering axis.
 *
 * Signs (ISO 8855, SAE J670): camber + with the top of the wheel outboard; toe + with its front inboard (toe-in);
 * caster + with the steering axis leaning rearward at the top, in side view; inclination + with it leaning inboard at
 * the top, in front view; trail + where the axis meets the ground ahead of the contact centre; the offset at ground +
 * where it meets the ground inboard of the contact centre. Angles are against the chassis: on level ground with the
 * chassis level they are the road's.
 *
 * The contact centre is the lowest point of the wheel's mid-plane at the *loaded* radius.
 */
import type { Linkage, Pose } from './double-wishbone.ts';
import { add, addScaled, cross, dot, scale, subtract, type Vec3 } from './vector.ts';

export interface WheelAngles {
  /** Angle between wheel plane and the vertical: the true inclination. */
  readonly camber: number;
  /** The same seen from the front: what a projection on the transverse plane shows; larger when the wheel is steered. */
  readonly camberFrontView: number;
  readonly toe: number;
  readonly caster: number;
  readonly inclination: number;
  /** Where the steering axis meets the ground, across the wheel's heading. */
  readonly steeringAxisOffset: number;
  /** Along the wheel's heading. */
  readonly mechanicalTrail: number;
  /** Distance from the contact centre to where the steering axis meets the ground (ISO 8855): of both of the above. */
  readonly scrubRadius: number;
  readonly contact: Vec3;
  readonly halfTrack: number;
  readonly wheelCentre: Vec3;
}

/** `loadedRadius` in metres; the pose is a left corner's. */
export function wheelAngles(pose: Pose, loadedRadius: number): WheelAngles {
  const axis = pose.wheelAxis;
  const lean = subtract(pose.lowerBallJoint, pose.upperBallJoint);
  const drop = -lean[2];
  const contact = contactCentre(pose, loadedRadius);
  const ground = addScaled(pose.lowerBallJoint, lean, (pose.lowerBallJoint[2] - contact[2]) / drop);
  const across = Math.hypot(axis[0], axis[1]);
  const heading: Vec3 = [axis[1] / across, -axis[0] / across, 0];
  const inboard: Vec3 = [heading[1], -heading[0], 0];
  const off = subtract(ground, contact);
  const steeringAxisOffset = dot(off, inboard);
  const mechanicalTrail = dot(off, heading);
  return {
    camber: -Math.asin(axis[2]),
    camberFrontView: -Math.atan2(axis[2], axis[1]),
    toe: Math.atan2(axis[0], axis[1]),
    caster: Math.atan2(lean[0], drop),
    inclination: Math.atan2(lean[1], drop),
    steeringAxisOffset,
    mechanicalTrail,
    scrubRadius: Math.hypot(steeringAxisOffset, mechanicalTrail),
    contact,
    halfTrack: contact[1],
    wheelCentre: pose.wheelCentre,
  };
}

export function contactCentre(pose: Pose, loadedRadius: number): Vec3 {
  const a = pose.wheelAxis;
  const level = Math.sqrt(1 - a[2] * a[2]);
  const down: Vec3 = [(a[2] * a[0]) / level, (a[2] * a[1]) / level, -level];
  return addScaled(pose.wheelCentre, down, loadedRadius);
}

/**
 * Height above the ground of the front-view roll centre, by the *instant-centre* definition: the planes of both arms
 * are cut by the transverse plane through the contact centre; where the cuts meet is the instant centre; the line from
 * the contact centre to it crosses the centre line at the roll centre. The tie rod plays no part, which is why the
 * velocity of the contact point gives a height some millimetres different (`contactPointRollCentre`).
 * Undefined where the line is upright.
 */
export function rollCentreHeight(linkage: Linkage, pose: Pose, loadedRadius: number): number | undefined {
  const contact = contactCentre(pose, loadedRadius);
  const upper = cut(linkage.upperArm.origin, linkage.upperArm.a, pose.upperBallJoint, contact[0]);
  const lower = cut(linkage.lowerArm.origin, linkage.lowerArm.a, pose.lowerBallJoint, contact[0]);
  // Homogeneous line [p, q, r]: p·y + q·z + r = 0; parallel arms have their instant centre at infinity and still a line.
  const centre = cross(upper, lower);
  const line = cross(centre, [contact[1], contact[2], 1]);
  const size = Math.hypot(line[0], line[1]);
  if (!(Math.abs(line[1]) > 1e-9 * size)) return undefined;
  return -line[2] / line[1] - contact[2];
}

/** The plane through an arm's axis and its ball joint, cut at x: a homogeneous line in y and z. */
function cut(origin: Vec3, axis: Vec3, ball: Vec3, x: number): Vec3 {
  const normal = cross(axis, subtract(ball, origin));
  return [normal[1], normal[2], normal[0] * (x - origin[0]) - normal[1] * origin[1] - normal[2] * origin[2]];
}

/** The same height from the velocity of the contact point in travel, tie rod included. */
export function contactPointRollCentre(linkage: Linkage, pose: Pose, loadedRadius: number): number | undefined {
  const contact = contactCentre(pose, loadedRadius);
  const motion = travelMotion(linkage, pose);
  if (!motion) return undefined;
  const v = velocityAt(motion, contact);
  return Math.abs(v[2]) > 1e-12 ? (v[1] / v[2]) * contact[1] : undefined;
}

/** Velocities at a pose with the rack held, for one metre a second of wheel-centre rise. */
export interface Motion {
  /** Turning speed of the lower arm about its axis. */
  readonly lowerArm: number;
  readonly upperArm: number;
  /** Angular velocity of the knuckle and velocity of the lower ball joint on it. */
  readonly spin: Vec3;
  readonly point: Vec3;
  readonly velocity: Vec3;
}

export function velocityAt(motion: Motion, point: Vec3): Vec3 {
  return add(motion.velocity, cross(motion.spin, subtract(point, motion.point)));
}

/** Undefined at a position where a link is at its end and the velocity has no value. */
export function travelMotion(linkage: Linkage, pose: Pose): Motion | undefined {
  const l = pose.lowerBallJoint;
  const axis = pose.knuckle.c;
  const vl = scale(pose.lowerArm.c, linkage.lowerRadius);
  const tangent = scale(pose.upperArm.c, linkage.upperRadius);
  const along = dot(axis, tangent);
  if (Math.abs(along) < 1e-12) return undefined;
  const upperArm = dot(axis, vl) / along;
  const relative = subtract(scale(tangent, upperArm), vl);
  // Spin square to the steering axis follows from its two ends; the part along it from the tie rod.
  const square = scale(cross(axis, relative), 1 / linkage.kingpin);
  const arm = subtract(pose.tieRodOuter, l);
  const rod = subtract(pose.tieRodOuter, pose.tieRodInner);
  const lever = dot(rod, cross(axis, arm));
  if (Math.abs(lever) < 1e-12) return undefined;
  const along2 = -dot(rod, add(vl, cross(square, arm))) / lever;
  const spin = addScaled(square, axis, along2);
  const rise = vl[2] + cross(spin, subtract(pose.wheelCentre, l))[2];
  if (Math.abs(rise) < 1e-12) return undefined;
  return { lowerArm: 1 / rise, upperArm: upperArm / rise, spin: scale(spin, 1 / rise), point: l, velocity: scale(vl, 1 / rise) };
}
