/** The answer to a what-if, as it leaves the service: stretches of the value by verdict, what turns each, and what the stated work makes of them. */
import { worst } from '../engine/evaluate.ts';
import type { Signature } from '../engine/tree.ts';
import { toUnit, toUnitDelta, type Unit } from '../units/index.ts';
import { saidKey } from '../vehicle/assembly.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { WorkedOut } from './after-work.ts';
import type { DecidingReading, Finding, Hazard, Verdict } from './answer.ts';
import { joinWords, nameSubjects } from './describe.ts';
import { type System, show } from './show.ts';
import type { ReadVary } from './vary.ts';
import type { Point, Search, Told } from './what-if.ts';
import { causeOf, Deciders } from './what-if-deciders.ts';
import { compareText, grouped, isWorse, ofOne, type Run, rank, runsOf, sortsOf, turning, WHOLE, WORSE } from './what-if-runs.ts';
import { asBeforeText, sortsText, summaryOf } from './what-if-words.ts';

export interface WhatIfValue {
  readonly value: number | string;
  readonly unit?: string;
}

export interface WhatIfCause {
  readonly id: string;
  readonly rule: string;
  readonly title: string;
  readonly hazard: Hazard;
  readonly subject: string;
  /** What it is about: `law`, `fit`, or the area of its rule. */
  readonly sort: string;
  /** It rests on what is varied; if not, it is the same all along. */
  readonly varies: boolean;
}

/** A finding that decides a stretch, as a check at one value inside it tells it. */
export interface Decider
  extends WhatIfCause,
    Pick<Finding, 'margin' | 'says' | 'leans' | 'settled_by' | 'contested' | 'missing' | 'any_of'> {}

/** What makes it worse beyond one end of a stretch. */
export interface Ender extends WhatIfCause {
  readonly end: 'from' | 'to';
  /** What it is beyond. */
  readonly verdict: Verdict;
  /** Readings that may widen the stretch: they narrow what is too close to call beyond. */
  readonly widened_by: readonly DecidingReading[];
}

export interface Stretch {
  readonly verdict: Verdict;
  /** The first and the last value checked that have it. */
  readonly from: WhatIfValue;
  readonly to: WhatIfValue;
}

export interface Band extends Stretch {
  /** What turns it: what has its verdict where a better stretch ends; all along, where it meets none. */
  readonly because: readonly WhatIfCause[];
  readonly ended_by: readonly Ender[];
  /** The value inside it that `decided_by` is told at; null of what is clear, and beyond the most that is told. */
  readonly decided_at: WhatIfValue | null;
  readonly decided_by: readonly Decider[];
  /** How many more have its verdict there. */
  readonly more: number;
}

/** What the stated work leaves, where it was worked out: at the ends of stretches that are not clear. */
export interface AfterWorkAt {
  readonly value: number | string;
  readonly verdict: Verdict;
}

export interface WhatIf {
  readonly summary: string;
  readonly varied: {
    readonly quantity: string;
    readonly title: string;
    readonly subject: string;
    readonly step: WhatIfValue | null;
    readonly plus_minus: WhatIfValue | null;
  };
  readonly bands: readonly (Band & { readonly after_work?: readonly AfterWorkAt[] })[];
  /** The same of what is varied alone, of each sort that is not clear all along by itself. */
  readonly sorts: readonly { readonly sort: string; readonly bands: readonly Band[] }[];
  /** Those whose verdict is not clear all along; left out where they do not apply. */
  readonly findings: readonly (WhatIfCause & { readonly bands: readonly Stretch[]; readonly after_work?: readonly AfterWorkAt[] })[];
  /** Findings open as before, at the value with most of them: in no verdict. */
  readonly as_before: number;
  readonly checked: {
    readonly values: readonly { readonly value: number | string; readonly verdict: Verdict }[];
    readonly unit: string | null;
    /** What turns and turns back between values as near as that may be missed; null where every step was checked. */
    readonly spacing: WhatIfValue | null;
    /** false: so much turns that not every border is told to the step. */
    readonly to_the_step: boolean;
  };
  /** What the answer is not, in words. */
  readonly remarks: readonly string[];
  readonly versions: { readonly engine: string; readonly models: string; readonly rules: string; readonly catalogue: string };
}

