/**
 * Class defaults made to agree with the readings there are. A reading of something computed says as much of what it is
 * computed from: axle masses from a loaded scale ticket, the size of a worn tyre from several gaps. Those of its inputs that are
 * defaults are moved within their tolerances to where all readings agree best (`bounded-fit.ts`), and keep what is left open.
 * What somebody stated or read is moved along within its own tolerance, and stays as it was said.
 *
 * Points of a drawing are folded into what is computed from them, so no value can be moved for them: what each does to the
 * readings is asked of the vehicle drawn so (`drawn-points.ts`), and asked again where the fit has brought them.
 */
import { type Fit, fitBounded } from '../models/fit/bounded-fit.ts';
import { allowedBy, type Interval, type Row } from '../models/fit/what-readings-allow.ts';
import type { Agreed } from '../units/index.ts';
import { type Assembly, type Said, saidKey } from '../vehicle/assembly.ts';
import type { RequestFault } from '../vehicle/request.ts';
import { createWorld, type VehicleWorld } from '../vehicle/world.ts';
import type { AnswerFit } from './answer.ts';
import { contestedSlots, disagreementAt, isReadTwice, ofClassAt } from './contradictions.ts';
import { drawnPoints, type Point, redrawn } from './drawn-points.ts';
import {
  apartFault,
  fewestReadingsApart,
  type Lines,
  type Observed,
  outsideClass,
  type Parameter,
  type Place,
  plainlyApart,
} from './judge-readings.ts';
import type { RuleSet } from './rule-set.ts';
import { type System, show } from './show.ts';
import { valueId } from './values-out.ts';

export type Fitted =
  | { readonly ok: true; readonly assembly: Assembly; readonly fit: AnswerFit }
  | { readonly ok: false; readonly faults: readonly RequestFault[] };

/** Below this, a half-width counts as reading noise of a number's last digits. */
const FINEST = 1e-9;
/** Less than this of its tolerance is no news. */
const MOVED = 0.02;

export function fitToReadings(assembly: Assembly, rules: RuleSet, system: System): Fitted {
  const plain = createWorld(assembly, rules.library, rules.texts);
  const plainly = plainlyApart(plain);
  if (plainly) return { ok: false, faults: [apartFault(plainly, system)] };
  const readings = readComputed(assembly, plain);
  const points = drawnPoints(
    assembly,
    plain,
    readings.filter((reading) => !isOfPlace(reading, plain)).map(({ twin }) => twin),
  );
  const about = (at: readonly number[], felt: readonly boolean[] = []): About => fitAbout(assembly, rules, plain, points, at, felt);
  let made = about(points.map(() => 0));
  // A drawing is no straight line: once more about where it has come to.
  const felt = made.slopes.by.map((effects) => effects.some((effect) => effect !== 0));
  if (felt.includes(true)) made = about(made.fit.parameters.slice(made.parameters.length), felt);
  const { observed, parameters, slopes } = made;
  const outside = outsideClass(observed, parameters, rowsOf(observed, parameters, slopes, made.fit));
  const kept = keptOut(observed, outside, plain);
  const able = observed.filter(({ index }) => !kept.has(index));
  const fit = kept.size > 0 ? solve(able, parameters, slopes) : made.fit;
  const lines = rowsOf(observed, parameters, slopes, fit);
  const judged = observed.filter(({ index }) => kept.get(index)?.byReadings ?? !kept.has(index));
  const apart = fewestReadingsApart(judged, parameters, lines);
  if (apart) return { ok: false, faults: [apartFault(apart, system)] };
  const statements = leftOf(able, parameters, lines);
  const said = adjusted(assembly, statements);
  const drawn = points.map((point, i): Drawn => {
    const at = parameters.length + i;
    return { point, u: fit.parameters[at] as number, left: fit.left[at] as number, pinned: fit.pinned[at] as readonly number[] };
  });
  // A reading may rest on so many points that each has hardly moved.
  const moved = drawn.filter(({ left }) => isTouched(left));
  for (const { point, u, left } of moved) said.set(point.key, point.moved(u, left, isNews(u, left) ? NOTE : undefined));
  const agreed = new Map(
    moved.map(({ point: { key, plusMinus }, left, pinned }): [string, Agreed] => [
      key,
      { plusMinus, open: left * plusMinus, pinned: pinned.map((w) => w * plusMinus) },
    ]),
  );
  return {
    ok: true,
    assembly: { ...assembly, said, outside: outsideOf(observed, kept, plain), ...(agreed.size > 0 && { agreed }) },
    fit: told(residualsOf(observed, parameters, slopes, fit, kept), statements, drawn, plain, system),
  };
}

