/**
 * The tyre as a solid of revolution, and distances to it.
 *
 * Half profile in the plane through the spin axis (axial |y|, radial ρ): a flat crown of the tread width at the free
 * radius, rounded shoulders, and a sidewall that is widest at the belly. It is a convex core offset by the shoulder
 * radius, so its signed distance is that to the core less the radius: exact outside and inside (negative inside), and
 * convex, which is what makes the search along an obstacle a plain halving. Solid to the axis: what lives inside the
 * rim is not for this shape. No deflection, growth or bulge: give the radius and width that include them.
 * A torus is not a tyre: its crown is nearly flat and its shoulders stand proud.
 */
import { found, type Outcome, refused } from '../result.ts';
import { minimise } from './line-search.ts';
import { addScaled, dot, scale, subtract, type Vec3 } from './vector.ts';

export interface TyreShape {
  /** Unloaded, for clearance. */
  readonly freeRadius: number;
  /** Standing, for heights above the ground. */
  readonly loadedRadius: number;
  readonly sectionWidth: number;
  /** Flat part of the crown; absent means section width less both shoulder radii. */
  readonly treadWidth?: number;
  readonly shoulderRadius: number;
  /** Radius at which the section is widest; absent means half the section height is not known and the wall is upright from the shoulder. */
  readonly bellyRadius?: number;
}

/** What it is told apart by. */
export const numbersOfTyre = ({ freeRadius, sectionWidth, treadWidth, shoulderRadius, bellyRadius }: TyreShape): readonly number[] => [
  freeRadius,
  sectionWidth,
  treadWidth ?? Number.NaN,
  shoulderRadius,
  bellyRadius ?? Number.NaN,
];

/** Core polygon: (0, top) – (crown, top) – (belly, waist) – (belly, 0); offset by `round`. */
export interface Profile {
  readonly crown: number;
  readonly top: number;
  readonly belly: number;
  readonly waist: number;
  readonly round: number;
  /** Direction and length of the edge between crown and belly; length 0 for an upright wall. */
  readonly edge: Float64Array;
}

export function makeProfile(shape: TyreShape): Outcome<Profile> {
  const { freeRadius, sectionWidth, shoulderRadius: round } = shape;
  if (!(freeRadius > 0 && sectionWidth > 0 && round >= 0)) return refused('tyre: radius, width and shoulder radius must be positive');
  if (2 * round > sectionWidth || round > freeRadius) return refused('tyre: the shoulder radius is more than half the section width');
  const crown = (shape.treadWidth ?? sectionWidth - 2 * round) / 2;
  if (!(crown >= 0 && crown <= sectionWidth / 2)) return refused('tyre: the tread is wider than the section');
  const top = freeRadius - round;
  const belly = Math.max(crown, sectionWidth / 2 - round);
  const waist = belly > crown ? Math.min(shape.bellyRadius ?? top, top) : top;
  const [dx, dy] = [belly - crown, waist - top];
  const long = Math.sqrt(dx * dx + dy * dy);
  return found({ crown, top, belly, waist, round, edge: Float64Array.from(long > 0 ? [dx / long, dy / long, long] : [1, 0, 0]) });
}

/** Signed distance to the core in the half plane; the tyre's is this less `round`. */
function coreDistance(p: Profile, axial: number, radial: number): number {
  const u = axial - p.belly;
  const v = radial - p.top;
  const long = p.edge[2]!;
  if (long === 0) return u > 0 && v > 0 ? Math.sqrt(u * u + v * v) : Math.max(u, v);
  const dx = p.edge[0]!;
  const dy = p.edge[1]!;
  const x = axial - p.crown;
  const off = dx * v - dy * x;
  if (u <= 0 && v <= 0 && off <= 0) return Math.max(u, v, off);
  const along = dx * x + dy * v;
  if (along < 0) return x <= 0 ? v : Math.sqrt(x * x + v * v);
  if (along <= long) return off;
  const w = radial - p.waist;
  return w <= 0 ? u : Math.sqrt(u * u + w * w);
}

/** Signed distance of a point from the tyre. `axis` is a unit direction, `centre` the mid-plane's centre. */
export function tyreDistance(p: Profile, centre: Vec3, axis: Vec3, point: Vec3): number {
  const dx = point[0] - centre[0];
  const dy = point[1] - centre[1];
  const dz = point[2] - centre[2];
  const y = dx * axis[0] + dy * axis[1] + dz * axis[2];
  const r2 = dx * dx + dy * dy + dz * dz - y * y;
  return coreDistance(p, Math.abs(y), r2 > 0 ? Math.sqrt(r2) : 0) - p.round;
}

