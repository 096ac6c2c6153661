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
 * An obstacle straight behind the wheel, at the height of its hub, with the wheel turned by δ so that its outboard shoulder
 * faces it (its front turned outward), has β = δ: an outward shift carries the tyre e·sin δ rearward. At the other lock β = −δ,
 * and the inboard shoulder faces it. Above or below the hub |β| is less than δ. So where nobody noted the place of contact:
 *
 *   after = now − ΔR − (ΔW/2 + e)·sin δ     radius in full, shoulder and shift as at β = δ
 *
 * which is never more than the exact value at any β from 0 to δ as long as ΔR and ΔW/2 + e are not negative. A set that goes inboard
 * gains e·sin δ there, which holds for contact on the shoulder only: ask for the bounds where that matters.
 * Valid for |β| ≤ 90°, a rigid tyre, changes that are small against the tyre. Geometry; no published source.
 * Worked: 22 mm, ΔR 28, ΔW 40, e 15, δ 35° → 22 − 28 − 35·0.5736 = −26.1 mm; at β = 35° → 22 − 22.9 − 20.1 = −21.0 mm.
 */

export interface SetChange {
  readonly radiusGrowth: number;
  readonly widthGrowth: number;
  readonly outwardShift: number;
}

export interface GapChange extends SetChange {
  readonly now: number;
  readonly lockAngle: number;
}

/** The gap left where nobody noted the place of contact. */
export function gapAfterChange({ now, radiusGrowth, widthGrowth, outwardShift, lockAngle }: GapChange): number {
  return now - radiusGrowth - (widthGrowth / 2 + outwardShift) * Math.sin(lockAngle);
}

/** What the change takes of a gap in a contact direction. */
function taken({ radiusGrowth, widthGrowth, outwardShift }: SetChange, angle: number): number {
  const out = Math.sin(angle);
  return radiusGrowth * Math.cos(angle) + (widthGrowth / 2) * Math.abs(out) + outwardShift * out;
}

/** The gap left where the contact direction is known. */
export const gapAlong = (now: number, change: SetChange, contactAngle: number, trim = 0): number =>
  now - taken(change, contactAngle) + trim;

export interface GapBounds {
  readonly least: number;
  readonly most: number;
}

/**
 * The least and the most gap that is left if all that is known of the contact direction is that its angle is between two.
 * On either side of β = 0 the change takes A·cos β + B·sin β, which turns where tan β = B/A: ends, zero and turns are all there is to try.
 */
export function gapBounds(now: number, change: SetChange, from: number, to: number, trim = 0): GapBounds {
  const { radiusGrowth, widthGrowth, outwardShift } = change;
  const turns = [outwardShift + widthGrowth / 2, outwardShift - widthGrowth / 2].map((b) => Math.atan(b / radiusGrowth));
  const [low, high] = [Math.min(from, to), Math.max(from, to)];
  const gaps = [low, high, 0, ...turns].filter((angle) => angle >= low && angle <= high).map((angle) => gapAlong(now, change, angle, trim));
  return { least: Math.min(...gaps), most: Math.max(...gaps) };
}