/** A statement and what readings leave of it: the middle and half of an interval, in its half-widths. */
interface Left {
  readonly places: Parameter;
  readonly u: number;
  readonly left: number;
}

interface Drawn {
  readonly point: Point;
  readonly u: number;
  readonly left: number;
  readonly pinned: readonly number[];
}

/** What a fit leaves out, by its place: why, and what its class allows where that leaves open what rests on it. */
type KeptOut = ReadonlyMap<number, LeftOut>;
interface LeftOut {
  readonly remark: string;
  readonly ofClass?: Agreeing;
  /** By what is computed from other readings: it is judged with all of them first. */
  readonly byReadings?: boolean;
}
type Agreeing = Pick<Said, 'value' | 'plusMinus'>;

const REFUSED = 'no vehicle of its class is taken to have that: it moves nothing and settles nothing until another reading agrees with it';
const STANDS = 'no vehicle of its class is taken to have that: two readings agree, so it counts for what it is of, and moves nothing else';
const CONTESTED = 'something else that was said contradicts it: neither settles anything';
const STATED = 'what was stated besides does not allow it: it counts for what it is of, and moves nothing else';

/** By the class as it was before anything was moved. */
function keptOut(observed: readonly Observed[], outside: readonly Observed[], plain: VehicleWorld): KeptOut {
  return new Map(
    observed.flatMap((one): [number, LeftOut][] => {
      const { slot, index } = one;
      const found = disagreementAt(slot, plain);
      if (found?.pair[1].from === 'class') return [[index, { remark: REFUSED, ofClass: found.pair[1].candidate }]];
      if (contestedSlots(plain).has(slot)) return [[index, { remark: CONTESTED, byReadings: found !== undefined }]];
      if (!outside.includes(one)) return [];
      const wide = ofClassAt(slot, plain);
      return [[index, wide ? { remark: isReadTwice(slot, plain) ? STANDS : REFUSED, ofClass: wide.candidate } : { remark: STATED }]];
    }),
  );
}

const outsideOf = (observed: readonly Observed[], kept: KeptOut, { values }: VehicleWorld): ReadonlyMap<string, Agreeing> =>
  new Map(
    observed.flatMap(({ slot, index }) => {
      const { name, subjects } = values.node(slot);
      const ofClass = kept.get(index)?.ofClass;
      return ofClass ? [[saidKey(name, subjects), ofClass]] : [];
    }),
  );

/** Statements keep all that the readings allow of them, since worst cases rest on them. */
function leftOf(able: readonly Observed[], parameters: readonly Parameter[], { rows, box }: Lines): readonly Left[] {
  // What hardly touches is taken to be possible, and narrows nothing.
  const allowed =
    allowedBy(
      able.map(({ index }) => rows[index] as Row),
      box,
    ) ?? box;
  return parameters.map((places, i): Left => {
    const { low, high } = allowed[i] as Interval;
    const [from, to] = [Math.max(-1, low), Math.min(1, high)];
    return { places, u: (from + to) / 2, left: Math.max(0, to - from) / 2 };
  });
}

interface Told extends Observed {
  readonly residual: number;
  /** Why it is not agreed with. */
  readonly remark: string | undefined;
}

/** How far what agrees best is from each reading, in its half-widths. */
function residualsOf(
  observed: readonly Observed[],
  parameters: readonly Parameter[],
  slopes: Slopes,
  { parameters: u }: Fit,
  kept: KeptOut,
): readonly Told[] {
  const { model, felt, rest } = asked(observed, parameters, slopes);
  const is = model([...u.slice(0, parameters.length), ...felt.map((i) => u[parameters.length + i] as number)]);
  rest();
  return observed.map((one, j) => ({
    ...one,
    residual: ((is[j] as number) - one.value) / one.plusMinus,
    remark: kept.get(one.index)?.remark,
  }));
}

