/** The answer to a what-if, as it leaves the service: stretches of the value by verdict, what turns each, and what the stated work makes of them. */
import { worst } from '../engine/evaluate.ts';
import type { Signature } from '../engine/tree.ts';
import { toUnit, toUnitDelta, type Unit } from '../units/index.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { WorkedOut } from './after-work.ts';
import type { Hazard, Verdict } from './answer.ts';
import { nameSubjects } from './describe.ts';
import { type System, show } from './show.ts';
import type { ReadVary } from './vary.ts';
import type { Point, Search, Told } from './what-if.ts';

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
}

export interface Stretch {
  readonly verdict: Verdict;
  /** The first and the last value checked that have it. */
  readonly from: WhatIfValue;
  readonly to: WhatIfValue;
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
  readonly bands: readonly (Stretch & { readonly because: readonly WhatIfCause[]; readonly after_work?: readonly AfterWorkAt[] })[];
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
  readonly versions: { readonly engine: string; readonly models: string; readonly rules: string; readonly catalogue: string };
}

const MOST_CAUSES = 6;

/** Work is planned anew at each, as for a check of its own. */
const MOST_WORKED_OUT = 12;

export function whatIfAnswer(
  vary: ReadVary,
  { world, points, spacing }: Search,
  worked: (at: number) => WorkedOut | undefined,
  system: System,
  versions: WhatIf['versions'],
): WhatIf {
  const value = printer(vary, system);
  const stretch = ({ verdict, first, last }: Run): Stretch => ({ verdict, from: value(first.at), to: value(last.at) });
  const each = vary.each === true;
  const runs = runsOf(points, (point) => point.verdict, each);
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
  const bands = runs.map((run, i) => ({
    ...stretch(run),
    because: causesOf(run, runs[i - 1], runs[i + 1], world),
    ...afterWork(
      (point) => point === run.first || point === run.last,
      ({ verdict }) => verdict,
    ),
  }));
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
    summary: `${title} of ${subject}: ${summaryOf(bands, each)}${asBeforeText(asBefore)}`,
    varied: {
      quantity: vary.signature.name,
      title,
      subject,
      step: vary.step === undefined ? null : width(vary.step),
      plus_minus: vary.plusMinus > 0 ? width(vary.plusMinus) : null,
    },
    bands,
    findings,
    as_before: asBefore,
    checked: {
      values: points.map(({ at, verdict }) => ({ value: value(at).value, verdict })),
      unit: value(0).unit ?? null,
      spacing: vary.step === undefined || spacing <= 1 ? null : width(spacing * vary.step),
      to_the_step: points.every((point, i) => i === 0 || settledTo(points[i - 1] as Point, point)),
    },
    versions,
  };
}

/** Findings that are open and that the planned parts do not change, which no verdict of a stretch counts. */
const openAsBefore = ({ told }: Point): number =>
  grouped([...told.values()].filter(({ counts, verdict }) => !counts && (verdict === 'close' || verdict === 'unknown'))).length;

function asBeforeText(count: number): string {
  if (count === 0) return '';
  return ` ${count} more ${count === 1 ? 'is' : 'are'} open as before and not counted: the planned parts do not change ${count === 1 ? 'it' : 'them'}.`;
}

const settledTo = (a: Point, b: Point): boolean =>
  b.at - a.at === 1 || (a.verdict === b.verdict && [...a.told].every(([id, { verdict }]) => b.told.get(id)?.verdict === verdict));

const OPEN: ReadonlySet<Verdict | undefined> = new Set(['conflict', 'close']);

interface Run {
  readonly verdict: Verdict;
  readonly first: Point;
  readonly last: Point;
}

/** Points next to each other with one verdict, each by itself where they are things of their own; those with none part runs. */
function runsOf(points: readonly Point[], verdictOf: (point: Point) => Verdict | undefined, each: boolean): Run[] {
  const runs: Run[] = [];
  let open: { verdict: Verdict; first: Point; last: Point } | undefined;
  for (const point of points) {
    const verdict = verdictOf(point);
    if (!each && open && open.verdict === verdict) open.last = point;
    else {
      open = verdict && { verdict, first: point, last: point };
      if (open) runs.push(open);
    }
  }
  return runs;
}

