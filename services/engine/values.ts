/**
 * The graph of values behind one vehicle: every (quantity, subjects) is a node with a slot in one array of doubles.
 * A node's value is the best of what was said about it, or what a provider computes from other nodes; a node is
 * computed when first read and again only when something it was computed from has changed.
 *
 * Unknown is NaN, with a reason. Truths are 1 and 0; texts are the number they are interned under.
 */
import { bothWays, type HalfWidths, stacked } from '../units/index.ts';
import { type FormulaAsk, PLAIN } from './formula.ts';
import type { Range } from './range.ts';
import type { Signature } from './tree.ts';

/** How a value came about, best first. `work` is what the vehicle is after a piece of work. */
export const RANKS = ['work', 'measured', 'derived', 'catalogue', 'stated', 'computed', 'class-default', 'typical', 'rule'] as const;
export type Rank = (typeof RANKS)[number];

export interface Candidate {
  readonly value: number;
  readonly plusMinus: number;
  readonly rank: Exclude<Rank, 'derived' | 'computed'>;
  /** Values that one statement gave move together within its tolerance: they have its number. */
  readonly statement?: number;
  /** An error that all readings with one tool share, on top of their own: the tool, and its half-width here, SI; below zero where it reads less. */
  readonly shared?: { readonly tool: string; readonly plusMinus: number };
  readonly note?: string;
  readonly source?: string;
  readonly date?: string;
  readonly tool?: string;
  readonly by?: string;
}

/** What a provider may ask for while it computes; everything it reads becomes an input of what it provides. */
export interface Ask extends FormulaAsk<number> {
  /**
   * A value with its half-widths, for a model that answers for that itself (`folds`): many inputs of one drawing, say,
   * that nobody will read one by one. A band does not move it.
   */
  folded(name: string, ...subjects: number[]): Folded;
  /** Records how far the model is off for what is folded into it, as `within` does for what it leaves open of its own. */
  folds(off: HalfWidths): void;
  /** A value that a band moves, by a slope that is the model's own: half-widths at a slope of one leave it out. */
  sloped(name: string, ...subjects: number[]): number;
  /** Half-widths of a value with nothing moved, for a model that rests on the value itself too; what reads it does not depend on it. */
  halfWidths(name: string, ...subjects: number[]): HalfWidths;
  /** Records values of which any one would do, and none is known: nothing else that was asked for is missed. */
  lacks(anyOf: readonly Asked[]): void;
}

export interface Asked {
  readonly name: string;
  readonly subject: number;
}

export interface Folded {
  readonly value: number;
  readonly off: HalfWidths;
  /** What the class has for it, whatever else is said; the value itself where the class says nothing. */
  readonly asBuilt: number;
}

export interface Provider {
  readonly provides: string;
  /** The model, in a few words. */
  readonly model: string;
  /** Id of a source, if the model is published. */
  readonly source?: string;
  compute(ask: Ask, ...subjects: number[]): number;
  /** The same over all that what it reads may be, where it is written as a formula; without it, no end is proved. */
  range?(ask: FormulaAsk<Range>, ...subjects: number[]): Range;
}

export interface ValueNode {
  readonly slot: number;
  readonly name: string;
  readonly subjects: readonly number[];
  readonly signature: Signature | undefined;
  readonly candidates: readonly Candidate[];
  readonly provider: Provider | undefined;
  /** What stands: a candidate, or the provider's answer. */
  chosen: Candidate | 'computed' | undefined;
  reason: string | undefined;
  /** What the provider said it lacks: of each group any one would do. */
  lacking: (readonly number[])[];
  /** Half-widths that the model adds of its own; none unless computed. */
  modelError: HalfWidths;
  /** The statement with which the model's error moves; undefined when it moves alone. */
  modelStatement: number | undefined;
  readonly inputs: Set<number>;
  /** Those of the inputs whose tolerance is already within `modelError`. */
  readonly folded: Set<number>;
  /** Those of the inputs that move it by a slope of their own. */
  readonly sloped: Set<number>;
  readonly dependents: Set<number>;
  stale: boolean;
  computing: boolean;
  /** What the provider asked for the last time, in order, and how far it has come this time. */
  readonly asked: number[];
  cursor: number;
}

const EXACT = bothWays(0);

/** Slots with a fixed meaning, so that blocks can point at them. */
export const SLOT = { unknown: 0, no: 1, yes: 2 } as const;

