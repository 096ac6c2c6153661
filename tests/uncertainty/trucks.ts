/**
 * Simulated trucks whose truth is known: of some readings a person gives what the true truck shows, the defaults are made to agree with them,
 * and the rest are predicted. A true truck has each statement of its class somewhere within its tolerance and, where its front or rear axle is
 * drawn, its drawing drawn anew: readings are then asked of that vehicle, not of a spread folded from the drawing of the class.
 */

import { toUnit, toUnitDelta } from '../../services/units/index.ts';
import { type Assembly, assemble, saidKey } from '../../services/vehicle/assembly.ts';
import type { CheckRequest, VehicleReading } from '../../services/vehicle/index.ts';
import { subjectOf } from '../../services/vehicle/places.ts';
import { createWorld, type VehicleWorld } from '../../services/vehicle/world.ts';
import { drawnPoints, redrawn } from '../../services/workshop/drawn-points.ts';
import { fitToReadings } from '../../services/workshop/fit-readings.ts';
import { makeRuleSet } from '../../services/workshop/rule-set.ts';
import { show } from '../../services/workshop/show.ts';
import { checker, demoCatalogue } from '../../services/workshop/testing.ts';
import { toleranceOf } from '../../services/workshop/values-out.ts';
import { clipped, random, type Spread, within } from '../faults/random.ts';

const rules = makeRuleSet(checker.library);

/** A reading that was not given, and what was said of it. */
export interface Withheld {
  readonly kind: Kind;
  readonly of: string;
  /** Whether a drawing is folded into it, so that its printed tolerance is a root sum of squares of many. */
  readonly drawn: boolean;
  /** What the true truck shows less what was predicted; SI. */
  readonly error: number;
  readonly printed: number;
  /** Half-width of the band by root sum of squares, to the side of the error. */
  readonly rss: number;
  /** Printed before anything was made to agree with the readings. */
  readonly before: number;
}

export interface Simulated {
  readonly of: string;
  readonly given: readonly Kind[];
  readonly withheld: readonly Withheld[];
}

/** Where in its tolerance each statement and each reading of a truck lies: as nineteen in twenty do, or anywhere and half of them right at an end. */
export type Lying = 'as most' | 'at the ends';

const drawFor = (lying: Lying): Spread => (lying === 'as most' ? clipped : within);

function assembled(of: string, measured: readonly VehicleReading[]): Assembly {
  const request: CheckRequest = { vehicle: { from: 'inline', class: of, measured }, load: { occupants: 2 } };
  const made = assemble(request, demoCatalogue, checker.library);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  return made.assembly;
}
const worldOf = (assembly: Assembly): VehicleWorld => createWorld(assembly, rules.library, rules.texts);

/** Kinds of reading that a vehicle computes, each of which is given to some trucks and kept from others. */
export const KINDS = {
  'gap at the front': ['tyre_gap', 'front-left'],
  'gap at the rear': ['tyre_gap', 'rear-left'],
  'scale, front axle': ['axle_load', 'front'],
  'scale, rear axle': ['axle_load', 'rear'],
  'hub to arch': ['hub_to_arch', 'front'],
  camber: ['camber_at_ride_fitted', 'front'],
  'camber lower down': ['camber_lowered', 'front'],
  caster: ['caster_at_ride_fitted', 'front'],
  'caster lower down': ['caster_lowered', 'front'],
  'way of the hose': ['hose_route', 'front-left'],
} as const;
export type Kind = keyof typeof KINDS;

interface Read {
  readonly kind: Kind;
  readonly name: string;
  readonly of: string;
  readonly subjects: readonly number[];
}

const slotIn = ({ values }: VehicleWorld, { name, subjects }: Read): number => values.slot(name, subjects);

/** All that the class computes of those kinds, left for both sides. */
function readable({ values, parts, partOf, placed, library }: VehicleWorld): Read[] {
  return Object.entries(KINDS).flatMap(([kind, [name, place]]): Read[] => {
    const [per] = library.quantities.get(name)?.per ?? [];
    const subjects =
      per?.is === 'part' ? parts(per.kind as string).filter((part) => partOf(part)?.place === place) : [placed(place) as number];
    return subjects.flatMap((subject) => {
      const slot = values.slot(name, [subject]);
      const of = per?.is === 'part' ? `${partOf(subject)?.group}@${place}` : place;
      return Number.isFinite(values.read(slot)) && values.node(slot).chosen === 'computed'
        ? [{ kind: kind as Kind, name, of, subjects: [subject] }]
        : [];
    });
  });
}

/** What a person writes down of something that nothing computes: the truth of it, and how exactly it is read; SI. */
interface Base {
  readonly quantity: string;
  readonly of: string;
  readonly value: number;
}

/** Strings laid along a front hose at each lock. */
const LOCKS = ['hose_route_left_lock', 'hose_route_right_lock'];

const hoseWays = (world: VehicleWorld, next: () => number): Base[] => {
  const hose = world.present.find(({ kind, place }) => kind === 'brake_hose' && place === 'front-left');
  return LOCKS.map((quantity) => ({ quantity, of: `${hose?.group}@front-left`, value: 0.4 + 0.03 * next() }));
};