interface About {
  readonly observed: readonly Observed[];
  readonly parameters: readonly Parameter[];
  readonly slopes: Slopes;
  readonly fit: Fit;
}

/** Points that no reading feels are left out. Readings of the suspension are asked of a drawing that is exact and moved point by point; the others keep its share as their own error. */
function fitAbout(
  assembly: Assembly,
  rules: RuleSet,
  plain: VehicleWorld,
  points: readonly Point[],
  at: readonly number[],
  felt: readonly boolean[],
): About {
  const drawnAt = (u: readonly number[]): VehicleWorld => createWorld(redrawn(assembly, points, u), rules.library, rules.texts);
  const exact = points.length > 0 ? drawnAt(at) : plain;
  const read = readComputed(assembly, plain).map((reading) =>
    points.length === 0 || isOfPlace(reading, plain)
      ? { ...reading, world: plain }
      : { ...placed(reading, plain, exact), reading: reading.reading, world: exact },
  );
  const { observed: bare, parameters } = observe(read);
  const by = points.map((_, i) => (felt[i] === false ? bare.map(() => 0) : slopesOf(drawnAt, at, i, bare, plain)));
  const observed = bare.map((each, j) => ({
    ...each,
    on: new Set([...each.on, ...by.flatMap((effects, i) => (effects[j] === 0 ? [] : [parameters.length + i]))]),
  }));
  const slopes = { at, by };
  return { observed, parameters, slopes, fit: solve(observed, parameters, slopes) };
}

/** What a whole half-width of each point of the drawing does to each reading, and where the drawing stands. */
interface Slopes {
  readonly at: readonly number[];
  readonly by: readonly (readonly number[])[];
}

/** A point that does less of a reading's half-width than this is left where it is. */
const FELT = 0.02;

function slopesOf(
  drawnAt: (u: readonly number[]) => VehicleWorld,
  at: readonly number[],
  i: number,
  observed: readonly Observed[],
  plain: VehicleWorld,
): number[] {
  const step = (at[i] as number) > 0 ? -1 : 1;
  const moved = drawnAt(at.map((u, k) => (k === i ? u + step : u)));
  return observed.map(({ world, slot, twin, plusMinus }) => {
    if (world === plain) return 0;
    const off = (moved.values.read(placed({ slot }, world, moved).twin) - world.values.read(twin)) / step;
    return Number.isFinite(off) && Math.abs(off) > FELT * plusMinus ? off : 0;
  });
}

/** The same reading in another world. */
function placed(
  { slot }: { readonly slot: number },
  from: VehicleWorld,
  to: VehicleWorld,
): { readonly slot: number; readonly twin: number } {
  const { name, subjects } = from.values.node(slot);
  const there = to.values.slot(name, subjects);
  return { slot: there, twin: to.values.twin(there) ?? there };
}

/** A gap to something: it says where that is far more than where the points are. */
const isOfPlace = ({ slot }: { readonly slot: number }, { values, library }: VehicleWorld): boolean =>
  library.quantities.get(values.node(slot).name)?.per.some((of) => of.is === 'part' && of.kind === 'tyre_obstacle') ?? false;

interface Reading {
  readonly slot: number;
  readonly twin: number;
  readonly reading: Said;
}

/** Readings of something computed, before anything is fitted. */
function readComputed(assembly: Assembly, { values }: VehicleWorld): Reading[] {
  return [...assembly.said].flatMap(([key, said]) => {
    const [reading] = said.filter(({ rank, text }) => rank === 'measured' && text === undefined);
    const [name = '', subjects = ''] = key.split('|');
    const slot = values.slot(name, subjects === '' ? [] : subjects.split(',').map(Number));
    const twin = reading && values.node(slot).provider ? values.twin(slot) : undefined;
    return reading && twin !== undefined && Number.isFinite(values.read(twin)) ? [{ slot, twin, reading }] : [];
  });
}

