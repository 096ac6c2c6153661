/**
 * The circle a vehicle turns in, from its wheelbase and the angle of its inner wheel at full lock.
 *
 *   outer wheel   cot δo = cot δi + t/L          (Ackermann; t between the steering axes, L the wheelbase)
 *   circle        D = 2·(L/sin δo + s) + w       to the outer edge of the outer front tyre: w its width, s how far its middle stands
 *                                                outside the steering axis at the ground
 *
 * At walking pace, with true Ackermann steering: real linkages come within some 5 %. Metres, radians; 0 < δi < 80°.
 * Geometry, in every textbook of vehicle dynamics. Worked: L 2.8, t 1.5, δi 30° → δo 23.795694°, D 13.88 m without the tyre's width.
 */
import { found, type Outcome, refused } from '../result.ts';

export interface Turning {
  readonly wheelbase: number;
  /** Between the steering axes. */
  readonly kingpins: number;
  /** Of the middle of the tyre from the steering axis at the ground, + outside; none unless said. */
  readonly outside?: number;
  readonly innerAngle: number;
  readonly tyreWidth: number;
}

const MOST = (80 * Math.PI) / 180;

export const outerAngle = ({ wheelbase, kingpins, innerAngle }: Omit<Turning, 'tyreWidth' | 'outside'>): number =>
  Math.atan(1 / (1 / Math.tan(innerAngle) + kingpins / wheelbase));

export function turningCircle(of: Turning): Outcome<number> {
  if (!(of.innerAngle > 0 && of.innerAngle < MOST)) return refused('a wheel at full lock is turned by more than 0 and less than 80°');
  return found((2 * of.wheelbase) / Math.sin(outerAngle(of)) + 2 * (of.outside ?? 0) + of.tyreWidth);
}
