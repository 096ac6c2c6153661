/**
 * The band by root sum of squares: what each input does alone, squared, summed and rooted. Inputs of different statements are taken as
 * independent, but for those that were made to agree with readings together, whose share of each other is taken off (`half-widths.ts`).
 */
import { LOOSE, leftTogether, type Pin } from '../units/index.ts';

/**
 * Where each tolerance is what nineteen readings in twenty keep to, so is the band; it holds that where the number moves nearly in a straight
 * line with its inputs.
 */
export interface Rss {
  readonly low: number;
  readonly high: number;
  readonly nearLinear: boolean;
  /** Of what rests on inputs that were made to agree: what they leave as one input of something else. */
  readonly pin?: Pin;
}

/** What an input does alone at either end. */
export interface Single {
  readonly down: number;
  readonly up: number;
}

/** An input's own band by root sum of squares, as parts of its whole one; 1 for what was given. */
export interface Spread extends Single {
  readonly nearLinear: boolean;
  readonly pin: Pin;
}

interface Ends {
  readonly nominal: number;
  readonly low: number;
  readonly high: number;
}

/** How much of a band, by root sum of squares or whole, may be due to bends and to inputs that meddle for it to count as straight. */
const STRAIGHT_WITHIN = 0.1;

export function rssOf(spreads: readonly Spread[], singles: readonly Single[], { nominal, low, high }: Ends): Rss | undefined {
  if (!Number.isFinite(nominal + low + high)) return undefined;
  let [below, above, bends, alone] = [0, 0, 0, 0];
  let nearLinear = true;
  for (const [i, { down, up }] of singles.entries()) {
    const spread = spreads[i] as Spread;
    const [atDown, atUp] = [(down - nominal) * spread.down, (up - nominal) * spread.up];
    below += Math.min(0, atDown, atUp) ** 2;
    above += Math.max(0, atDown, atUp) ** 2;
    bends += Math.abs(atDown + atUp);
    alone += Math.abs(up - down);
    nearLinear &&= spread.nearLinear || up === down;
  }
  const half = (Math.sqrt(below) + Math.sqrt(above)) / 2;
  const meddled = Math.abs(high - low - alone);
  nearLinear &&= bends / 2 <= STRAIGHT_WITHIN * half && meddled <= STRAIGHT_WITHIN * (high - low);
  const pin = agreedOn(spreads, singles, nominal, half);
  const wider = pin ? pin.left : 1;
  return {
    low: Math.max(low, nominal - wider * Math.sqrt(below)),
    high: Math.min(high, nominal + wider * Math.sqrt(above)),
    nearLinear,
    ...(pin && { pin: pin.pin }),
  };
}

/** By what part of the band of independent inputs theirs is wide that agree with readings together; undefined where none does. */
function agreedOn(spreads: readonly Spread[], singles: readonly Single[], nominal: number, half: number) {
  if (!(half > 0) || spreads.every(({ pin }) => pin === LOOSE)) return undefined;
  const offs = singles.map(({ down, up }, i) => {
    const spread = spreads[i] as Spread;
    return { by: ((up - nominal) * spread.up - (down - nominal) * spread.down) / 2, pin: spread.pin };
  });
  const { loose, pinned, alongside, left } = leftTogether(offs);
  return { left: left / half, pin: { was: loose / left, pinned: pinned.map((p) => p / left), alongside: alongside.map((p) => p / left) } };
}

/** Of one value as an input of another. */
export function spreadOf({ nominal, low, high }: Ends, rss: Rss | undefined): Spread {
  const part = (by: number, whole: number): number => (whole > 0 ? Math.abs(by) / whole : 0);
  return {
    down: part(nominal - (rss?.low ?? low), nominal - low),
    up: part((rss?.high ?? high) - nominal, high - nominal),
    nearLinear: rss?.nearLinear ?? false,
    pin: rss?.pin ?? LOOSE,
  };
}
