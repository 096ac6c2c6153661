/**
 * Where a beam axle's wheels can be: level, one wheel up, crossed up.
 *
 * Axes and signs as in `geometry.ts`, the origin on the ground below this axle's centre. The axle is one rigid body. It
 * rises by the heave h of the point on the centre line it tilts about (its roll centre: on leaves, where they are
 * clamped to it), tilts about the fore-and-aft axis there by φ, + with the left wheel up, and swings fore and aft as its
 * springs' front halves or its links carry it: on an arc of radius ρ about a pivot ahead that lies d above it,
 *
 *   x(h) = √(ρ² − d²) − √(ρ² − (d − h)²)
 *
 * each side by the travel at its spring seat, ±y_s, so that a tilted axle also steers a little. For a leaf ρ is three quarters of its
 * front half (the usual three-link stand-in for a leaf, textbook, memory).
 *
 * A block of the height b between axle and leaves changes neither stops nor dampers, which act on the axle, but stands the leaves b
 * higher against it: they have gone through h + b where the axle has through h, so it stands fore and aft at x(h + b), what is on the leaves is
 * so much higher beside the tyre, and the axle tilts about a point so much higher. How it winds its leaves up is left out.
 *
 * How far it can go: a stop on the frame at ±y_b is solid at the travel B, a damper at ±y_d is fully out at −D:
 *
 *   h + y_b·|sin φ| ≤ B,   h − y_d·|sin φ| ≥ −D,   so   |sin φ| ≤ (B + D)/(y_b + y_d)
 *
 * A wheel further out than its stop goes up past B when the axle is crossed up: by (y_w − y_b)·sin φ. Neither the springs nor
 * an anti-roll bar are taken to end a tilt that stops and dampers allow: the furthest there can be. Stops and dampers are taken to
 * act straight up; a damper that leans is given by the travel it allows.
 * What is on the axle at y_h further out than its dampers falls below −D by (y_h − y_d)·sin φ (`crossedFall`).
 * Worked: B = D = 0.105, y_b = y_d = 0.48: sin φ ≤ 0.21875 (12.6°), then h = 0, and a wheel at 0.8 rises 0.175.
 */
import type { Arithmetic } from '../../units/index.ts';
import { found, type Outcome, refused } from '../result.ts';
import type { Vec3 } from './vector.ts';

export interface BeamAxle {
  /** From the centre line to the centre plane of the wheel it was drawn with. */
  readonly halfTrack: number;
  /** Of the wheel's centre above the ground at design height. */
  readonly wheelHeight: number;
  /** Above the ground at design height, of the point on the centre line it tilts about. */
  readonly rollHeight: number;
  /** Sideways from the centre line: bump stop, damper, spring seat. */
  readonly stopAt: number;
  readonly damperAt: number;
  readonly springAt: number;
  readonly swingRadius: number;
  /** How far the front pivot of that arc lies above the axle. */
  readonly swingDrop: number;
  /** Height of the blocks between it and its leaves, beyond those it was drawn with; none unless said. */
  readonly block?: number;
}

/** Travel of both wheels alike from design height, + in bump. */
export interface AxleTravel {
  readonly droop: number;
  readonly bump: number;
}

/** Heave, and the sine of the tilt. */
export interface AxlePlace {
  readonly heave: number;
  readonly tilt: number;
}

/** A rotation, row by row, and the shift of the point it turns about: what the axle's own points undergo. */
export const MOTION_SIZE = 12;

export function checkAxle(axle: BeamAxle, { droop, bump }: AxleTravel): Outcome<BeamAxle> {
  const { halfTrack, stopAt, damperAt, springAt, swingRadius, swingDrop } = axle;
  if (!(bump > droop)) return refused('rear axle: full bump must lie above full droop');
  if (!(halfTrack > 0 && stopAt > 0 && damperAt > 0 && springAt > 0))
    return refused('rear axle: wheel, stop, damper and spring must lie beside the centre line');
  const most = mostTilt(axle, { droop, bump });
  const seat = swingDrop - (axle.block ?? 0);
  const furthest = Math.max(Math.abs(seat - droop), Math.abs(seat - bump)) + springAt * most;
  if (!(swingRadius > furthest) || !(most < 0.5)) return refused('rear axle: its springs or links do not reach over that travel');
  return found(axle);
}

/** Sine of the most it tilts. */
export const mostTilt = ({ stopAt, damperAt }: BeamAxle, { droop, bump }: AxleTravel): number => (bump - droop) / (stopAt + damperAt);

/** Between which heaves it can be at a tilt. */
export function heaves({ stopAt, damperAt }: BeamAxle, { droop, bump }: AxleTravel, tilt: number): readonly [number, number] {
  const size = Math.abs(tilt);
  const [low, high] = [droop + damperAt * size, bump - stopAt * size];
  // At the most it tilts both ends are one.
  return low < high ? [low, high] : [(low + high) / 2, (low + high) / 2];
}

