/**
 * Direct pose of a double wishbone: where the knuckle is for a wheel travel and a rack displacement.
 *
 * Closed form for a turn of the lower arm: the lower ball joint moves on its circle; the upper ball joint is where its
 * circle meets the sphere about the lower one; the outer tie-rod end is where three spheres meet (about both ball
 * joints and the inner tie-rod end). The branch of each is the one the design position is on. Wheel-centre travel is
 * then found by a bounded search over the lower arm's turn (secant, with a bracketed fall-back).
 *
 * Assumes rigid links and joints without play: bush give is not in it. Valid until a link is stretched out
 * (refused, with the point named). Signs as in `geometry.ts`; an arm's turn is + in bump. The left corner; the right
 * one is solved as its mirror with the rack's displacement negated (`mirroredPose`).
 * Worked value: the invented mid-size class at −90 mm has camber 0.33°, caster 1.47°.
 */
import { found, type Outcome, refused } from '../result.ts';
import type { Hardpoints } from './geometry.ts';
import { findHardpointFaults } from './hardpoints.ts';
import { add, type Basis, cross, directionToLocal, distance, dot, mirrored, scale, subtract, toLocal, unit, type Vec3 } from './vector.ts';

/** What a set of adjusters or other arms changes, against the design hardpoints. Shifts in metres. */
export interface LinkageChange {
  readonly lowerArmFrontBush?: Vec3;
  readonly lowerArmRearBush?: Vec3;
  readonly upperArmFrontBush?: Vec3;
  readonly upperArmRearBush?: Vec3;
  /** Where another upper arm carries its ball joint, against the first one's, with the arm at design. */
  readonly upperBallJointInArm?: Vec3;
  /** Longer by. */
  readonly tieRodLength?: number;
}

/** A linkage ready to be solved. Lengths and local coordinates only: nothing here depends on a pose. */
export interface Linkage {
  readonly lowerArm: Basis;
  readonly lowerRadius: number;
  readonly upperArm: Basis;
  readonly upperRadius: number;
  readonly kingpin: number;
  readonly tieRodInner: Vec3;
  readonly tieRodLength: number;
  /** Outer tie-rod end against the steering axis: along it from the lower ball joint, and off it. */
  readonly steeringArmRise: number;
  readonly steeringArmRadius: number;
  readonly upperBranch: number;
  readonly tieRodBranch: number;
  readonly wheelCentreLocal: Vec3;
  readonly wheelAxisLocal: Vec3;
  /** Wheel-centre height that travel is measured from. */
  readonly designHeight: number;
  /** Places of the three moving bodies in the unchanged design: what attached points are read in. */
  readonly design: { readonly lowerArm: Basis; readonly upperArm: Basis; readonly knuckle: Basis };
  readonly hardpoints: Hardpoints;
  /** First guess of half-turn tangent: linear and quadratic in travel. */
  readonly guess: readonly [number, number];
  /** What the inner loop reads of all this, in one row: linkages come from readings and drawings with lists of every kind, a row is of one. */
  readonly row: Float64Array;
}

/** Places in `Linkage.row`. */
const [LOWER_ORIGIN, LOWER_B, LOWER_C, UPPER_ORIGIN, UPPER_B, UPPER_C, ROD_INNER, WHEEL_CENTRE, WHEEL_AXIS] = [
  0, 3, 6, 9, 12, 15, 18, 21, 24,
];
const [LOWER_RADIUS, UPPER_RADIUS, KINGPIN, UPPER_BRANCH, ARM_RADIUS, ARM_RISE, ROD_LENGTH, ROD_BRANCH, HEIGHT] = [
  27, 28, 29, 30, 31, 32, 33, 34, 35,
];

/** Numbers of one solved pose in a flat array, `POSE_SIZE` apart. */
export const POSE_SIZE = 31;
export const LOWER = 0;
export const UPPER = 3;
export const ROD = 6;
export const KNUCKLE_A = 9;
export const KNUCKLE_B = 12;
export const KNUCKLE_C = 15;
export const CENTRE = 18;
export const AXIS = 21;
/** Cosine and sine of the lower and of the upper arm's turn, half-turn tangent of the lower one, rack, travel. */
export const TURNS = 24;

