/**
 * What was said of one vehicle and cannot all be true: of one value, or of two that bound each other. Where one of the two is better
 * known it wins, as a reading does over a catalogue; where none is, what rests on either is settled by neither.
 */
import type { Bound } from '../engine/tree.ts';
import { type Candidate, SLOT, type ValueNode } from '../engine/values.ts';
import { type Said, saidKey } from '../vehicle/assembly.ts';
import { otherwiseOf, type VehicleWorld } from '../vehicle/world.ts';

/** Something said of a value, or computed of it. */
export interface Told {
  readonly candidate: Pick<Candidate, 'value' | 'plusMinus'>;
  readonly from: string;
}

/** Two statements of one value further apart than their tolerances; the first is the one that is used. */
export interface Disagreement {
  readonly slot: number;
  readonly pair: readonly [Told, Told];
  /** Neither wins: both are readings, or rest on readings, or one that was taken once is none that the class allows, or is across from all its kind has. */
  readonly leavesOpen: boolean;
}

export function disagreementAt(slot: number, world: VehicleWorld): Disagreement | undefined {
  world.values.read(slot);
  const node = world.values.node(slot);
  if (slot <= SLOT.yes || node.signature?.type.is !== 'number' || isDoneByWork(node)) return undefined;
  const told: (Told & { readonly isRead: boolean })[] = node.candidates
    .filter(({ rank }) => SPEAKS.has(rank))
    .map((candidate) => ({ candidate, from: candidate.rank, isRead: isOfVehicle(candidate) }));
  if (told.length === 0) return saidOtherwise(node, world);
  const computed = computedOf(node, world);
  if (computed) told.push(computed);
  const [first, ...others] = told;
  const other = others.find((one) => first && areApart(first, one));
  if (first && other) return { slot, pair: [first, other], leavesOpen: first.isRead && other.isRead };
  if (!first?.isRead) return undefined;
  const outside = acrossFrom(first, node, world) ?? (isReadTwice(slot, world) ? undefined : outsideOf(first, node, world));
  return outside && { slot, pair: [first, outside], leavesOpen: true };
}

/** What is typical of the kind, where that is all on one side and the reading reaches the other. A second one says no more: a sign is mistaken twice alike. */
function acrossFrom(read: Told, { name, candidates }: ValueNode, { library }: VehicleWorld): Told | undefined {
  const usual = library.quantities.get(name)?.sided ? candidates.find(({ rank }) => rank === 'typical') : undefined;
  if (!usual || Math.abs(usual.value) <= usual.plusMinus || !areFar(read.candidate, usual)) return undefined;
  const { value, plusMinus } = read.candidate;
  return value * Math.sign(usual.value) <= plusMinus ? { candidate: usual, from: 'kind' } : undefined;
}

/** A statement that a better one of the same thing in other words, such as backspacing for offset, has put out; both in the measure of this one. */
function saidOtherwise(node: ValueNode, world: VehicleWorld): Disagreement | undefined {
  const { slot, name, subjects, signature } = node;
  const other = signature && 'alsoSaidAs' in signature ? signature.alsoSaidAs : undefined;
  const [lost] = (world.assembly.said.get(saidKey(name, subjects)) ?? []).filter(({ rank }) => SPEAKS.has(rank));
  if (!lost || other === undefined) return undefined;
  const by = world.values.node(world.values.slot(other as string, subjects));
  const rank = spoken(by)?.rank;
  const computed = rank && computedOf(node, world);
  if (!computed || !areFar(computed.candidate, lost)) return undefined;
  const from = `from ${(by.signature?.title ?? by.name).toLowerCase()}, ${rank}`;
  return {
    slot,
    pair: [
      { candidate: computed.candidate, from },
      { candidate: lost, from: lost.rank },
    ],
    leavesOpen: false,
  };
}

/** A reading that no vehicle of the class is taken to have counts all the same: another one agrees with it. */
export function standsByTwo(slot: number, world: VehicleWorld): boolean {
  const node = world.values.node(slot);
  const first = spoken(node);
  return first !== undefined && isReadTwice(slot, world) && outsideOf({ candidate: first, from: first.rank }, node, world) !== undefined;
}

