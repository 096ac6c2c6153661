/**
 * What hangs on the linkage: coil-over, ball joints, tie rod, half-shaft, brake hose and anti-roll bar at a pose.
 * Lengths in metres, angles in radians; points as in `geometry.ts` (left corner, at design).
 *
 * `prepareFittings` turns the points into coordinates of the bodies they ride on; `measureFittings` then writes all
 * measures of one solved pose as a row of numbers without allocating, which is what sweeps use; `fittingsAt` gives
 * them by name.
 */
import { found, type Outcome, refused } from '../result.ts';
import { KNUCKLE_A, type Linkage, LOWER, type Pose, ROD, TURNS } from './double-wishbone.ts';
import type { BallJointLimit, BrakeHose, CoilOver, FrameName, FrontCorner } from './geometry.ts';
import {
  addScaled,
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
  unit,
  type Vec3,
} from './vector.ts';
import { travelMotion } from './wheel-angles.ts';

/** A point (or direction) on a turning arm: fixed + cosine·u + sine·v, nine numbers. */
export type Turning = readonly [number, number, number, number, number, number, number, number, number];

export interface BarFitting {
  /** Centre of the circle of the link's upper end, the bar's axis (a) and the bar's arm at design (b). */
  readonly basis: Basis;
  readonly armLength: number;
  readonly linkLower: Turning;
  readonly linkLength: number;
  readonly branch: number;
}

/** What swings about its mount on the chassis as the lower arm takes its foot along. */
export interface CoilFitting {
  readonly upper: Vec3;
  readonly lower: Turning;
  /** Unit, from mount to foot, as at design. */
  readonly along: Vec3;
}

export interface Fittings {
  readonly coilOverLower: Turning;
  readonly coilOverUpper: Vec3;
  readonly upperStud: Turning | undefined;
  readonly lowerStud: Turning | undefined;
  readonly tieRodInner: Vec3;
  readonly tieRodLength: number;
  readonly rodInKnuckle: Vec3;
  readonly shaft: { readonly outer: Vec3; readonly inner: Vec3; readonly length: number; readonly axis: Vec3 } | undefined;
  readonly hose: { readonly caliper: Vec3; readonly chassis: Vec3 } | undefined;
  readonly bar: BarFitting | undefined;
}

export function prepareFittings(linkage: Linkage, corner: FrontCorner): Fittings {
  const { design } = linkage;
  const { coilOver, halfShaft, brakeHose } = corner;
  const stud = (joint: 'upper' | 'lower', limit: BallJointLimit | undefined) => {
    const arm = joint === 'upper' ? design.upperArm : design.lowerArm;
    const now = joint === 'upper' ? linkage.upperArm : linkage.lowerArm;
    return (
      limit && turning({ ...arm, origin: [0, 0, 0] }, { ...now, origin: [0, 0, 0] }, turn(design.knuckle.c, arm.a, -limit.neutralBias))
    );
  };
  const { tieRodInner, tieRodOuter, wheelAxis } = linkage.hardpoints;
  return {
    ...prepareCoilOver(linkage, coilOver),
    upperStud: stud('upper', corner.upperBallJointLimit),
    lowerStud: stud('lower', corner.lowerBallJointLimit),
    tieRodInner,
    tieRodLength: linkage.tieRodLength,
    rodInKnuckle: directionToLocal(design.knuckle, unit(subtract(tieRodOuter, tieRodInner))!),
    shaft: halfShaft && {
      outer: toLocal(design.knuckle, halfShaft.outer),
      inner: halfShaft.inner,
      length: halfShaft.shaftLength ?? distance(halfShaft.inner, halfShaft.outer),
      axis: directionToLocal(design.knuckle, wheelAxis),
    },
    hose: brakeHose && { caliper: toLocal(design.knuckle, brakeHose.caliperEnd), chassis: brakeHose.chassisEnd },
    bar: corner.antiRollBar && prepareBar(linkage, corner.antiRollBar),
  };
}

export function prepareCoilOver(
  linkage: Linkage,
  { lower, upper }: Pick<CoilOver, 'lower' | 'upper'>,
): Pick<Fittings, 'coilOverLower' | 'coilOverUpper'> {
  return { coilOverLower: turning(linkage.design.lowerArm, linkage.lowerArm, lower), coilOverUpper: upper };
}

export function prepareCoil(linkage: Linkage, { lower, upper }: Pick<CoilOver, 'lower' | 'upper'>): CoilFitting {
  return { upper, lower: turning(linkage.design.lowerArm, linkage.lowerArm, lower), along: unit(subtract(lower, upper))! };
}

