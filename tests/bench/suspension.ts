/**
 * Speed of the suspension's geometry against bare arithmetic of the same sums, written out in one function with its
 * constants in local variables and nothing answered but a checksum. Ratios count, not the numbers of one machine.
 */
import { MEASURES, measureFittings, prepareFittings } from '../../services/models/suspension/attachments.ts';
import { pieceDistance, ridingPieces, sweepAxle, together } from '../../services/models/suspension/axle-sweep.ts';
import { axleMotion, heaves, MOTION_SIZE, mostTilt, wheelPlace } from '../../services/models/suspension/beam-axle.ts';
import { AXIS, CENTRE, type Linkage, makeLinkage, POSE_SIZE, solveTravel } from '../../services/models/suspension/double-wishbone.ts';
import type { SweptTyre } from '../../services/models/suspension/gap-search.ts';
import type { FrontCorner, Obstacle } from '../../services/models/suspension/geometry.ts';
import { samplePoints, shapesOf } from '../../services/models/suspension/obstacle-shapes.ts';
import { type SweepRequest, sampledGaps, sweepTyre } from '../../services/models/suspension/swept-tyre.ts';
import type { Profile } from '../../services/models/suspension/tyre-shape.ts';
import type { Vec3 } from '../../services/models/suspension/vector.ts';
import { readClassGeometry } from '../published/suspension/class-geometry.ts';
import { timeAll } from './timing.ts';

export interface Ratio {
  readonly name: string;
  /** Work done a second by ours and by the bare arithmetic. */
  readonly ours: number;
  readonly bare: number;
  readonly ratio: number;
  /** Ours over bare is not to fall below this. */
  readonly floor: number;
}

function classLinkage(): { linkage: Linkage; corner: FrontCorner; geometry: ReturnType<typeof readClassGeometry> } {
  const geometry = readClassGeometry();
  const linkage = makeLinkage(geometry.corner.hardpoints);
  if (!linkage.ok) throw new Error(linkage.reason);
  return { linkage: linkage.value, corner: geometry.corner, geometry };
}

/** Poses a second for wheel travel and rack displacement, root search included. */
export function poseRatio(): Ratio {
  const { linkage } = classLinkage();
  const raw = new Float64Array(POSE_SIZE);
  const bare = bareSolve(linkage);
  solveTravel(linkage, 0.05, 0.03, raw, 0);
  if (Math.abs(bare(0.05, 0.03) - raw[CENTRE]!) > 1e-12) throw new Error('the bare solve is another solve');
  const over = (solve: (travel: number, rack: number) => number) => () => {
    let sum = 0;
    for (let j = 0; j < 31; j++) for (let i = 0; i < 41; i++) sum += solve(-0.09 + 0.005 * i, -0.072 + 0.0048 * j);
    return sum;
  };
  const whole = (travel: number, rack: number) => {
    if (solveTravel(linkage, travel, rack, raw, 0)) throw new Error('no pose');
    return raw[CENTRE]!;
  };
  const rates = timeAll({ ours: over(whole), bare: over(bare) });
  const [ours, plain] = [rates.ours.rate * 31 * 41, rates.bare.rate * 31 * 41];
  return { name: 'poses', ours, bare: plain, ratio: ours / plain, floor: 0.5 };
}

