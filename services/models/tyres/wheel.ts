/**
 * Where a wheel puts the tyre. Offset is from the rim's centre plane to the mounting face, positive when the face is
 * outboard of it (ISO 3911; from memory); backspacing is from the face to the inner flange's outer edge, half an inch wider
 * a side than the rim's nominal width.
 *
 *   backspacing = (rim width + 1 in)/2 + offset     (common practice; 9 in, +12 mm → 5.47 in)
 *   outboard = spacer − offset: the centre plane from the hub face; the sidewalls half the section width to each side of it
 *
 * Lengths in metres; outward is away from the vehicle's centre line and positive. Rigid wheel, camber left out: at a few degrees
 * it turns a shift by less than 1 %. Worked: offset 25 → 10 mm and a 25 mm spacer → 40 mm outward.
 */

import { type Arithmetic, NUMBERS } from '../../units/index.ts';

const FLANGES = 0.0254;

export const backspacingOf = (rimWidth: number, offset: number): number => (rimWidth + FLANGES) / 2 + offset;
export const offsetOf = (rimWidth: number, backspacing: number): number => backspacing - (rimWidth + FLANGES) / 2;

export interface WheelSet<N = number> {
  readonly offset: N;
  /** Spacers between hub and wheel, together. */
  readonly spacer: N;
}

/** How far the wheel's centre plane lies outboard of the hub face. */
const outboard = <N>(numbers: Arithmetic<N>, { offset, spacer }: WheelSet<N>): N => numbers.minus(spacer, offset);

/** How far the centre plane moves outward from one set to another. */
export const outwardShift = (from: WheelSet, to: WheelSet): number => outwardShiftIn(NUMBERS, from, to);
export const outwardShiftIn = <N>(numbers: Arithmetic<N>, from: WheelSet<N>, to: WheelSet<N>): N =>
  numbers.minus(outboard(numbers, to), outboard(numbers, from));
