/**
 * The least gap between tyre and an obstacle over the whole travel of the wheel, from the gap that is there at ride height: what it is at
 * least, to the first order; of what lies round the tyre, from what any of its places leaves to that.
 *
 * n is the direction from the tyre to the obstacle where they come nearest at ride height: φ is its angle above the level of the hub in the plane of
 * the wheel (0 straight ahead or behind, 90° straight above), β its angle out of that plane. For two convex bodies the gap anywhere is at least their
 * distance along n, and moving the tyre up by z takes z·sin φ·cos β of that. Between hanging, −d, and hard up, z:
 *
 *   least ≥ ride − max(z·sin φ·cos β, −d·sin φ·cos β, 0)
 *
 * What lies round the tyre, as a liner, an arch or a lip does, has much the same gap over many directions, and is nearest elsewhere once the wheel has
 * moved. Of that no more is known than that no gap shrinks by more than the wheel moves (triangle inequality), whichever of its places it is. It lies
 * round half of the tyre at most, a quarter turn to either side of the place that was nearest, so that of the way down d·cos φ is left for its lowest
 * one (all of d where φ < 0):
 *
 *   least ≥ ride − max(z, d·cos φ)
 *
 * Travel up to the bump stop, and what of the stop the wheel can still press:
 *
 *   z = stop gap · i + share · free height · i
 *
 * i: travel of the wheel for a millimetre at the stop; share: how far a rubber stop is pressed hard up, about half of its free
 * height (common practice, no source; ±15 % of the height). Where φ is not known it is anything from 0 to 90°: then the gap at
 * ride height settles ride height alone, and bump stays open. Metres, radians. Geometry; no published source.
 * Worked: 40 mm at ride, φ 30°, 70 mm up to hard on the stop: 40 − 35 = 5 mm at least; straight above: −30 mm; straight behind: 40 mm; with
 * β 60° at φ 30°: 40 − 17.5 = 22.5 mm. A liner 40 mm off from 0 to 45° up, nearest at 0: 40 − 70 to 40 mm (a point of it 45° up has 40 − 49.5 = −9.5 mm).
 */

export interface AtRide {
  /** Least gap at ride height. */
  readonly gap: number;
  /** φ. */
  readonly rise: number;
  /** Travel left up and down from ride height; not negative. */
  readonly up: number;
  readonly down: number;
}

export interface AtPlace extends AtRide {
  /** β, out of the wheel's centre plane; NaN where it is not known. */
  readonly angle: number;
  /** Of the tyre. */
  readonly radius: number;
}

/** Of two convex bodies, the place that is nearest at ride height being one of them. */
export function leastOverTravel({ gap, rise, up, down, angle }: Omit<AtPlace, 'radius'>): number {
  const along = Math.sin(rise) * (Number.isNaN(angle) ? 1 : Math.cos(angle));
  return gap - Math.max(0, up * along, -down * along);
}

/**
 * Of what lies round the tyre: the middle between the least of all its places, and what is at least left at the one that was nearest, taken to be in
 * the plane of the wheel; and how far it is from either.
 */
export function leastAllRound(at: AtRide): { readonly middle: number; readonly within: number } {
  const lowest = at.rise > 0 ? Math.cos(at.rise) : 1;
  const [least, most] = [at.gap - Math.max(at.up, at.down * lowest), leastOverTravel({ ...at, angle: 0 })];
  return { middle: (least + most) / 2, within: (most - least) / 2 };
}

/** Of the tyre's radius, that of a disc which is inside it and touches it where they are nearest, on the tread or on a wall. */
const DISC = 0.75;

/**
 * What the least gap cannot be more than: what is left to the one place that was nearest, wherever others are. The wheel passes under it by
 * z at most; a disc inside the tyre is so far from it then, in the wheel's plane and across it. Not the first order alone, so a limit.
 */
export function mostOverTravel({ gap, rise, up, down, angle, radius }: AtPlace): number {
  if (!(gap > 0)) return gap;
  const out = DISC * radius + gap * Math.cos(angle);
  const moved = Math.min(up, Math.max(-down, out * Math.sin(rise)));
  const left = Math.hypot(out * Math.cos(rise), out * Math.sin(rise) - moved) - DISC * radius;
  return Math.hypot(Math.max(0, left), gap * Math.sin(angle));
}

export interface BumpStop {
  readonly gap: number;
  readonly freeHeight: number;
  /** Travel of the wheel for one at the stop. */
  readonly ratio: number;
}

export const PRESSED_SHARE = { value: 0.5, plusMinus: 0.15 } as const;

/** Travel from ride height to where the stop is pressed hard. */
export const travelToHard = ({ gap, freeHeight, ratio }: BumpStop): number => ratio * (gap + PRESSED_SHARE.value * freeHeight);

/** By how much that may be off for how far the stop can be pressed. */
export const pressedWithin = ({ freeHeight, ratio }: Pick<BumpStop, 'freeHeight' | 'ratio'>): number =>
  ratio * PRESSED_SHARE.plusMinus * freeHeight;
