/**
 * The answer to a check, as it leaves the service: SI has been turned into the units asked for, and every
 * number carries its unit. Names follow JSON habit (snake_case) because this is the wire form.
 */
import type { Certainty } from '../engine/evaluate.ts';
import type { Hazard, Verdict } from '../engine/tree.ts';

export type { Hazard, Verdict };

/** `plus_minus` is absent when the value is exact (a count, a limit fixed by law). */
export interface Amount {
  readonly value: number;
  readonly unit: string;
  readonly plus_minus?: number;
}

/** Signed: negative fails. `low` and `high` are the worst and best ends that the tolerances allow. */
export interface Margin extends Amount {
  /** null where the tolerances reach past what a model can answer. */
  readonly low: number | null;
  readonly high: number | null;
  readonly low_is: Certainty;
  readonly high_is: Certainty;
  /** The band by root sum of squares; null where the margin has no end to one side. */
  readonly rss: { readonly low: number; readonly high: number; readonly near_linear: boolean } | null;
  readonly drawing_at_worst: { readonly low: number; readonly high: number } | null;
}

export type OriginKind = 'measured' | 'catalogue' | 'stated' | 'computed' | 'class-default' | 'typical' | 'rule' | 'work' | 'unknown';

export interface Origin {
  readonly kind: OriginKind;
  /** Where a stated value came from, the model that computed it, or why it is unknown. */
  readonly note?: string;
  readonly source?: string;
  /** When, with what and by whom a reading was taken, as given. */
  readonly date?: string;
  readonly tool?: string;
  readonly by?: string;
}

export interface AnswerValue {
  readonly name: string;
  readonly title: string;
  readonly subject: string;
  /** null when unknown; a truth, or a text, where the quantity is one. */
  readonly value: number | boolean | string | null;
  readonly unit?: string;
  readonly plus_minus?: number;
  readonly origin: Origin;
  /** Ids of the values it was computed from. */
  readonly from: readonly string[];
}

export interface AnswerPart {
  readonly id: string;
  readonly kind: string;
  readonly name: string;
  readonly at: string;
}

export interface AnswerBasis {
  readonly kind: 'standard' | 'law' | 'handbook' | 'textbook' | 'data' | 'common-practice';
  readonly source?: string;
  readonly title: string;
  readonly clause?: string;
  readonly read?: 'seen' | 'second-hand' | 'memory';
  /** When a text of law was read; it may have changed since. */
  readonly on?: string;
  readonly note?: string;
}

export interface AnswerNumber {
  /** As the rule writes it. */
  readonly name: string;
  readonly title: string;
  readonly value: number | boolean | string | null;
  readonly unit?: string;
  readonly plus_minus?: number;
  readonly origin: OriginKind;
  /** Key in `values`; absent for the rule's own constants. */
  readonly id?: string;
}

/** `value` is enough at the worse end of the tolerances; `nominal` is what the nominal values ask for. */
export interface WorkAmount {
  readonly value: number;
  readonly nominal: number;
  readonly unit: string;
}

export interface AnswerWorkCall {
  readonly work: string;
  readonly title: string;
  readonly amounts: Readonly<Record<string, WorkAmount>>;
  /** Key in `work.steps`. */
  readonly step: string;
}

/** A conflict or a close finding that rests on defaults of the class: likely so, until those readings are taken. */
export interface OnDefaults {
  /** What part of the doubt defaults cause. */
  readonly share: number;
  /** Readings that decide, the largest share of the doubt first. */
  readonly decide: readonly DecidingReading[];
}

export interface DecidingReading {
  readonly id: string;
  readonly title: string;
  readonly subject: string;
  readonly share: number;
}

export type Leaning = 'likely met' | 'likely not met' | 'as likely met as not';