/** Direction in which that distance grows fastest: away from the tyre, a unit vector. At a kink, one of its sides. */
export function tyreNormal(p: Profile, centre: Vec3, axis: Vec3, point: Vec3): Vec3 {
  const d = subtract(point, centre);
  const y = d[0] * axis[0] + d[1] * axis[1] + d[2] * axis[2];
  const out = addScaled(d, axis, -y);
  const radial = Math.sqrt(out[0] * out[0] + out[1] * out[1] + out[2] * out[2]);
  const axial = scale(axis, (y < 0 ? -1 : 1) * coreSlope(p, Math.abs(y), radial, 1, 0));
  return radial > 1e-12 ? addScaled(axial, out, coreSlope(p, Math.abs(y), radial, 0, 1) / radial) : axial;
}

/** Slope of the core's distance for a step (da, dr) in the half plane. */
function coreSlope(p: Profile, axial: number, radial: number, da: number, dr: number): number {
  const u = axial - p.belly;
  const v = radial - p.top;
  const long = p.edge[2]!;
  if (long === 0) return u > 0 && v > 0 ? (u * da + v * dr) / Math.sqrt(u * u + v * v) : u > v ? da : dr;
  const dx = p.edge[0]!;
  const dy = p.edge[1]!;
  const x = axial - p.crown;
  const off = dx * v - dy * x;
  if (u <= 0 && v <= 0 && off <= 0) return off >= u && off >= v ? dx * dr - dy * da : u > v ? da : dr;
  const along = dx * x + dy * v;
  if (along < 0) return x <= 0 ? dr : (x * da + v * dr) / Math.sqrt(x * x + v * v);
  if (along <= long) return dx * dr - dy * da;
  const w = radial - p.waist;
  return w <= 0 ? da : (u * da + w * dr) / Math.sqrt(u * u + w * w);
}

/** Least signed distance of points (x, y, z in a row) from the tyre at `place`: its centre and axis, six numbers. */
export function leastDistance(p: Profile, place: Float64Array, points: Float64Array): number {
  const cx = place[0]!;
  const cy = place[1]!;
  const cz = place[2]!;
  const ax = place[3]!;
  const ay = place[4]!;
  const az = place[5]!;
  const { belly, top } = p;
  const upright = p.edge[2] === 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < points.length; i += 3) {
    const dx = points[i]! - cx;
    const dy = points[i + 1]! - cy;
    const dz = points[i + 2]! - cz;
    const y = dx * ax + dy * ay + dz * az;
    const r = Math.sqrt(Math.abs(dx * dx + dy * dy + dz * dz - y * y));
    const u = Math.abs(y) - belly;
    const v = r - top;
    // The box round the core bounds the distance from below: most points need no more.
    if (u >= least || v >= least) continue;
    const d = upright ? (u > 0 && v > 0 ? Math.sqrt(u * u + v * v) : Math.max(u, v)) : coreDistance(p, Math.abs(y), r);
    if (d < least) least = d;
  }
  return least - p.round;
}

/** Where a shape is nearest to the tyre, and the signed distance there. */
export interface Nearest {
  readonly distance: number;
  readonly point: Vec3;
}

/** A metre to a thousandth of a micrometre; a slope that changes the distance by less than that. */
const NARROW = 1e-9;
const FLAT = 1e-10;
const MOST_LOOKS = 90;

/**
 * Least signed distance over a segment: it is convex along it, so the sign of its slope tells which half. Along the
 * segment the axial coordinate is linear and the square of the radial one a parabola, so each look costs a few products.
 */
export function nearestOnSegment(p: Profile, centre: Vec3, axis: Vec3, a: Vec3, b: Vec3): Nearest {
  const d = subtract(b, a);
  const w = subtract(a, centre);
  const y0 = dot(w, axis);
  const y1 = dot(d, axis);
  const r0 = dot(w, w) - y0 * y0;
  const r1 = dot(w, d) - y0 * y1;
  const r2 = dot(d, d) - y1 * y1;
  const t = lowestAlong(p, y0, y1, r0, r1, r2);
  const point: Vec3 = [a[0] + t * d[0], a[1] + t * d[1], a[2] + t * d[2]];
  return { distance: tyreDistance(p, centre, axis, point), point };
}

/** Far above what rounding does to a bound, far below any gap that matters. */
const ROUNDING = 1e-12;

/**
 * The least signed distance to any of those segments (two ends of three numbers each, in a row; one point is a segment of
 * no length), or `atMost` if none comes nearer. `nearestOnSegment` without its point and without allocating: a convex
 * distance lies above its slopes at both ends, which is enough to pass most segments by.
 */
