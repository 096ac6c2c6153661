/**
 * What if one thing were otherwise: over a range of one value, where the verdict turns, and what turns it. The vehicle is
 * checked at points of a grid, as few as find every turn: some evenly laid, then between points that differ, where the
 * ends of the margins cross the line. Every point told of was checked; nothing is told from a fitted curve.
 */
import { worst } from '../engine/evaluate.ts';
import type { Assembly } from '../vehicle/assembly.ts';
import { createWorld, type VehicleWorld } from '../vehicle/world.ts';
import type { Verdict } from './answer.ts';
import { evaluationId } from './evaluation-id.ts';
import { LAW_REACHES, unreachedLimits } from './law-reach.ts';
import { disagreementFindings, unfilledFindings } from './own-findings.ts';
import { evaluateAll, evaluateRule, type RuleSet } from './rule-set.ts';
import { Standing } from './standing.ts';
import { isSettled } from './verdicts.ts';

/** What a point says of one rule on one tuple of parts. */
export interface Told {
  readonly id: string;
  readonly rule: string;
  readonly title: string;
  readonly hazard: string;
  readonly subjects: readonly number[];
  readonly verdict: Verdict;
  /** Ends of the margin's band, SI; NaN where it has none. */
  readonly low: number;
  readonly high: number;
  /** It counts towards the verdict: the planned parts change it, or it is in conflict. */
  readonly counts: boolean;
}

export interface Point {
  /** Steps from the beginning of the range. */
  readonly at: number;
  readonly verdict: Verdict;
  readonly told: ReadonlyMap<string, Told>;
}

export interface Search {
  readonly world: VehicleWorld;
  /** In order. */
  readonly points: readonly Point[];
  /** How many steps lie between points that were laid evenly: what turns and turns back within fewer may be missed. */
  readonly spacing: number;
}

/** The assembly with the varied value as it is that many steps from the beginning. */
export type AssemblyAt = (steps: number) => Assembly;

const LAID_EVENLY = 9;
const MOST_POINTS = 48;

export interface Varied {
  readonly assemblyAt: AssemblyAt;
  readonly steps: number;
  /** Names and subjects of what is varied, as in an assembly. */
  readonly keys: ReadonlySet<string>;
  /** Every step is asked: they are things of their own. */
  readonly each?: boolean;
}

export function searchTurns(rules: RuleSet, { assemblyAt, steps, keys, each = false }: Varied): Search {
  const first = assemblyAt(0);
  const world = createWorld(first, rules.library, rules.texts);
  const asking = new Asking(rules, world, first, assemblyAt, keys);
  const points = new Map<number, Point>();
  const ask = (at: number): void => {
    if (!points.has(at)) points.set(at, asking.point(at));
  };
  const laid = each ? steps : Math.min(LAID_EVENLY - 1, steps);
  for (let i = 0; i <= laid; i++) ask(Math.round((i * steps) / Math.max(1, laid)));
  for (let turn = 0; points.size < MOST_POINTS; turn++) {
    const next = nextToAsk(inOrder(points), turn);
    if (next === undefined) break;
    ask(next);
  }
  return { world, points: inOrder(points), spacing: laid === steps ? 1 : steps / laid };
}

const inOrder = (points: ReadonlyMap<number, Point>): Point[] => [...points.values()].sort((a, b) => a.at - b.at);

/** Asks only the rules that rest on the varied value again. */
class Asking {
  readonly #rules: RuleSet;
  readonly #assemblyAt: AssemblyAt;
  /** What holds whatever the value is: positions not filled, statements that disagree. */
  readonly #always: Verdict;
  readonly #standing: Standing | undefined;
  readonly #resting: RuleSet['compiled'];
  readonly #fixed: readonly Told[];

  constructor(rules: RuleSet, world: VehicleWorld, assembly: Assembly, assemblyAt: AssemblyAt, varied: ReadonlySet<string>) {
    this.#rules = rules;
    this.#assemblyAt = assemblyAt;
    // A value of a planned part is none of the vehicle as it stands.
    const planned = new Set(assembly.parts.filter(({ state }) => state === 'planned').map(({ subject }) => subject));
    const ofPlanned = [...varied].every((key) => planned.has(Number(key.split('|')[1])));
    const standing = new Standing(rules, assembly);
    this.#standing = ofPlanned ? standing : undefined;
    const evaluations = evaluateAll(rules, world);
    const reads = new Set(evaluations.flatMap((evaluation) => evaluation.reads));
    const rests = (reads: readonly number[]): boolean =>
      [...world.values.below(reads)].some((slot) => {
        const { name, subjects } = world.values.node(slot);
        return varied.has(`${name}|${subjects.join(',')}`);
      });
    // What a value of the range contradicts says nothing of the others.
    const { values } = world;
    const isElsewhere = (slot: number): boolean => !rests(values.node(slot).provider ? [slot, values.twin(slot)] : [slot]);
    const own = [...unfilledFindings(world), ...disagreementFindings(reads, world, 'metric', isElsewhere)];
    this.#always = worst(own.map(({ verdict }) => verdict));
    const resting = new Set(evaluations.filter(({ reads, failed }) => failed !== undefined || rests(reads)).map(({ rule }) => rule.id));
    this.#resting = rules.compiled.filter(({ rule }) => resting.has(rule.id));
    this.#fixed = evaluations.filter(({ rule }) => !resting.has(rule.id)).flatMap((evaluation) => told(evaluation, world, standing));
  }