/** Slots of one name: by the one subject, or by all of several. */
export interface Column {
  readonly name: string;
  /** By subject, one place on: the first is that of no subject. */
  readonly plain: number[];
  readonly keyed: Map<string, number>;
}

/** What is known about nodes before anything is computed. */
export interface Knowledge {
  signature(name: string): Signature | undefined;
  /** Everything said about a node, in no particular order. */
  candidates(name: string, subjects: readonly number[]): readonly Candidate[];
  provider(name: string): Provider | undefined;
}

const rankOf = (rank: Rank): number => RANKS.indexOf(rank);

/** Texts by number. A table can stand on another that many share and nobody adds to any more. */
export class Texts {
  readonly #base: Texts | undefined;
  readonly #first: number;
  readonly #texts: string[] = [];
  readonly #numbers = new Map<string, number>();

  constructor(base?: Texts) {
    this.#base = base;
    this.#first = base ? base.size : 0;
  }

  get size(): number {
    return this.#first + this.#texts.length;
  }

  find(text: string): number | undefined {
    return this.#base?.find(text) ?? this.#numbers.get(text);
  }

  /** The number of a text; equal texts have equal numbers. */
  intern(text: string): number {
    const known = this.find(text);
    if (known !== undefined) return known;
    this.#numbers.set(text, this.size);
    this.#texts.push(text);
    return this.size - 1;
  }

  at(number: number): string | undefined {
    return number < this.#first ? this.#base?.at(number) : this.#texts[number - this.#first];
  }
}

