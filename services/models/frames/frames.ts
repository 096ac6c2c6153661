/**
 * Frames that parts are fixed to, each standing on another, and how far one has been raised against another.
 *
 * A tree: the chassis on the axles, the body on the chassis. A raise lifts a frame, with all that stands on it, against
 * the frame it stands on. Metres, upward positive; tilt is left out. Kinematics; no source needed. Worked: a body raised 25 mm on a
 * chassis raised 50 mm on its axles has moved 25 mm against the chassis and 75 mm against the ground.
 */
import { found, type Outcome, refused } from '../result.ts';

export type FrameTree = ReadonlyMap<string, string | undefined>;

export interface Raise {
  readonly frame: string;
  readonly by: number;
}

/** How far each frame has been raised against the ground of the tree. */
function raisedBy(frame: string, tree: FrameTree, raises: readonly Raise[]): number {
  let total = 0;
  const seen = new Set<string>();
  for (let at: string | undefined = frame; at !== undefined && !seen.has(at); at = tree.get(at)) {
    seen.add(at);
    for (const raise of raises) if (raise.frame === at) total += raise.by;
  }
  return total;
}

/** How far the second frame has moved up against the first. */
export const shiftBetween = (first: string, second: string, tree: FrameTree, raises: readonly Raise[]): number =>
  raisedBy(second, tree, raises) - raisedBy(first, tree, raises);

/** To the first order, what a raise pulls a slip joint apart by, the shaft at that angle from the upright: a little less than it really is. */
export const slipPulledApart = (raise: number, shaftFromUpright: number): number => raise * Math.cos(shaftFromUpright);

/**
 * What a steering shaft's slip joint really loses in engagement when its upper end is raised: a shaft of length L leaning φ from
 * the upright spans √((L cos φ + h)² + (L sin φ)²) afterwards. Never more than the raise itself (triangle inequality), never less
 * than h·cos φ. Metres, radians; both ends' joints stay where they are on their frames. 600 mm, 60°, 75 mm → 40.8 mm (h·cos φ: 37.5).
 */
export function engagementLost(raise: number, length: number, shaftFromUpright: number): Outcome<number> {
  if (!(length > 0)) return refused('a steering shaft has a length above zero');
  if (!(Math.abs(shaftFromUpright) <= Math.PI / 2)) return refused('a steering shaft leans at most 90° from the upright');
  return found(Math.hypot(length * Math.cos(shaftFromUpright) + raise, length * Math.sin(shaftFromUpright)) - length);
}