  point(at: number): Point {
    const assembly = this.#assemblyAt(at);
    const world = createWorld(assembly, this.#rules.library, this.#rules.texts);
    const standing = this.#standing ?? new Standing(this.#rules, assembly);
    const moved = this.#resting.flatMap((rule) => evaluateRule(rule, world)).flatMap((evaluation) => told(evaluation, world, standing));
    const ruled = [...this.#fixed, ...moved];
    const all = new Map([...ruled, ...unreached(ruled, world)].map((one) => [one.id, one]));
    return {
      at,
      told: all,
      verdict: worst([this.#always, ...[...all.values()].filter(({ counts }) => counts).map(({ verdict }) => verdict)]),
    };
  }
}

function told(evaluation: ReturnType<typeof evaluateAll>[number], world: VehicleWorld, standing: Standing): Told[] {
  const { rule, verdict, controlling, subjects } = evaluation;
  if (verdict === 'not-applicable') return [];
  const { low = Number.NaN, high = Number.NaN } = controlling ?? {};
  const counts = isSettled(verdict) || !standing.same(evaluation, world);
  const named = { id: evaluationId(evaluation, world), rule: rule.id, title: rule.title, hazard: rule.hazard, subjects };
  return [{ ...named, verdict, low, high, counts }];
}

/** Limits of law that reach the vehicle at one point may not at the next. */
function unreached(ruled: readonly Told[], world: VehicleWorld): Told[] {
  const reached = new Set(ruled.flatMap(({ subjects }) => subjects));
  return unreachedLimits(reached, world).map(([{ id, subject }]) => ({
    id: `${LAW_REACHES.rule}:${id}`,
    ...LAW_REACHES,
    subjects: [subject],
    low: Number.NaN,
    high: Number.NaN,
    counts: true,
  }));
}

/** Between which points something turns that is not told to the step yet: the whole verdict first. */
function nextToAsk(points: readonly Point[], turn: number): number | undefined {
  const pairs = points.flatMap((b, i) => (i > 0 && b.at - (points[i - 1] as Point).at > 1 ? [[points[i - 1] as Point, b] as const] : []));
  const whole = pairs.find(([a, b]) => a.verdict !== b.verdict);
  if (whole) return between(...whole, deciding(...whole), turn);
  for (const [a, b] of pairs) {
    const id = differing(a, b)[0];
    if (id !== undefined) return between(a, b, id, turn);
  }
  return hidden(points);
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

/** A point where a margin, bent as three points have it, would cross the line and come back. */
function hidden(points: readonly Point[]): number | undefined {
  const asked = new Set(points.map(({ at }) => at));
  for (let i = 1; i + 1 < points.length; i++) {
    const three = [points[i - 1], points[i], points[i + 1]] as [Point, Point, Point];
    for (const id of three[1].told.keys())
      for (const end of ['low', 'high'] as const) {
        const at = crossing(
          three.map((point) => point.at),
          three.map((point) => point.told.get(id)?.[end] ?? Number.NaN),
        );
        if (at !== undefined && !asked.has(at)) return at;
      }
  }
  return undefined;
}

/** The vertex of a parabola through three points of one sign, if it has the other. */
function crossing([x0, x1, x2]: readonly number[], [y0, y1, y2]: readonly number[]): number | undefined {
  const [a, b, c] = [x0, x1, x2] as [number, number, number];
  const [p, q, r] = [y0, y1, y2] as [number, number, number];
  if (!(p >= 0 === q >= 0 && q >= 0 === r >= 0)) return undefined;
  const [left, right] = [(q - p) / (b - a), (r - q) / (c - b)];
  const bend = (right - left) / (c - a);
  const at = (a + b) / 2 - left / (2 * bend);
  const value = p + (at - a) * left + (at - a) * (at - b) * bend;
  const whole = Math.round(at);
  return at > a && at < c && value >= 0 !== q >= 0 && whole > a && whole < c ? whole : undefined;
}
