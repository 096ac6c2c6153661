/**
 * What if one thing were otherwise: over a range of one value, where the verdict turns, and what turns it. The vehicle is
 * checked at points of a grid, as few as find every turn: some evenly laid, then between points that differ, where the
 * ends of the margins cross the line. Every point told of was checked; nothing is told from a fitted curve.
 */
import { type Evaluation, worst } from '../engine/evaluate.ts';
import { type Assembly, saidKey } from '../vehicle/assembly.ts';
import { createWorld, type VehicleWorld } from '../vehicle/world.ts';
import { ownFindings } from './after-work.ts';
import type { Finding, Hazard, Verdict } from './answer.ts';
import { evaluationId } from './evaluation-id.ts';
import { findingOf, groupEvaluations } from './findings.ts';
import { LAW_REACHES, unreachedLimits } from './law-reach.ts';
import { boundFindings, disagreementFindings, unfilledFindings } from './own-findings.ts';
import { evaluateAll, evaluateRule, type RuleSet } from './rule-set.ts';
import { LAW, STATEMENTS, sortOf } from './rule-sorts.ts';
import type { System } from './show.ts';
import { Standing } from './standing.ts';
import { isSettled } from './verdicts.ts';
import { nextToAsk } from './what-if-turns.ts';

/** What a point says of one rule on one tuple of parts. */
export interface Told {
  readonly id: string;
  readonly rule: string;
  readonly title: string;
  readonly hazard: Hazard;
  /** What it is about: the law, the fit, or the area of its rule. */
  readonly sort: string;
  readonly subjects: readonly number[];
  /** Of one that no rule makes: what it is of, in words. */
  readonly subject?: string;
  readonly verdict: Verdict;
  /** Ends of the margin's band, SI; NaN where it has none. */
  readonly low: number;
  readonly high: number;
  /** It counts towards the verdict: the planned parts change it, or it is in conflict. */
  readonly counts: boolean;
  /** It rests on what is varied; if not, it is the same all along. */
  readonly varies: boolean;
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
  /** How many steps lie at most between points next to each other: what turns and turns back within them may be missed. */
  readonly spacing: number;
  /** The findings of those ids at one point as a check tells them; those that differ by their side alone are one. */
  findingsAt(at: number, ids: ReadonlySet<string>, system: System): readonly Finding[];
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
  /** The same of statements that stand at no step, or at some alone. */
  readonly aside: ReadonlySet<string>;
  /** Every step is asked: they are things of their own. */
  readonly each?: boolean;
}

export function searchTurns(rules: RuleSet, varied: Varied): Search {
  const { assemblyAt, steps, each = false } = varied;
  const first = assemblyAt(0);
  const world = createWorld(first, rules.library, rules.texts);
  const asking = new Asking(rules, world, first, varied);
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
  const found = inOrder(points);
  const spacing = Math.max(0, ...found.map(({ at }, i) => at - (found[i - 1]?.at ?? at)));
  return { world, points: found, spacing, findingsAt: (at, ids, system) => asking.findingsAt(at, ids, system) };
}

const inOrder = (points: ReadonlyMap<number, Point>): Point[] => [...points.values()].sort((a, b) => a.at - b.at);

/** Asks only the rules that rest on the varied value again. */
class Asking {
  readonly #rules: RuleSet;
  readonly #assemblyAt: AssemblyAt;
  readonly #standing: Standing | undefined;
  readonly #resting: RuleSet['compiled'];
  /** What holds whatever the value is: of rules, of positions not filled, of statements that disagree. */
  readonly #fixed: readonly Told[];