export function prepareBar(linkage: Linkage, bar: NonNullable<FrontCorner['antiRollBar']>): BarFitting {
  const axis = bar.axisDirection;
  const centre = addScaled(bar.axisPoint, axis, dot(subtract(bar.linkUpper, bar.axisPoint), axis));
  const arm = subtract(bar.linkUpper, centre);
  const armLength = length(arm);
  const b = scale(arm, 1 / armLength);
  const side = cross(axis, b);
  return {
    basis: { origin: centre, a: axis, b, c: side },
    armLength,
    linkLower: turning(linkage.design.lowerArm, linkage.lowerArm, bar.linkLower),
    linkLength: distance(bar.linkUpper, bar.linkLower),
    branch: -Math.sign(dot(subtract(centre, bar.linkLower), side)),
  };
}

function turning(design: Basis, now: Basis, point: Vec3): Turning {
  const [p, q, r] = toLocal(design, point);
  const fixed = addScaled(now.origin, now.a, p);
  const u = addScaled(scale(now.b, q), now.c, r);
  const v = addScaled(scale(now.c, q), now.b, -r);
  return [...fixed, ...u, ...v] as unknown as Turning;
}

/** Columns of a row of measures. NaN stands inside this row for what is not fitted or does not reach. */
export const COIL_OVER = 0;
export const UPPER_SWING = 1;
export const LOWER_SWING = 2;
export const ROD_INNER = 3;
export const ROD_OUTER = 4;
export const SHAFT_INNER = 5;
export const SHAFT_OUTER = 6;
export const SHAFT_PLUNGE = 7;
export const HOSE_SPAN = 8;
export const BAR_COSINE = 9;
export const BAR_SINE = 10;
export const LINK_TO_ARM = 11;
export const MEASURES = 12;

/** Angle between unit directions from their chord: sharp near 0, where a cosine is not. */
function chordAngle(x: number, y: number, z: number): number {
  return 2 * Math.asin(Math.min(1, Math.sqrt(x * x + y * y + z * z) / 2));
}

/** Writes the measures of the pose at `at` of `raw` from `o` of `out`. */
export function measureFittings(f: Fittings, raw: Float64Array, at: number, out: Float64Array, o: number): void {
  const c1 = raw[at + TURNS]!;
  const s1 = raw[at + TURNS + 1]!;
  const c2 = raw[at + TURNS + 2]!;
  const s2 = raw[at + TURNS + 3]!;
  const k = at + KNUCKLE_A;
  const ex = raw[k + 6]!;
  const ey = raw[k + 7]!;
  const ez = raw[k + 8]!;
  const d = f.coilOverLower;
  const dx = d[0] + d[3] * c1 + d[6] * s1 - f.coilOverUpper[0];
  const dy = d[1] + d[4] * c1 + d[7] * s1 - f.coilOverUpper[1];
  const dz = d[2] + d[5] * c1 + d[8] * s1 - f.coilOverUpper[2];
  out[o + COIL_OVER] = Math.sqrt(dx * dx + dy * dy + dz * dz);
  out[o + UPPER_SWING] = f.upperStud ? swing(f.upperStud, c2, s2, ex, ey, ez) : Number.NaN;
  out[o + LOWER_SWING] = f.lowerStud ? swing(f.lowerStud, c1, s1, ex, ey, ez) : Number.NaN;
  // Tie rod against the rack's axis (y), and against the knuckle.
  const rx = (raw[at + ROD]! - f.tieRodInner[0]) / f.tieRodLength;
  const ry = (raw[at + ROD + 1]! - f.tieRodInner[1] - raw[at + TURNS + 5]!) / f.tieRodLength;
  const rz = (raw[at + ROD + 2]! - f.tieRodInner[2]) / f.tieRodLength;
  const [kx, ky, kz] = f.rodInKnuckle;
  out[o + ROD_INNER] = chordAngle(rx, ry - 1, rz);
  out[o + ROD_OUTER] = chordAngle(
    rx - raw[k]! * kx - raw[k + 3]! * ky - ex * kz,
    ry - raw[k + 1]! * kx - raw[k + 4]! * ky - ey * kz,
    rz - raw[k + 2]! * kx - raw[k + 5]! * ky - ez * kz,
  );
  measureShaft(f, raw, at, out, o);
  out[o + HOSE_SPAN] = Number.NaN;
  if (f.hose) {
    const [hx, hy, hz] = f.hose.caliper;
    const x = raw[at + LOWER]! + raw[k]! * hx + raw[k + 3]! * hy + ex * hz - f.hose.chassis[0];
    const y = raw[at + LOWER + 1]! + raw[k + 1]! * hx + raw[k + 4]! * hy + ey * hz - f.hose.chassis[1];
    const z = raw[at + LOWER + 2]! + raw[k + 2]! * hx + raw[k + 5]! * hy + ez * hz - f.hose.chassis[2];
    out[o + HOSE_SPAN] = Math.sqrt(x * x + y * y + z * z);
  }
  if (f.bar) measureBar(f.bar, raw, at, out, o);
  else out[o + BAR_COSINE] = out[o + BAR_SINE] = out[o + LINK_TO_ARM] = Number.NaN;
}