/** Why a pose was not found; 0 is found. */
export type SolveFault = 0 | 1 | 2 | 3;

const REASONS: Readonly<Record<SolveFault, string>> = {
  0: '',
  1: 'upper_ball_joint: the upper arm and the knuckle cannot meet',
  2: 'tie_rod_outer: the tie rod and the steering arm cannot meet',
  3: 'wheel_centre: no turn of the lower arm brings it there',
};

export interface Pose {
  readonly travel: number;
  readonly rack: number;
  readonly lowerArmTurn: number;
  readonly upperArmTurn: number;
  readonly lowerBallJoint: Vec3;
  readonly upperBallJoint: Vec3;
  readonly tieRodInner: Vec3;
  readonly tieRodOuter: Vec3;
  readonly wheelCentre: Vec3;
  readonly wheelAxis: Vec3;
  readonly lowerArm: Basis;
  readonly upperArm: Basis;
  readonly knuckle: Basis;
  /** The solve's own row of `POSE_SIZE` numbers (of the left solve, for a mirrored pose too). */
  readonly numbers: Float64Array;
}

/** Refused with the first faulty point and its fix; `findHardpointFaults` has all of them. */
export function makeLinkage(hardpoints: Hardpoints, change: LinkageChange = {}): Outcome<Linkage> {
  const fault = findHardpointFaults(hardpoints)[0];
  if (fault) return refused(`${fault.point}: ${fault.problem}; ${fault.fix}`);
  const h = hardpoints;
  const knuckle = knuckleBasis(h.lowerBallJoint, h.upperBallJoint, h.tieRodOuter);
  const designLower = armBasis(h.lowerArmFrontBush, h.lowerArmRearBush, h.lowerBallJoint);
  const designUpper = armBasis(h.upperArmFrontBush, h.upperArmRearBush, h.upperBallJoint);
  const lower = movedArm(h.lowerArmFrontBush, h.lowerArmRearBush, h.lowerBallJoint, change.lowerArmFrontBush, change.lowerArmRearBush);
  const newBall = change.upperBallJointInArm ? add(h.upperBallJoint, change.upperBallJointInArm) : h.upperBallJoint;
  const upper = movedArm(h.upperArmFrontBush, h.upperArmRearBush, newBall, change.upperArmFrontBush, change.upperArmRearBush);
  if (!lower) return refused('lower_ball_joint: the moved bushes leave the lower arm no place; move them less');
  if (!upper) return refused('upper_ball_joint: the moved bushes or the new joint leave the upper arm no place; move them less');
  const rod = toLocal(knuckle, h.tieRodOuter);
  const linkage = {
    lowerArm: lower.basis,
    lowerRadius: lower.radius,
    upperArm: upper.basis,
    upperRadius: upper.radius,
    kingpin: distance(h.lowerBallJoint, h.upperBallJoint),
    tieRodInner: h.tieRodInner,
    tieRodLength: distance(h.tieRodInner, h.tieRodOuter) + (change.tieRodLength ?? 0),
    steeringArmRise: rod[2],
    steeringArmRadius: rod[0],
    upperBranch: -Math.sign(dot(subtract(designUpper.origin, h.lowerBallJoint), designUpper.c)),
    tieRodBranch: tieRodSide(h, knuckle),
    wheelCentreLocal: toLocal(knuckle, h.wheelCentre),
    wheelAxisLocal: directionToLocal(knuckle, h.wheelAxis),
    designHeight: h.wheelCentre[2],
    design: { lowerArm: designLower, upperArm: designUpper, knuckle },
    hardpoints,
  };
  return withGuess({ ...linkage, guess: [1 / (2 * lower.radius), 0], row: rowOf(linkage) });
}

function rowOf(k: Omit<Linkage, 'guess' | 'row'>): Float64Array {
  const { lowerArm, upperArm } = k;
  const vectors = [lowerArm.origin, lowerArm.b, lowerArm.c, upperArm.origin, upperArm.b, upperArm.c, k.tieRodInner];
  const numbers = [
    k.lowerRadius,
    k.upperRadius,
    k.kingpin,
    k.upperBranch,
    k.steeringArmRadius,
    k.steeringArmRise,
    k.tieRodLength,
    k.tieRodBranch,
  ];
  return Float64Array.from([...vectors, k.wheelCentreLocal, k.wheelAxisLocal, numbers, k.designHeight].flat());
}

