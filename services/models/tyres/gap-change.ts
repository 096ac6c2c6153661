/**
 * The gap between tyre and an obstacle behind the wheel after a change of tyre and wheel, from the gap that is there now.
 *
 *   after = now − ΔR − (ΔW/2 + e)·sin δ
 *
 * now: least gap measured at bump and worst lock; ΔR: growth of the tyre's radius; ΔW: growth of its width; e: outward
 * shift of the wheel's centre plane; δ: road-wheel angle at that lock. Metres, radians; growth and outward are positive.
 *
 * Assumes contact on the tread or its shoulder near the height of the hub, so that growth counts in full (the most it can
 * do), and the lock at which an outward shift carries the tyre rearward (the reverse lock; about e·sin δ). The shoulder of
 * a wider tyre moves like a shift of half the growth. A narrower or more inboard set gains no more than it would lose.
 * Worked: 22 mm, ΔR 28, ΔW 40, e 15, δ 35° → 22 − 28 − 35·0.5736 = −26.1 mm. Trigonometry; no published source.
 */
export interface GapChange {
  readonly now: number;
  readonly radiusGrowth: number;
  readonly widthGrowth: number;
  readonly outwardShift: number;
  readonly lockAngle: number;
}

export function gapAfterChange({ now, radiusGrowth, widthGrowth, outwardShift, lockAngle }: GapChange): number {
  return now - radiusGrowth - (widthGrowth / 2 + outwardShift) * Math.sin(lockAngle);
}
