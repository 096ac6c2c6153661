/** Poses over a region of travel and rack displacement in one flat array, and the tyre's place in the frames of obstacles. */
import { found, type Outcome, refused } from '../result.ts';
import { BAR_COSINE, BAR_SINE, type BarFitting, type CoilFitting, MEASURES, measureBar } from './attachments.ts';
import { AXIS, armAt, CENTRE, type Linkage, POSE_SIZE, poseOfArm, solveTurn, TURNS } from './double-wishbone.ts';
import type { FrameName, Sweep } from './geometry.ts';
import type { Basis, Vec3 } from './vector.ts';

export interface PoseGrid {
  readonly sweep: Sweep;
  readonly travels: number;
  readonly racks: number;
  /** Pose (i, j) of travel i and rack j starts at (j·travels + i)·POSE_SIZE. */
  readonly raw: Float64Array;
  /** The lower arm's half-turn tangent at each travel. */
  readonly arms: Float64Array;
}

/** The arm's turn is searched once for each travel; the poses of that row then follow directly. */
export function solveGrid(linkage: Linkage, sweep: Sweep, travels = 41, racks = 31): Outcome<PoseGrid> {
  const { droop, bump, rackRight, rackLeft } = sweep;
  if (!(bump > droop && rackLeft >= rackRight)) return refused('sweep: bump must lie above droop and rack left above rack right');
  if (!(travels >= 2 && racks >= 1)) return refused('sweep: it needs two travels and one rack displacement at least');
  const raw = new Float64Array(travels * racks * POSE_SIZE);
  const arms = new Float64Array(travels);
  for (let i = 0; i < travels; i++) {
    const arm = armAt(linkage, droop + ((bump - droop) * i) / (travels - 1));
    if (!arm.ok) return arm;
    arms[i] = arm.value;
    for (let j = 0; j < racks; j++) {
      const rack = racks > 1 ? rackRight + ((rackLeft - rackRight) * j) / (racks - 1) : rackRight;
      if (!solveTurn(linkage, arm.value, rack, raw, (j * travels + i) * POSE_SIZE)) continue;
      const why = poseOfArm(linkage, arm.value, rack);
      return why.ok ? refused('wheel_centre: no pose') : why;
    }
  }
  return found({ sweep, travels, racks, raw, arms });
}

/** Of the arms, as wheel-centre travel with the rack centred, and of the rack. */
export interface WheelPosition {
  readonly travel: number;
  readonly rack: number;
}

export function positionOf({ sweep, travels, racks }: PoseGrid, i: number, j: number): WheelPosition {
  const { droop, bump, rackRight, rackLeft } = sweep;
  return {
    travel: droop + ((bump - droop) * i) / (travels - 1),
    rack: racks > 1 ? rackRight + ((rackLeft - rackRight) * j) / (racks - 1) : rackRight,
  };
}

export function nearestCell(grid: PoseGrid, { travel, rack }: WheelPosition): { readonly i: number; readonly j: number } {
  const { sweep, travels, racks } = grid;
  const of = (share: number, count: number): number => (count > 1 ? Math.round(share * (count - 1)) : 0);
  return {
    i: of((travel - sweep.droop) / (sweep.bump - sweep.droop), travels),
    j: of((rack - sweep.rackRight) / (sweep.rackLeft - sweep.rackRight), racks),
  };
}

export interface Surroundings {
  readonly linkage: Linkage;
  /** Tyre's mid-plane against the wheel centre of the hardpoints, + outboard along the axis. */
  readonly outwardShift: number;
  /** Body against chassis: a body lift is +z. */
  readonly bodyShift: Vec3;
  /** Needed for obstacles on the bar; both wheels are taken to move alike. */
  readonly bar?: BarFitting;
  /** Needed for obstacles that swing with the coil-over. */
  readonly coil?: CoilFitting;
}

/** Scratch, so that a place costs no allocation. */
const barRow = new Float64Array(MEASURES);

/**
 * The tyre's centre and axis seen from a frame, as if that frame had stood still at design: six numbers into `out`.
 * False for a frame that has no place there: a coil-over or an anti-roll bar that is not given, or a bar whose link does not reach.
 */
