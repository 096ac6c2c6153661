/** Vectors of three numbers, metres unless said. ISO 8855: x forward, y left, z up. */

export type Vec3 = readonly [number, number, number];

export function add(a: Vec3, b: Vec3): Vec3 {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

export function subtract(a: Vec3, b: Vec3): Vec3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

export function scale(a: Vec3, k: number): Vec3 {
  return [a[0] * k, a[1] * k, a[2] * k];
}

/** a + k·b */
export function addScaled(a: Vec3, b: Vec3, k: number): Vec3 {
  return [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]];
}

export function dot(a: Vec3, b: Vec3): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function cross(a: Vec3, b: Vec3): Vec3 {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

/** Plain square root of the sum: `Math.hypot` is many times slower and the ranges here need no guard. */
export function length(a: Vec3): number {
  return Math.sqrt(dot(a, a));
}

export function distance(a: Vec3, b: Vec3): number {
  return length(subtract(a, b));
}

/** Undefined for a vector too short to have a direction. */
export function unit(a: Vec3): Vec3 | undefined {
  const l = length(a);
  return l > 1e-12 ? scale(a, 1 / l) : undefined;
}

/** Angle between two directions, 0…π, exact near 0 and π where the arc cosine is not. */
export function angleBetween(a: Vec3, b: Vec3): number {
  return Math.atan2(length(cross(a, b)), dot(a, b));
}

/** Right-handed turn of `a` by `angle` about the unit direction `axis` (Rodrigues). */
export function turn(a: Vec3, axis: Vec3, angle: number): Vec3 {
  const c = Math.cos(angle);
  return addScaled(addScaled(scale(a, c), cross(axis, a), Math.sin(angle)), axis, dot(axis, a) * (1 - c));
}

/** The same thing on the other side of the vehicle. */
export function mirrored(a: Vec3): Vec3 {
  return [a[0], -a[1], a[2]];
}

/** An orthonormal basis with an origin: a rigid body's place. */
export interface Basis {
  readonly origin: Vec3;
  readonly a: Vec3;
  readonly b: Vec3;
  readonly c: Vec3;
}

export function toLocal(basis: Basis, point: Vec3): Vec3 {
  const d = subtract(point, basis.origin);
  return [dot(d, basis.a), dot(d, basis.b), dot(d, basis.c)];
}

export function fromLocal(basis: Basis, local: Vec3): Vec3 {
  return add(basis.origin, directionFromLocal(basis, local));
}

export function directionToLocal(basis: Basis, d: Vec3): Vec3 {
  return [dot(d, basis.a), dot(d, basis.b), dot(d, basis.c)];
}

export function directionFromLocal(basis: Basis, local: Vec3): Vec3 {
  const { a, b, c } = basis;
  const [p, q, r] = local;
  return [a[0] * p + b[0] * q + c[0] * r, a[1] * p + b[1] * q + c[1] * r, a[2] * p + b[2] * q + c[2] * r];
}