/** Work is planned anew at each, as for a check of its own. */
const MOST_WORKED_OUT = 12;

export function whatIfAnswer(
  vary: ReadVary,
  search: Search,
  worked: (at: number) => WorkedOut | undefined,
  system: System,
  versions: WhatIf['versions'],
): WhatIf {
  const { world, points, spacing } = search;
  const value = printer(vary, system);
  const stretch = ({ verdict, first, last }: Run): Stretch => ({ verdict, from: value(first.at), to: value(last.at) });
  const each = vary.each === true;
  const runs = runsOf(points, WHOLE, each);
  const ends = runs.filter(({ verdict }) => verdict === 'conflict' || verdict === 'close').flatMap(({ first, last }) => [first, last]);
  const work = [...new Set(ends)].slice(0, MOST_WORKED_OUT).flatMap((point) => {
    const made = worked(point.at);
    return made ? [{ point, made }] : [];
  });
  const afterWork = (which: (point: Point) => boolean, verdictOf: (made: WorkedOut) => Verdict) => {
    const told = work.filter(({ point }) => which(point));
    return told.length === 0
      ? {}
      : { after_work: told.map(({ point, made }) => ({ value: value(point.at).value, verdict: verdictOf(made) })) };
  };
  const ofSorts = sortsOf(points, each);
  const deciders = new Deciders(search, [runs, ...ofSorts.map((sort) => sort.runs)].flat(), system);
  const enders = (end: Ender['end'], run: Run, beyond: Run | undefined): Ender[] =>
    beyond && isWorse(beyond, run) ? deciders.enders(end, beyond) : [];
  const bandOf = (run: Run, i: number, all: readonly Run[]): Band => ({
    ...stretch(run),
    because: turning(run, all[i - 1], all[i + 1]).map(([one, alike]) => causeOf(one, alike, world)),
    ended_by: each ? [] : [...enders('from', run, all[i - 1]), ...enders('to', run, all[i + 1])],
    ...deciders.of(run, value),
  });
  const bands = runs.map((run, i) => ({
    ...bandOf(run, i, runs),
    ...afterWork(
      (point) => point === run.first || point === run.last,
      ({ verdict }) => verdict,
    ),
  }));
  const sorts = ofSorts.map((sort) => ({ sort: sort.sort, bands: sort.runs.map(bandOf) }));
  const findings = findingsOf(points, world, each).map(({ told, ids, runs: own }) => ({
    ...causeOf(told, ids, world),
    bands: own.map(stretch),
    ...afterWork(
      (point) => ids.some(({ id }) => OPEN.has(point.told.get(id)?.verdict)),
      ({ of }) => worst(ids.map(({ id }) => of(id))),
    ),
  }));
  const width = (si: number): WhatIfValue => widthOf(si, vary.signature, system);
  const { title } = vary.signature;
  const asBefore = Math.max(...points.map(openAsBefore));
  const subject = nameSubjects(vary.subjects, world) || world.assembly.name;
  return {
    summary: `${title} of ${subject}: ${summaryOf(bands, each)}${sortsText(sorts, bands, each)}${asBeforeText(asBefore)}`,
    varied: {
      quantity: vary.signature.name,
      title,
      subject,
      step: vary.step === undefined ? null : width(vary.step),
      plus_minus: vary.plusMinus > 0 ? width(vary.plusMinus) : null,
    },
    bands,
    sorts,
    findings,
    as_before: asBefore,
    checked: {
      values: points.map(({ at, verdict }) => ({ value: value(at).value, verdict })),
      unit: value(0).unit ?? null,
      spacing: vary.step === undefined || spacing <= 1 ? null : width(spacing * vary.step),
      to_the_step: points.every((point, i) => i === 0 || settledTo(points[i - 1] as Point, point)),
    },
    remarks: remarksOf(vary, world),
    versions,
  };
}