function written(quantity: string, of: string, value: number, accuracy: number): VehicleReading {
  const { unit: named, type } = checker.library.quantities.get(quantity) ?? {};
  if (type?.is !== 'number') throw new Error(`${quantity} is no number`);
  const { unit } = show(named, type.dimension, 'metric');
  return { quantity, of, value: `${toUnit(value, unit)} ${unit.symbol} ± ${toUnitDelta(accuracy, unit)}`, with: [] };
}

const accuracyOf = (quantity: string): number => checker.library.quantities.get(quantity)?.measure?.accuracy ?? 0;
const asRead = ({ quantity, of, value }: Base, next: () => number, draw: Spread = clipped): VehicleReading =>
  written(quantity, of, value + draw(next) * accuracyOf(quantity), accuracyOf(quantity));

/** Where a wheel ends its travel, by what the class states of it and what its drawing has by itself. */
const ENDS = { full_droop_as_built: 'full_droop_fitted', full_bump_as_built: 'full_bump_fitted' };

/** The class states where the wheel of the truck it has drawn ends its travel; one that is drawn otherwise ends it as much otherwise. */
function withItsEnds(truck: Assembly, asDrawn: Assembly): Assembly {
  const key = (name: string): string => saidKey(name, [subjectOf('front')]);
  const bare = (assembly: Assembly): VehicleWorld =>
    worldOf({ ...assembly, said: new Map([...assembly.said].filter(([of]) => !Object.keys(ENDS).some((name) => of === key(name)))) });
  const [its, drawn] = [bare(truck), bare(asDrawn)];
  const said = new Map(truck.said);
  for (const [name, end] of Object.entries(ENDS)) {
    const [is, was] = [its, drawn].map(({ values }) => values.read(values.slot(end, [subjectOf('front')]))) as [number, number];
    const stated = truck.said.get(key(name));
    if (stated)
      said.set(
        key(name),
        stated.map((one) => ({ ...one, value: one.value + is - was })),
      );
  }
  return { ...truck, said };
}

/** What each reading would be of a true truck: its drawing drawn anew, then all else that leaves something open; again where it cannot be put together. */
function truthOf(assembly: Assembly, reads: readonly Read[], next: () => number, draw: Spread): number[] {
  const world = worldOf(assembly);
  const drawn = reads.flatMap((read) => {
    const slot = slotIn(world, read);
    world.values.read(slot);
    return drawnPoints(assembly, world, [slot]);
  });
  const points = [...new Map(drawn.map((point) => [point.key, point])).values()];
  for (;;) {
    const at = points.map(() => clipped(next));
    const truth = leaning(worldOf(withItsEnds(redrawn(assembly, points, at), assembly)), reads, next, draw);
    if (truth.every(Number.isFinite)) return truth;
  }
}

function leaning(world: VehicleWorld, reads: readonly Read[], next: () => number, draw: Spread): number[] {
  const { values } = world;
  const slots = reads.map((read) => slotIn(world, read));
  for (const slot of slots) values.read(slot);
  const leans = new Map<number, number>();
  for (const slot of values.givensOf(slots).filter((slot) => values.toleranceOf(slot) > 0)) {
    const statement = values.statementOf(slot);
    if (!leans.has(statement)) leans.set(statement, draw(next));
    values.lean(slot, leans.get(statement) as number);
  }
  return slots.map((slot) => values.read(slot));
}

/** Half of what there is to read is given, another half of the next truck of the class. */
export function simulate(of: string, nth: number, lying: Lying = 'as most'): Simulated {
  const draw = drawFor(lying);
  const next = random(7919 * nth + of.length).next;
  const bases = hoseWays(worldOf(assembled(of, [])), next);
  const exact = assembled(
    of,
    bases.map(({ quantity, of: where, value }) => written(quantity, where, value, 0)),
  );
  const reads = readable(worldOf(exact));
  const truth = truthOf(exact, reads, next, draw);
  const isGiven = (i: number): boolean => (i + nth) % 2 === 1;
  const based = bases.map((base) => asRead(base, next, draw));
  const given = reads.flatMap(({ name, of: where }, i) =>
    isGiven(i) ? [asRead({ quantity: name, of: where, value: truth[i] as number }, next, draw)] : [],
  );
  const before = worldOf(assembled(of, based));
  const fitted = fitToReadings(assembled(of, [...based, ...given]), rules, 'metric');
  if (!fitted.ok) throw new Error(JSON.stringify(fitted.faults));
  const after = worldOf(fitted.assembly);
  const withheld = reads.flatMap((read, i) => (isGiven(i) ? [] : [compared(read, truth[i] as number, before, after)]));
  return { of, given: reads.filter((_, i) => isGiven(i)).map(({ kind }) => kind), withheld };
}

function compared(read: Read, truth: number, before: VehicleWorld, after: VehicleWorld): Withheld {
  const [was, is] = [before, after].map((world) => slotIn(world, read)) as [number, number];
  const { nominal, rss } = after.bands.of(is);
  const error = truth - nominal;
  const half = rss ? (error < 0 ? nominal - rss.low : rss.high - nominal) : Number.NaN;
  before.values.read(was);
  const moving = new Set(after.values.givensOf([is]));
  const drawn = after.values.givensOf([is], { folded: true }).some((given) => !moving.has(given) && after.values.toleranceOf(given) > 0);
  return { kind: read.kind, of: read.of, drawn, error, printed: toleranceOf(is, after), rss: half, before: toleranceOf(was, before) };
}