/** What has the verdict where the stretch meets a better one; all along, where it meets none. */
function causesOf({ verdict, first, last }: Run, before: Run | undefined, after: Run | undefined, world: VehicleWorld): WhatIfCause[] {
  if (verdict === 'clear') return [];
  const better = (run: Run | undefined): boolean => run !== undefined && WORSE.indexOf(run.verdict) > WORSE.indexOf(verdict);
  const edges = [...(better(before) ? [first] : []), ...(better(after) ? [last] : [])];
  const at = edges.length > 0 ? edges : [first];
  const told = at.flatMap((point) => [...point.told.values()].filter((one) => one.counts && one.verdict === verdict));
  return grouped(told.sort((a, b) => rank(a) - rank(b)))
    .slice(0, MOST_CAUSES)
    .map(([one, ids]) => causeOf(one, ids, world));
}

const WORSE: readonly Verdict[] = ['conflict', 'unknown', 'close', 'clear'];
const HAZARDS = ['safety', 'legal', 'damage', 'comfort'];
const rank = ({ hazard }: Told): number => HAZARDS.indexOf(hazard);

/** One line for what differs by its side alone: one rule with the same ends. */
function grouped(told: readonly Told[]): [Told, Told[]][] {
  const groups = new Map<string, [Told, Told[]]>();
  for (const one of told) {
    const key = `${one.rule} ${one.low} ${one.high}`;
    const group = groups.get(key);
    if (!group) groups.set(key, [one, [one]]);
    else if (!group[1].some(({ id }) => id === one.id)) group[1].push(one);
  }
  return [...groups.values()];
}

function causeOf(told: Told, alike: readonly Told[], world: VehicleWorld): WhatIfCause {
  const { rule, title, hazard, subjects } = told;
  const roles = subjects.map((_, i) =>
    nameSubjects(
      alike.map((one) => one.subjects[i] as number),
      world,
    ),
  );
  const id = alike.map((one) => one.id).join('+');
  return { id, rule, title, hazard: hazard as Hazard, subject: roles.join(' and ') || world.assembly.name };
}

/** Findings that are not clear all along, each with its stretches, worst first; alike ones together. */
function findingsOf(points: readonly Point[], world: VehicleWorld, each: boolean) {
  const every = new Map(points.flatMap((point) => [...point.told]));
  const groups = new Map<string, { told: Told; ids: Told[]; runs: Run[] }>();
  for (const [id, told] of every) {
    const runs = runsOf(points, (point) => point.told.get(id)?.verdict, each);
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

const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Six figures: a step finer than people print is still a step. */
const SIX_FIGURES = 6;
const plain = (x: number): number => Number(x.toPrecision(SIX_FIGURES));

function printer({ signature, valueAt }: ReadVary, system: System): (at: number) => WhatIfValue {
  const unit = unitOf(signature, system);
  return (at) => {
    const value = valueAt(at);
    return typeof value === 'string' || !unit ? { value } : { value: plain(toUnit(value, unit)), unit: unit.symbol };
  };
}

function widthOf(si: number, signature: Signature, system: System): WhatIfValue {
  const unit = unitOf(signature, system);
  return unit ? { value: plain(toUnitDelta(si, unit)), unit: unit.symbol } : { value: plain(si) };
}

const unitOf = ({ type, unit }: Signature, system: System): Unit | undefined =>
  type.is === 'number' ? show(unit, type.dimension, system).unit : undefined;

const WORDS: Readonly<Record<Verdict, string>> = { conflict: 'conflict', unknown: 'not known', close: 'too close to call', clear: 'clear' };

const text = ({ value, unit }: WhatIfValue): string => (unit === undefined || unit === '1' ? `${value}` : `${value} ${unit}`);

/** The verdict of a stretch, and what the stated work makes of it where that is otherwise. */
function worded({ verdict, from, after_work = [] }: WhatIf['bands'][number]): string {
  const [first, last] = [after_work[0], after_work.at(-1)];
  if (!first || !last || after_work.every((after) => after.verdict === verdict)) return WORDS[verdict];
  const at = (after: AfterWorkAt): string => `${WORDS[after.verdict]} at ${text({ ...from, value: after.value })}`;
  const after = first.verdict === last.verdict ? WORDS[first.verdict] : `${at(first)}, ${at(last)},`;
  return `${WORDS[verdict]} (${after} after the stated work)`;
}

function summaryOf(bands: WhatIf['bands'], each: boolean): string {
  if (each) return `${bands.map((band) => `${text(band.from)} ${worded(band)}`).join(', ')}.`;
  const [first, ...others] = bands;
  if (!first) return 'nothing was checked.';
  if (others.length === 0) return `${worded(first)} all the way from ${text(first.from)} to ${text(first.to)}.`;
  const told = bands.map((band, i) => {
    if (i === bands.length - 1) return `${worded(band)} beyond`;
    return i === 0 ? `${worded(band)} up to ${text(band.to)}` : `${worded(band)} to ${text(band.to)}`;
  });
  return `${told.join(', ')}.`;
}