/** How far forward the springs carry a side that has risen so far, from where it was drawn. */
export function swing({ swingRadius, swingDrop, block = 0 }: BeamAxle, rise: number): number {
  const below = swingDrop - rise - block;
  return Math.sqrt(swingRadius * swingRadius - swingDrop * swingDrop) - Math.sqrt(swingRadius * swingRadius - below * below);
}

/** Twelve numbers into `out`. */
export function axleMotion(axle: BeamAxle, heave: number, tilt: number, out: Float64Array): void {
  const { springAt } = axle;
  const [left, right] = [swing(axle, heave + springAt * tilt), swing(axle, heave - springAt * tilt)];
  const steer = (right - left) / (2 * springAt);
  const [ct, cs] = [Math.sqrt(1 - tilt * tilt), Math.sqrt(1 - steer * steer)];
  out[0] = cs;
  out[1] = -steer * ct;
  out[2] = steer * tilt;
  out[3] = steer;
  out[4] = cs * ct;
  out[5] = -cs * tilt;
  out[6] = 0;
  out[7] = tilt;
  out[8] = ct;
  out[9] = (left + right) / 2;
  out[10] = 0;
  out[11] = heave;
}

/** Of the point of the axle it tilts about, which is where its leaves are clamped to it. */
const rollHeight = (axle: BeamAxle): number => axle.rollHeight + (axle.block ?? 0);

/** Where a point of the axle is after it, three numbers into `out`. */
export function movePoint(axle: BeamAxle, m: Float64Array, x: number, y: number, z: number, out: Float64Array, at: number): void {
  const roll = rollHeight(axle);
  const dz = z - roll;
  out[at] = m[0]! * x + m[1]! * y + m[2]! * dz + m[9]!;
  out[at + 1] = m[3]! * x + m[4]! * y + m[5]! * dz + m[10]!;
  out[at + 2] = m[6]! * x + m[7]! * y + m[8]! * dz + m[11]! + roll;
}

/** The left tyre's centre and axis, six numbers into `out`; `outward` from the wheel it was drawn with. */
export function wheelPlace(axle: BeamAxle, m: Float64Array, outward: number, out: Float64Array): void {
  movePoint(axle, m, 0, axle.halfTrack + outward, axle.wheelHeight, out, 0);
  out[3] = m[1]!;
  out[4] = m[4]!;
  out[5] = m[7]!;
}

/** How much further one wheel rises crossed up than with both alike. */
export function crossedTravel(axle: Pick<BeamAxle, 'halfTrack' | 'stopAt' | 'damperAt'>, { droop, bump }: AxleTravel): number {
  return (Math.max(0, axle.halfTrack - axle.stopAt) * (bump - droop)) / (axle.stopAt + axle.damperAt);
}

/**
 * How much further a point of the axle `at` from the centre line falls on the drooped side, crossed up, than with the axle
 * hanging level: a tilt of `travel`, bump and droop together, over the places of stop and damper. 620 mm out, dampers at
 * 470, stops at 440, 215 mm of travel: 35.4 mm (computed by hand).
 */
export const crossedFall = <N>(
  numbers: Arithmetic<N>,
  { at, stopAt, damperAt }: { readonly at: N; readonly stopAt: N; readonly damperAt: N },
  travel: N,
): N => numbers.times(numbers.most(numbers.of(0), numbers.minus(at, damperAt)), numbers.over(travel, numbers.sum([stopAt, damperAt])));

/** What a point of an obstacle rides on. */
export type AxleFrame = 'chassis' | 'body' | 'rear_axle' | 'rear_spring' | 'rear_damper';

/** Corners of a run or a patch, and for each the share of the axle's movement it takes part in. */
export interface Riding {
  readonly corners: readonly Vec3[];
  readonly shares: readonly number[];
}

/**
 * What a run on a frame takes part in. A leaf goes from its front eye to its rear one and bends as a parabola: one at the
 * axle, nothing at the eyes (a leaf of even strength bends to an arc; textbook, memory). A damper goes from the axle to the frame.
 */
export function ridingOn(frame: AxleFrame, corners: readonly Vec3[]): Outcome<Riding> {
  if (frame === 'rear_spring') {
    const [front, rear] = [corners[0]?.[0] ?? 0, corners.at(-1)?.[0] ?? 0];
    if (!(front > 0 && rear < 0)) return refused('a leaf goes from its eye ahead of the axle to the one behind it');
    return found({ corners, shares: corners.map(([x]) => Math.max(0, 1 - (x / (x > 0 ? front : rear)) ** 2)) });
  }
  if (frame === 'rear_damper') {
    const along = lengthsAlong(corners);
    const all = along.at(-1) ?? 0;
    if (!(all > 0)) return refused('a damper goes from its end on the axle to the one on the frame');
    return found({ corners, shares: along.map((length) => 1 - length / all) });
  }
  const share = frame === 'rear_axle' ? 1 : 0;
  return found({ corners, shares: corners.map(() => share) });
}

function lengthsAlong(corners: readonly Vec3[]): number[] {
  let sum = 0;
  return corners.map((corner, i) => {
    const before = corners[i - 1] ?? corner;
    sum += Math.hypot(corner[0] - before[0], corner[1] - before[1], corner[2] - before[2]);
    return sum;
  });
}
