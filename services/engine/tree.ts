/**
 * The checked tree of the rule language: what the checker makes, and what the interpreter, the compiler,
 * the interval evaluator and the binder read. Names are resolved, dimensions are settled, negation has been
 * pushed down to the comparisons, and every comparison is `a >= b` or `a > b`.
 */
import type { Dimension } from '../units/index.ts';
import type { Turns } from './ast.ts';
import type { Aspect, Earlier, HandOver, Inspection, Planning, Setup, Skill, Spread } from './planning.ts';
import type { Span } from './source.ts';

/** What a value, a binder or an argument is about. */
export type SubjectType =
  | { readonly is: 'vehicle' }
  | { readonly is: 'axle' }
  | { readonly is: 'corner' }
  | { readonly is: 'part'; readonly kind: string };

export type Type =
  | { readonly is: 'number'; readonly dimension: Dimension }
  | { readonly is: 'truth' }
  | { readonly is: 'text'; readonly oneOf?: readonly string[] }
  | { readonly is: 'subject'; readonly of: SubjectType };

/** How an expression points at a subject: a binder (of the rule or of an enclosing fold), a place by name, or a step from one. */
export type SubjectRef =
  | { readonly is: 'binder'; readonly index: number }
  | { readonly is: 'place'; readonly place: string }
  | { readonly is: 'step'; readonly of: SubjectRef; readonly to: 'axle' | 'corner' };

/**
 * One value the rule reads: a quantity of subjects (`axle_load(hose.axle)`), or an attribute of a part
 * (`hose.free_length`, whose name is `brake_hose.free_length`: the kind that declares the attribute, a dot, the attribute).
 * Equal leaves within one scope are shared.
 */
export interface Leaf {
  readonly name: string;
  readonly subjects: readonly SubjectRef[];
  readonly type: Type;
  readonly span: Span;
  /** As the author wrote it, for explanations. */
  readonly text: string;
}

/** Parts a binder or a fold runs over. `where` reads leaves of its own scope. */
export interface Selector {
  readonly kind: string;
  /** Only parts at this place; a part at a corner also counts as at its axle. */
  readonly at?: SubjectRef;
  readonly where?: Truth;
  readonly span: Span;
}

export interface Scope {
  readonly leaves: readonly Leaf[];
  readonly folds: readonly Fold[];
}

/** `sum(p.mass for p in accessory at rear where ...)`. Its body and filter read the fold's own scope; its binder has index `binder`. */
export interface Fold {
  readonly how: 'sum' | 'count' | 'min' | 'max' | 'every' | 'some';
  readonly binder: number;
  readonly over: Selector;
  readonly scope: Scope;
  /** Absent for `count`. */
  readonly body?: Num | Truth;
  readonly span: Span;
}

export type Function1 = 'abs' | 'sqrt' | 'sin' | 'cos' | 'tan' | 'asin' | 'acos' | 'atan';

export type Num =
  | { readonly op: 'constant'; readonly value: number; readonly plusMinus: number; readonly dimension: Dimension; readonly span: Span }
  | { readonly op: 'leaf'; readonly leaf: number; readonly depth: number; readonly dimension: Dimension; readonly span: Span }
  | { readonly op: 'negate'; readonly a: Num; readonly dimension: Dimension; readonly span: Span }
  | {
      readonly op: 'add' | 'subtract' | 'multiply' | 'divide' | 'atan2';
      readonly a: Num;
      readonly b: Num;
      readonly dimension: Dimension;
      readonly span: Span;
    }
  | { readonly op: 'power'; readonly a: Num; readonly exponent: number; readonly dimension: Dimension; readonly span: Span }
  | { readonly op: 'min' | 'max'; readonly args: readonly Num[]; readonly dimension: Dimension; readonly span: Span }
  | { readonly op: Function1; readonly a: Num; readonly dimension: Dimension; readonly span: Span }
  /** The amount a work is done with. */
  | { readonly op: 'parameter'; readonly name: string; readonly dimension: Dimension; readonly span: Span }
  /** A use of a `given` or a `let` of the rule, kept by name so that explanations can show it. */
  | { readonly op: 'local'; readonly name: string; readonly a: Num; readonly dimension: Dimension; readonly span: Span }
  /** `fold` indexes the folds of the scope `depth` levels out (0 is the innermost). */
  | { readonly op: 'fold'; readonly fold: number; readonly depth: number; readonly dimension: Dimension; readonly span: Span };

