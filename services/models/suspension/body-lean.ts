/**
 * What the lean of a body on its mounts takes of a gap: the body turns by a small α about a fore-and-aft axis on the centre line at the
 * height h of its mounts, so a point (y, z) of it moves by α·(−(z − h), y), and a gap with the unit direction n out of the tyre loses
 *
 *   α·|n_z·y − n_y·(z − h)|
 *
 * whichever way it leans; the arm is what α is multiplied by. Geometry, small angles; no published source.
 * Worked: straight above a tyre 0.8 m out, n = (0, 0, 1): arm 0.8 m, so 0.2° take 2.8 mm; beside it, n = (0, −1, 0), 0.4 m above
 * the mounts: arm 0.4 m, 1.4 mm.
 */
import type { Vec3 } from './vector.ts';

export const leanArm = (at: Vec3, normal: Vec3, mountHeight: number): number =>
  Math.abs(normal[2] * at[1] - normal[1] * (at[2] - mountHeight));

/** From the bottom of a frame rail to the mounts on it (common practice, no source; half as much more or less hardly shows). */
export const MOUNTS_ABOVE_FRAME = 0.15;
