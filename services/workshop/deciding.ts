/**
 * What would settle a finding: the readings that take most of its doubt, what all that can be read leaves of it, and how likely that settles it.
 * What is read as exactly as its tool reads, and what nobody can read, stays. Nothing is asked again for it: the shares of the doubt tell.
 */
import type { AtomResult, Evaluation } from '../engine/evaluate.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { DecidingReading, Remaining } from './answer.ts';
import { chanceSettled } from './chance.ts';
import { joinWords, lowerFirst, nameSubjects } from './describe.ts';
import { LIKELY } from './reading-sets.ts';
import { valueId } from './values-out.ts';

export interface Deciding {
  /** The largest share of the doubt first. */
  readonly readings: readonly DecidingReading[];
  /** Of each of them what it is a reading of. */
  readonly slots: readonly number[];
  /** What most of that is of which is left. */
  readonly remains: readonly Remaining[];
  /** Half-width that is left of the margin, SI. */
  readonly leaves: number;
  /** That all of it settles the finding. */
  readonly chance: number;
}

/** Readings are named until they cause this much of the doubt together, and no more than that many. */
const ENOUGH = 0.8;
const MOST_NAMED = 3;
const LEAST_NAMED = 0.05;
/** Read again it would tell nothing more: what is left of it is what its tool leaves. */
const TAKEN = 0.8;

export function decidingOf({ controlling, reads }: Evaluation, world: VehicleWorld): Deciding {
  const [byReading, remaining] = [new Map<number, number>(), new Map<number, number>()];
  const add = (to: Map<number, number>, slot: number, share: number) => to.set(slot, (to.get(slot) ?? 0) + share);
  const below = world.values.below(reads);
  let [whole, left, squares, squaresLeft] = [0, 0, 0, 0];
  for (const { slot, share } of controlling?.doubt ?? []) {
    const read = readingOf(slot, below, world);
    const kept = read === undefined ? 1 : keptOf(read, world);
    [whole, left] = [whole + share, left + share * kept];
    [squares, squaresLeft] = [squares + share ** 2, squaresLeft + (share * kept) ** 2];
    if (read !== undefined && kept < TAKEN) add(byReading, read, share);
    add(remaining, read ?? slot, share * kept);
  }
  const told = controlling
    ? leaving(controlling, whole > 0 ? left / whole : 1, squares > 0 ? Math.sqrt(squaresLeft / squares) : 1)
    : NOTHING;
  const needed = neededOf(byReading);
  return { readings: named(needed, world), slots: needed.map(([slot]) => slot), remains: remains(remaining, left, world), ...told };
}

/** The most of what is left: what is read as exactly as its tool reads, and what nobody reads. */
function remains(remaining: ReadonlyMap<number, number>, left: number, world: VehicleWorld): Remaining[] {
  const ranked = [...remaining].sort(([a, x], [b, y]) => y - x || a - b).slice(0, MOST_NAMED);
  return ranked
    .map(([slot, part]) => ({ slot, share: left > 0 ? part / left : 0 }))
    .filter(({ share }) => share >= LEAST_NAMED)
    .map(({ slot, share }) => ({
      ...nameOf(slot, world),
      share: rounded(share),
      can_be_read: world.values.node(slot).signature?.measure !== undefined,
    }));
}

const rounded = (share: number): number => Math.round(share * 1000) / 1000;

const NOTHING = { leaves: Number.NaN, chance: 0 };

function leaving({ low, high, rss }: AtomResult, part: number, rootPart: number): Pick<Deciding, 'leaves' | 'chance'> {
  const worst = (high - low) / 2;
  const root = rss ? (rss.high - rss.low) / 2 : worst;
  const leaves = worst * part;
  return { leaves, chance: chanceSettled((low + high) / 2, { worst, rss: root }, { worst: leaves, rss: root * rootPart }) };
}

function neededOf(byReading: ReadonlyMap<number, number>): (readonly [number, number])[] {
  const ranked = [...byReading].sort(([a, x], [b, y]) => y - x || a - b).filter(([, share]) => share >= LEAST_NAMED);
  let told = 0;
  return ranked.filter(([, share], i) => {
    const isNeeded = i < MOST_NAMED && told < ENOUGH;
    told += share;
    return isNeeded;
  });
}

const named = (needed: readonly (readonly [number, number])[], world: VehicleWorld): DecidingReading[] =>
  needed.map(([slot, share]) => ({ ...nameOf(slot, world), share: rounded(share) }));