export class Values {
  values = new Float64Array(256).fill(Number.NaN);
  readonly nodes: ValueNode[] = [];
  readonly #knowledge: Knowledge;
  readonly #columns = new Map<string, Column>();
  readonly #texts: Texts;
  #reader: ValueNode | undefined;
  readonly #nudges = new Map<number, number>();
  readonly #leans = new Map<number, number>();
  readonly #supposed = new Map<number, Candidate>();
  readonly #atRest = new Map<number, Folded>();
  /** What providers ask through; it always speaks for the node being computed. */
  readonly #ask: Ask = {
    ...PLAIN,
    isKnown: (number) => !Number.isNaN(number),
    value: (name, ...subjects) => this.read(this.slot(name, subjects)),
    text: (name, ...subjects) => this.textOf(this.read(this.slot(name, subjects))),
    folded: (name, ...subjects) => this.#fold(this.#computing, this.slot(name, subjects)),
    folds: (off) => {
      this.#computing.modelError = off;
    },
    sloped: (name, ...subjects) => {
      const slot = this.slot(name, subjects);
      this.#computing.sloped.add(slot);
      return this.read(slot);
    },
    halfWidths: (name, ...subjects) => this.#rested(this.slot(name, subjects)).off,
    unknown: (reason) => {
      this.#computing.reason ??= reason;
      return Number.NaN;
    },
    lacks: (anyOf) => {
      this.#computing.lacking.push(anyOf.map(({ name, subject }) => this.slot(name, [subject])));
    },
    within: (plusMinus, alike) => {
      const node = this.#computing;
      node.modelError = bothWays(plusMinus);
      if (alike) node.modelStatement = this.statementOf(this.slot(alike.name, [alike.subject]));
    },
  };

  constructor(knowledge: Knowledge, texts?: Texts) {
    this.#knowledge = knowledge;
    this.#texts = new Texts(texts);
    for (const [name, value] of [
      ['unknown', Number.NaN],
      ['no', 0],
      ['yes', 1],
    ] as const) {
      const slot = this.#add(name, [], undefined, [{ value, plusMinus: 0, rank: 'rule' }]);
      this.read(slot);
    }
  }

  intern(text: string): number {
    return this.#texts.intern(text);
  }

  textOf(value: number): string | undefined {
    return this.#texts.at(value);
  }

  slot(name: string, subjects: readonly number[]): number {
    const column = this.column(name);
    if (subjects.length < 2) return this.slotIn(column, subjects.length === 0 ? -1 : (subjects[0] as number));
    const key = subjects.join(',');
    const slot =
      column.keyed.get(key) ?? this.#add(name, subjects, this.#knowledge.provider(name), this.#knowledge.candidates(name, subjects));
    column.keyed.set(key, slot);
    return slot;
  }

  column(name: string): Column {
    const known = this.#columns.get(name);
    if (known) return known;
    const column: Column = { name, plain: [], keyed: new Map() };
    this.#columns.set(name, column);
    return column;
  }

  /** The slot of one subject in a column; -1 stands for no subject. Nearly all values are found this way, without making a key. */
  slotIn(column: Column, subject: number): number {
    const known = column.plain[subject + 1];
    if (known !== undefined) return known;
    const subjects = subject < 0 ? [] : [subject];
    const slot = this.#add(column.name, subjects, this.#knowledge.provider(column.name), this.#knowledge.candidates(column.name, subjects));
    column.plain[subject + 1] = slot;
    return slot;
  }

  /** A node for a rule's own constant that has a tolerance. */
  constant(name: string, value: number, plusMinus: number): number {
    const column = this.column(name);
    column.plain[0] ??= this.#add(name, [], undefined, [{ value, plusMinus, rank: 'rule' }]);
    return column.plain[0];
  }

  /** A node that has only what the provider computes, whatever else was said; for holding the two against each other. */
  twin(slot: number): number {
    const { name, subjects, provider } = this.node(slot);
    const column = this.column(`computed ${name}`);
    const key = subjects.join(',');
    const twin = column.keyed.get(key) ?? this.#add(name, subjects, provider, []);
    column.keyed.set(key, twin);
    return twin;
  }

  #add(name: string, subjects: readonly number[], provider: Provider | undefined, candidates: readonly Candidate[]): number {
    const slot = this.nodes.length;
    if (slot === this.values.length) {
      const grown = new Float64Array(2 * slot).fill(Number.NaN);
      grown.set(this.values);
      this.values = grown;
    }
    this.nodes.push({
      slot,
      name,
      subjects,
      signature: this.#knowledge.signature(name),
      candidates: [...candidates].sort((a, b) => rankOf(a.rank) - rankOf(b.rank)),
      provider,
      chosen: undefined,
      reason: undefined,
      lacking: [],
      modelError: EXACT,
      modelStatement: undefined,
      inputs: new Set(),
      folded: new Set(),
      sloped: new Set(),
      dependents: new Set(),
      stale: true,
      computing: false,
      asked: [],
      cursor: 0,
    });
    return slot;
  }

  get #computing(): ValueNode {
    return this.#reader as ValueNode;
  }

  node(slot: number): ValueNode {
    return this.nodes[slot] as ValueNode;
  }

  /** The value in a slot, computed first if need be. */
  read(slot: number): number {
    const node = this.nodes[slot] as ValueNode;
    const reader = this.#reader;
    if (reader !== undefined) {
      // A provider asks for the same things in the same order nearly every time.
      if (reader.asked[reader.cursor] === slot) reader.cursor++;
      else this.#record(reader, node);
    }
    if (node.stale) this.#settle(node);
    return this.values[slot] as number;
  }

  /**
   * A band does not move what is folded, so the reader never depends on it anew: it is read once, with nothing moved. What the reader asks for
   * as a value too is moved all the same.
   */
  #fold(reader: ValueNode, slot: number): Folded {
    reader.inputs.add(slot);
    if (!this.node(slot).dependents.has(reader.slot)) reader.folded.add(slot);
    return this.#rested(slot);
  }

  #rested(slot: number): Folded {
    const known = this.#atRest.get(slot);
    if (known) return known;
    const reader = this.#reader;
    const [nudges, leans] = [[...this.#nudges], [...this.#leans]];
    for (const [nudged] of nudges) this.nudge(nudged, 0);
    for (const [leant] of leans) this.lean(leant, 0);
    this.#reader = undefined;
    const value = this.read(slot);
    const builtWith = this.node(slot).candidates.find(({ rank }) => rank === 'class-default');
    const folded = { value, off: this.#offBy(slot), asBuilt: builtWith?.value ?? value };
    this.#reader = reader;
    for (const [nudged, by] of nudges) this.nudge(nudged, by);
    for (const [leant, part] of leans) this.lean(leant, part);
    this.#atRest.set(slot, folded);
    return folded;
  }

  #record(reader: ValueNode, node: ValueNode): void {
    reader.asked.length = reader.cursor;
    reader.asked.push(node.slot);
    reader.cursor++;
    reader.inputs.add(node.slot);
    reader.folded.delete(node.slot);
    node.dependents.add(reader.slot);
  }

  #settle(node: ValueNode): void {
    if (node.computing) {
      node.reason = 'it depends on itself';
      this.values[node.slot] = Number.NaN;
      return;
    }
    this.#choose(node);
    const lean = this.#leans.get(node.slot);
    const by = (this.#nudges.get(node.slot) ?? 0) + (lean === undefined ? 0 : lean * this.toleranceOf(node.slot));
    if (by !== 0) this.values[node.slot] = (this.values[node.slot] as number) + by;
  }

  #choose(node: ValueNode): void {
    const supposed = this.#supposed.get(node.slot);
    if (supposed) return this.#take(node, supposed);
    const best = node.candidates[0];
    if (best && (rankOf(best.rank) <= rankOf('measured') || !node.provider)) return this.#take(node, best);
    if (!node.provider) return this.#take(node, undefined);
    const computed = this.#compute(node);
    if (best && (Number.isNaN(computed) || rankOf(best.rank) < rankOf(this.#rankOfComputed(node)))) return this.#take(node, best);
    node.chosen = Number.isNaN(computed) ? undefined : 'computed';
    node.stale = false;
    this.values[node.slot] = computed;
  }

  #take(node: ValueNode, candidate: Candidate | undefined): void {
    node.chosen = candidate;
    node.stale = false;
    node.reason = candidate ? undefined : (node.reason ?? 'nothing given');
    this.values[node.slot] = candidate ? candidate.value + this.#sharedError(node, candidate) : Number.NaN;
  }

  /** What the tool is off by at this reading: it moves with the error of the tool, from -1 to 1. */
  #sharedError(node: ValueNode, { shared }: Candidate): number {
    if (!shared) return 0;
    const tool = this.node(this.#toolOf(shared.tool));
    tool.dependents.add(node.slot);
    if (tool.stale) this.#settle(tool);
    return shared.plusMinus * (this.values[tool.slot] as number);
  }

  #toolOf = (tool: string): number => this.constant(`error of ${tool}`, 0, 1);

  /** The slot of the error that a reading shares with others of its tool, and by how much it moves the reading. */
  sharedBy(slot: number): { readonly slot: number; readonly plusMinus: number } | undefined {
    const { chosen } = this.node(slot);
    const shared = chosen !== undefined && chosen !== 'computed' ? chosen.shared : undefined;
    return shared && { slot: this.#toolOf(shared.tool), plusMinus: shared.plusMinus };
  }

  #compute(node: ValueNode): number {
    node.reason = undefined;
    node.lacking = [];
    node.modelError = EXACT;
    const outer = this.#reader;
    this.#reader = node;
    node.computing = true;
    node.cursor = 0;
    try {
      const value = (node.provider as Provider).compute(this.#ask, ...node.subjects);
      if (Number.isNaN(value)) node.reason ??= 'something it is computed from is not known';
      else if (!Number.isFinite(value)) node.reason = 'the model has no finite answer here';
      return Number.isFinite(value) ? value : Number.NaN;
    } catch (error) {
      node.reason = `the model failed: ${error instanceof Error ? error.message : String(error)}`;
      return Number.NaN;
    } finally {
      node.computing = false;
      this.#reader = outer;
    }
  }

  /**
   * What is computed from readings alone ranks right behind a reading of the thing itself; what rests on a default of
   * the class, right behind such a default of the thing itself: parts of one design belong together, and a class knows
   * its whole better than a sum of its parts.
   */
  #rankOfComputed(node: ValueNode): Rank {
    const givens = this.givensOf([node.slot], { folded: true }).map((slot) => this.node(slot).chosen);
    const inexact = givens.filter((chosen) => chosen !== undefined && chosen !== 'computed' && chosen.plusMinus > 0) as Candidate[];
    if (inexact.some(({ rank }) => rank === 'class-default')) return 'typical';
    return inexact.length > 0 && inexact.every(({ rank }) => rank === 'measured' || rank === 'work') ? 'derived' : 'computed';
  }

  /** Half-width of what a slot's own statement leaves open; 0 for what is exact. A computed value has only its model's. */
  toleranceOf(slot: number): number {
    const { chosen, modelError } = this.node(slot);
    return chosen === 'computed' ? modelError.rss : (chosen?.plusMinus ?? 0);
  }

  /** How many times that half-width it is with all at its worst at once: more than once where a model has folded many tolerances into it. */
  timesAtWorst(slot: number): number {
    const { chosen, modelError } = this.node(slot);
    return chosen === 'computed' && modelError.rss < modelError.worst ? modelError.worst / modelError.rss : 1;
  }

  /** Half-widths of a value: its own statement's, or of all that is below a computed one, at a slope of one. */
  #offBy(slot: number): HalfWidths {
    const given = this.givensOf([slot], { sloped: false });
    const tools = new Set(given.map((each) => this.sharedBy(each)?.slot));
    return stacked(
      given
        .filter((each) => !tools.has(each))
        .flatMap((each) => {
          const rss = this.toleranceOf(each);
          const shared = this.sharedBy(each)?.plusMinus ?? 0;
          return [{ worst: rss * this.timesAtWorst(each), rss }, bothWays(Math.abs(shared))];
        }),
    );
  }

  /**
   * The nodes at the bottom of what these slots rest on: stated values, and those that are missing. What a model has
   * folded into its own error is left out unless asked for.
   */
  givensOf(slots: readonly number[], { folded = false, sloped = true } = {}): number[] {
    const seen = new Set<number>();
    const found: number[] = [];
    const visit = (slot: number): void => {
      if (seen.has(slot)) return;
      seen.add(slot);
      const node = this.node(slot);
      const resting = node.chosen === 'computed' || (node.chosen === undefined && node.inputs.size > 0);
      if (!resting || node.modelError.worst > 0) found.push(slot);
      const shared = this.sharedBy(slot);
      if (shared) visit(shared.slot);
      if (!resting) return;
      const known = node.chosen === 'computed' && !folded;
      for (const input of node.inputs) if (!(known && node.folded.has(input)) && (sloped || !node.sloped.has(input))) visit(input);
    };
    for (const slot of slots) visit(slot);
    return found;
  }

  /** The slots themselves and all they were computed from, down to what was given. */
  below(slots: Iterable<number>): ReadonlySet<number> {
    const seen = new Set(slots);
    for (const slot of seen) {
      this.read(slot);
      for (const input of this.node(slot).inputs) seen.add(input);
    }
    return seen;
  }

  /** What moves together with a slot: the number of the statement its value is from, or a number of its own. */
  statementOf(slot: number): number {
    const { chosen, modelStatement } = this.node(slot);
    return (chosen === 'computed' ? modelStatement : chosen?.statement) ?? -1 - slot;
  }

  /** The values that are missing behind a slot: the unknown inputs at the bottom, or the slot itself if all its inputs are known. */
  missingOf(slot: number): number[] {
    if (!Number.isNaN(this.read(slot))) return [];
    const node = this.node(slot);
    const missed = node.lacking.length > 0 ? node.lacking.flat() : node.inputs;
    const deeper = node.chosen === undefined ? [...missed].flatMap((input) => this.missingOf(input)) : [];
    return deeper.length > 0 ? [...new Set(deeper)] : [slot];
  }

  /** Groups of missing values behind a slot of which any one would do. */
  choicesOf(slot: number): readonly (readonly number[])[] {
    if (!Number.isNaN(this.read(slot))) return [];
    const { lacking, inputs } = this.node(slot);
    return [...lacking.filter(({ length }) => length > 1), ...[...inputs].flatMap((input) => this.choicesOf(input))];
  }

  /** Moves a slot off its value for a while; 0 puts it back. What rests on it is computed anew when read. */
  nudge(slot: number, by: number): void {
    if (by === 0) this.#nudges.delete(slot);
    else this.#nudges.set(slot, by);
    this.#spoil(slot);
  }

  /** Moves a slot by that part of what its own statement or model leaves open, as that then is: -1 to 1; 0 puts it back. */
  lean(slot: number, part: number): void {
    if (part === 0) this.#leans.delete(slot);
    else this.#leans.set(slot, part);
    this.#spoil(slot);
  }

  /** Takes something as said of a slot for a while, whatever else is; undefined takes it back. What was folded from it stays. */
  suppose(slot: number, candidate: Candidate | undefined): void {
    if (candidate) this.#supposed.set(slot, candidate);
    else this.#supposed.delete(slot);
    this.#spoil(slot);
  }

  #spoil(slot: number): void {
    const node = this.node(slot);
    if (node.stale) return;
    node.stale = true;
    for (const dependent of node.dependents) this.#spoil(dependent);
  }
}
