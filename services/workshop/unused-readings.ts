/**
 * Readings on which no finding rests that was asked for: nobody who took one should have to guess why. Another reading may
 * count in its place, what rests on it may stand as before, or nothing of the check may ask for it.
 */
import type { GivenReading } from '../vehicle/assembly.ts';
import { otherwiseOf, type VehicleWorld } from '../vehicle/world.ts';
import type { TakenReading } from './answer.ts';
import { areFar, standsByTwo } from './contradictions.ts';
import { lowerFirst, nameSubjects } from './describe.ts';
import type { Grouped } from './findings.ts';
import { type System, show } from './show.ts';
import { valueId } from './values-out.ts';

export interface UnusedAsked {
  readonly system: System;
  /** The readings moved the defaults of the class. */
  readonly fitted?: boolean | undefined;
}

/** What is told of a reading: why nothing rests on it. */
export type Why = (reading: GivenReading) => string;

export function whyUnused(groups: readonly Grouped[], world: VehicleWorld, { system, fitted }: UnusedAsked): Why {
  const below = (which: (group: Grouped) => boolean): Set<number> => {
    const reads = groups.filter(which).flatMap(({ evaluations }) => evaluations.flatMap((evaluation) => evaluation.reads));
    return new Set(world.values.givensOf(reads, { folded: true }));
  };
  const [asked, asBefore] = [below((group) => !group.asBefore), below((group) => group.asBefore)];
  return (reading) => {
    const slots = slotsOf(reading, world);
    if (reading.outdated !== undefined) return reading.outdated;
    const counts = slots.filter((slot) => world.values.statementOf(slot) === reading.statement);
    if (counts.length === 0) return otherCounts(reading, slots, world, system);
    const said = saidOtherwise(counts, world);
    if (said !== undefined) return said;
    if (counts.some((slot) => asked.has(slot)))
      return 'it goes into a drawing with many others: which findings it alone settles is not told apart';
    if (fitted) return 'no finding rests on it itself: `fit` tells what it moved';
    if (counts.some((slot) => asBefore.has(slot))) return 'what rests on it stands as before: the planned parts change nothing of it';
    return ofWhatComesOff(reading, world) ?? 'no finding of this check rests on it';
  };
}

export function slotsOf({ name, subjects }: GivenReading, { values }: VehicleWorld): number[] {
  return subjects.map((each) => {
    const slot = values.slot(name, each);
    values.read(slot);
    return slot;
  });
}

/** A reading as it was given, of which nothing was settled. */
export function unusedReading(reading: GivenReading, remark: string, world: VehicleWorld): TakenReading {
  const slots = slotsOf(reading, world);
  const title = world.values.node(slots[0] ?? 0).signature?.title ?? reading.name;
  return {
    ids: slots.map((slot) => valueId(slot, world)),
    quantity: reading.name,
    title,
    subject: nameSubjects(reading.subjects.flat(), world) || 'the vehicle',
    settled: [],
    open: [],
    remark,
  };
}

/** Another statement counts at each of its places: which, and whether the two can be true together. */
function otherCounts({ said }: GivenReading, slots: readonly number[], world: VehicleWorld, system: System): string {
  const [node] = slots.map((slot) => world.values.node(slot));
  const other = node?.chosen;
  if (!node || other === undefined || other === 'computed') return 'another statement of the same counts';
  const { type, unit } = node.signature ?? {};
  const shown = type?.is === 'number' ? show(unit, type.dimension, system) : undefined;
  const value = shown ? `: ${shown.text(other.value)}${other.plusMinus > 0 ? ` ± ${shown.text(other.plusMinus, 'up')}` : ''}` : '';
  const when = other.date === undefined ? '' : `, of ${other.date}`;
  const apart = shown !== undefined && said !== undefined && areFar(said, other);
  const agrees = shown !== undefined && said !== undefined && !apart && node !== undefined && standsByTwo(node.slot, world);
  const stands = agrees ? '. The two agree, so that one counts though no vehicle of its class is taken to have it' : '';
  if (other.rank !== 'measured') return `what was done since counts${value}`;
  if ((other.date ?? '') > (said?.date ?? ''))
    return `a later reading counts${value}${when}${apart ? '. They lie further apart than both tolerances: if nothing was changed between them, read it again' : stands}`;
  return `another reading counts${value}${when}${apart ? '. Both cannot be true: read it again' : stands}`;
}

/** Where what is computed of it was said itself, and as well. */
function saidOtherwise(slots: readonly number[], { values, library }: VehicleWorld): string | undefined {
  const titles = slots.flatMap((slot) => {
    const { name, subjects } = values.node(slot);
    return otherwiseOf(library, name).flatMap((other) => {
      const at = values.slot(other, subjects);
      values.read(at);
      const { chosen, signature } = values.node(at);
      return chosen !== undefined && chosen !== 'computed' ? [lowerFirst(signature?.title ?? other)] : [];
    });
  });
  return titles.length === 0 ? undefined : `${titles[0]} was read too, and counts before it`;
}

/** Of a part that the planned ones replace, or of the vehicle before them. */
function ofWhatComesOff({ name, subjects }: GivenReading, world: VehicleWorld): string | undefined {
  const parts = subjects.flat().flatMap((subject) => world.partOf(subject) ?? []);
  const comesOff = parts.length > 0 && parts.every((part) => world.assembly.removed.has(part));
  if (!comesOff && !name.endsWith('_fitted')) return undefined;
  return 'it is of the vehicle as it stands, and no finding of the planned parts rests on it';
}