function armBasis(front: Vec3, rear: Vec3, ball: Vec3): Basis {
  const a = unit(subtract(front, rear))!;
  const origin = add(rear, scale(a, dot(subtract(ball, rear), a)));
  const b = unit(subtract(ball, origin))!;
  return { origin, a, b, c: cross(a, b) };
}

function knuckleBasis(lower: Vec3, upper: Vec3, rod: Vec3): Basis {
  const c = unit(subtract(upper, lower))!;
  const r = subtract(rod, lower);
  const a = unit(subtract(r, scale(c, dot(r, c))))!;
  return { origin: lower, a, b: cross(c, a), c };
}

/** The same arm on moved bushes: it keeps the lengths from its ball joint to both bushes. Zero turn stays nearest design. */
function movedArm(front: Vec3, rear: Vec3, ball: Vec3, frontShift: Vec3 = [0, 0, 0], rearShift: Vec3 = [0, 0, 0]) {
  const f = add(front, frontShift);
  const r = add(rear, rearShift);
  const toFront = distance(ball, front);
  const toRear = distance(ball, rear);
  const span = distance(f, r);
  const along = (toRear * toRear - toFront * toFront + span * span) / (2 * span);
  const squared = toRear * toRear - along * along;
  if (!(squared > 0)) return undefined;
  const a = scale(subtract(f, r), 1 / span);
  const origin = add(r, scale(a, along));
  const off = subtract(ball, origin);
  const b = unit(subtract(off, scale(a, dot(off, a))));
  return b && { basis: { origin, a, b, c: cross(a, b) }, radius: Math.sqrt(squared) };
}

function tieRodSide(h: Hardpoints, knuckle: Basis): number {
  const inner = subtract(h.tieRodInner, h.lowerBallJoint);
  const across = cross(knuckle.c, inner);
  return Math.sign(dot(subtract(h.tieRodOuter, h.lowerBallJoint), across));
}

/** Fits the first guess to the linkage, and so shows that it closes at design travel. */
function withGuess(linkage: Linkage): Outcome<Linkage> {
  const raw = new Float64Array(POSE_SIZE);
  const fault = solveTravel(linkage, 0, 0, raw, 0);
  if (fault) return refused(`${REASONS[fault]} at design travel; check the lengths of its links`);
  const h = 0.05;
  if (solveTravel(linkage, h, 0, raw, 0)) return found(linkage);
  const up = raw[TURNS + 4]!;
  if (solveTravel(linkage, -h, 0, raw, 0)) return found(linkage);
  const down = raw[TURNS + 4]!;
  return found({ ...linkage, guess: [(up - down) / (2 * h), (up + down) / (2 * h * h)] });
}

/**
 * Pose for a turn of the lower arm, given as the tangent of half of it (so no trigonometry in the inner loop).
 * Writes `POSE_SIZE` numbers from `at`.
 */