export function tyrePlace(s: Surroundings, raw: Float64Array, at: number, frame: FrameName, out: Float64Array): boolean {
  const e = s.outwardShift;
  const [axis, centre, turns] = [at + AXIS, at + CENTRE, at + TURNS];
  for (let i = 0; i < 3; i++) {
    out[3 + i] = raw[axis + i]!;
    out[i] = raw[centre + i]! + e * out[3 + i]!;
  }
  const { design, upperArm, lowerArm } = s.linkage;
  switch (frame) {
    case 'chassis':
      return true;
    case 'body':
      for (let i = 0; i < 3; i++) out[i]! -= s.bodyShift[i]!;
      return true;
    case 'upper_arm':
      turnBack(upperArm, design.upperArm, raw[turns + 2]!, raw[turns + 3]!, out);
      return true;
    case 'lower_arm':
      turnBack(lowerArm, design.lowerArm, raw[turns]!, raw[turns + 1]!, out);
      return true;
    case 'knuckle': {
      // The wheel is on the knuckle: it stands still against it.
      const { wheelCentre, wheelAxis } = s.linkage.hardpoints;
      for (let i = 0; i < 3; i++) {
        out[3 + i] = wheelAxis[i]!;
        out[i] = wheelCentre[i]! + e * wheelAxis[i]!;
      }
      return true;
    }
    case 'coil_over':
      return s.coil !== undefined && leanBack(s.coil, raw[turns]!, raw[turns + 1]!, out);
    case 'anti_roll_bar': {
      if (!s.bar) return false;
      measureBar(s.bar, raw, at, barRow, 0);
      const { basis } = s.bar;
      turnBack(basis, basis, barRow[BAR_COSINE]!, barRow[BAR_SINE]!, out);
      return !Number.isNaN(out[0]!);
    }
  }
}

/** Undoes the turn (cosine, sine) of a body about axis `a` of its basis `now`, and lays it over its basis at design. */
function turnBack(now: Basis, design: Basis, c: number, s: number, out: Float64Array): void {
  const { origin, a, b, c: d } = now;
  for (let i = 0; i < 6; i += 3) {
    const point = i === 0;
    const x = out[i]! - (point ? origin[0] : 0);
    const y = out[i + 1]! - (point ? origin[1] : 0);
    const z = out[i + 2]! - (point ? origin[2] : 0);
    const p = x * a[0] + y * a[1] + z * a[2];
    const q0 = x * b[0] + y * b[1] + z * b[2];
    const r0 = x * d[0] + y * d[1] + z * d[2];
    const q = q0 * c + r0 * s;
    const r = r0 * c - q0 * s;
    out[i] = design.a[0] * p + design.b[0] * q + design.c[0] * r + (point ? design.origin[0] : 0);
    out[i + 1] = design.a[1] * p + design.b[1] * q + design.c[1] * r + (point ? design.origin[1] : 0);
    out[i + 2] = design.a[2] * p + design.b[2] * q + design.c[2] * r + (point ? design.origin[2] : 0);
  }
}

/**
 * Undoes the lean of a coil-over about its mount: the least turn that takes its line, with the lower arm turned by
 * (cosine, sine), to the one at design. How it turns about that line does not matter: it is round.
 */
function leanBack({ upper, lower, along }: CoilFitting, c: number, s: number, out: Float64Array): boolean {
  const [ux, uy, uz] = upper;
  const fx = lower[0]! + c * lower[3]! + s * lower[6]! - ux;
  const fy = lower[1]! + c * lower[4]! + s * lower[7]! - uy;
  const fz = lower[2]! + c * lower[5]! + s * lower[8]! - uz;
  const length = Math.sqrt(fx * fx + fy * fy + fz * fz);
  if (!(length > 0)) return false;
  const [nx, ny, nz] = [fx / length, fy / length, fz / length];
  const [lx, ly, lz] = along;
  const [ax, ay, az] = [ny * lz - nz * ly, nz * lx - nx * lz, nx * ly - ny * lx];
  const cosine = nx * lx + ny * ly + nz * lz;
  for (let i = 0; i < 6; i += 3) {
    const point = i === 0;
    const x = out[i]! - (point ? ux : 0);
    const y = out[i + 1]! - (point ? uy : 0);
    const z = out[i + 2]! - (point ? uz : 0);
    const share = (ax * x + ay * y + az * z) / (1 + cosine);
    out[i] = (point ? ux : 0) + x * cosine + ay * z - az * y + ax * share;
    out[i + 1] = (point ? uy : 0) + y * cosine + az * x - ax * z + ay * share;
    out[i + 2] = (point ? uz : 0) + z * cosine + ax * y - ay * x + az * share;
  }
  return true;
}
