/**
 * Rules asked of a vehicle. `verdictsOf` is the quick question, on the nominal values alone; `evaluate` is the whole
 * one: every atom of what is required gets its margin and the band that tolerances leave it, and the verdict follows.
 */
import type { Bands, Rss } from './band.ts';
import { type BoundRule, MOST_TUPLES, type World } from './bind.ts';
import { QUICK, type Question } from './compile.ts';
import { frameOf, slotsOf, slotsReadBy } from './frame.ts';
import { type Atom, atomsOf, degree, EmptyFold, EQUAL_WITHIN, type Frame, messageOf, number, shareOf } from './interpret.ts';
import { type Block, cornerOf } from './proof.ts';
import { isAny } from './range.ts';
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
  /** Its band by root sum of squares. */
  readonly rss: Rss | undefined;
  readonly lowIs: Certainty;
  readonly highIs: Certainty;
  /** Size of the larger side, to compare margins of different dimensions. */
  readonly scale: number;
  /** By what part of what it leaves open each slot is moved where the margin is at its lowest. */
  readonly worst: ReadonlyMap<number, number>;
  readonly doubt: readonly { readonly slot: number; readonly share: number }[];
  /** By how much further either end is with what models have folded together at its worst (`Band`). */
  readonly folded: number;
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
  /** Slots below it whose statements cannot all be true, where there are any: then it is not settled. */
  readonly contested?: readonly number[];
}

/** Worst first. */
export const VERDICTS: readonly Verdict[] = ['conflict', 'unknown', 'close', 'clear'];

export const worst = (verdicts: readonly Verdict[]): Verdict => VERDICTS.find((verdict) => verdicts.includes(verdict)) ?? 'clear';
/** What is missing is not hidden by what another part's tolerance leaves open: that one told, it would be missing all the same. */
const best = (verdicts: readonly Verdict[]): Verdict =>
  (['clear', 'unknown', 'close', 'conflict'] as const).find((verdict) => verdicts.includes(verdict)) ?? 'clear';

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
    return { ...common, ...judge(bound, at, world, frame), failed: undefined };
  } catch (error) {
    const nothing = { controlling: undefined, atoms: [], missing: [] };
    if (error instanceof EmptyFold) return { ...common, ...nothing, verdict: 'not-applicable', failed: undefined };
    return { ...common, ...nothing, verdict: 'unknown', failed: messageOf(error) };
  }
}

type Judgement = Pick<Evaluation, 'verdict' | 'controlling' | 'atoms' | 'missing'>;

function judge({ compiled, slots }: BoundRule, at: number, world: World, frame: Frame): Judgement {
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
  const applies = compiled.guard ? guardBand(world, asking(compiled.guard, guards)) : 'yes';
  if (applies === 'no') return { verdict: 'not-applicable', controlling: undefined, atoms: [], missing: [] };
  const atoms = atomsOf(rule.require).map((atom, i) => {
    const asked = asking(compiled.margins[i] as Question, [atom]);
    if (atom.op === 'fold-truth') return byDegree(atom, asked, bands, frame);
    return withVerdict(proved(judgeAtom(atom, asked, bands, frame), asked, { layout, slots, at }, world));
  });
  const apart = combine(rule.require, atoms);
  const margins = (): number[] => compiled.margins.map((margin) => margin(values.values, slots, at));
  const { verdict, controlling } = together(
    rule.require,
    atoms,
    apart,
    asking(() => 0, [rule.require]),
    margins,
    world,
  );
  const settled = applies === 'unknown' ? 'unknown' : applies === 'perhaps' && verdict === 'conflict' ? 'close' : verdict;
  const missing = settled === 'unknown' ? missingOf(values, slotsReadBy([...guards, rule.require], layout, slots, at)) : [];
  return { verdict: settled, controlling, atoms, missing };
}

/** A question, and the slots its answer rests on. */
interface Asking {
  readonly rests: readonly number[];
  ask(): number;
}

/** Whether the rule applies, given that what its guard reads has tolerances too, some of which may reach where it hangs on what is missing. */
function guardBand({ bands, values }: World, { rests, ask }: Asking): 'yes' | 'no' | 'unknown' | 'perhaps' {
  const { nominal, low, high } = bands.search(rests, ask);
  const mayHang = low === Number.NEGATIVE_INFINITY && rests.some((slot) => Number.isNaN(values.read(slot)));
  if (Number.isNaN(nominal) || mayHang) return 'unknown';
  return low === high ? (nominal === 1 ? 'yes' : 'no') : 'perhaps';
}

type Searched = Omit<AtomResult, 'verdict' | 'lowIs' | 'highIs'>;

function judgeAtom(atom: Atom, { rests, ask }: Asking, bands: Bands, frame: Frame): Searched {
  const { nominal, low, high, rss, worst: moves, doubt, folded } = bands.search(rests, ask);
  const scale = atom.op === 'compare' ? Math.max(Math.abs(number(atom.a, frame)), Math.abs(number(atom.b, frame)), Number.MIN_VALUE) : 1;
  return { atom, margin: nominal, low, high, rss, scale, worst: moves, doubt, folded };
}

const endless = (degree: number): number => (degree >= 0 ? Number.POSITIVE_INFINITY : degree < 0 ? Number.NEGATIVE_INFINITY : Number.NaN);

/** A statement about all or some parts has no margin of its own; how far it is from turning finds where it does. */
function byDegree(atom: Atom, { rests }: Asking, bands: Bands, frame: Frame): AtomResult {
  const { nominal, low, high, worst: moves, doubt } = bands.search(rests, () => degree(atom, frame));
  const common = { atom, rss: undefined, lowIs: 'searched', highIs: 'searched', scale: 1, worst: moves, doubt, folded: 0 } as const;
  return withVerdict({ ...common, margin: endless(nominal), low: endless(low), high: endless(high) });
}