/** The same solve with its constants in local variables; answers the wheel centre's x. */
function bareSolve(k: Linkage): (travel: number, rack: number) => number {
  const [ox, oy, oz] = k.lowerArm.origin;
  const r1 = k.lowerRadius;
  const [bx, by, bz] = k.lowerArm.b.map((x) => x * r1) as unknown as Vec3;
  const [cx, cy, cz] = k.lowerArm.c.map((x) => x * r1) as unknown as Vec3;
  const [px, py, pz] = k.upperArm.origin;
  const r2 = k.upperRadius;
  const [fx, fy, fz] = k.upperArm.b.map((x) => x * r2) as unknown as Vec3;
  const [gx, gy, gz] = k.upperArm.c.map((x) => x * r2) as unknown as Vec3;
  const d = k.kingpin;
  const dd = d * d - r2 * r2;
  const [ix, iy, iz] = k.tieRodInner;
  const rise = k.steeringArmRise;
  const rr = k.steeringArmRadius;
  const ll = rr * rr - k.tieRodLength * k.tieRodLength;
  const [wa, wb, wc] = k.wheelCentreLocal;
  const { upperBranch, tieRodBranch, designHeight } = k;
  const [g1, g2] = k.guess;
  return (travel, rack) => {
    let t = (g1 + g2 * travel) * travel;
    let slope = 1 / (g1 + 2 * g2 * travel);
    let before = 0;
    let error = 0;
    for (let i = 0; i < 12; i++) {
      const w = 1 / (1 + t * t);
      const c1 = (1 - t * t) * w;
      const s1 = 2 * t * w;
      const lx = ox + bx * c1 + cx * s1;
      const ly = oy + by * c1 + cy * s1;
      const lz = oz + bz * c1 + cz * s1;
      const x = px - lx;
      const y = py - ly;
      const z = pz - lz;
      const A = x * fx + y * fy + z * fz;
      const B = x * gx + y * gy + z * gz;
      const K = (dd - x * x - y * y - z * z) / 2;
      const H = A * A + B * B;
      const root = upperBranch * Math.sqrt(H - K * K);
      const c2 = (A * K - B * root) / H;
      const s2 = (B * K + A * root) / H;
      const ex = (x + fx * c2 + gx * s2) / d;
      const ey = (y + fy * c2 + gy * s2) / d;
      const ez = (z + fz * c2 + gz * s2) / d;
      const jx = ix - lx;
      const jy = iy + rack - ly;
      const jz = iz - lz;
      const h = jx * ex + jy * ey + jz * ez;
      const ux = jx - h * ex;
      const uy = jy - h * ey;
      const uz = jz - h * ez;
      const mm = ux * ux + uy * uy + uz * uz;
      const m = Math.sqrt(mm);
      const dh = rise - h;
      const a = (ll + mm + dh * dh) / (2 * m);
      const ca = a / rr / m;
      const sa = (tieRodBranch * Math.sqrt(rr * rr - a * a)) / rr / m;
      const qx = ey * uz - ez * uy;
      const qy = ez * ux - ex * uz;
      const qz = ex * uy - ey * ux;
      const now = lz + (uz * ca + qz * sa) * wa + (qz * ca - uz * sa) * wb + ez * wc - designHeight - travel;
      if (Math.abs(now) <= 1e-12) return lx + (ux * ca + qx * sa) * wa + (qx * ca - ux * sa) * wb + ex * wc + 0 * (uy + qy);
      if (i > 0 && now !== error) slope = (now - error) / (t - before);
      before = t;
      error = now;
      t -= now / slope;
    }
    return Number.NaN;
  };
}

/** Two hundred points round the wheel on chassis, body, arm and bar, in the class's proportions. */
function twoHundredPoints(corner: FrontCorner): Obstacle[] {
  const rigid = corner.obstacles;
  const all = rigid.map((o) => samplePoints(shapesOf(o), 0.02));
  const total = all.reduce((n, p) => n + p.length / 3, 0);
  return rigid.map((o, i) => {
    const own = all[i]!;
    const wanted = Math.max(1, Math.round((200 * own.length) / 3 / total));
    const lines = Array.from({ length: wanted }, (_, n): Vec3[] => {
      const at = 3 * Math.floor((n * own.length) / 3 / wanted);
      return [[own[at]!, own[at + 1]!, own[at + 2]!]];
    });
    return { ...o, lines, patches: [] };
  });
}

/** Everything of a corner at every position: poses, hose, joints, shaft, damper, bar, and the tyre against the points. */
export function cornerWork(request: SweepRequest, corner: FrontCorner, obstacles: readonly Obstacle[]): number {
  const swept = sweepTyre(request);
  if (!swept.ok) throw new Error(swept.reason);
  const { grid } = swept.value;
  const count = grid.travels * grid.racks;
  const fittings = prepareFittings(request.linkage, corner);
  const measures = new Float64Array(count * MEASURES);
  for (let n = 0; n < count; n++) measureFittings(fittings, grid.raw, n * POSE_SIZE, measures, n * MEASURES);
  const gaps = sampledGaps(swept.value, obstacles);
  if (!gaps.ok) throw new Error(gaps.reason);
  return gaps.value.reduce((sum, field) => sum + field[0]!, measures[count * MEASURES - 1]!);
}

/** A full corner over the bare distances of its points alone with the poses given. */
export function cornerRatio(): Ratio {
  const { linkage, corner, geometry } = classLinkage();
  const obstacles = twoHundredPoints(corner);
  const sweep = { droop: -0.09, bump: 0.11, rackRight: -0.072, rackLeft: 0.072 };
  const request = { linkage, tyre: geometry.tyre, sweep, antiRollBar: corner.antiRollBar!, coilOver: corner.coilOver };
  const swept = sweepTyre(request);
  if (!swept.ok) throw new Error(swept.reason);
  const points = Float64Array.from(obstacles.flatMap((o) => o.lines.flat(2)));
  const { ours, bare } = timeAll({ ours: () => cornerWork(request, corner, obstacles), bare: () => bareDistances(swept.value, points) });
  return {
    name: `corner, ${points.length / 3} points at 41 × 31`,
    ours: ours.rate,
    bare: bare.rate,
    ratio: ours.rate / bare.rate,
    floor: 1 / 3,
  };
}

