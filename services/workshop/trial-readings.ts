/**
 * What readings not yet taken would do. A reading is laid over the vehicle's values for a while, at the value that is
 * expected with the accuracy of its tool, and the findings that are open are asked again.
 * The value that a reading will have is not known: what it leaves open of a finding tells the chance that it settles it (`chance.ts`).
 */
import { Bands } from '../engine/band.ts';
import { type BoundRule, bindRule } from '../engine/bind.ts';
import type { CompiledRule } from '../engine/compile.ts';
import { type Evaluation, evaluate } from '../engine/evaluate.ts';
import { Ranges } from '../engine/proof.ts';
import type { Candidate } from '../engine/values.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import { chanceSettled, type Spread } from './chance.ts';
import type { Grouped } from './findings.ts';
import type { RuleSet } from './rule-set.ts';

/** One reading: the slots it gives at once, such as those of four tyres of one size. */
export interface Reading {
  readonly slots: readonly number[];
  /** SI, half-width. */
  readonly accuracy: number;
}

/** An open finding, and what readings have left of it. */
export class OpenFinding {
  readonly group: Grouped;
  /** All that its margin rests on. */
  readonly below: ReadonlySet<number>;
  readonly #before: Spread;
  now: Evaluation;
  /** Nothing but what is missing tells. */
  readonly isUnknown: boolean;
  /** Missing values that are still to be read, and such as contradict each other, to be read again. */
  missing: Set<number>;

  constructor(group: Grouped, world: VehicleWorld) {
    const [first] = group.evaluations;
    this.group = group;
    this.now = first;
    this.below = world.values.below(group.evaluations.flatMap(({ reads }) => reads));
    this.missing = new Set(
      group.evaluations.flatMap(({ verdict, missing, contested = [] }) => (verdict === 'unknown' ? missing : contested)),
    );
    this.isUnknown = this.missing.size > 0 || group.verdict === 'unknown';
    this.#before = this.left;
  }

  /** What is open now. */
  get left(): Spread {
    const { low = Number.NaN, high = Number.NaN, rss } = this.now.controlling ?? {};
    const worst = (high - low) / 2;
    return { worst, rss: rss ? (rss.high - rss.low) / 2 : worst };
  }

  get chance(): number {
    if (this.isUnknown) return this.missing.size === 0 ? 1 : 0;
    return this.chanceWith(this.left);
  }

  /** Where it lies is told by what is known now: a band that ends unevenly does not shrink about its middle. */
  chanceWith(left: Spread): number {
    const { low = Number.NaN, high = Number.NaN } = this.now.controlling ?? {};
    return chanceSettled((low + high) / 2, this.#before, left);
  }
}

/** Lays readings over the values one after another, and asks again what they touch. */
export class Trial {
  readonly #world: VehicleWorld;
  readonly #compiled: ReadonlyMap<string, CompiledRule>;
  readonly #bound = new Map<string, BoundRule>();
  readonly #laid: number[] = [];
  #statements = Number.MAX_SAFE_INTEGER;

  constructor(rules: RuleSet, world: VehicleWorld) {
    this.#world = world;
    this.#compiled = new Map(rules.compiled.map((compiled) => [compiled.rule.id, compiled]));
  }

  lay({ slots, accuracy }: Reading, findings: readonly OpenFinding[]): void {
    const { values } = this.#world;
    const statement = this.#statements--;
    for (const slot of slots) {
      const value = values.read(slot);
      if (!Number.isNaN(value)) values.suppose(slot, { value, plusMinus: accuracy, rank: 'measured', statement });
      this.#laid.push(slot);
    }
    const touched = findings.filter(({ below }) => slots.some((slot) => below.has(slot)));
    const world = { ...this.#world, bands: new Bands(values), ranges: new Ranges(values) };
    for (const finding of touched) {
      for (const slot of slots) finding.missing.delete(slot);
      if (!finding.isUnknown) finding.now = this.#again(finding.now, world);
    }
  }

  /** The verdict if that were said of those slots, whatever else is; the vehicle is as it was afterwards. */
  verdictIf(said: ReadonlyMap<number, Candidate>, evaluation: Evaluation): Evaluation['verdict'] {
    const { values } = this.#world;
    for (const [slot, candidate] of said) values.suppose(slot, candidate);
    const { verdict } = this.#again(evaluation, { ...this.#world, bands: new Bands(values), ranges: new Ranges(values) });
    for (const slot of said.keys()) values.suppose(slot, undefined);
    for (const slot of evaluation.reads) values.read(slot);
    return verdict;
  }

  /** The vehicle as it was. */
  end(): void {
    for (const slot of this.#laid) this.#world.values.suppose(slot, undefined);
  }

  #again({ rule, subjects }: Evaluation, world: VehicleWorld): Evaluation {
    const bound = this.#bound.get(rule.id) ?? bindRule(this.#compiled.get(rule.id) as CompiledRule, this.#world);
    this.#bound.set(rule.id, bound);
    const at = bound.tuples.findIndex((tuple) => tuple.every((subject, i) => subject === subjects[i]));
    const one = { ...bound, tuples: [bound.tuples[at] as readonly number[]], starts: bound.starts.slice(at, at + 1) };
    return evaluate(one, world)[0] as Evaluation;
  }
}
