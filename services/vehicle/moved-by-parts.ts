/** What a number of the front's case becomes as what is stated of its parts is moved within its tolerance. */
import type { Ask } from '../engine/values.ts';
import type { HalfWidths } from '../units/index.ts';
import type { FrontCase, PartInput } from './front-corner.ts';

/** A number of the case as what is stated of its parts then is: by how much it lies elsewhere, and how far the drawing leaves it open there. */
interface Moved {
  readonly by: number;
  readonly off: HalfWidths;
}

/** Of one number of the case: what either end of an input makes of it. */
interface Leverage {
  readonly input: PartInput;
  readonly ends: readonly [Moved, Moved];
}

/** Taken by less than this part of what the drawing leaves open, it is left as open as it was. */
const HARDLY = 0.25;

/** Less than that is nothing: metres, radians. */
const NOTHING = 1e-9;

/**
 * What a number of the case is with what is stated of its parts moved: each by itself, in a straight line from what it is to
 * either end. Ends are asked with nothing else moved, once for each `key`; what does not move the number is no input of it.
 * The drawing may leave more open at an end than in the middle, and is asked there too.
 */
export class MovedByParts {
  readonly #known = new Map<string, readonly Leverage[]>();

  at(ask: Ask, front: FrontCase, key: string, off: HalfWidths, of: (end: FrontCase) => number, offAt = (_: FrontCase) => off): Moved {
    let all = this.#known.get(key);
    if (!all) {
      all = front.inputs.flatMap((input) => leverageOf(input, of(front), off, of, offAt));
      this.#known.set(key, all);
    }
    let moved: Moved = { by: 0, off };
    for (const { input, ends } of all) {
      const part = (ask.sloped(input.name, input.subject) - input.value) / input.halfWidth;
      if (part === 0) continue;
      const [share, end] = [Math.abs(part), ends[part < 0 ? 0 : 1]];
      const wider = { worst: share * end.off.worst, rss: share * end.off.rss };
      moved = {
        by: moved.by + share * end.by,
        off: { worst: moved.off.worst + (wider.worst || 0), rss: moved.off.rss + (wider.rss || 0) },
      };
    }
    return moved;
  }
}

function leverageOf(
  input: PartInput,
  nominal: number,
  off: HalfWidths,
  of: (end: FrontCase) => number,
  offAt: (end: FrontCase) => HalfWidths,
): Leverage[] {
  const ends = [input.down(), input.up()].map((end): Moved => {
    const by = end.ok ? of(end.value) - nominal : Number.NaN;
    const there = end.ok && Math.abs(by) > HARDLY * off.rss ? offAt(end.value) : off;
    return { by, off: { worst: Math.max(0, there.worst - off.worst), rss: Math.max(0, there.rss - off.rss) } };
  }) as [Moved, Moved];
  return ends.every(({ by }) => Math.abs(by) <= NOTHING) ? [] : [{ input, ends }];
}