export function solveTurn({ row }: Linkage, halfTurn: number, rack: number, out: Float64Array, at: number): SolveFault {
  // Lower ball joint: on its circle.
  const w = 1 / (1 + halfTurn * halfTurn);
  const c1 = (1 - halfTurn * halfTurn) * w;
  const s1 = 2 * halfTurn * w;
  const lc = row[LOWER_RADIUS]! * c1;
  const ls = row[LOWER_RADIUS]! * s1;
  const lx = row[LOWER_ORIGIN]! + row[LOWER_B]! * lc + row[LOWER_C]! * ls;
  const ly = row[LOWER_ORIGIN + 1]! + row[LOWER_B + 1]! * lc + row[LOWER_C + 1]! * ls;
  const lz = row[LOWER_ORIGIN + 2]! + row[LOWER_B + 2]! * lc + row[LOWER_C + 2]! * ls;
  // Upper ball joint: its circle against the sphere about the lower one.
  const ur = row[UPPER_RADIUS]!;
  const wx = row[UPPER_ORIGIN]! - lx;
  const wy = row[UPPER_ORIGIN + 1]! - ly;
  const wz = row[UPPER_ORIGIN + 2]! - lz;
  const A = (wx * row[UPPER_B]! + wy * row[UPPER_B + 1]! + wz * row[UPPER_B + 2]!) * ur;
  const B = (wx * row[UPPER_C]! + wy * row[UPPER_C + 1]! + wz * row[UPPER_C + 2]!) * ur;
  const K = (row[KINGPIN]! * row[KINGPIN]! - (wx * wx + wy * wy + wz * wz) - ur * ur) / 2;
  const H = A * A + B * B;
  const D = H - K * K;
  if (!(D >= 0)) return 1;
  const root = row[UPPER_BRANCH]! * Math.sqrt(D);
  const c2 = (A * K - B * root) / H;
  const s2 = (B * K + A * root) / H;
  const ux = row[UPPER_ORIGIN]! + (row[UPPER_B]! * c2 + row[UPPER_C]! * s2) * ur;
  const uy = row[UPPER_ORIGIN + 1]! + (row[UPPER_B + 1]! * c2 + row[UPPER_C + 1]! * s2) * ur;
  const uz = row[UPPER_ORIGIN + 2]! + (row[UPPER_B + 2]! * c2 + row[UPPER_C + 2]! * s2) * ur;
  // Steering axis, and the inner tie-rod end against it.
  const inverse = 1 / row[KINGPIN]!;
  const ex = (ux - lx) * inverse;
  const ey = (uy - ly) * inverse;
  const ez = (uz - lz) * inverse;
  const ix = row[ROD_INNER]! - lx;
  const iy = row[ROD_INNER + 1]! + rack - ly;
  const iz = row[ROD_INNER + 2]! - lz;
  const rise = ix * ex + iy * ey + iz * ez;
  let px = ix - rise * ex;
  let py = iy - rise * ey;
  let pz = iz - rise * ez;
  const m = Math.sqrt(px * px + py * py + pz * pz);
  px /= m;
  py /= m;
  pz /= m;
  // Outer tie-rod end: three spheres, reduced to two circles in the plane square to the steering axis.
  const rr = row[ARM_RADIUS]!;
  const dh = row[ARM_RISE]! - rise;
  const a = (rr * rr + m * m + dh * dh - row[ROD_LENGTH]! * row[ROD_LENGTH]!) / (2 * m);
  const b2 = rr * rr - a * a;
  if (!(b2 >= 0)) return 2;
  const ca = a / rr;
  const sa = (row[ROD_BRANCH]! * Math.sqrt(b2)) / rr;
  const qx = ey * pz - ez * py;
  const qy = ez * px - ex * pz;
  const qz = ex * py - ey * px;
  const nx = px * ca + qx * sa;
  const ny = py * ca + qy * sa;
  const nz = pz * ca + qz * sa;
  const mx = qx * ca - px * sa;
  const my = qy * ca - py * sa;
  const mz = qz * ca - pz * sa;
  const wa = row[WHEEL_CENTRE]!;
  const wb = row[WHEEL_CENTRE + 1]!;
  const wc = row[WHEEL_CENTRE + 2]!;
  const aa = row[WHEEL_AXIS]!;
  const ab = row[WHEEL_AXIS + 1]!;
  const ac = row[WHEEL_AXIS + 2]!;
  out[at + LOWER] = lx;
  out[at + LOWER + 1] = ly;
  out[at + LOWER + 2] = lz;
  out[at + UPPER] = ux;
  out[at + UPPER + 1] = uy;
  out[at + UPPER + 2] = uz;
  out[at + ROD] = lx + ex * row[ARM_RISE]! + nx * rr;
  out[at + ROD + 1] = ly + ey * row[ARM_RISE]! + ny * rr;
  out[at + ROD + 2] = lz + ez * row[ARM_RISE]! + nz * rr;
  out[at + KNUCKLE_A] = nx;
  out[at + KNUCKLE_A + 1] = ny;
  out[at + KNUCKLE_A + 2] = nz;
  out[at + KNUCKLE_B] = mx;
  out[at + KNUCKLE_B + 1] = my;
  out[at + KNUCKLE_B + 2] = mz;
  out[at + KNUCKLE_C] = ex;
  out[at + KNUCKLE_C + 1] = ey;
  out[at + KNUCKLE_C + 2] = ez;
  out[at + CENTRE] = lx + nx * wa + mx * wb + ex * wc;
  out[at + CENTRE + 1] = ly + ny * wa + my * wb + ey * wc;
  out[at + CENTRE + 2] = lz + nz * wa + mz * wb + ez * wc;
  out[at + AXIS] = nx * aa + mx * ab + ex * ac;
  out[at + AXIS + 1] = ny * aa + my * ab + ey * ac;
  out[at + AXIS + 2] = nz * aa + mz * ab + ez * ac;
  out[at + TURNS] = c1;
  out[at + TURNS + 1] = s1;
  out[at + TURNS + 2] = c2;
  out[at + TURNS + 3] = s2;
  out[at + TURNS + 4] = halfTurn;
  out[at + TURNS + 5] = rack;
  out[at + TURNS + 6] = out[at + CENTRE + 2]! - row[HEIGHT]!;
  return 0;
}