/** What would settle a finding that is too close to call. */
export interface SettledBy {
  /** Readings that take most of the doubt, the largest share first; none where no tool takes any. */
  readonly readings: readonly DecidingReading[];
  /** Half-width of the margin that is left once all that can be read of it is. */
  readonly leaves: Amount | null;
  /** What most of that is of: read as exactly as its tool reads, or by nobody. */
  readonly remains: readonly Remaining[];
  /** The chance that all of it settles the finding. */
  readonly chance: number;
}

export interface Remaining extends DecidingReading {
  readonly can_be_read: boolean;
}

/** What another cure breaks, or lowers, of what was asked. */
export interface AlternativeCost {
  readonly id: string;
  readonly rule: string;
  readonly title: string;
  readonly hazard: Hazard;
  readonly subject: string;
  readonly before: Verdict;
  readonly after: Verdict;
  readonly margin_before: Margin | null;
  readonly margin_after: Margin | null;
}

/** A number that a cure changes: what it costs, or gives. */
export interface AlternativeChange {
  readonly id: string;
  readonly name: string;
  readonly title: string;
  readonly subject: string;
  readonly unit: string;
  readonly before: number;
  readonly after: number;
}

/** One way to cure a finding, with the least amount that does, and what that costs elsewhere. */
export interface AnswerAlternative {
  readonly work: string;
  readonly title: string;
  readonly amounts: Readonly<Record<string, WorkAmount>>;
  /** Whether it clears the finding by itself at the worse end; where not, the amount is the most there is. */
  readonly clears: boolean;
  /** The finding's margin with it done. */
  readonly margin: Margin | null;
  readonly irreversible: boolean;
  /** Findings that are worse for it. */
  readonly breaks: readonly AlternativeCost[];
  /** Margins that fall without a change of verdict, the largest loss first. */
  readonly lowers: readonly AlternativeCost[];
  /** Other findings that are better for it. */
  readonly clears_too: readonly string[];
  readonly changes: readonly AlternativeChange[];
  readonly notes: readonly string[];
  readonly cautions: readonly string[];
}

export interface Finding {
  readonly id: string;
  readonly rule: string;
  readonly title: string;
  readonly hazard: Hazard;
  readonly verdict: Verdict;
  /** The vehicle stands so already, and the planned parts change nothing of it: unless a conflict, it does not count towards the verdict. */
  readonly as_before: boolean;
  /** null when unknown, or when what is required is not a matter of more or less. */
  readonly margin: Margin | null;
  readonly subject: string;
  readonly parts: readonly AnswerPart[];
  readonly says: string;
  readonly numbers: readonly AnswerNumber[];
  /** Which inputs cause the doubt, the largest share first; shares are of the whole band. */
  readonly doubt: readonly { readonly id: string; readonly share: number }[];
  readonly on_defaults?: OnDefaults;
  /** Of one that is too close to call: which way it leans, from three chances in four on. */
  readonly leans?: Leaning;
  /** Of one that is too close to call. */
  readonly settled_by?: SettledBy;
  /** Ids of values it rests on whose statements cannot all be true. */
  readonly contested?: readonly string[];
  /** Values that are missing, by key in `values`. */
  readonly missing: readonly string[];
  /** Groups of them of which any one would do. */
  readonly any_of?: readonly (readonly string[])[];
  readonly work: readonly AnswerWorkCall[];
  /** Where they were asked for. */
  readonly alternatives?: readonly AnswerAlternative[];
  readonly basis: readonly AnswerBasis[];
  readonly cautions: readonly string[];
}

export interface Hours {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
  readonly unit: 'h';
}