/** What the class allows, where the reading is far outside of it. A fit has judged that before it moved anything. */
function outsideOf(read: Told, node: ValueNode, world: VehicleWorld): Told | undefined {
  const { outside } = world.assembly;
  const judged = outside?.get(saidKey(node.name, node.subjects));
  if (outside) return judged && { candidate: judged, from: 'class' };
  const ofClass = isBoundRead(node, world) ? undefined : ofClassAt(node.slot, world);
  return ofClass && isFarOut(read, ofClass) ? ofClass : undefined;
}

/** A tolerance is what nineteen vehicles in twenty keep to, which are two standard deviations; at three hardly one in four hundred is beyond. */
const FAR_OUT = 1.5;

const isFarOut = ({ candidate: one }: Told, { candidate: other }: Told): boolean =>
  Math.abs(other.value - one.value) > FAR_OUT * (other.plusMinus + one.plusMinus);

const areApart = (one: Told, other: Told): boolean => areFar(one.candidate, other.candidate);

/** Further from each other than both tolerances. */
export const areFar = (one: Told['candidate'], other: Told['candidate']): boolean =>
  Math.abs(other.value - one.value) > (other.plusMinus + one.plusMinus) * (1 + 1e-9);

/** A second reading that agrees stands against any default: the vehicle itself may differ from all others of its class. */
export function isReadTwice(slot: number, { values, assembly: { readings } }: VehicleWorld): boolean {
  const { name, subjects, candidates } = values.node(slot);
  const [first] = candidates;
  const same = readings.filter(({ name: of, subjects: at }) => of === name && at.some((each) => each.join() === subjects.join()));
  // As it was read: work moves what counts of it.
  const own = same.find(({ statement }) => statement === first?.statement)?.said;
  return (
    own !== undefined && same.some(({ said, statement }) => statement !== first?.statement && said !== undefined && !areFar(own, said))
  );
}

/**
 * What is computed of a class's figures with all of them at their worst, which is as wide as all vehicles of it are. A figure of its own that
 * somebody reads otherwise is just that, a plate or a tape straight on the thing; a gap or a load outside is more often one of another place, or in another unit, than a vehicle unlike its class.
 */
export function ofClassAt(slot: number, world: VehicleWorld): Told | undefined {
  const { values, bands } = world;
  const { name, provider } = values.node(slot);
  const twin = provider && values.twin(slot);
  // What a part of the class measures by its size in words is only usual, and has no width.
  if (twin === undefined || name.includes('.') || !isOfClass(twin, world)) return undefined;
  const { nominal, low, high, folded } = bands.of(twin);
  const plusMinus = Math.max(high - nominal, nominal - low) + folded;
  return Number.isFinite(nominal) && Number.isFinite(plusMinus) ? { candidate: { value: nominal, plusMinus }, from: 'class' } : undefined;
}

/** Where what bounds a value was read as well, the two are held against each other. */
const isBoundRead = ({ name, subjects }: ValueNode, { values, library }: VehicleWorld): boolean =>
  (library.quantities.get(name)?.never ?? []).some((bound) => values.node(values.slot(bound.name, subjects)).candidates.some(isOfVehicle));

/** A value, and what it cannot pass, such as the least gap over all travel and the gap standing. */
export interface BoundPair {
  readonly slot: number;
  readonly bound: Bound;
  /** The statements that bound it. */
  readonly others: readonly number[];
  /** What is computed of them, where that is the bound. */
  readonly limit?: number;
}

export function passedBounds(world: VehicleWorld): BoundPair[] {
  const passed = boundPairs(world).filter((pair) => isPassed(pair, world));
  // What one statement passes, what is computed of it and more tells no better.
  return passed.filter(
    ({ slot, limit }) => limit === undefined || passed.every((other) => other.slot !== slot || other.limit !== undefined),
  );
}