function nameOf(slot: number, world: VehicleWorld) {
  const { name, subjects, signature } = world.values.node(slot);
  // One input at both sides is read at both.
  const groups = new Set(subjects.map((subject) => world.partOf(subject)?.group));
  const alike = world.present.filter(({ group }) => groups.has(group)).map(({ subject }) => subject);
  return {
    id: valueId(slot, world),
    title: signature?.title ?? name,
    subject: nameSubjects([...subjects, ...alike], world) || 'the vehicle',
  };
}

/** The value itself if a person can read it, or the nearest that it goes into and that one can. */
function readingOf(slot: number, below: ReadonlySet<number>, { values }: VehicleWorld): number | undefined {
  const seen = new Set([slot]);
  for (const at of seen) {
    if (values.node(at).signature?.measure) return at;
    for (const dependent of values.node(at).dependents) if (below.has(dependent)) seen.add(dependent);
  }
  return undefined;
}

/** What part of its own doubt a reading of usual accuracy leaves; what is computed is far from it as long as a default goes into it. */
function keptOf(slot: number, world: VehicleWorld): number {
  const { values, bands } = world;
  const { chosen, signature } = values.node(slot);
  const accuracy = signature?.measure?.accuracy ?? 0;
  if (chosen !== 'computed') return partOf(accuracy, values.toleranceOf(slot));
  if (restsOnDefaults(slot, world)) return 0;
  const { low, high } = bands.of(slot);
  return partOf(accuracy, (high - low) / 2);
}

const partOf = (accuracy: number, open: number): number => (open > 0 ? Math.min(1, accuracy / open) : 1);

const DEFAULTS: ReadonlySet<string> = new Set(['class-default', 'typical']);

/** A default itself, or something that a default goes into and leaves open, be it folded into a model's error. */
export function restsOnDefaults(slot: number, { values }: VehicleWorld, below: readonly number[] = [slot]): boolean {
  const { chosen } = values.node(slot);
  if (chosen !== 'computed') return chosen !== undefined && DEFAULTS.has(chosen.rank);
  return values.givensOf(below, { folded: true }).some((given) => {
    const { chosen: stated } = values.node(given);
    return stated !== undefined && stated !== 'computed' && DEFAULTS.has(stated.rank) && stated.plusMinus > 0;
  });
}

const COUNTED: Readonly<Record<number, string>> = { 1: 'this reading', 2: 'these two readings', 3: 'these three readings' };

/** What readings must cause of the doubt together to be said to decide. */
const DECIDES = 0.5;

/** The ids of what is on the list of what to measure; absent where the list was cut short, or there is none. */
export type Listed = ReadonlySet<string> | undefined;

/** The readings in words; nothing where none is known that would help. Those decide that are asked for: others would. */
export function decideText(decide: readonly DecidingReading[], listed?: Listed, mayStayOpen = false): string {
  if (decide.length === 0) return '';
  const readings = decide.map(
    ({ title, subject, share }) => `${lowerFirst(title)} of ${subject} (${Math.round(100 * share)} % of the doubt)`,
  );
  const s = decide.length === 1 ? 's' : '';
  const together = decide.reduce((sum, { share }) => sum + share, 0);
  const verb = mayStayOpen
    ? `narrow${s} it`
    : together >= DECIDES
      ? areListed(decide, listed)
        ? `decide${s}`
        : 'would settle it'
      : `narrow${s} it, and none decides`;
  return `${COUNTED[decide.length]} ${verb}: ${joinWords(readings)}`;
}

const areListed = (decide: readonly DecidingReading[], listed: Listed): boolean =>
  listed === undefined || decide.every(({ id }) => listed.has(id));

/** What settles one that is too close to call, and what is to be done where readings do not. */
export function settlingText(
  { readings, remains: open, leaves, chance }: Deciding,
  amount: (si: number) => string,
  canBeSeen: boolean,
  listed?: Listed,
): string {
  const mayStayOpen = chance < LIKELY;
  const first = decideText(readings, listed, mayStayOpen);
  if (!mayStayOpen) return first;
  const taken = `${canBeSeen ? 'until it is fitted and looked at, ' : ''}take the worse end as true`;
  const width = Number.isFinite(leaves) ? `± ${amount(leaves)}` : 'too much';
  if (first === '') return [`no reading settles it: ${width} is left`, ...remainsText(open), taken].join('; ');
  return `${first}; all that can be read leaves ${width}, which may not settle it: ${taken} then`;
}

function remainsText(open: readonly Remaining[]): string[] {
  const told = (which: boolean, what: string): string[] => {
    const those = open.filter(({ can_be_read }) => can_be_read === which).map(({ title, subject }) => `${lowerFirst(title)} of ${subject}`);
    return those.length === 0 ? [] : [`${what} ${joinWords(those)}`];
  };
  return [...told(true, 'read as closely as its tool reads:'), ...told(false, 'read by nobody with a tape:')];
}
