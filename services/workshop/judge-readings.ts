/**
 * Readings judged before a fit moves anything by them: those that contradict each other, which no fit can agree with, and those that no
 * vehicle of the class could show. What is judged here holds for the verdicts too: a reading that a fit leaves out settles none.
 */
import { cannotAllBe, fewestApart } from '../models/fit/cannot-all-be.ts';
import { allowedBy, type Interval, type Row } from '../models/fit/what-readings-allow.ts';
import type { RequestFault } from '../vehicle/request.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import { contestedSlots, disagreementAt, passedBounds, spoken } from './contradictions.ts';
import { nameSubjects } from './describe.ts';
import { type System, show } from './show.ts';
import { besides } from './taken-readings.ts';

/** A slot of one of the worlds a fit asks. */
export interface Place {
  readonly world: VehicleWorld;
  readonly slot: number;
}

/** What moves together: the slots of one statement. */
export type Parameter = readonly Place[];

export interface ReadValue extends Place {
  readonly value: number;
  readonly plusMinus: number;
}

/** A reading of something that is computed too, and the node that has only what is computed. */
export interface Observed extends ReadValue {
  readonly twin: number;
  /** Its place among all of them. */
  readonly index: number;
  /** Parameters it hangs on. */
  readonly on: ReadonlySet<number>;
}

/** Readings as straight lines, and between which bounds what they hang on lies. */
export interface Lines {
  readonly rows: readonly Row[];
  readonly box: readonly Interval[];
}

/** Two readings of one value, or of values that bound each other, which cannot both be true whatever is computed. */
export function plainlyApart(world: VehicleWorld): readonly ReadValue[] | undefined {
  for (const slot of contestedSlots(world).keys()) {
    const pair = disagreementAt(slot, world)?.pair;
    if (pair?.every(({ from }) => from === 'measured')) return pair.map(({ candidate }) => ({ world, slot, ...candidate }));
  }
  for (const { slot, others } of passedBounds(world)) {
    const all = [slot, ...others].flatMap((at) => readAt({ world, slot: at }) ?? []);
    if (all.length === others.length + 1) return all;
  }
  return undefined;
}

function readAt({ world, slot }: Place): ReadValue | undefined {
  const said = spoken(world.values.node(slot));
  return said?.rank === 'measured' ? { world, slot, value: said.value, plusMinus: said.plusMinus } : undefined;
}

/** Those that no vehicle of the class could show, whatever else was read of it. */
export function outsideClass<Of extends Observed>(observed: readonly Of[], parameters: readonly Parameter[], lines: Lines): Of[] {
  const { box } = withReadings(parameters, lines);
  return observed.filter(({ index }) => !allowedBy([lines.rows[index] as Row], box));
}

/** The fewest readings that cannot all be true of one vehicle, within all that its class and what was stated leave open. */
export function fewestReadingsApart(
  observed: readonly Observed[],
  parameters: readonly Parameter[],
  lines: Lines,
): readonly ReadValue[] | undefined {
  const own = observed.map(({ index }) => lines.rows[index] as Row);
  if (!cannotAllBe(own, lines.box)) return undefined;
  const { read, rows, box } = withReadings(parameters, lines);
  const found = fewestApart([...own, ...rows], box)?.map((at) => [...observed, ...read][at] as ReadValue);
  return found?.filter((one, i) => found.findIndex((other) => isOfSame(one, other)) === i);
}

/** What is computed from readings is open but for those: each says a bound of its own over what there is besides. */
function withReadings(parameters: readonly Parameter[], { box }: Lines): Lines & { readonly read: readonly ReadValue[] } {
  const given = parameters.flatMap((places, i) => {
    const [read] = places.flatMap((place) => readAt(place) ?? []);
    return read ? [{ i, read }] : [];
  });
  return {
    read: given.map(({ read }) => read),
    rows: given.map(({ i }) => ({ slopes: box.map((_, k) => Number(k === i)), value: 0, plusMinus: (box[i] as Interval).high })),
    box: box.map((bounds, i) => {
      const read = given.find((one) => one.i === i)?.read;
      return read ? openBesides(read, bounds) : bounds;
    }),
  };
}

/** So many half-widths either way where nothing else is known of it. */
const FAR = 1000;

function openBesides({ world, slot, value, plusMinus }: ReadValue, { low, high }: Interval): Interval {
  const other = besides(slot, world);
  const ends = [-1, 1].map((way) => (other.value + way * other.plusMinus - value) / plusMinus);
  if (!ends.every(Number.isFinite)) return { low: -FAR, high: FAR };
  return { low: Math.min(low, ...ends), high: Math.max(high, ...ends) };
}

function isOfSame(one: ReadValue, other: ReadValue): boolean {
  const [a, b] = [one.world.values.node(one.slot), other.world.values.node(other.slot)];
  return a.name === b.name && a.subjects.join() === b.subjects.join() && one.value === other.value;
}

/** Readings that contradict each other are refused, with all that do. */
export function apartFault(apart: readonly ReadValue[], system: System): RequestFault {
  const count = COUNTED[apart.length] ?? `${apart.length}`;
  const all =
    apart.length > 2
      ? `${count} readings cannot all be true of one vehicle of the class, though without any one of them the others can`
      : 'two readings cannot both be true of one vehicle';
  const names = apart.map((one) => named(one, system));
  return {
    pointer: '/vehicle/measured',
    code: 'READINGS_CONTRADICT',
    message: `${all}: ${names.slice(0, -1).join('; ')}; and ${names.at(-1)}`,
    help: `take ${apart.length > 2 ? 'them' : 'both'} again, or widen the tolerance of the one you are less sure of`,
  };
}

const COUNTED = ['no', 'one', 'two', 'three', 'four', 'five'];

function named({ world, slot, value, plusMinus }: ReadValue, system: System): string {
  const { signature, subjects, name } = world.values.node(slot);
  const of = nameSubjects(subjects, world);
  const unit = signature?.type.is === 'number' ? show(signature.unit, signature.type.dimension, system) : undefined;
  return `${signature?.title ?? name}${of === '' ? '' : ` of ${of}`}, ${unit?.text(value)} ± ${unit?.text(plusMinus)}`;
}