export interface Step {
  readonly id: string;
  readonly work: string;
  readonly title: string;
  readonly parts: readonly AnswerPart[];
  readonly amounts: Readonly<Record<string, WorkAmount>>;
  readonly skills: readonly string[];
  /** Who must do it, where not anybody may. */
  readonly who: readonly string[];
  /** People it takes at once. */
  readonly crew: number;
  readonly hours: Hours;
  readonly tools: readonly string[];
  /** Set-ups it needs itself, as `work.setups` names them. */
  readonly setups: readonly string[];
  readonly irreversible: boolean;
  /** A fault in it can kill: it is signed for when it is verified. */
  readonly safety_critical: boolean;
  /** Only to be done if measuring shows that it is needed: every finding that asks for it is too close to call. */
  readonly contingent: boolean;
  /** Findings, steps that bring it with them, and parts it puts on (`part:` and their id). */
  readonly because: readonly string[];
  /** Steps that come earlier, and what goes wrong in the other order. */
  readonly after: readonly { readonly step: string; readonly why: string }[];
  readonly prerequisites: readonly string[];
  /** What must pass before what comes after it. */
  readonly settling: { readonly hours: number; readonly why: string } | null;
  readonly sent_out: { readonly days: number; readonly what: 'part' | 'vehicle' } | null;
  /** Distances after the hand-over at which it is done; in the shop where there are none. */
  readonly visits: readonly Amount[];
  readonly fasteners: readonly {
    readonly what: string;
    readonly single_use: boolean;
    readonly at_ride_height: boolean;
    readonly torque?: string;
  }[];
  /** What is bought for it. */
  readonly buys: readonly string[];
  readonly consumables: readonly string[];
  readonly verify: { readonly check: string; readonly accept: string } | null;
  readonly cautions: readonly string[];
}

/** A state of the vehicle that steps share, from the first to the last that need it. */
export interface AnswerSetup {
  readonly id: string;
  readonly title: string;
  readonly from: string;
  readonly to: string;
  readonly make: Hours;
  readonly unmake: Hours;
  readonly crew: number;
  /** Only steps that may turn out not to be needed ask for it. */
  readonly contingent: boolean;
  readonly cautions: readonly string[];
}

export interface AnswerWork {
  readonly steps: readonly Step[];
  /** All of it: the high end with everything that may be needed. */
  readonly hours: Hours;
  /** What is sure to be done, set-ups included. */
  readonly sure: Hours;
  /** What measuring may show to be needed, beyond that. */
  readonly if_needed: Hours;
  /** Findings that are not known yet and could ask for more work. */
  readonly not_known: number;
  readonly setups: readonly AnswerSetup[];
  readonly order: {
    /** Likely hours of set-up in this order, and what no order goes below. */
    readonly set_up: Amount;
    readonly at_least: Amount;
    readonly exact: boolean;
    /** Hours that may have to be done again, since two works each change what the other was decided with. */
    readonly rework_at_risk: Amount;
  };
  /** Ways round by which steps wait for themselves; there are none unless rules contradict each other. */
  readonly rings: readonly (readonly { readonly step: string; readonly why: string; readonly because: readonly string[] }[])[];
}

export interface AfterWork {
  readonly verdict: Verdict;
  /** How often work was applied and the vehicle checked again until nothing more was asked for. */
  readonly rounds: number;
  /** Findings that the work cleared. */
  readonly cleared: readonly string[];
  /** Findings that were not there, or were better, before the work. */
  readonly broken: readonly Finding[];
  /** Findings still not clear with everything done. */
  readonly remaining: readonly { readonly id: string; readonly verdict: Verdict; readonly says: string }[];
}

export interface ToMeasure {
  /** Keys in `values`; several where one reading does for all, such as tyres of one size. */
  readonly ids: readonly string[];
  readonly quantity: string;
  readonly title: string;
  readonly subject: string;
  readonly why: string;
  readonly findings: readonly string[];
  readonly how: string;
  readonly tool: string;
  readonly where?: string;
  readonly suspension?: string;
  readonly steering?: string;
  readonly accuracy?: Amount;
  /** On its own, getting into position included. */
  readonly minutes?: number;
  readonly cautions: readonly string[];
  /** From 1, the most telling for its time first. */
  readonly order: number;
  /** The position it is read in, by its id in `measuring.groups`. */
  readonly group: string;
  /** One of the few that decide most. */
  readonly decides: boolean;
  /** What must be on the vehicle when it is read. */
  readonly state: 'as-it-stands' | 'planned-part' | 'planned-parts-on';
  /** Conflicts that rest on defaults of the class, which this reading ends if the vehicle is otherwise than its class. */
  readonly could_overturn: readonly string[];
  /** Findings that this reading, with those before it, is expected to settle, and how likely. */
  readonly would_settle: readonly { readonly finding: string; readonly title: string; readonly chance: number }[];
  /** Findings that are not known, and can be told with this reading. */
  readonly would_tell: readonly string[];
  readonly would_narrow: readonly string[];
  /** With its position taken already. */
  readonly minutes_there: number;
  /** How the reading is sent, but for its value. */
  readonly write_down: { readonly quantity: string; readonly of?: string; readonly unit?: string; readonly such_as?: readonly string[] };
}

