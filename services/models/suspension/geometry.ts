/**
 * The shape of a front corner with double wishbones: plain SI numbers, as the vehicle layer feeds them.
 *
 * Signs and axes (ISO 8855): x forward, y left, z up, metres and radians; the origin is on the ground plane below the
 * front axle's centre, on the centre line, at design height. Every point is the *left* corner's at design height;
 * the right corner is its mirror in y. Travel is the wheel centre's z against the chassis, + in bump. Rack
 * displacement is along +y of the vehicle; with the rack ahead of the axle + is a left turn.
 */
import type { Vec3 } from './vector.ts';

export interface Hardpoints {
  readonly lowerArmFrontBush: Vec3;
  readonly lowerArmRearBush: Vec3;
  readonly lowerBallJoint: Vec3;
  readonly upperArmFrontBush: Vec3;
  readonly upperArmRearBush: Vec3;
  readonly upperBallJoint: Vec3;
  readonly tieRodInner: Vec3;
  readonly tieRodOuter: Vec3;
  /** Where the wheel's mid-plane meets its spin axis. */
  readonly wheelCentre: Vec3;
  /** Unit direction of the spin axis, pointing outboard. */
  readonly wheelAxis: Vec3;
}

/** What a point is rigidly attached to. */
export type FrameName = 'chassis' | 'body' | 'lower_arm' | 'upper_arm' | 'coil_over' | 'anti_roll_bar' | 'knuckle';

/** Lengths are between the two mounting points. */
export interface CoilOver {
  /** On the lower arm. */
  readonly lower: Vec3;
  /** On the chassis. */
  readonly upper: Vec3;
  readonly extended: number;
  readonly collapsed: number;
  /** N/m along the coil-over. */
  readonly springRate: number;
  /** Force of the spring on its seats with the damper extended, N. */
  readonly springForceExtended: number;
  readonly springOuterRadius: number;
  /** Length between the mounting points at which the coils touch; absent if not known. */
  readonly coilBindLength?: number;
}

/**
 * The stop between frame and lower arm, read by the coil-over's length (it is taken to act along the coil-over): a
 * stop is first touched and then compressed until it is solid.
 */
export interface BumpStop {
  readonly contactLength: number;
  readonly solidLength: number;
}

/** A ball joint whose stud lies along the steering axis and whose housing is fixed in the arm. */
export interface BallJointLimit {
  /** Turn of the arm against the knuckle from design at which housing and stud are square, + in bump. */
  readonly neutralBias: number;
  readonly swingLimit: number;
}

export interface HalfShaft {
  /** Centre of the inner (plunging) joint on the chassis; it plunges along y. */
  readonly inner: Vec3;
  /** Centre of the outer joint on the knuckle. */
  readonly outer: Vec3;
  readonly innerMaxAngle: number;
  readonly outerMaxAngle: number;
  readonly plungeEachWay: number;
  /** Between the joints' centres; absent means as at design. A lowered differential does not change it. */
  readonly shaftLength?: number;
}

export interface BrakeHose {
  readonly chassisEnd: Vec3;
  readonly caliperEnd: Vec3;
  readonly freeLength: number;
  /** Unit direction in which the hose leaves the chassis fitting. */
  readonly chassisDirection?: Vec3;
  /** Unit direction in which the hose leaves the caliper's fitting, in the knuckle at design. */
  readonly caliperDirection?: Vec3;
  readonly leastBendRadius?: number;
}

export interface AntiRollBar {
  /** A point of the bar's axis and its unit direction. */
  readonly axisPoint: Vec3;
  readonly axisDirection: Vec3;
  readonly linkLower: Vec3;
  readonly linkUpper: Vec3;
}

export interface Steering {
  /** Rack displacement from centre to its end, each way. */
  readonly rackTravel: number;
  /** Road-wheel angle of the inner wheel at which the knuckle meets its stop; absent if the rack ends first. */
  readonly knuckleStopAngle?: number;
}

/** A run of straight pieces (one point is a ball), or triangles and quadrilaterals, inflated by a radius. */
export interface Obstacle {
  readonly id: string;
  readonly frame: FrameName;
  /** Points of the left corner; `both` means the right side has its mirror. One side only: still given as for the left. */
  readonly side: 'both' | 'left' | 'right';
  readonly radius: number;
  /** Contact is a rub, not damage. */
  readonly flexible: boolean;
  readonly lines: readonly (readonly Vec3[])[];
  /** Convex, flat, three or four corners each, in order round the edge. */
  readonly patches: readonly (readonly Vec3[])[];
}

export interface FrontCorner {
  readonly hardpoints: Hardpoints;
  readonly coilOver: CoilOver;
  readonly bumpStop?: BumpStop;
  readonly upperBallJointLimit?: BallJointLimit;
  readonly lowerBallJointLimit?: BallJointLimit;
  readonly halfShaft?: HalfShaft;
  readonly brakeHose?: BrakeHose;
  readonly antiRollBar?: AntiRollBar;
  readonly steering: Steering;
  readonly obstacles: readonly Obstacle[];
}

/** A region of wheel positions, metres: where the arms stand, as wheel-centre travel with the rack centred (+ bump), and rack displacement. */
export interface Sweep {
  readonly droop: number;
  readonly bump: number;
  readonly rackRight: number;
  readonly rackLeft: number;
}
