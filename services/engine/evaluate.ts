/**
 * Rules asked of a vehicle. `verdictsOf` is the quick question, on the nominal values alone; `evaluate` is the whole
 * one: every atom of what is required gets its margin and the band that tolerances leave it, and the verdict follows.
 */
import type { Bands } from './band.ts';
import { type BoundRule, MOST_TUPLES, type World } from './bind.ts';
import { QUICK, type Question } from './compile.ts';
import { frameOf, slotsOf, slotsReadBy } from './frame.ts';
import { type Atom, atomsOf, EmptyFold, EQUAL_WITHIN, type Frame, messageOf, number } from './interpret.ts';
import type { Interval } from './interval.ts';
import { provenEnds } from './proof.ts';
import type { Rule, Truth, Verdict } from './tree.ts';
import type { Values } from './values.ts';

/** How sure an end of a band is: proved by bounds, or the worst that a search found. */
export type Certainty = 'proven' | 'searched';

export interface AtomResult {
  readonly atom: Atom;
  readonly verdict: Verdict;
  /** SI; infinite for what is met or not without degree; NaN when unknown. */
  readonly margin: number;
  readonly low: number;
  readonly high: number;
  readonly lowIs: Certainty;
  readonly highIs: Certainty;
  /** Size of the larger side, to compare margins of different dimensions. */
  readonly scale: number;
  /** By what part of what it leaves open each slot is moved where the margin is at its lowest. */
  readonly worst: ReadonlyMap<number, number>;
  readonly doubt: readonly { readonly slot: number; readonly share: number }[];
}

export interface Evaluation {
  readonly rule: Rule;
  readonly subjects: readonly number[];
  readonly verdict: Verdict | 'not-applicable';
  /** The atom that decides; absent when nothing was compared. */
  readonly controlling: AtomResult | undefined;
  readonly atoms: readonly AtomResult[];
  /** Slots of missing values. */
  readonly missing: readonly number[];
  /** Every slot the tuple reads. */
  readonly reads: readonly number[];
  readonly frame: Frame;
  /** What went wrong, if the rule could not be evaluated. */
  readonly failed: string | undefined;
}

/** Worst first. */
export const VERDICTS: readonly Verdict[] = ['conflict', 'unknown', 'close', 'clear'];

export const worst = (verdicts: readonly Verdict[]): Verdict => VERDICTS.find((verdict) => verdicts.includes(verdict)) ?? 'clear';
const best = (verdicts: readonly Verdict[]): Verdict => VERDICTS.findLast((verdict) => verdicts.includes(verdict)) ?? 'clear';

/** Verdicts of all tuples on the nominal values, tolerances aside. Values must have been read since they last changed. */
export const verdictsOf = ({ compiled, slots, starts }: BoundRule, values: Float64Array, out: Uint8Array): void =>
  compiled.quick(values, slots, starts, out);

/** A conflict on the nominal values: the numbers, without tolerances and without words. */
export interface QuickFinding {
  readonly rule: string;
  readonly subjects: readonly number[];
  /** Of each atom of what is required; SI. */
  readonly margins: readonly number[];
}

/** The conflicts among all tuples on the nominal values. The analysis of tolerances goes around this. */
export function conflictsOf(bound: BoundRule, values: Float64Array, verdicts: Uint8Array): QuickFinding[] {
  verdictsOf(bound, values, verdicts);
  const found: QuickFinding[] = [];
  const { compiled, tuples, slots, starts } = bound;
  for (let i = 0; i < starts.length; i++) {
    if (verdicts[i] !== QUICK.conflict) continue;
    const at = starts[i] as number;
    found.push({
      rule: compiled.rule.id,
      subjects: tuples[i] as readonly number[],
      margins: compiled.margins.map((margin) => margin(values, slots, at)),
    });
  }
  return found;
}

export function evaluate(bound: BoundRule, world: World): Evaluation[] {
  if (bound.tooMany) return [unanswered(bound.compiled.rule, world, `it ranges over more than ${MOST_TUPLES} combinations of parts`)];
  return bound.tuples.map((subjects, i) => evaluateTuple(bound, subjects, bound.starts[i] as number, world));
}

/** A rule that cannot be asked of this vehicle at all. */
export function unanswered(rule: Rule, world: World, failed: string): Evaluation {
  const nothing = { subjects: [], controlling: undefined, atoms: [], missing: [], reads: [] };
  return {
    rule,
    ...nothing,
    verdict: 'unknown',
    frame: frameOf(rule.scope, [], world),
    failed,
  };
}

function evaluateTuple(bound: BoundRule, subjects: readonly number[], at: number, world: World): Evaluation {
  const { rule, layout } = bound.compiled;
  const reads = slotsOf(layout, bound.slots, at);
  const frame = frameOf(rule.scope, subjects, world);
  const common = { rule, subjects, reads, frame };
  try {
    for (const slot of reads) world.values.read(slot);
    return { ...common, ...judge(bound, subjects, at, world, frame), failed: undefined };
  } catch (error) {
    const nothing = { controlling: undefined, atoms: [], missing: [] };
    if (error instanceof EmptyFold) return { ...common, ...nothing, verdict: 'not-applicable', failed: undefined };
    return { ...common, ...nothing, verdict: 'unknown', failed: messageOf(error) };
  }
}