function bareDistances(swept: SweptTyre, points: Float64Array): number {
  const { raw, travels, racks } = swept.grid;
  const { belly, top, round } = swept.profile;
  let sum = 0;
  for (let n = 0; n < travels * racks; n++) {
    const at = n * POSE_SIZE;
    const [cx, cy, cz, ax, ay, az] = [
      raw[at + CENTRE]!,
      raw[at + CENTRE + 1]!,
      raw[at + CENTRE + 2]!,
      raw[at + AXIS]!,
      raw[at + AXIS + 1]!,
      raw[at + AXIS + 2]!,
    ];
    let least = 1e9;
    for (let i = 0; i < points.length; i += 3) {
      const x = points[i]! - cx;
      const y = points[i + 1]! - cy;
      const z = points[i + 2]! - cz;
      const s = x * ax + y * ay + z * az;
      const u = Math.abs(s) - belly;
      const v = Math.sqrt(x * x + y * y + z * z - s * s) - top;
      const d = u > 0 && v > 0 ? Math.sqrt(u * u + v * v) : Math.max(u, v);
      if (d < least) least = d;
    }
    sum += least - round;
  }
  return sum;
}

/** A beam axle's tyre against two hundred points at 25 × 13 places, over the bare distances with the places given. */
export function axleRatio(): Ratio {
  const axle = {
    halfTrack: 0.8,
    wheelHeight: 0.37,
    rollHeight: 0.45,
    stopAt: 0.48,
    damperAt: 0.48,
    springAt: 0.56,
    swingRadius: 0.44,
    swingDrop: 0.04,
  };
  const travel = { droop: -0.105, bump: 0.105 };
  const swept = sweepAxle({ axle, travel, tyre: { freeRadius: 0.388, loadedRadius: 0.37, sectionWidth: 0.272, shoulderRadius: 0.035 } });
  const points = Array.from({ length: 200 }, (_, i): Vec3 => [0.4 * Math.sin(i), 0.6 + 0.0015 * i, 0.9 + 0.1 * Math.cos(i)]);
  const made = ridingPieces({ id: 'points', frame: 'body', radius: 0, lines: points.map((point) => [point]), patches: [] });
  if (!swept.ok || !made.ok) throw new Error('no axle');
  const [s, pieces] = [swept.value, together(made.value)];
  const most = mostTilt(axle, travel);
  const places = Array.from({ length: 25 * 13 }, (_, i): readonly [number, number] => {
    const tilt = (most * ((i % 25) - 12)) / 12;
    const [low, high] = heaves(axle, travel, tilt);
    return [low + ((high - low) * Math.floor(i / 25)) / 12, tilt];
  });
  const given = Float64Array.from(
    places.flatMap(([heave, tilt]) => {
      const [motion, place] = [new Float64Array(MOTION_SIZE), new Float64Array(6)];
      axleMotion(axle, heave, tilt, motion);
      wheelPlace(axle, motion, 0, place);
      return [...place];
    }),
  );
  const flat = Float64Array.from(points.flat());
  const whole = () => places.reduce((sum, [heave, tilt]) => sum + pieceDistance(s, pieces, heave, tilt), 0);
  const plain = () => barePlaces(s.profile, given, flat);
  if (Math.abs(whole() - plain()) > 1e-9) throw new Error('the bare distances are others');
  const { ours, bare } = timeAll({ ours: whole, bare: plain });
  return { name: 'rear axle, 200 points at 25 × 13', ours: ours.rate, bare: bare.rate, ratio: ours.rate / bare.rate, floor: 1 / 6 };
}

function barePlaces({ belly, top, round }: Profile, places: Float64Array, points: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < places.length; n += 6) {
    const [cx, cy, cz, ax, ay, az] = [places[n]!, places[n + 1]!, places[n + 2]!, places[n + 3]!, places[n + 4]!, places[n + 5]!];
    let least = 1e9;
    for (let i = 0; i < points.length; i += 3) {
      const x = points[i]! - cx;
      const y = points[i + 1]! - cy;
      const z = points[i + 2]! - cz;
      const along = x * ax + y * ay + z * az;
      const u = Math.abs(along) - belly;
      const v = Math.sqrt(x * x + y * y + z * z - along * along) - top;
      const d = u > 0 && v > 0 ? Math.sqrt(u * u + v * v) : Math.max(u, v);
      if (d < least) least = d;
    }
    sum += least - round;
  }
  return sum;
}

export function suspensionRatios(): readonly Ratio[] {
  return [poseRatio(), cornerRatio(), axleRatio()];
}
