/**
 * The gap between tyre and an obstacle after a change of tyre and wheel, from the gap that is there now.
 *
 * The tyre is a cylinder about the wheel's axis. The contact direction n points from the tyre to the obstacle where they come
 * nearest; β is its angle out of the wheel's centre plane, positive towards the outboard sidewall (0 on the tread, 90° on the
 * outboard face). Along n the tyre grows by its support function, and the wheel comes nearer by its shift along its axis:
 *
 *   after = now − ΔR·cos β − (ΔW/2)·|sin β| − e·sin β + trim
 *
 * now: least gap, at the suspension and steering it was measured at; ΔR: growth of the tyre's radius; ΔW: growth of its width;
 * e: outward shift of the wheel's centre plane; trim: taken off the obstacle along n. Metres, radians; growth and outward are
 * positive. For any n between two convex bodies the gap is at least their distance along n, so with the n there was before the
 * value is a lower bound, and exact to the first order: a tyre that now comes nearest elsewhere is never nearer than that.
 *
 * Valid for |β| ≤ 90°, a rigid tyre, changes that are small against the tyre. Geometry; no published source.
 * Worked: 22 mm, ΔR 28, ΔW 40, e 15, β 35° → 22 − 22.9 − 20.1 = −21.0 mm.
 */

export interface SetChange {
  readonly radiusGrowth: number;
  readonly widthGrowth: number;
  readonly outwardShift: number;
}

/** What the change takes of a gap in a contact direction. */
function taken({ radiusGrowth, widthGrowth, outwardShift }: SetChange, angle: number): number {
  const out = Math.sin(angle);
  return radiusGrowth * Math.cos(angle) + (widthGrowth / 2) * Math.abs(out) + outwardShift * out;
}

/** The gap left where the contact direction is known. */
export const gapAlong = (now: number, change: SetChange, contactAngle: number, trim = 0): number =>
  now - taken(change, contactAngle) + trim;