export type Truth =
  /** Margin `a - b`; met when not negative, or for `>` when positive. Differences under 1e-9 of the larger side count as none. */
  | { readonly op: 'compare'; readonly how: '>=' | '>'; readonly a: Num; readonly b: Num; readonly span: Span; readonly text: string }
  | {
      readonly op: 'truth-leaf';
      readonly leaf: number;
      readonly depth: number;
      readonly negated: boolean;
      readonly span: Span;
      readonly text: string;
    }
  | {
      readonly op: 'same-text';
      readonly a: TextRef;
      readonly b: TextRef;
      readonly negated: boolean;
      readonly span: Span;
      readonly text: string;
    }
  | {
      readonly op: 'same-subject';
      readonly a: SubjectRef;
      readonly b: SubjectRef;
      readonly negated: boolean;
      readonly span: Span;
      readonly text: string;
    }
  | { readonly op: 'and' | 'or'; readonly parts: readonly Truth[]; readonly span: Span }
  | { readonly op: 'fold-truth'; readonly fold: number; readonly depth: number; readonly span: Span; readonly text: string }
  | { readonly op: 'always'; readonly value: boolean; readonly span: Span };

export type TextRef =
  | { readonly is: 'literal'; readonly value: string }
  | { readonly is: 'leaf'; readonly leaf: number; readonly depth: number };

/** A template such as `{hose} is {shortfall: mm} short`. */
export type TemplatePiece =
  | { readonly is: 'words'; readonly words: string }
  | { readonly is: 'subject'; readonly of: SubjectRef }
  | { readonly is: 'text'; readonly of: TextRef }
  /** `margin` and `shortfall` are names the template may use for the controlling margin and its negative. */
  | { readonly is: 'number'; readonly of: Num; readonly unit?: string; readonly turns?: Turns }
  | { readonly is: 'margin' | 'shortfall'; readonly unit?: string };

export type Argument =
  | { readonly is: 'subject'; readonly of: SubjectRef }
  | { readonly is: 'number'; readonly of: Num }
  | { readonly is: 'text'; readonly of: TextRef };

/** A work asked for by a rule or by another work, with its arguments by name. */
export interface WorkCall {
  readonly work: string;
  readonly arguments: ReadonlyMap<string, Argument>;
  readonly span: Span;
}

export interface Basis {
  /** An id in `sources.yaml`, or absent for common practice. */
  readonly source?: string;
  readonly clause?: string;
  readonly note?: string;
}

export type Hazard = 'safety' | 'damage' | 'legal' | 'comfort';
export type Verdict = 'conflict' | 'unknown' | 'close' | 'clear';

export interface ExampleValue {
  readonly value: number | boolean | string;
  readonly plusMinus: number;
}

export interface RuleExample {
  readonly name?: string;
  /** Leaf text as written in the rule (`hose.free_length`, `hose_route_max(hose)` or just `hose_route_max`) to SI value with tolerance, truth, text, or null for unknown. */
  readonly given: ReadonlyMap<string, ExampleValue | null>;
  readonly verdict: Verdict | 'not-applicable';
  readonly margin?: number;
  readonly span: Span;
}

export interface Rule {
  readonly id: string;
  readonly area: string;
  readonly title: string;
  readonly hazard: Hazard;
  readonly binders: readonly { readonly name: string; readonly selector: Selector }[];
  /** Leaves and folds of the rule's own scope, read by `when`, `require`, `lets`, templates and work arguments alike. */
  readonly scope: Scope;
  readonly when?: Truth;
  readonly require: Truth;
  readonly givens: ReadonlyMap<
    string,
    {
      readonly value: number;
      readonly plusMinus: number;
      readonly dimension: Dimension;
      readonly unit: string;
      readonly basis: string;
      readonly note?: string;
    }
  >;
  readonly lets: ReadonlyMap<string, Num>;
  readonly says: readonly TemplatePiece[];
  readonly work: readonly WorkCall[];
  readonly cautions: readonly string[];
  readonly basis: readonly Basis[];
  readonly note?: string;
  readonly examples: readonly RuleExample[];
  readonly span: Span;
}