function withVerdict(result: Omit<AtomResult, 'verdict'>): AtomResult {
  const { margin, low, high } = result;
  return { ...result, verdict: Number.isNaN(margin) ? 'unknown' : low >= 0 ? 'clear' : high < 0 ? 'conflict' : 'close' };
}

/** What a bound may add to a band, as a part of it, for the end to be given as the bound: a little wide, but proved. */
const WORTH_PROVING = 0.02;

/** The ends of a band that hold for all values within the tolerances. A bound is taken where it hardly widens the band and tells the same. */
function proved(found: Searched, asked: Asking, block: Block, world: World): Omit<AtomResult, 'verdict'> {
  const range = Number.isFinite(found.margin) ? world.ranges.margin(found.atom, block) : undefined;
  if (!range || isAny(range)) return { ...found, lowIs: 'searched', highIs: 'searched' };
  const noise = EQUAL_WITHIN * found.scale;
  const end = (which: 'low' | 'high'): { readonly value: number; readonly is: Certainty } => {
    const [value, way] = [found[which], which === 'high' ? 1 : -1];
    const corner = cornerOf(range, which);
    const bound = corner ? atCorner(corner, asked, world.values) : range[which];
    const beyond = way * (bound - value);
    if (Math.abs(beyond) <= noise) return { value, is: 'proven' };
    if (beyond < 0 || !Number.isFinite(bound)) return { value, is: 'searched' };
    const near = beyond <= WORTH_PROVING * (found.high - found.low) && bound >= 0 === value >= 0;
    return corner || near ? { value: bound, is: 'proven' } : { value, is: 'searched' };
  };
  const [low, high] = [end('low'), end('high')];
  return { ...found, low: low.value, lowIs: low.is, high: high.value, highIs: high.is };
}

/** The answer with each statement at one of its ends. */
function atCorner(corner: ReadonlyMap<number, number>, { rests, ask }: Asking, values: Values): number {
  const moved = values.givensOf(rests).filter((slot) => values.toleranceOf(slot) > 0 && corner.has(values.statementOf(slot)));
  const ends = moved.map((slot) => corner.get(values.statementOf(slot)) as number);
  moved.forEach((slot, i) => values.lean(slot, ends[i] as number));
  const answer = ask();
  for (const slot of moved) values.lean(slot, 0);
  return answer;
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

/**
 * Where several parts leave it open, the whole may not be: what fails one alternative may meet the other, and no values
 * may meet two demands at once. Then the whole is searched, and what is told is told where the whole is at its worst.
 */
function together(
  require: Truth,
  atoms: readonly AtomResult[],
  apart: Combined,
  { rests, ask }: Asking,
  margins: () => readonly number[],
  { values, bands }: World,
): Combined {
  const { controlling: alone } = apart;
  const open = atoms.filter(({ verdict }) => verdict === 'close');
  if (apart.verdict !== 'close' || open.length < 2 || !alone || atoms.some(({ margin }) => Number.isNaN(margin))) return apart;
  const alike = new Set(atoms.map(({ atom }) => dimensionOf(atom))).size === 1;
  const decidedBy = (node: Truth, at: readonly number[]): { readonly by: number; readonly degree: number } => {
    if (node.op !== 'and' && node.op !== 'or') {
      const by = atoms.findIndex(({ atom }) => atom === node);
      return { by, degree: alike ? (at[by] as number) : shareOf(at[by] as number, (atoms[by] as AtomResult).scale) };
    }
    const parts = node.parts.map((part) => decidedBy(part, at));
    return parts.reduce((a, b) => ((node.op === 'and') === b.degree < a.degree ? b : a));
  };
  const decided = (): ReturnType<typeof decidedBy> => {
    ask();
    return decidedBy(require, margins());
  };
  const whole = bands.search(rests, () => decided().degree);
  for (const [slot, part] of whole.worst) values.lean(slot, part);
  const told = atoms[decided().by] as AtomResult;
  for (const [slot] of whole.worst) values.lean(slot, 0);
  const verdict = whole.low >= 0 ? 'clear' : whole.high < 0 ? 'conflict' : 'close';
  const by = alike ? 1 : told.scale;
  const [low, high] = [whole.low * by, whole.high * by];
  const same = (end: number, own: number): boolean => Math.abs(end - own) <= EQUAL_WITHIN * told.scale;
  return {
    verdict,
    controlling: {
      ...told,
      ...{ margin: whole.nominal * by, low, high, worst: whole.worst, doubt: whole.doubt, folded: whole.folded * by, verdict },
      rss: whole.rss && { ...whole.rss, low: whole.rss.low * by, high: whole.rss.high * by },
      lowIs: same(low, told.low) ? told.lowIs : 'searched',
      highIs: same(high, told.high) ? told.highIs : 'searched',
    },
  };
}

/** Margins of one dimension compare as they are, of different ones relative to the size of what is compared. */
function compareResults(a: AtomResult | undefined, b: AtomResult | undefined): number {
  if (!a || !b || Number.isNaN(a.margin) || Number.isNaN(b.margin)) return 0;
  const alike = dimensionOf(a.atom) === dimensionOf(b.atom);
  return alike ? a.margin - b.margin : a.margin / a.scale - b.margin / b.scale;
}

const dimensionOf = (atom: Atom): unknown => (atom.op === 'compare' ? atom.a.dimension : undefined);

const missingOf = (values: Values, reads: readonly number[]): number[] => [...new Set(reads.flatMap((slot) => values.missingOf(slot)))];