/** All that bound each other among what is said of the vehicle, defaults too. */
export function boundPairs(world: VehicleWorld): BoundPair[] {
  const boundsOf = (name: string): readonly Bound[] => world.library.quantities.get(name)?.never ?? [];
  return saidSlots(world, (_, name) => boundsOf(name).length > 0).flatMap((slot) =>
    boundsOf(world.values.node(slot).name).flatMap((bound) =>
      boundSlots(slot, bound, world).map((others) => boundPair(slot, bound, others, world)),
    ),
  );
}

/** A bound that is computed is as good as what was said that it rests on; one that a class has a part in is no statement, but for its tyre and what nobody reads. */
function boundPair(slot: number, bound: Bound, others: readonly number[], world: VehicleWorld): BoundPair {
  const { values, library } = world;
  const [limit] = others;
  if (limit === undefined || library.quantities.get(bound.name)?.comes !== 'computed') return { slot, bound, others };
  values.read(limit);
  const isSaid = ofClass(limit, world).every(({ name, signature }) => name.includes('.') || !signature?.measure);
  const said = isSaid ? values.givensOf([limit]).filter((given) => isSaidOfVehicle(values.node(given))) : [];
  return { slot, bound, others: said, limit };
}

/** Other than of a part by itself. */
const isSaidOfVehicle = (node: ValueNode): boolean => !node.name.includes('.') && spoken(node) !== undefined;

const contested = new WeakMap<VehicleWorld, ReadonlyMap<number, readonly number[]>>();

/** Each slot that a contradiction leaves open, with all that contradict each other there. */
export function contestedSlots(world: VehicleWorld): ReadonlyMap<number, readonly number[]> {
  const known = contested.get(world);
  if (known) return known;
  const found = new Map<number, readonly number[]>();
  const read = saidSlots(world, (said) => said.some(({ rank }) => rank === 'measured'));
  for (const slot of read) if (disagreementAt(slot, world)?.leavesOpen) found.set(slot, [slot]);
  for (const { slot, others } of passedBounds(world)) {
    const all = [slot, ...others];
    for (const one of all) found.set(one, [...new Set([...(found.get(one) ?? []), ...all])]);
  }
  contested.set(world, found);
  return found;
}

/** All that two readings of one value say between them, where neither wins. */
export function spanOfBoth(slot: number, world: VehicleWorld): Candidate | undefined {
  const pair = contestedSlots(world).has(slot) ? disagreementAt(slot, world)?.pair : undefined;
  if (!pair?.every(({ from }) => from === 'measured')) return undefined;
  const read = world.values.node(slot).candidates.filter(({ rank }) => rank === 'measured');
  const all = [...pair.map(({ candidate }) => candidate), ...read];
  const [low, high] = [
    Math.min(...all.map(({ value, plusMinus }) => value - plusMinus)),
    Math.max(...all.map(({ value, plusMinus }) => value + plusMinus)),
  ];
  return { value: (low + high) / 2, plusMinus: (high - low) / 2, rank: 'measured' };
}

/** Readings that something less sure contradicts: they win, and are worth taking again first. */
export const doubtedReadings = (world: VehicleWorld): number[] =>
  saidSlots(world, (said) => said.some(({ rank }) => rank === 'measured')).filter((slot) => {
    const found = disagreementOf(slot, world);
    return found !== undefined && !found.leavesOpen && (found.pair[0].from === 'measured' || found.slot !== slot);
  });

/** What contradicts a value, said of it or of what it says in other words. */
export function disagreementOf(slot: number, world: VehicleWorld): Disagreement | undefined {
  const own = disagreementAt(slot, world);
  if (own) return own;
  const { name, subjects } = world.values.node(slot);
  return otherwiseOf(world.library, name)
    .map((other) => world.values.slot(other, subjects))
    .filter((other) => world.values.node(other).candidates.every(({ rank }) => !SPEAKS.has(rank)))
    .flatMap((other) => disagreementAt(other, world) ?? [])[0];
}

function saidSlots({ assembly, values }: VehicleWorld, which: (said: readonly Said[], name: string) => boolean): number[] {
  return [...assembly.said].flatMap(([key, said]) => {
    const [name = '', subjects = ''] = key.split('|');
    return which(said, name) ? [values.slot(name, subjects === '' ? [] : subjects.split(',').map(Number))] : [];
  });
}