function observe(read: readonly (Reading & { readonly world: VehicleWorld })[]): {
  readonly observed: readonly Observed[];
  readonly parameters: readonly Parameter[];
} {
  const groups = new Map<string, Place[]>();
  const observed = read.map(({ slot, twin, reading, world }, index): Observed => {
    const { values } = world;
    values.read(twin);
    const open = values.givensOf([twin]).filter((given) => given !== slot && values.toleranceOf(given) > 0);
    const statements = open.map((given) => {
      const statement = values.statementOf(given);
      // What a model leaves open is of its own node, in its own world.
      const key = statement < 0 ? `${read.findIndex((one) => one.world === world)} ${statement}` : `${statement}`;
      const group = groups.get(key) ?? [];
      if (!group.some((one) => one.world === world && one.slot === given)) group.push({ world, slot: given });
      groups.set(key, group);
      return key;
    });
    return {
      world,
      slot,
      twin,
      index,
      value: reading.value,
      plusMinus: Math.max(FINEST, reading.plusMinus),
      on: new Set(statements) as never,
    };
  });
  const order = [...groups.keys()];
  const numbered = observed.map((each) => ({ ...each, on: new Set([...each.on].map((key) => order.indexOf(key as never))) }));
  return { observed: numbered, parameters: [...groups.values()] };
}

/** What all readings would be at given parameters: of the statements, then of the points of the drawing that any of them feels. */
function asked(observed: readonly Observed[], parameters: readonly Parameter[], { at, by }: Slopes) {
  const now = parameters.map(() => 0);
  // A slope is asked with one moved: what rests on none that has is not computed anew.
  const lean = (u: readonly number[]): void => {
    for (const [i, places] of parameters.entries()) {
      const to = u[i] ?? 0;
      if (to !== now[i]) for (const { world, slot } of places) world.values.lean(slot, to);
      now[i] = to;
    }
  };
  // Points that no reading feels are left where they are, and make nothing slow.
  const felt = by.flatMap((effects, i) => (effects.some((effect) => effect !== 0) ? [i] : []));
  const model = (u: readonly number[]): number[] => {
    lean(u);
    const moved = felt.map((i, k) => (u[parameters.length + k] as number) - (at[i] as number));
    const drawn = (index: number): number => felt.reduce((sum, i, k) => sum + (by[i]?.[index] as number) * (moved[k] as number), 0);
    return observed.map(({ world, twin, index }) => world.values.read(twin) + drawn(index));
  };
  // What a model has folded by root sum of squares is no bound: true vehicles lie beyond it, and none beyond all of it at its worst.
  const bounds = parameters.map((places) => Math.max(...places.map(({ world, slot }) => world.values.timesAtWorst(slot))));
  return { model, felt, bounds: [...bounds, ...felt.map(() => 1)], rest: () => lean([]) };
}

function solve(observed: readonly Observed[], parameters: readonly Parameter[], slopes: Slopes): Fit {
  const { model, felt, bounds, rest } = asked(observed, parameters, slopes);
  const fit = fitBounded(bounds.length, observed, model, bounds);
  rest();
  const placeOf = slopes.by.map((_, i) => (felt.includes(i) ? parameters.length + felt.indexOf(i) : -1));
  const spreadOut = <T>(all: readonly T[], unfelt: T): T[] => [
    ...all.slice(0, parameters.length),
    ...placeOf.map((place) => all[place] ?? unfelt),
  ];
  return { ...fit, parameters: spreadOut(fit.parameters, 0), left: spreadOut(fit.left, 1), pinned: spreadOut(fit.pinned, []) };
}

const SLOPE_STEP = 1e-3;