function swing(s: Turning, c: number, n: number, ex: number, ey: number, ez: number): number {
  return chordAngle(s[0] + s[3] * c + s[6] * n - ex, s[1] + s[4] * c + s[7] * n - ey, s[2] + s[5] * c + s[8] * n - ez);
}

/** The shaft keeps its length; its inner end slides along y. */
function measureShaft(f: Fittings, raw: Float64Array, at: number, out: Float64Array, o: number): void {
  out[o + SHAFT_INNER] = out[o + SHAFT_OUTER] = out[o + SHAFT_PLUNGE] = Number.NaN;
  if (!f.shaft) return;
  const k = at + KNUCKLE_A;
  const [px, py, pz] = f.shaft.outer;
  const { inner, length: long, axis } = f.shaft;
  const x = raw[at + LOWER]! + raw[k]! * px + raw[k + 3]! * py + raw[k + 6]! * pz - inner[0];
  const y = raw[at + LOWER + 1]! + raw[k + 1]! * px + raw[k + 4]! * py + raw[k + 7]! * pz - inner[1];
  const z = raw[at + LOWER + 2]! + raw[k + 2]! * px + raw[k + 5]! * py + raw[k + 8]! * pz - inner[2];
  const aside = x * x + z * z;
  if (aside >= long * long) return;
  const reach = Math.sqrt(long * long - aside);
  const ax = raw[k]! * axis[0] + raw[k + 3]! * axis[1] + raw[k + 6]! * axis[2];
  const ay = raw[k + 1]! * axis[0] + raw[k + 4]! * axis[1] + raw[k + 7]! * axis[2];
  const az = raw[k + 2]! * axis[0] + raw[k + 5]! * axis[1] + raw[k + 8]! * axis[2];
  out[o + SHAFT_INNER] = Math.atan2(Math.sqrt(aside), reach);
  out[o + SHAFT_OUTER] = chordAngle(x / long - ax, reach / long - ay, z / long - az);
  out[o + SHAFT_PLUNGE] = y - reach;
}

/** From the inner joint's centre to the outer's at a pose, metres; undefined without a shaft or where it does not reach. */
export function shaftAlong({ shaft }: Fittings, pose: Pose): Vec3 | undefined {
  if (!shaft) return undefined;
  const [x, , z] = subtract(fromLocal(pose.knuckle, shaft.outer), shaft.inner);
  const reach = Math.sqrt(shaft.length ** 2 - x * x - z * z);
  return Number.isNaN(reach) ? undefined : [x, reach, z];
}

/** The link keeps its length; its upper end stays on its circle about the bar's axis. Both wheels are taken to move alike. */
export function measureBar(b: BarFitting, raw: Float64Array, at: number, out: Float64Array, o: number): void {
  const c1 = raw[at + TURNS]!;
  const s1 = raw[at + TURNS + 1]!;
  const l = b.linkLower;
  const { origin, b: arm, c: side } = b.basis;
  const r = b.armLength;
  const wx = origin[0] - l[0] - l[3] * c1 - l[6] * s1;
  const wy = origin[1] - l[1] - l[4] * c1 - l[7] * s1;
  const wz = origin[2] - l[2] - l[5] * c1 - l[8] * s1;
  const p = (wx * arm[0] + wy * arm[1] + wz * arm[2]) * r;
  const q = (wx * side[0] + wy * side[1] + wz * side[2]) * r;
  const k = (b.linkLength * b.linkLength - (wx * wx + wy * wy + wz * wz) - r * r) / 2;
  const h = p * p + q * q;
  const root = b.branch * Math.sqrt(h - k * k);
  const c = (p * k - q * root) / h;
  const s = (q * k + p * root) / h;
  out[o + BAR_COSINE] = c;
  out[o + BAR_SINE] = s;
  // From the upper end: the link goes down by w + arm turned, the bar's arm back by arm turned.
  const ux = arm[0] * c + side[0] * s;
  const uy = arm[1] * c + side[1] * s;
  const uz = arm[2] * c + side[2] * s;
  const along = ((wx + r * ux) * ux + (wy + r * uy) * uy + (wz + r * uz) * uz) / b.linkLength;
  out[o + LINK_TO_ARM] = Math.acos(Math.max(-1, Math.min(1, along)));
}