  constructor(rules: RuleSet, world: VehicleWorld, assembly: Assembly, { assemblyAt, keys, aside }: Varied) {
    this.#rules = rules;
    this.#assemblyAt = assemblyAt;
    // A value of a planned part is none of the vehicle as it stands.
    const planned = new Set(assembly.parts.filter(({ state }) => state === 'planned').map(({ subject }) => subject));
    const ofPlanned = [...keys].every((key) => planned.has(Number(key.split('|')[1])));
    const standing = new Standing(rules, assembly);
    this.#standing = ofPlanned ? standing : undefined;
    const evaluations = evaluateAll(rules, world);
    const reads = new Set(evaluations.flatMap((evaluation) => evaluation.reads));
    const rests = (reads: readonly number[]): boolean =>
      [...world.values.below(reads)].some((slot) => {
        const { name, subjects } = world.values.node(slot);
        const key = saidKey(name, subjects);
        return keys.has(key) || aside.has(key);
      });
    // What a value of the range contradicts says nothing of the others.
    const { values } = world;
    const isElsewhere = (slot: number): boolean => !rests(values.node(slot).provider ? [slot, values.twin(slot)] : [slot]);
    const isBoundElsewhere = (slots: readonly number[]): boolean => slots.every(isElsewhere);
    const own = [
      ...unfilledFindings(world),
      ...disagreementFindings(reads, world, 'metric', isElsewhere),
      ...boundFindings(world, 'metric', isBoundElsewhere),
    ];
    const resting = new Set(evaluations.filter(({ reads, failed }) => failed !== undefined || rests(reads)).map(({ rule }) => rule.id));
    this.#resting = rules.compiled.filter(({ rule }) => resting.has(rule.id));
    const fixed = evaluations.filter(({ rule }) => !resting.has(rule.id));
    this.#fixed = [...own.map(toldOfOwn), ...fixed.flatMap((evaluation) => told(evaluation, world, standing, false))];
  }

  point(at: number): Point {
    const assembly = this.#assemblyAt(at);
    const world = createWorld(assembly, this.#rules.library, this.#rules.texts);
    const standing = this.#standing ?? new Standing(this.#rules, assembly);
    const moved = this.#resting
      .flatMap((rule) => evaluateRule(rule, world))
      .flatMap((evaluation) => told(evaluation, world, standing, true));
    const ruled = [...this.#fixed, ...moved];
    const all = new Map([...ruled, ...unreached(ruled, world)].map((one) => [one.id, one]));
    return {
      at,
      told: all,
      verdict: worst([...all.values()].filter(({ counts }) => counts).map(({ verdict }) => verdict)),
    };
  }

  findingsAt(at: number, ids: ReadonlySet<string>, system: System): readonly Finding[] {
    const world = createWorld(this.#assemblyAt(at), this.#rules.library, this.#rules.texts);
    const ofRules = new Set([...ids].map((id) => id.split(':')[0]));
    const made = this.#rules.compiled.filter(({ rule }) => ofRules.has(rule.id)).flatMap((rule) => evaluateRule(rule, world));
    const asked = made.filter((evaluation) => ids.has(evaluationId(evaluation, world)));
    const own = [...ids].some((id) => !this.#rules.library.rules.has(id.split(':')[0] as string));
    // What no rule makes hangs on what all rules read.
    const others = own ? ownFindings(evaluateAll(this.#rules, world), world, system).filter(({ id }) => ids.has(id)) : [];
    return [...groupEvaluations(asked, world, ALL_COUNT).map((group) => findingOf(group, world, system, [])), ...others];
  }
}

/** Whoever is asked for was counted already. */
const ALL_COUNT = { same: () => false };

const NO_BAND = { low: Number.NaN, high: Number.NaN } as const;

const toldOfOwn = ({ id, rule, title, hazard, subject, verdict }: Finding): Told => ({
  ...{ id, rule, title, hazard, subject, verdict, ...NO_BAND },
  ...{ sort: STATEMENTS, subjects: [], counts: true, varies: false },
});

function told(evaluation: Evaluation, world: VehicleWorld, standing: Standing, varies: boolean): Told[] {
  const { rule, verdict, controlling, subjects } = evaluation;
  if (verdict === 'not-applicable') return [];
  const { low, high } = controlling ?? NO_BAND;
  const counts = isSettled(verdict) || !standing.same(evaluation, world);
  const { id, title, hazard } = rule;
  const named = { id: evaluationId(evaluation, world), rule: id, title, hazard, sort: sortOf(rule), subjects };
  return [{ ...named, verdict, low, high, counts, varies }];
}

/** Limits of law that reach the vehicle at one point may not at the next. */
function unreached(ruled: readonly Told[], world: VehicleWorld): Told[] {
  const reached = new Set(ruled.flatMap(({ subjects }) => subjects));
  return unreachedLimits(reached, world).map(([{ id, subject }]) => ({
    id: `${LAW_REACHES.rule}:${id}`,
    ...LAW_REACHES,
    subjects: [subject],
    ...NO_BAND,
    ...{ sort: LAW, counts: true, varies: true },
  }));
}