const HEIGHT_TOLERANCE = 1e-12;

/**
 * Pose for a wheel-centre travel, written from `at`. The secant takes three to five solves from the linkage's own guess
 * and two or three from a neighbour's: `start` is a half-turn near it, NaN for none.
 */
export function solveTravel(k: Linkage, travel: number, rack: number, out: Float64Array, at: number, start = Number.NaN): SolveFault {
  let t = Number.isNaN(start) ? (k.guess[0] + k.guess[1] * travel) * travel : start;
  let slope = 1 / (k.guess[0] + 2 * k.guess[1] * travel);
  let before = 0;
  let error = 0;
  for (let i = 0; i < 12; i++) {
    if (solveTurn(k, t, rack, out, at)) break;
    const now = out[at + TURNS + 6]! - travel;
    if (Math.abs(now) <= HEIGHT_TOLERANCE) return 0;
    if (i > 0 && now !== error) slope = (now - error) / (t - before);
    before = t;
    error = now;
    t -= now / slope;
    if (!(Math.abs(t) < 1)) break;
  }
  return searchTravel(k, travel, rack, out, at);
}

/** Walks from the design position until the height is bracketed or a link is at its end, then halves. */
function searchTravel(k: Linkage, travel: number, rack: number, out: Float64Array, at: number): SolveFault {
  const first = solveTurn(k, 0, rack, out, at);
  if (first) return first;
  const sign = Math.sign(travel - out[at + TURNS + 6]!) || 1;
  let near = 0;
  let step = 0.02;
  let stopped: SolveFault = 3;
  while (step > 1e-13 && near * sign < 1) {
    const t = near + sign * step;
    const fault = solveTurn(k, t, rack, out, at);
    const beyond = fault === 0 && (out[at + TURNS + 6]! - travel) * sign > 0;
    if (fault) stopped = fault;
    if (fault || beyond) step /= 2;
    else near = t;
  }
  solveTurn(k, near, rack, out, at);
  return Math.abs(out[at + TURNS + 6]! - travel) < 1e-9 ? 0 : stopped;
}

/** Pose for a wheel travel and a rack displacement, metres. Refused where a link does not reach, naming the point. */
export function solvePose(linkage: Linkage, travel: number, rack = 0): Outcome<Pose> {
  if (!Number.isFinite(travel) || !Number.isFinite(rack))
    return refused('wheel_centre: travel and rack displacement must be finite numbers');
  const raw = new Float64Array(POSE_SIZE);
  const fault = solveTravel(linkage, travel, rack, raw, 0);
  if (fault) return refused(`${REASONS[fault]} at travel ${millimetres(travel)} and rack ${millimetres(rack)}`);
  return found(readPose(linkage, raw, 0));
}

