/**
 * Which readings belong together: for each open finding those that take most of its doubt for their minutes, as many of them as
 * are worth it by what all findings are expected to gain. Nothing is asked again for it: the shares of doubt tell what readings leave open.
 */
import type { Spread } from './chance.ts';
import type { OpenFinding } from './trial-readings.ts';

/** What can be read, as far as a choice hangs on it. */
export interface Readable {
  readonly slots: readonly number[];
  /** Of the position it is read in, and what it takes to get there. */
  readonly position: { readonly id: string; readonly minutes: number };
  readonly end: string;
  /** Its own, in its position. */
  readonly minutes: number;
  /** Findings that cannot be told without it. */
  readonly tells: ReadonlySet<OpenFinding>;
  /** Findings whose doubt it takes away. */
  readonly reaches: ReadonlySet<OpenFinding>;
  /** All it would stand in for. */
  readonly below: ReadonlySet<number>;
  /** What part of its own doubt is left by a reading of usual accuracy. */
  readonly kept: number;
}

/** Readings together are worth taking if they are expected to settle this much of a finding. */
const LEAST_GAIN = 0.01;
/** A finding that is settled this surely is asked no more of. */
const SURE = 0.95;
/** Of one finding; past these a reading has a few hundredths of the doubt. */
const MOST_TOGETHER = 12;
const SAFETY_COUNTS = 2;

export const standOf = ({ position, end }: Pick<Readable, 'position' | 'end'>): string => `${position.id} ${end}`;

/** The readings that settle most for their minutes, the most telling first; none where no set of them is worth it. */
export function bestSet<T extends Readable>(
  readable: readonly T[],
  findings: readonly OpenFinding[],
  stands: ReadonlySet<string>,
  onlyIfLikely: boolean,
): readonly T[] | undefined {
  let best: { readonly set: readonly T[]; readonly worth: number } | undefined;
  for (const finding of findings.filter(({ chance }) => chance < SURE)) {
    const order = finding.isUnknown ? telling(readable, finding) : byDoubt(readable, finding, stands);
    for (let n = 1; n <= order.length; n++) {
      // Half of what is missing tells nothing.
      if (finding.isUnknown && n < order.length) continue;
      const set = order.slice(0, n);
      const gain = findings.reduce((sum, each) => sum + weightOf(each) * gainOf(set, each, onlyIfLikely), 0);
      const worth = gain / Math.max(1, minutesOf(set, stands));
      if (gain > LEAST_GAIN && (best === undefined || worth > best.worth * (1 + 1e-9))) best = { set, worth };
    }
  }
  return best?.set;
}

const weightOf = ({ group }: OpenFinding): number => (group.evaluations[0].rule.hazard === 'safety' ? SAFETY_COUNTS : 1);

function minutesOf(set: readonly Readable[], stands: ReadonlySet<string>): number {
  const taken = new Set(stands);
  return set.reduce((sum, one) => {
    const there = taken.has(standOf(one)) ? 0 : one.position.minutes;
    taken.add(standOf(one));
    return sum + one.minutes + there;
  }, 0);
}

const firstSlot = ({ slots }: Readable): number => slots[0] as number;

const telling = <T extends Readable>(readable: readonly T[], finding: OpenFinding): T[] =>
  readable.filter(({ tells, slots }) => tells.has(finding) && slots.some((slot) => finding.missing.has(slot))).sort(cheapFirst);

const cheapFirst = (a: Readable, b: Readable): number => a.minutes - b.minutes || firstSlot(a) - firstSlot(b);

/** One after another what takes most of the doubt that is left for its minutes. */
function byDoubt<T extends Readable>(readable: readonly T[], finding: OpenFinding, stands: ReadonlySet<string>): T[] {
  const left = readable.filter(({ reaches }) => reaches.has(finding));
  const order: T[] = [];
  const doubt = new Doubt(finding);
  while (left.length > 0 && order.length < MOST_TOGETHER) {
    const here = new Set([...stands, ...order.map(standOf)]);
    const scored = left.map((one) => ({ one, score: doubt.takenBy(one) / Math.max(1, minutesOf([one], here)) }));
    scored.sort((a, b) => b.score - a.score || firstSlot(a.one) - firstSlot(b.one));
    const [next] = scored;
    if (!next || next.score <= 0) break;
    doubt.take(next.one);
    order.push(next.one);
    left.splice(left.indexOf(next.one), 1);
  }
  return order;
}

/** By how much a set is expected to raise the chance that a finding is settled. */
function gainOf(set: readonly Readable[], finding: OpenFinding, onlyIfLikely: boolean): number {
  if (finding.isUnknown) {
    const missing = [...finding.missing];
    return missing.length > 0 && missing.every((slot) => set.some(({ slots }) => slots.includes(slot))) ? 1 : 0;
  }
  const reaching = set.filter(({ reaches }) => reaches.has(finding));
  if (reaching.length === 0 || finding.chance >= SURE) return 0;
  const doubt = new Doubt(finding);
  for (const one of reaching) doubt.take(one);
  const [before, after] = [finding.chance, finding.chanceWith(doubt.left())];
  return onlyIfLikely && (before >= LIKELY || after < LIKELY) ? 0 : Math.max(0, after - before);
}

/** Settled more likely than not. With the planned parts on, only what makes it so is read. */
export const LIKELY = 0.5;

/** The shares of a finding's doubt, and what readings leave of each. */
class Doubt {
  readonly #shares: Map<number, number>;
  readonly #finding: OpenFinding;
  readonly #squares: number;
  readonly #whole: number;

  constructor(finding: OpenFinding) {
    this.#finding = finding;
    this.#shares = new Map((finding.now.controlling?.doubt ?? []).map(({ slot, share }) => [slot, share]));
    this.#whole = this.#sum((share) => share);
    this.#squares = this.#sum((share) => share ** 2);
  }

  takenBy({ below, kept }: Readable): number {
    let sum = 0;
    for (const [slot, share] of this.#shares) if (below.has(slot)) sum += share;
    return sum * (1 - kept);
  }

  take({ below, kept }: Readable): void {
    for (const [slot, share] of this.#shares) if (below.has(slot)) this.#shares.set(slot, share * kept);
  }

  left(): Spread {
    const { worst, rss } = this.#finding.left;
    const part = this.#whole > 0 ? this.#sum((share) => share) / this.#whole : 1;
    const squares = this.#squares > 0 ? this.#sum((share) => share ** 2) / this.#squares : 1;
    return { worst: worst * part, rss: rss * Math.sqrt(squares) };
  }

  #sum(of: (share: number) => number): number {
    let sum = 0;
    for (const share of this.#shares.values()) sum += of(share);
    return sum;
  }
}