/** Measures of a pose by name; absent for what is not fitted. */
export interface FittingMeasures {
  /** Between the coil-over's mounting points. */
  readonly coilOver: number;
  /** Cone angle of stud against housing from where they are square. */
  readonly upperBallJoint?: number;
  readonly lowerBallJoint?: number;
  /** Tie rod against the rack; and its swing in the knuckle from design. */
  readonly tieRodInner: number;
  readonly tieRodOuter: number;
  /** Half-shaft against the inner joint's axis, against the wheel axis; slide of the inner joint from design, + outboard. */
  readonly halfShaft?: { readonly inner: number; readonly outer: number; readonly plunge: number };
  /** Straight line between the hose's ends. */
  readonly hoseSpan?: number;
  /** Turn of the bar from design, right-handed about its axis; link against the bar's arm: 0 and π are over centre. */
  readonly antiRollBar?: { readonly turn: number; readonly linkToArm: number };
}

/** Refused where the half-shaft or the anti-roll link does not reach. */
export function fittingsAt(f: Fittings, pose: Pose): Outcome<FittingMeasures> {
  const m = new Float64Array(MEASURES);
  measureFittings(f, pose.numbers, 0, m, 0);
  if (f.shaft && Number.isNaN(m[SHAFT_OUTER]!))
    return refused('halfshaft_outer: it is further from the inner joint’s axis than the shaft is long');
  if (f.bar && Number.isNaN(m[LINK_TO_ARM]!)) return refused('anti_roll_link_upper: the link does not reach from the bar to the lower arm');
  return found({
    coilOver: m[COIL_OVER]!,
    ...(f.upperStud && { upperBallJoint: m[UPPER_SWING]! }),
    ...(f.lowerStud && { lowerBallJoint: m[LOWER_SWING]! }),
    tieRodInner: m[ROD_INNER]!,
    tieRodOuter: m[ROD_OUTER]!,
    ...(f.shaft && { halfShaft: { inner: m[SHAFT_INNER]!, outer: m[SHAFT_OUTER]!, plunge: m[SHAFT_PLUNGE]! } }),
    ...(f.hose && { hoseSpan: m[HOSE_SPAN]! }),
    ...(f.bar && { antiRollBar: { turn: Math.atan2(m[BAR_SINE]!, m[BAR_COSINE]!), linkToArm: m[LINK_TO_ARM]! } }),
  });
}

/** Where a point that is fixed in a moving frame at design is at this pose. Chassis and body stand still; the bar is not for this. */
export function carried(linkage: Linkage, pose: Pose, frame: Exclude<FrameName, 'anti_roll_bar'>, point: Vec3): Vec3 {
  if (frame === 'lower_arm') return fromLocal(pose.lowerArm, toLocal(linkage.design.lowerArm, point));
  if (frame === 'upper_arm') return fromLocal(pose.upperArm, toLocal(linkage.design.upperArm, point));
  if (frame === 'knuckle') return fromLocal(pose.knuckle, toLocal(linkage.design.knuckle, point));
  return point;
}

/** Shortening of the coil-over for each metre the wheel centre rises, from the velocities at the pose. */
export function motionRatio(linkage: Linkage, pose: Pose, coilOver: Pick<CoilOver, 'lower' | 'upper'>): Outcome<number> {
  const motion = travelMotion(linkage, pose);
  if (!motion) return refused('wheel_centre: the linkage is at its end, where a motion ratio has no value');
  const lower = carried(linkage, pose, 'lower_arm', coilOver.lower);
  const speed = scale(cross(pose.lowerArm.a, subtract(lower, pose.lowerArm.origin)), motion.lowerArm);
  const along = subtract(coilOver.upper, lower);
  return found(dot(speed, along) / length(along));
}

export interface HoseEnds {
  readonly chassis: Vec3;
  readonly caliper: Vec3;
  readonly chassisDirection?: Vec3;
  readonly caliperDirection?: Vec3;
}

export function hoseEnds(linkage: Linkage, pose: Pose, hose: BrakeHose): HoseEnds {
  const { chassisDirection, caliperDirection } = hose;
  return {
    chassis: hose.chassisEnd,
    caliper: carried(linkage, pose, 'knuckle', hose.caliperEnd),
    ...(chassisDirection && { chassisDirection }),
    ...(caliperDirection && {
      caliperDirection: directionFromLocal(pose.knuckle, directionToLocal(linkage.design.knuckle, caliperDirection)),
    }),
  };
}