/** What a work does to the vehicle. The target is an attribute of a part, or a quantity that is read or kept as state; never a computed one. */
export interface Effect {
  readonly how: 'set' | 'add';
  readonly target: Leaf;
  readonly value: Num | Truth | TextRef;
  /** How exactly work sets the value, a half-width, SI; the usual accuracy of a reading of it where not said. */
  readonly plusMinus?: number;
  readonly span: Span;
}

export interface WorkParameter {
  readonly name: string;
  readonly type: Type;
  readonly unit?: string;
  readonly meaning?: string;
  /** What amounts come in: they are rounded to whole multiples of it, towards enough; SI. */
  readonly step?: number;
  /** How the amounts of several findings become one; what is exact is a figure to be met, not one to be reached: more is as wrong as less. */
  readonly merge: 'greatest' | 'least' | 'sum' | 'exact';
}

/** What a work takes off for good: parts of that kind at its subject, or else what the words say. */
export interface TakenOff {
  readonly kind?: string;
  /** Of the subjects the work takes, which one; the whole vehicle where it names none. */
  readonly of?: number;
  readonly unlessKnown?: readonly TemplatePiece[];
}

export interface Work {
  readonly id: string;
  readonly title: readonly TemplatePiece[];
  readonly takes: readonly WorkParameter[];
  /** Leaves the effects, the title and the follow-ups read; the binders are the parameters that are subjects, in order. */
  readonly scope: Scope;
  readonly skills: readonly string[];
  /** Seconds of labour. */
  readonly hours: Spread;
  readonly tools: readonly string[];
  readonly irreversible: boolean;
  readonly prerequisites: readonly string[];
  /** Works that come earlier when both are in one job, whichever of the two said so. */
  readonly after: readonly Earlier[];
  /** Works this one always brings with it, later. */
  readonly then: readonly WorkCall[];
  readonly effects: readonly Effect[];
  /** How far it goes on this vehicle: an amount with which that is known not to hold is not asked for. */
  readonly asLongAs?: Truth;
  readonly verify?: {
    readonly check: string;
    readonly accept: string;
    /** Values that are read when it is done, and compared with what was predicted. */
    readonly reads: readonly Leaf[];
  };
  readonly takesOff: readonly TakenOff[];
  readonly planning: Planning;
  readonly cautions: readonly string[];
  readonly basis: readonly Basis[];
  readonly span: Span;
}

export interface Measuring {
  readonly how: string;
  readonly tool: string;
  readonly where?: string;
  readonly suspension?: string;
  readonly steering?: string;
  /** SI, half-width of what a careful person gets. */
  readonly accuracy?: number;
  readonly minutes?: number;
  /** It is read with the planned parts on, and hangs on those of these kinds. */
  readonly with?: readonly string[];
  readonly cautions: readonly string[];
}

/** Where the vehicle stands while something is read: what is read there shares the time it takes to get there. */
export interface MeasuringPosition {
  readonly id: string;
  /** `{of}` stands for the end of the vehicle. */
  readonly title: string;
  readonly minutes: number;
  /** What readings say of the suspension, or else of their tool, that are taken here. */
  readonly suspension: readonly string[];
  readonly tools: readonly string[];
  /** Readings that say neither are taken here. */
  readonly otherwise: boolean;
  readonly cautions: readonly string[];
}

/** Readings that give together what none gives alone. */
export interface ReadingSet {
  readonly id: string;
  readonly title: string;
  readonly gives: string;
  /** The end of the vehicle it is of; anywhere when left out. */
  readonly at?: 'front' | 'rear';
  /** The quantity that they give together, where there is one. */
  readonly standsFor?: string;
  /** Quantities, and attributes as `kind.attribute`. */
  readonly readings: readonly string[];
}