export function leastOnSegments(p: Profile, place: Float64Array, segments: Float64Array, atMost: number): number {
  const cx = place[0]!;
  const cy = place[1]!;
  const cz = place[2]!;
  const ax = place[3]!;
  const ay = place[4]!;
  const az = place[5]!;
  let least = atMost;
  for (let i = 0; i < segments.length; i += 6) {
    const px = segments[i]!;
    const py = segments[i + 1]!;
    const pz = segments[i + 2]!;
    const dx = segments[i + 3]! - px;
    const dy = segments[i + 4]! - py;
    const dz = segments[i + 5]! - pz;
    const wx = px - cx;
    const wy = py - cy;
    const wz = pz - cz;
    const y0 = wx * ax + wy * ay + wz * az;
    const y1 = dx * ax + dy * ay + dz * az;
    const ww = wx * wx + wy * wy + wz * wz;
    const wd = wx * dx + wy * dy + wz * dz;
    const dd = dx * dx + dy * dy + dz * dz;
    // Nothing of it is nearer than its middle less half its length, nor that than the box round the core.
    const ym = y0 + 0.5 * y1;
    const rm = Math.sqrt(Math.abs(ww + wd + 0.25 * dd - ym * ym));
    if (Math.max(Math.abs(ym) - p.belly, rm - p.top) - p.round - 0.5 * Math.sqrt(dd) - ROUNDING >= least) continue;
    const r0 = ww - y0 * y0;
    const r1 = wd - y0 * y1;
    const r2 = dd - y1 * y1;
    const slope = slopeAlong(p, y0, y1, r0, r1, r2, 0);
    let t = 0;
    if (slope < 0) {
      const end = slopeAlong(p, y0, y1, r0, r1, r2, 1);
      t = 1;
      if (end > 0) {
        const [from, to] = [distanceAlong(p, y0, y1, r0, r1, r2, 0), distanceAlong(p, y0, y1, r0, r1, r2, 1)];
        const meet = (to - end - from) / (slope - end);
        if (from + slope * meet - ROUNDING >= least) continue;
        t = zeroAlong(p, y0, y1, r0, r1, r2, slope, end);
      }
    }
    const x = px + t * dx - cx;
    const y = py + t * dy - cy;
    const z = pz + t * dz - cz;
    const off = x * ax + y * ay + z * az;
    const r = x * x + y * y + z * z - off * off;
    const distance = coreDistance(p, Math.abs(off), r > 0 ? Math.sqrt(r) : 0) - p.round;
    if (distance < least) least = distance;
  }
  return least;
}

function distanceAlong(p: Profile, y0: number, y1: number, r0: number, r1: number, r2: number, t: number): number {
  return coreDistance(p, Math.abs(y0 + t * y1), Math.sqrt(Math.max(0, r0 + t * (2 * r1 + t * r2)))) - p.round;
}

/** Where on 0…1 of a segment the convex distance is lowest, by the sign of its slope. */
function lowestAlong(p: Profile, y0: number, y1: number, r0: number, r1: number, r2: number): number {
  const low = slopeAlong(p, y0, y1, r0, r1, r2, 0);
  if (low >= 0) return 0;
  const high = slopeAlong(p, y0, y1, r0, r1, r2, 1);
  return high <= 0 ? 1 : zeroAlong(p, y0, y1, r0, r1, r2, low, high);
}

/** Where the rising slope passes zero: false position, halving where that is slow or the slope jumps at a kink. */
function zeroAlong(p: Profile, y0: number, y1: number, r0: number, r1: number, r2: number, atLow: number, atHigh: number): number {
  let [low, high, below, above] = [0, 1, atLow, atHigh];
  for (let i = 0; i < MOST_LOOKS && high - low > NARROW; i++) {
    const straight = low - (below * (high - low)) / (above - below);
    const t = i % 3 !== 2 && straight > low && straight < high ? straight : (low + high) / 2;
    const slope = slopeAlong(p, y0, y1, r0, r1, r2, t);
    if (Math.abs(slope) < FLAT) return t;
    if (slope > 0) [high, above] = [t, slope];
    else [low, below] = [t, slope];
  }
  return (low + high) / 2;
}

function slopeAlong(p: Profile, y0: number, y1: number, r0: number, r1: number, r2: number, t: number): number {
  const y = y0 + t * y1;
  const r = Math.sqrt(Math.max(0, r0 + t * (2 * r1 + t * r2)));
  return coreSlope(p, Math.abs(y), r, y < 0 ? -y1 : y1, r > 1e-12 ? (r1 + t * r2) / r : Math.sqrt(Math.max(0, r2)));
}

/**
 * The same over a flat triangle: the least over the segments from edge ab to edge ac is convex in where they are cut.
 * By values, not slopes: deep inside the tyre the distance has kinks, where a slope of one side misleads.
 */
export function nearestOnTriangle(p: Profile, centre: Vec3, axis: Vec3, a: Vec3, b: Vec3, c: Vec3): Nearest {
  const ab = subtract(b, a);
  const ac = subtract(c, a);
  const row = (v: number) => nearestOnSegment(p, centre, axis, addScaled(a, ab, v), addScaled(a, ac, v));
  return row(minimise((v) => row(v).distance, 0, 1, 1e-9).at);
}