/** Each reading as a straight line about where all agree best, as sure as it is and as straight as it is not; and between which bounds. */
function rowsOf(observed: readonly Observed[], parameters: readonly Parameter[], slopes: Slopes, { parameters: u }: Fit): Lines {
  const { model, felt, bounds, rest } = asked(observed, parameters, slopes);
  const best = [...u.slice(0, parameters.length), ...felt.map((i) => u[parameters.length + i] as number)];
  const is = model(best);
  const moved = best.map((x, i) => {
    const step = x > 0 ? -SLOPE_STEP : SLOPE_STEP;
    return model(best.map((y, k) => (k === i ? y + step : y))).map((f, j) => (f - (is[j] as number)) / step);
  });
  const rows = observed.map((reading, j): Row => {
    const line = moved.map((of) => of[j] as number);
    const straight = (at: readonly number[]): number =>
      at.reduce((sum, x, i) => sum + (line[i] as number) * (x - (best[i] as number)), is[j] as number);
    const ends = [1, -1].map((way) =>
      line.map((slope, i) => (slope === 0 ? (best[i] as number) : way * Math.sign(slope) * (bounds[i] as number))),
    );
    const bends = Math.max(...ends.map((at) => Math.abs((model(at)[j] as number) - straight(at))));
    return { slopes: line, value: reading.value - straight(best.map(() => 0)), plusMinus: reading.plusMinus + bends };
  });
  rest();
  return { rows, box: bounds.map((bound): Interval => ({ low: -bound, high: bound })) };
}

function adjusted(assembly: Assembly, statements: readonly Left[]): Map<string, readonly Said[]> {
  const said = new Map(assembly.said);
  for (const { places, u, left } of statements) {
    if (!isNews(u, left)) continue;
    for (const { world, slot } of places) {
      const { name, subjects, chosen } = world.values.node(slot);
      if (chosen === undefined || chosen === 'computed' || !isDefault(chosen.rank)) continue;
      const [value, plusMinus] = [chosen.value + u * chosen.plusMinus, left * chosen.plusMinus];
      const moved: Said = { ...chosen, rank: 'class-default', value, plusMinus, note: NOTE };
      const key = saidKey(name, subjects);
      said.set(key, [...(said.get(key) ?? []).filter(({ rank }) => rank !== 'class-default'), moved]);
    }
  }
  return said;
}

const NOTE = 'made to agree with the readings';

const isDefault = (rank: string): boolean => rank === 'class-default' || rank === 'typical';
/** That a reading says anything of it; what it says of many it says little of each. */
const isTouched = (left: number): boolean => left < 1 - 1e-9;
const isNews = (u: number, left: number): boolean => Math.abs(u) > MOVED || left < 1 - MOVED;

function told(
  readings: readonly Told[],
  statements: readonly Left[],
  drawn: readonly Drawn[],
  plain: VehicleWorld,
  system: System,
): AnswerFit {
  const share = (x: number): number => Math.round(x * 100) / 100;
  const news = (ids: readonly string[], place: Place, was: { value: number; plusMinus: number }, off: number, kept: number) => {
    const unit = isNews(off, kept) ? shownAt(place, system) : undefined;
    if (!unit) return [];
    const now = unit.amount(was.value + off * was.plusMinus, kept * was.plusMinus);
    return [{ ids, was: unit.amount(was.value, was.plusMinus), now, left: share(kept) }];
  };
  return {
    readings: readings.map(({ world, slot, plusMinus, residual, remark }) => {
      const off = shownAt({ world, slot }, system)?.amount(residual * plusMinus);
      return {
        id: valueId(slot, world),
        residual: share(residual),
        ...(off && { off }),
        agrees: remark === undefined,
        ...(remark && { remark }),
      };
    }),
    adjusted: [
      ...statements.flatMap(({ places, u, left }) => {
        const [first] = places as readonly [Place];
        const { chosen } = first.world.values.node(first.slot);
        if (chosen === undefined || chosen === 'computed' || !isDefault(chosen.rank)) return [];
        const ids = [...new Set(places.map(({ world, slot }) => valueId(slot, world)))];
        return news(ids, first, chosen, u, left);
      }),
      ...drawn.flatMap(({ point, u: off, left: kept }) => {
        const place = { world: plain, slot: plain.values.slot(point.name, point.subjects) };
        return news([valueId(place.slot, plain)], place, point, off, kept);
      }),
    ],
  };
}

function shownAt({ world, slot }: Place, system: System) {
  const { signature } = world.values.node(slot);
  return signature?.type.is === 'number' ? show(signature.unit, signature.type.dimension, system) : undefined;
}
