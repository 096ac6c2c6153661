/**
 * Where a wheel puts the tyre. Offset is from the rim's centre plane to the mounting face, positive when the face is
 * outboard of it (ISO 3911); backspacing is from the face to the inner flange's outer edge, half an inch wider a side
 * than the rim's nominal width.
 *
 *   backspacing = (rim width + 1 in)/2 + offset     (common practice; 9 in, +12 mm → 5.47 in)
 *
 * Lengths in metres; outward is away from the vehicle's centre line.
 */

const FLANGES = 0.0254;

export const backspacingOf = (rimWidth: number, offset: number): number => (rimWidth + FLANGES) / 2 + offset;
export const offsetOf = (rimWidth: number, backspacing: number): number => backspacing - (rimWidth + FLANGES) / 2;

export interface WheelSet {
  readonly offset: number;
  /** Spacers between hub and wheel, together. */
  readonly spacer: number;
}

/** How far the wheel's centre plane lies outboard of the hub face. */
const outboard = ({ offset, spacer }: WheelSet): number => spacer - offset;

/** How far the centre plane moves outward from one set to another. */
export const outwardShift = (from: WheelSet, to: WheelSet): number => outboard(to) - outboard(from);
