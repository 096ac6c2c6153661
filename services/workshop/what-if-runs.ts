/** Stretches of a what-if: points next to each other with one verdict, of the whole, of one finding, or of what is of one sort. */
import { worst } from '../engine/evaluate.ts';
import type { Verdict } from './answer.ts';
import { FIT, LAW } from './rule-sorts.ts';
import type { Point, Told } from './what-if.ts';

/** What verdicts are told of. */
export interface Line {
  readonly verdictOf: (point: Point) => Verdict | undefined;
  /** What has a part in the verdict at a point. */
  readonly countedAt: (point: Point) => readonly Told[];
}

export interface Run {
  readonly line: Line;
  readonly verdict: Verdict;
  readonly points: readonly Point[];
  readonly first: Point;
  readonly last: Point;
}

export const WHOLE: Line = {
  verdictOf: ({ verdict }) => verdict,
  countedAt: ({ told }) => [...told.values()].filter(({ counts }) => counts),
};

export const ofOne = (id: string): Line => ({ verdictOf: ({ told }) => told.get(id)?.verdict, countedAt: () => [] });

/** What is varied alone: that a bolt pattern is wrong all along would hide it. */
function ofSort(sort: string): Line {
  const countedAt = (point: Point): readonly Told[] => WHOLE.countedAt(point).filter((told) => told.varies && told.sort === sort);
  return { countedAt, verdictOf: (point) => worst(countedAt(point).map(({ verdict }) => verdict)) };
}

/** Each by itself where they are things of their own; points with no verdict part runs. */
export function runsOf(points: readonly Point[], line: Line, each: boolean): Run[] {
  const runs: { verdict: Verdict; points: Point[] }[] = [];
  let open: (typeof runs)[number] | undefined;
  for (const point of points) {
    const verdict = line.verdictOf(point);
    if (!each && open && open.verdict === verdict) open.points.push(point);
    else {
      open = verdict && { verdict, points: [point] };
      if (open) runs.push(open);
    }
  }
  return runs.map((run) => ({ ...run, line, first: run.points[0] as Point, last: run.points.at(-1) as Point }));
}

const FIRST = [FIT, LAW];

/** Of each sort that is not clear all along, its stretches; the fit first, then the law. */
export function sortsOf(points: readonly Point[], each: boolean): { readonly sort: string; readonly runs: readonly Run[] }[] {
  const told = points.flatMap((point) => WHOLE.countedAt(point)).filter(({ varies, verdict }) => varies && verdict !== 'clear');
  const place = (sort: string): number => (FIRST.includes(sort) ? FIRST.indexOf(sort) : FIRST.length);
  return [...new Set(told.map(({ sort }) => sort))]
    .sort((a, b) => place(a) - place(b) || compareText(a, b))
    .map((sort) => ({ sort, runs: runsOf(points, ofSort(sort), each) }));
}

export const WORSE: readonly Verdict[] = ['conflict', 'unknown', 'close', 'clear'];
type Judged = Pick<Run, 'verdict'>;
export const isWorse = (a: Judged, b: Judged): boolean => WORSE.indexOf(a.verdict) < WORSE.indexOf(b.verdict);

const MOST_CAUSES = 6;

/** What has the verdict where the stretch meets a better one; all along, where it meets none. */
export function turning(run: Run, before: Run | undefined, after: Run | undefined): [Told, Told[]][] {
  if (run.verdict === 'clear') return [];
  const better = (other: Run | undefined): boolean => other !== undefined && isWorse(run, other);
  const edges = [...(better(before) ? [run.first] : []), ...(better(after) ? [run.last] : [])];
  return causesAt(edges.length > 0 ? edges : [run.first], run).slice(0, MOST_CAUSES);
}

/** What has the verdict of the run at points of it, worst hazard first. */
export function causesAt(points: readonly Point[], { line, verdict }: Run): [Told, Told[]][] {
  const told = points.flatMap((point) => line.countedAt(point).filter((one) => one.verdict === verdict));
  return grouped(told.sort((a, b) => rank(a) - rank(b)));
}

const HAZARDS = ['safety', 'legal', 'damage', 'comfort'];
export const rank = ({ hazard }: Told): number => HAZARDS.indexOf(hazard);

/** One line for what differs by its side alone: one rule with the same ends. */
export function grouped(told: readonly Told[]): [Told, Told[]][] {
  const groups = new Map<string, [Told, Told[]]>();
  for (const one of told) {
    const key = `${one.rule} ${one.low} ${one.high} ${one.subject ?? ''}`;
    const group = groups.get(key);
    if (!group) groups.set(key, [one, [one]]);
    else if (!group[1].some(({ id }) => id === one.id)) group[1].push(one);
  }
  return [...groups.values()];
}

export const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
