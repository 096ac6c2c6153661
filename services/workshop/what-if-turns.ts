/** Where a what-if asks next: where something turns between two points, where a margin may turn unseen, and inside what is not clear. */
import { worst } from '../engine/evaluate.ts';
import type { Point } from './what-if.ts';

/** Between which points something turns that is not told to the step yet: the whole verdict first. */
export function nextToAsk(points: readonly Point[], turn: number): number | undefined {
  const pairs = points.flatMap((b, i) => (i > 0 && b.at - (points[i - 1] as Point).at > 1 ? [[points[i - 1] as Point, b] as const] : []));
  const whole = pairs.find(([a, b]) => a.verdict !== b.verdict);
  if (whole) return between(...whole, deciding(...whole), turn);
  for (const [a, b] of pairs) {
    const id = differing(a, b)[0];
    if (id !== undefined) return between(a, b, id, turn);
  }
  return hidden(points) ?? inside(points);
}

const differing = (a: Point, b: Point): string[] =>
  [...new Set([...a.told.keys(), ...b.told.keys()])].filter((id) => a.told.get(id)?.verdict !== b.told.get(id)?.verdict);

/** Of what turns between two points, something that has the worse of the two verdicts. */
function deciding(a: Point, b: Point): string | undefined {
  const verdict = worst([a.verdict, b.verdict]);
  const ids = differing(a, b);
  return ids.find((id) => (a.verdict === verdict ? a : b).told.get(id)?.verdict === verdict) ?? ids[0];
}

/** Where an end of the margin crosses the line if it goes straight; every third time the middle, which halves whatever it does. */
function between(a: Point, b: Point, id: string | undefined, turn: number): number {
  const middle = Math.floor((a.at + b.at) / 2);
  const [one, other] = id === undefined ? [] : [a.told.get(id), b.told.get(id)];
  if (turn % 3 === 2 || !one || !other) return middle;
  const end = one.verdict === 'conflict' || other.verdict === 'conflict' ? 'high' : 'low';
  const part = one[end] / (one[end] - other[end]);
  if (!(part >= 0 && part <= 1)) return middle;
  return Math.min(b.at - 1, Math.max(a.at + 1, Math.round(a.at + part * (b.at - a.at))));
}

/**
 * Where a margin may cross the line between two points and come back. A margin that bends one way lies, between two points, on one side of
 * both chords that lead up to them: where they meet is as far as it can go. What bends both ways, or steps, in there is not found.
 */
function hidden(points: readonly Point[]): number | undefined {
  for (let i = 1; i < points.length; i++) {
    const [b, c] = [points[i - 1], points[i]] as [Point, Point];
    if (c.at - b.at <= 1) continue;
    for (const id of b.told.keys())
      for (const end of ['low', 'high'] as const) {
        const place = (point: Point | undefined): Place | undefined => point && [point.at, point.told.get(id)?.[end] ?? Number.NaN];
        const at = turning(place(points[i - 2]), place(b) as Place, place(c) as Place, place(points[i + 1]));
        if (at !== undefined) return at;
      }
  }
  return undefined;
}

type Place = readonly [at: number, margin: number];

/** How far towards the line the chords from without let it go between b and c, where both are on one side of it. */
function turning(a: Place | undefined, b: Place, c: Place, d: Place | undefined): number | undefined {
  const isMet = b[1] >= 0;
  if (!(Number.isFinite(b[1] + c[1]) && c[1] >= 0 === isMet)) return undefined;
  const [left, right] = [slope(a, b), slope(c, d)];
  // What just touches the line is met: sums that are off in their last bits do not tell it from what falls short.
  const touches = 1e-9 * Math.max(Math.abs(b[1]), Math.abs(c[1]));
  const isCrossed = (margin: number): boolean => (isMet ? margin < 0 : margin >= -touches);
  const within = (at: number): number => Math.min(c[0] - 1, Math.max(b[0] + 1, Math.round(at)));
  if (left !== undefined && right !== undefined) {
    const at = (c[1] - b[1] + left * b[0] - right * c[0]) / (left - right);
    return at > b[0] && at < c[0] && isCrossed(b[1] + left * (at - b[0])) ? within(at) : undefined;
  }
  // Bounded by one chord alone, at an end of the range: half way, the next points bound it from both sides.
  const width = c[0] - b[0];
  const reach = left !== undefined ? b[1] + left * width : right !== undefined ? c[1] - right * width : c[1];
  return isCrossed(reach) ? within(b[0] + width / 2) : undefined;
}

function slope(from: Place | undefined, to: Place | undefined): number | undefined {
  const rise = from && to ? (to[1] - from[1]) / (to[0] - from[0]) : Number.NaN;
  return Number.isFinite(rise) ? rise : undefined;
}

/** The middle of a stretch that is not clear and has no point well inside it: what decides it is told there. */
function inside(points: readonly Point[]): number | undefined {
  for (let i = 0; i < points.length; ) {
    const { verdict, at: first } = points[i] as Point;
    let end = i;
    while (points[end + 1]?.verdict === verdict) end++;
    const last = (points[end] as Point).at;
    const middle = Math.round((first + last) / 2);
    const isNear = ({ at }: Point): boolean => Math.abs(at - middle) <= (last - first) / 4;
    if (verdict !== 'clear' && last - first > 1 && !points.slice(i, end + 1).some(isNear)) return middle;
    i = end + 1;
  }
  return undefined;
}
