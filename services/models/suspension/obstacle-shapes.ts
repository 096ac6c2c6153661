/** An obstacle as points, segments and triangles: sampled, moved, and its place nearest to a tyre. */
import type { Obstacle } from './geometry.ts';
import { leastOnSegments, type Nearest, nearestOnSegment, nearestOnTriangle, type Profile, tyreDistance } from './tyre-shape.ts';
import { distance, type Vec3 } from './vector.ts';

/** One, two or three corners. */
export type Shape = readonly Vec3[];

/** Points, segments and triangles. */
export function shapesOf(o: Obstacle): Shape[] {
  const shapes: Shape[] = [];
  for (const line of o.lines) {
    if (line.length === 1) shapes.push(line);
    for (let i = 1; i < line.length; i++) shapes.push([line[i - 1]!, line[i]!]);
  }
  for (const patch of o.patches) for (let i = 2; i < patch.length; i++) shapes.push([patch[0]!, patch[i - 1]!, patch[i]!]);
  return shapes;
}

/** The same for asking often: points and segments as rows of numbers (`leastOnSegments`). */
export interface Pieces {
  readonly segments: Float64Array;
  readonly triangles: readonly Shape[];
}

export function piecesOf(shapes: readonly Shape[]): Pieces {
  const [segments, triangles] = [shapes.filter((shape) => shape.length < 3), shapes.filter((shape) => shape.length === 3)];
  return { segments: Float64Array.from(segments.flatMap(([a, b]) => [...a!, ...(b ?? a!)])), triangles };
}

/** Least signed distance of any piece from the tyre at `place`, or `atMost` if none comes nearer. */
export function leastToPieces(profile: Profile, place: Float64Array, { segments, triangles }: Pieces, atMost: number): number {
  let least = leastOnSegments(profile, place, segments, atMost);
  if (triangles.length === 0) return least;
  const { centre, axis } = asVectors(place);
  for (const triangle of triangles) least = Math.min(least, nearest(profile, centre, axis, triangle).distance);
  return least;
}

/** x, y, z in a row, no further apart than `spacing` along any edge or row. */
export function samplePoints(shapes: readonly Shape[], spacing: number): Float64Array {
  const out: number[] = [];
  for (const [a, b, c] of shapes) {
    if (!b) out.push(...a!);
    else if (!c) sampleSegment(a!, b, spacing, out);
    else {
      const rows = Math.max(1, Math.ceil(Math.max(distance(a!, b), distance(a!, c)) / spacing));
      for (let i = 0; i <= rows; i++) sampleSegment(between(a!, b, i / rows), between(a!, c, i / rows), spacing, out);
    }
  }
  return Float64Array.from(out);
}

function between(a: Vec3, b: Vec3, t: number): Vec3 {
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])];
}

function sampleSegment(a: Vec3, b: Vec3, spacing: number, out: number[]): void {
  const steps = Math.max(1, Math.ceil(distance(a, b) / spacing));
  for (let i = 0; i <= steps; i++) out.push(...between(a, b, i / steps));
}

/** Where a piece is nearest to the tyre at one place. */
export function nearest(profile: Profile, centre: Vec3, axis: Vec3, [a, b, c]: Shape): Nearest {
  if (c) return nearestOnTriangle(profile, centre, axis, a!, b!, c);
  if (b) return nearestOnSegment(profile, centre, axis, a!, b);
  return { distance: tyreDistance(profile, centre, axis, a!), point: a! };
}

/** Centre and axis out of the six numbers of a place. */
export function asVectors(place: Float64Array): { centre: Vec3; axis: Vec3 } {
  return { centre: [place[0]!, place[1]!, place[2]!], axis: [place[3]!, place[4]!, place[5]!] };
}