/** Readings of one position: they share the time it takes to get there. */
export interface MeasuringGroup {
  readonly id: string;
  readonly title: string;
  readonly setup_minutes: number;
  readonly minutes: number;
  /** By their `order`. */
  readonly readings: readonly number[];
  readonly cautions: readonly string[];
}

/** How the defaults of the class were made to agree with the readings. */
export interface AnswerFit {
  /** What is left between each reading and what the fitted vehicle gives; the residual in half-widths of the reading. */
  readonly readings: readonly {
    readonly id: string;
    readonly residual: number;
    readonly off?: Amount;
    readonly agrees: boolean;
    /** Of one that was left out: why, and whether it counts all the same. */
    readonly remark?: string;
  }[];
  /** Defaults that the readings decided something of; `left` is what part of their tolerance is still open. */
  readonly adjusted: readonly { readonly ids: readonly string[]; readonly was: Amount; readonly now: Amount; readonly left: number }[];
}

export interface MeasuringSet {
  readonly id: string;
  readonly title: string;
  readonly gives: string;
  /** All that belong to it. */
  readonly quantities: readonly string[];
  /** Those of the list, by their `order`, and those of the list that all of it stands in for. */
  readonly readings: readonly number[];
  readonly instead_of: readonly number[];
}

/** A reading that was given: the findings that would be open without it, and those that rest on it and are open. */
export interface TakenReading {
  readonly ids: readonly string[];
  readonly quantity: string;
  readonly title: string;
  readonly subject: string;
  readonly settled: readonly string[];
  readonly open: readonly string[];
  /** Why no finding that was asked for rests on it, or what else is to be known of it. */
  readonly remark?: string;
}

/** The list of what to measure as a whole. */
export interface Measuring {
  readonly minutes: number;
  readonly decide: { readonly readings: readonly number[]; readonly minutes: number };
  readonly groups: readonly MeasuringGroup[];
  /** Two readings of the list or more that give together what none gives alone. */
  readonly sets: readonly MeasuringSet[];
  /** Findings too close to call that the whole list is expected to settle, those not known that it lets be told, and the rest. */
  readonly settles: readonly string[];
  readonly tells: readonly string[];
  readonly leaves_open: readonly string[];
  /** What was read so far, and what it settled. */
  readonly taken: readonly TakenReading[];
}

export interface Answer {
  readonly verdict: Verdict;
  readonly summary: string;
  readonly checked: {
    readonly rules: number;
    readonly applied: number;
    readonly not_applicable: number;
    readonly conflict: number;
    readonly unknown: number;
    readonly close: number;
    readonly clear: number;
    /** Open but as before: counted above too, and not in the verdict. */
    readonly as_before: number;
  };
  readonly findings: readonly Finding[];
  readonly work: AnswerWork;
  readonly after_work: AfterWork;
  readonly measure: readonly ToMeasure[];
  readonly measuring: Measuring;
  /** Where it was asked for. */
  readonly fit?: AnswerFit;
  readonly assumptions: readonly string[];
  readonly values: Readonly<Record<string, AnswerValue>>;
  readonly versions: { readonly engine: string; readonly models: string; readonly rules: string; readonly catalogue: string };
}