/** Half-turn tangent of the lower arm that brings the wheel centre to `travel` with the rack centred. */
export function armAt(linkage: Linkage, travel: number): Outcome<number> {
  if (!Number.isFinite(travel)) return refused('travel must be a finite number');
  const raw = new Float64Array(POSE_SIZE);
  const fault = solveTravel(linkage, travel, 0, raw, 0);
  return fault ? refused(`${REASONS[fault]} at travel ${millimetres(travel)}`) : found(raw[TURNS + 4]!);
}

/** Pose for a lower arm held where it is (`armAt`) and a rack displacement. */
export function poseOfArm(linkage: Linkage, halfTurn: number, rack: number): Outcome<Pose> {
  const raw = new Float64Array(POSE_SIZE);
  const fault = solveTurn(linkage, halfTurn, rack, raw, 0);
  return fault ? refused(`${REASONS[fault]} at rack ${millimetres(rack)}`) : found(readPose(linkage, raw, 0));
}

/**
 * Pose with the arms where `travel` puts them with the rack centred, then steered. Steering lifts or lowers the wheel
 * centre by some millimetres against arms that stand still, and it is the arms that dampers and stops hold: so ranges
 * of travel × steering are in these terms, while `solvePose` takes the height the wheel centre itself ends at.
 */
export function steeredPose(linkage: Linkage, travel: number, rack: number): Outcome<Pose> {
  const arm = armAt(linkage, travel);
  return arm.ok ? poseOfArm(linkage, arm.value, rack) : arm;
}

function millimetres(x: number): string {
  return `${Math.round(x * 1e4) / 10} mm`;
}

/** A solved pose as points and bases. */
export function readPose(k: Linkage, raw: Float64Array, at: number): Pose {
  const vec = (i: number): Vec3 => [raw[at + i]!, raw[at + i + 1]!, raw[at + i + 2]!];
  const [c1, s1, c2, s2] = [raw[at + TURNS]!, raw[at + TURNS + 1]!, raw[at + TURNS + 2]!, raw[at + TURNS + 3]!];
  const rack = raw[at + TURNS + 5]!;
  const lowerBallJoint = vec(LOWER);
  return {
    travel: raw[at + TURNS + 6]!,
    rack,
    lowerArmTurn: Math.atan2(s1, c1),
    upperArmTurn: Math.atan2(s2, c2),
    lowerBallJoint,
    upperBallJoint: vec(UPPER),
    tieRodInner: add(k.tieRodInner, [0, rack, 0]),
    tieRodOuter: vec(ROD),
    wheelCentre: vec(CENTRE),
    wheelAxis: vec(AXIS),
    lowerArm: turnedArm(k.lowerArm, c1, s1),
    upperArm: turnedArm(k.upperArm, c2, s2),
    knuckle: { origin: lowerBallJoint, a: vec(KNUCKLE_A), b: vec(KNUCKLE_B), c: vec(KNUCKLE_C) },
    numbers: raw.slice(at, at + POSE_SIZE),
  };
}

function turnedArm(arm: Basis, c: number, s: number): Basis {
  return { origin: arm.origin, a: arm.a, b: add(scale(arm.b, c), scale(arm.c, s)), c: add(scale(arm.c, c), scale(arm.b, -s)) };
}

/** The right corner's pose from the left solve made with its rack displacement negated. */
export function mirroredPose(pose: Pose): Pose {
  const basis = (b: Basis): Basis => ({ origin: mirrored(b.origin), a: mirrored(b.a), b: mirrored(b.b), c: mirrored(b.c) });
  return {
    ...pose,
    rack: -pose.rack,
    lowerBallJoint: mirrored(pose.lowerBallJoint),
    upperBallJoint: mirrored(pose.upperBallJoint),
    tieRodInner: mirrored(pose.tieRodInner),
    tieRodOuter: mirrored(pose.tieRodOuter),
    wheelCentre: mirrored(pose.wheelCentre),
    wheelAxis: mirrored(pose.wheelAxis),
    lowerArm: basis(pose.lowerArm),
    upperArm: basis(pose.upperArm),
    knuckle: basis(pose.knuckle),
  };
}

/** Angle of the wheel's heading from straight ahead, + to the left, of a left corner's pose. */
export function steerAngle(pose: Pose): number {
  return Math.atan2(-pose.wheelAxis[0], pose.wheelAxis[1]);
}
