/**
 * What holds of the vehicle without its planned parts. A finding that the parts do not touch is no answer to whether
 * they fit: it is told apart, asks for no cutting on suspicion, and leaves the verdict to what they do change.
 */
import type { Evaluation } from '../engine/evaluate.ts';
import { EQUAL_WITHIN } from '../engine/interpret.ts';
import { SLOT } from '../engine/values.ts';
import type { Assembly } from '../vehicle/assembly.ts';
import { createWorld, unread, type VehicleWorld } from '../vehicle/world.ts';
import { evaluationId } from './evaluation-id.ts';
import { evaluateAll, type RuleSet } from './rule-set.ts';

export class Standing {
  readonly #before = new Map<string, Evaluation>();
  readonly #world: VehicleWorld | undefined;

  /** Nothing is told apart where nothing is planned: then the vehicle itself is what is asked about. */
  constructor(rules: RuleSet, assembly: Assembly) {
    const planned = assembly.parts.filter(({ state }) => state === 'planned');
    if (planned.length === 0) return;
    const world = createWorld({ ...unread(assembly, rules.library), removed: new Set(planned) }, rules.library, rules.texts);
    this.#world = world;
    for (const evaluation of evaluateAll(rules, world)) this.#before.set(evaluationId(evaluation, world), evaluation);
  }

  /** Whether a finding is just as it was before the parts. */
  same(evaluation: Evaluation, world: VehicleWorld): boolean {
    const before = this.#before.get(evaluationId(evaluation, world));
    if (before === undefined || before.verdict !== evaluation.verdict || !alike(before, evaluation)) return false;
    return evaluation.verdict !== 'unknown' || this.#restsOnTheSame(evaluation, world);
  }

  /** Whether all that is known of something unknown is what it was: a hose of unknown way that must reach further is not. */
  #restsOnTheSame({ reads }: Evaluation, { values }: VehicleWorld): boolean {
    const before = this.#world?.values;
    const seen = new Set<number>();
    const same = (slot: number): boolean => {
      if (seen.has(slot)) return true;
      seen.add(slot);
      const { name, subjects, inputs } = values.node(slot);
      const is = values.read(slot);
      if (!close(is, before?.read(before.slot(name, subjects)) ?? Number.NaN)) return false;
      return !Number.isNaN(is) || [...inputs].every(same);
    };
    return reads.every((slot) => slot <= SLOT.yes || same(slot));
  }
}

/** What parts change of a margin is nothing where it is this small a part of what its tolerances leave open: nobody could read it. */
const UNREADABLE = 0.02;

function alike({ controlling: a }: Evaluation, { controlling: b }: Evaluation): boolean {
  if (!a || !b) return a === b;
  const band = Math.min(a.high - a.low, b.high - b.low) / 2;
  const unreadable = (x: number, y: number): boolean => close(x, y) || (Number.isFinite(band) && Math.abs(x - y) <= UNREADABLE * band);
  return unreadable(a.margin, b.margin) && unreadable(a.low, b.low) && unreadable(a.high, b.high);
}

const close = (x: number, y: number): boolean => Object.is(x, y) || Math.abs(x - y) <= EQUAL_WITHIN * Math.max(1, Math.abs(x));