type Judgement = Pick<Evaluation, 'verdict' | 'controlling' | 'atoms' | 'missing'>;

function judge({ compiled, slots }: BoundRule, subjects: readonly number[], at: number, world: World, frame: Frame): Judgement {
  const { values, bands } = world;
  const { rule, layout, guards } = compiled;
  const asking = (question: Question, nodes: readonly Truth[]): Asking => {
    const rests = slotsReadBy(nodes, layout, slots, at);
    const ask = (): number => {
      for (const slot of rests) values.read(slot);
      return question(values.values, slots, at);
    };
    return { rests, ask };
  };
  const applies = compiled.guard ? guardBand(bands, asking(compiled.guard, guards)) : 'yes';
  if (applies === 'no') return { verdict: 'not-applicable', controlling: undefined, atoms: [], missing: [] };
  const atoms = atomsOf(rule.require).map((atom, i) => {
    const band = judgeAtom(atom, asking(compiled.margins[i] as Question, [atom]), bands, frame);
    return { ...band, ...certainty(band, provenEnds(atom, rule.scope, subjects, world)) };
  });
  const { verdict, controlling } = combine(rule.require, atoms);
  const settled = applies === 'unknown' ? 'unknown' : applies === 'perhaps' && verdict === 'conflict' ? 'close' : verdict;
  const missing = settled === 'unknown' ? missingOf(values, slotsReadBy([...guards, rule.require], layout, slots, at)) : [];
  return { verdict: settled, controlling, atoms, missing };
}

/** A question, and the slots its answer rests on. */
interface Asking {
  readonly rests: readonly number[];
  ask(): number;
}

/** Whether the rule applies, given that what its guard reads has tolerances too. */
function guardBand(bands: Bands, { rests, ask }: Asking): 'yes' | 'no' | 'unknown' | 'perhaps' {
  const { nominal, low, high } = bands.search(rests, ask);
  if (Number.isNaN(nominal)) return 'unknown';
  return low === high ? (nominal === 1 ? 'yes' : 'no') : 'perhaps';
}

function judgeAtom(atom: Atom, { rests, ask }: Asking, bands: Bands, frame: Frame): Omit<AtomResult, 'lowIs' | 'highIs'> {
  const { nominal, low, high, worst: moves, doubt } = bands.search(rests, ask);
  const verdict = Number.isNaN(nominal) ? 'unknown' : low >= 0 ? 'clear' : high < 0 ? 'conflict' : 'close';
  const scale = atom.op === 'compare' ? Math.max(Math.abs(number(atom.a, frame)), Math.abs(number(atom.b, frame)), Number.MIN_VALUE) : 1;
  return { atom, verdict, margin: nominal, low, high, scale, worst: moves, doubt };
}

/** An end that was found is proved when nothing can lie beyond it. */
function certainty(
  { low, high, scale }: Pick<AtomResult, 'low' | 'high' | 'scale'>,
  proven: Interval,
): Pick<AtomResult, 'lowIs' | 'highIs'> {
  const is = (found: number, bound: number): Certainty => (Math.abs(found - bound) <= EQUAL_WITHIN * scale ? 'proven' : 'searched');
  return { lowIs: is(low, proven.low), highIs: is(high, proven.high) };
}

interface Combined {
  readonly verdict: Verdict;
  readonly controlling: AtomResult | undefined;
}

/** `and` takes the worst part and of those the least margin, `or` the best part and of those the greatest. */
function combine(node: Truth, atoms: readonly AtomResult[]): Combined {
  if (node.op !== 'and' && node.op !== 'or') {
    const result = atoms.find(({ atom }) => atom === node);
    return { verdict: result?.verdict ?? 'unknown', controlling: result };
  }
  const parts = node.parts.map((part) => combine(part, atoms));
  const verdict = (node.op === 'and' ? worst : best)(parts.map((part) => part.verdict));
  const deciding = parts.filter((part) => part.verdict === verdict);
  const ordered = deciding.sort((a, b) => compareResults(a.controlling, b.controlling));
  return (node.op === 'and' ? ordered[0] : ordered.at(-1)) as Combined;
}

/** Margins of one dimension compare as they are, of different ones relative to the size of what is compared. */
function compareResults(a: AtomResult | undefined, b: AtomResult | undefined): number {
  if (!a || !b || Number.isNaN(a.margin) || Number.isNaN(b.margin)) return 0;
  const alike = dimensionOf(a.atom) === dimensionOf(b.atom);
  return alike ? a.margin - b.margin : a.margin / a.scale - b.margin / b.scale;
}

const dimensionOf = (atom: Atom): unknown => (atom.op === 'compare' ? atom.a.dimension : undefined);

const missingOf = (values: Values, reads: readonly number[]): number[] => [...new Set(reads.flatMap((slot) => values.missingOf(slot)))];
