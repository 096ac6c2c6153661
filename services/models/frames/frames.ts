/**
 * Frames that parts are fixed to, each standing on another, and how far one has been raised against another.
 *
 * A tree: the chassis on the axles, the body on the chassis. A raise lifts a frame, with all that stands on it, against
 * the frame it stands on. Metres, upward positive; tilt is left out. Kinematics; no source needed. Worked: a body raised 25 mm on a
 * chassis raised 50 mm on its axles has moved 25 mm against the chassis and 75 mm against the ground.
 */
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