/** What is compared: the same quantity's own subjects, or the axles one by one or together. */
function boundSlots(slot: number, { name, sum }: Bound, { values, library }: VehicleWorld): (readonly number[])[] {
  const { subjects } = values.node(slot);
  const ofAxles = subjects.length === 0 && library.quantities.get(name)?.per[0]?.is === 'axle';
  if (!ofAxles) return [[values.slot(name, subjects)]];
  const axles = AXLES.map((axle) => values.slot(name, [axle]));
  return sum ? [axles] : axles.map((axle) => [axle]);
}

function isPassed({ slot, bound: { is }, others, limit: computed }: BoundPair, world: VehicleWorld): boolean {
  const { values } = world;
  const one = spoken(values.node(slot));
  const rest =
    computed === undefined ? others.map((at) => spoken(values.node(at))) : [others.length > 0 ? endOf(computed, is, world) : undefined];
  if (!one || rest.some((each) => each === undefined)) return false;
  const way = is === 'above' ? 1 : -1;
  const limit = rest.reduce((total, each) => total + (each?.value ?? 0) + way * (each?.plusMinus ?? 0), 0);
  return way * (one.value - way * one.plusMinus - limit) > 1e-9 * Math.abs(limit);
}

/** How far what is computed may reach to that side, with all its tolerances. */
export function endOf(slot: number, is: Bound['is'], { bands }: VehicleWorld): Told['candidate'] | undefined {
  const { nominal, low, high } = bands.of(slot);
  const plusMinus = is === 'above' ? high - nominal : nominal - low;
  return Number.isFinite(nominal) && Number.isFinite(plusMinus) ? { value: nominal, plusMinus } : undefined;
}

const AXLES = [1, 2];

/** What counts of what was said of a value, unless only a default or work has. */
export function spoken(node: ValueNode): Candidate | undefined {
  const [first] = node.candidates.filter(({ rank }) => SPEAKS.has(rank));
  return isDoneByWork(node) ? undefined : first;
}

const isOfVehicle = ({ rank }: Candidate): boolean => rank === 'measured';

/** Defaults are no statements, and what work made of a value is not held against what was said before. */
const SPEAKS: ReadonlySet<Candidate['rank']> = new Set(['measured', 'catalogue', 'stated']);
const isDoneByWork = ({ chosen }: ValueNode): boolean => chosen !== 'computed' && chosen?.rank === 'work';

/** What the model says of a value that was also stated, with all its tolerances. */
function computedOf(node: ValueNode, world: VehicleWorld): (Told & { readonly isRead: boolean }) | undefined {
  const { values } = world;
  const twin = node.provider && values.twin(node.slot);
  if (twin === undefined || isOfClass(twin, world)) return undefined;
  const { nominal, low, high } = world.bands.of(twin);
  const plusMinus = Math.max(high - nominal, nominal - low);
  return Number.isFinite(nominal) && Number.isFinite(plusMinus)
    ? { candidate: { value: nominal, plusMinus }, from: 'computed', isRead: restsOnReadings(twin, world) }
    : undefined;
}

/** What is computed from the drawing, masses or tyre size of a class is as little a statement as its defaults: the vehicle itself may differ. */
const isOfClass = (twin: number, world: VehicleWorld): boolean => {
  world.values.read(twin);
  return ofClass(twin, world).some((node) => isText(node) || (world.values.toleranceOf(node.slot) > 0 && !node.name.includes('.')));
};

/** The defaults of a class that it is computed from, be they folded into a model. */
const ofClass = (twin: number, { values }: VehicleWorld): ValueNode[] =>
  values
    .givensOf([twin], { folded: true })
    .map((slot) => values.node(slot))
    .filter(({ chosen }) => chosen !== undefined && chosen !== 'computed' && chosen.rank === 'class-default');

const isText = ({ signature }: ValueNode): boolean => signature?.type.is === 'text';

const restsOnReadings = (slot: number, { values }: VehicleWorld): boolean =>
  values.givensOf([slot], { folded: true }).some((given) => {
    const { chosen } = values.node(given);
    return chosen !== undefined && chosen !== 'computed' && chosen.rank === 'measured';
  });