function remarksOf({ subjects, keys, leftAside, signature }: ReadVary, world: VehicleWorld): string[] {
  const name = nameSubjects(subjects, world) || world.assembly.name;
  const aside = `${name}: what was said of it as it was is left aside where it is another one: ${joinWords(leftAside)}`;
  const isAttribute = !world.library.quantities.has(signature.name);
  const fitted = isAttribute ? subjects.filter((subject) => world.partOf(subject)?.state === 'fitted') : [];
  // What is varied is put among what was read.
  const others = world.assembly.readings.filter((reading) => !reading.subjects.some((of) => keys.has(saidKey(reading.name, of))));
  // It is not swapped for another one: readings that were taken with it count as taken with what it is varied to.
  const onNow = `${name}: on the vehicle now, so what was read of the vehicle counts as read with it as it is varied. To ask of another one in its place, plan that (in parts, with replaces) and vary it`;
  return [...(leftAside.length > 0 ? [aside] : []), ...(fitted.length > 0 && others.length > 0 ? [onNow] : [])];
}

/** Findings that are open and that the planned parts do not change, which no verdict of a stretch counts. */
const openAsBefore = ({ told }: Point): number =>
  grouped([...told.values()].filter(({ counts, verdict }) => !counts && (verdict === 'close' || verdict === 'unknown'))).length;

const settledTo = (a: Point, b: Point): boolean =>
  b.at - a.at === 1 || (a.verdict === b.verdict && [...a.told].every(([id, { verdict }]) => b.told.get(id)?.verdict === verdict));

const OPEN: ReadonlySet<Verdict | undefined> = new Set(['conflict', 'close']);

/** Findings that are not clear all along, each with its stretches, worst first; alike ones together. */
function findingsOf(points: readonly Point[], world: VehicleWorld, each: boolean) {
  const every = new Map(points.flatMap((point) => [...point.told]));
  const groups = new Map<string, { told: Told; ids: Told[]; runs: Run[] }>();
  for (const [id, told] of every) {
    const runs = runsOf(points, ofOne(id), each);
    if (runs.every(({ verdict }) => verdict === 'clear')) continue;
    const key = JSON.stringify([told.rule, points.map((point) => [point.told.get(id)?.verdict, point.told.get(id)?.low])]);
    const group = groups.get(key);
    if (group) group.ids.push(told);
    else groups.set(key, { told, ids: [told], runs });
  }
  const worstOf = (runs: readonly Run[]): number => Math.min(...runs.map(({ verdict }) => WORSE.indexOf(verdict)));
  const name = ({ ids }: { readonly ids: readonly Told[] }): string =>
    nameSubjects(
      ids.flatMap(({ subjects }) => subjects),
      world,
    );
  return [...groups.values()].sort(
    (a, b) =>
      worstOf(a.runs) - worstOf(b.runs) ||
      rank(a.told) - rank(b.told) ||
      compareText(a.told.rule, b.told.rule) ||
      compareText(name(a), name(b)),
  );
}

const MOST_DECIMALS = 4;

/** As they are written, the step first: to the decimals they have, else to two, or as many as tell one value from the next. */
function decimalsOf(steps: readonly number[]): number {
  const isWhole = (x: number): boolean => Math.abs(x - Math.round(x)) < 1e-6;
  const written = [...Array(MOST_DECIMALS + 1).keys()].find((n) => steps.every((x) => isWhole(x * 10 ** n)));
  const [step = 0] = steps;
  return written ?? Math.max(2, Math.ceil(-Math.log10(Math.abs(step))));
}

const plain = (x: number, decimals: number): number => Number(x.toFixed(Math.min(decimals, 20)));

function printer({ signature, valueAt, step }: ReadVary, system: System): (at: number) => WhatIfValue {
  const unit = unitOf(signature, system);
  const decimals = unit && step !== undefined ? decimalsOf([toUnitDelta(step, unit), toUnit(valueAt(0) as number, unit)]) : 0;
  return (at) => {
    const value = valueAt(at);
    return typeof value === 'string' || !unit ? { value } : { value: plain(toUnit(value, unit), decimals), unit: unit.symbol };
  };
}

function widthOf(si: number, signature: Signature, system: System): WhatIfValue {
  const unit = unitOf(signature, system);
  const width = unit ? toUnitDelta(si, unit) : si;
  return { value: plain(width, decimalsOf([width])), ...(unit && { unit: unit.symbol }) };
}

const unitOf = ({ type, unit }: Signature, system: System): Unit | undefined =>
  type.is === 'number' ? show(unit, type.dimension, system).unit : undefined;