/** An attribute of a kind or a quantity of the dictionary. */
export interface Signature {
  readonly name: string;
  readonly title: string;
  readonly type: Type;
  /** The unit people use for it; absent for truth and text. */
  readonly unit?: string;
  readonly meaning: string;
  readonly range?: { readonly atLeast?: number; readonly atMost?: number };
  /** A wide default that holds for the trade at large; SI. */
  readonly typical?: { readonly value: number; readonly plusMinus: number; readonly note?: string };
  readonly measure?: Measuring;
  /** What stands on the part instead of a number with its unit, and is read off it as it stands. */
  readonly code?: Code;
  readonly span: Span;
}

/** Codes of open standards that say a quantity. */
export const CODES = ['speed_symbol', 'load_index', 'wheel_offset'] as const;
export type Code = (typeof CODES)[number];

export interface Quantity extends Signature {
  readonly per: readonly SubjectType[];
  /** `given`: read or stated by someone. `computed`: only a model gives it. `either`: a model gives it, and a reading wins. `state`: kept by works, starting at `initially`. */
  readonly comes: 'given' | 'computed' | 'either' | 'state';
  /** It tells what a cure costs elsewhere, where it changes. */
  readonly cost?: boolean;
  /** SI number, or truth. */
  readonly initially?: number | boolean;
  /** It is worked out of others that are read; nobody reads it itself. */
  readonly unread?: boolean;
  /** It hangs on what the vehicle carries: as it stands it is told of it with nobody and nothing in it. */
  readonly unladen?: boolean;
  /** What it cannot pass, whatever the vehicle: two statements that do are wrong, one or the other. */
  readonly never?: readonly Bound[];
  /** Its sign tells a side: where all that is typical of a kind lies on one, a reading on the other is more often a mistaken sign. */
  readonly sided?: boolean;
}

/** Another quantity of the same thing; for one of the vehicle, of each axle, or of all axles together. */
export interface Bound {
  readonly is: 'above' | 'below';
  readonly name: string;
  readonly sum: boolean;
  readonly span: Span;
}

export interface Attribute extends Signature {
  readonly default?: number | boolean | string;
  /** The value that says the same otherwise, and that this one is computed from: a better statement of it wins over a worse one of this. */
  readonly alsoSaidAs?: string;
}

export interface Kind {
  readonly id: string;
  readonly title: string;
  readonly is?: string;
  readonly fits: 'vehicle' | 'axle' | 'corner';
  /** Two cannot share a place: a second must say which it replaces. */
  readonly onePerPlace: boolean;
  /** An abstract kind groups others; no part is directly of it. */
  readonly abstract: boolean;
  /** A tyre can touch it, and it lies round the tyre, or may: where they are nearest standing says little of where they are over bumps. */
  readonly roundTheTyre?: boolean;
  /** Frame the part is fixed to, and the second one if it bridges two. */
  readonly frame: string;
  readonly bridgesTo?: string;
  /** The part raises one frame against another by the value of one of its attributes. */
  readonly raises?: { readonly frame: string; readonly against: string; readonly by: string };
  /** What holds for parts of this kind where nothing better is known, by attribute, inherited ones included; SI. */
  readonly typical: ReadonlyMap<string, { readonly value: number; readonly plusMinus: number; readonly dimension: Dimension }>;
  /** Own attributes by name, without those of the ancestors. */
  readonly attributes: ReadonlyMap<string, Attribute>;
  /** The works that put such a part on, where it says so itself; none where it is only laid in. */
  readonly fitting?: Fitting;
  readonly span: Span;
}

/** Calls of works in a scope whose one binder is the part. */
export interface Fitting {
  readonly scope: Scope;
  readonly calls: readonly WorkCall[];
}

export interface Source {
  readonly id: string;
  readonly title: string;
  readonly clause?: string;
  readonly edition?: string;
  readonly read: 'seen' | 'second-hand' | 'memory';
  /** When the text was read; law changes. */
  readonly on?: string;
  readonly kind: 'standard' | 'law' | 'handbook' | 'textbook' | 'data';
}

export interface Frame {
  readonly id: string;
  readonly title: string;
  readonly on?: string;
}

/** What holds for a class of vehicle where nothing better is known, and the positions that something must fill. */
export interface ClassDefaults {
  readonly id: string;
  readonly title: string;
  readonly note?: string;
  /** By quantity, then by place (`vehicle` for one value); texts as written, readable as the quantity's type. */
  readonly values: ReadonlyMap<string, ReadonlyMap<string, string>>;
  /** What is typical of kinds of part on such a vehicle, where that is not so of all; SI. */
  readonly typical: ReadonlyMap<string, Kind['typical']>;
  readonly positions: readonly { readonly kind: string; readonly at: string }[];
  readonly fitted: readonly ClassPart[];
  readonly span: Span;
}

export interface ClassPart {
  readonly id: string;
  readonly kind: string;
  readonly name?: string;
  readonly at?: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly shape?: Shape;
}

/** Work that may cure a finding on parts of a kind in another way than the rule asks for; it has one amount. */
export interface Cure {
  readonly id: string;
  readonly work: string;
  /** Kind of part that a finding must be about. */
  readonly for: string;
  /** What it is done to: the axle or corner of that part, or every part of a kind on the vehicle. */
  readonly on: { readonly is: 'axle' | 'corner' | 'vehicle' } | { readonly is: 'every'; readonly kind: string };
  /** Only for parts at that end. */
  readonly only?: string;
  /** Furthest the amount goes, SI. */
  readonly most: number;
}

/** What one jurisdiction limits; in a check only where the request names it. */
export interface Jurisdiction {
  readonly id: string;
  readonly title: string;
  readonly note?: string;
  readonly limits: readonly LegalLimit[];
  readonly span: Span;
}

/** One limit, as a part of a kind that rules range over. */
export interface LegalLimit {
  readonly kind: string;
  readonly attributes: ReadonlyMap<string, string>;
  /** The texts of law it is from. */
  readonly basis: readonly Basis[];
}

/** Where a part is: metres in the vehicle's axes (ISO 8855), the left corner's, as at design height. */
export interface Shape {
  /** What its points are measured from, where that is not the drawing's origin: the centre of the hub's face, x forward, y outward, z up. */
  readonly from?: 'drawing' | 'hub';
  /** Given for this very vehicle. */
  readonly stated?: boolean;
  /** Inflates lines and patches. */
  readonly radius: number;
  /** How far the whole may lie off, any way. */
  readonly plusMinus: number;
  readonly lines: readonly (readonly (readonly [number, number, number])[])[];
  readonly patches: readonly (readonly (readonly [number, number, number])[])[];
}

/** Everything under `rules/`, checked. */
export interface Library {
  readonly sources: ReadonlyMap<string, Source>;
  readonly cautions: ReadonlyMap<string, string>;
  readonly frames: ReadonlyMap<string, Frame>;
  readonly measuringPositions: ReadonlyMap<string, MeasuringPosition>;
  readonly readingSets: ReadonlyMap<string, ReadingSet>;
  readonly kinds: ReadonlyMap<string, Kind>;
  readonly quantities: ReadonlyMap<string, Quantity>;
  readonly works: ReadonlyMap<string, Work>;
  readonly setups: ReadonlyMap<string, Setup>;
  readonly skills: ReadonlyMap<string, Skill>;
  readonly aspects: ReadonlyMap<string, Aspect>;
  readonly inspections: ReadonlyMap<string, Inspection>;
  readonly handOver: ReadonlyMap<string, HandOver>;
  readonly rules: ReadonlyMap<string, Rule>;
  readonly classes: ReadonlyMap<string, ClassDefaults>;
  readonly jurisdictions: ReadonlyMap<string, Jurisdiction>;
  readonly cures: ReadonlyMap<string, Cure>;
  /** sha256 over every file, in path order. */
  readonly hash: string;
}
