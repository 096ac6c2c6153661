/** What was read: each piece with what it is put into of a build, what was assumed, and what was left over. */
import type { CheckRequest, LoadItem, PartInput, VehicleReading } from '../vehicle/index.ts';

/** One thing that was understood. */
export interface Piece {
  readonly start: number;
  readonly end: number;
  readonly as: 'tyre' | 'wheel' | 'part' | 'load' | 'people' | 'speed' | 'state' | 'measured' | 'vehicle' | 'gears' | 'law';
  readonly says: string;
  readonly puts?: Puts;
}

/** What a piece puts into the request. */
export interface Puts {
  readonly parts?: readonly PartInput[];
  readonly items?: readonly LoadItem[];
  readonly occupants?: number;
  readonly topSpeed?: string;
  readonly jurisdictions?: readonly string[];
  readonly measured?: readonly VehicleReading[];
  readonly fitted?: readonly PartInput[];
  readonly vehicle?: CheckRequest['vehicle'];
}

export interface Assumption {
  readonly text: string;
  /** The verdict may be another if it does not hold. */
  readonly flips: boolean;
  /** A few words for the short answer. */
  readonly brief?: string;
}

export interface NotUnderstood {
  readonly start: number;
  readonly end: number;
  readonly why: string;
  /** It is known what it is, and that it is not checked. */
  readonly known?: string;
}

/** An attribute without which a part is not known, told where nothing says it. */
export interface Needed {
  readonly kind: string;
  readonly at?: string;
  readonly attribute: string;
  readonly says: string;
}

/** What the readers write into. */
export class Notes {
  readonly pieces: Piece[] = [];
  readonly assumptions: Assumption[] = [];
  readonly missed: NotUnderstood[] = [];
  readonly needs: Needed[] = [];
  /** Kinds of part that are said to stay as they came. */
  readonly keeps = new Set<string>();
  /** Values that were left out of a planned part and are taken as the class has them, `rim_width(asked-wheel)`. */
  readonly standIns = new Set<string>();
  /** Rules that answer what is asked by its name. */
  readonly asked = new Set<string>();
  /** Cautions of what is to come off. */
  readonly cautions = new Set<string>();
  /** It is asked whether it is lawful. */
  asksLaw = false;
  /** Parts at an axle that was not said: what is said of that axle elsewhere goes before them. */
  readonly weak = new Set<PartInput>();
  /** Items of parts and sizes that were refused. */
  readonly refused = new Set<number>();
  /** Items of parts of which it is asked whether they are needed. */
  readonly needed = new Set<number>();
  /** Words for parts that are planned, and where one was refused whole: of both nothing can be told. */
  readonly plannedParts = new Map<string, string>();
  readonly refusedParts = new Map<string, { readonly start: number; readonly end: number }>();
  /** Kinds at an axle that were refused there, `rear_spring rear`: what was put there without the axle being said is left out. */
  readonly without = new Set<string>();
  /** Of parts of the catalogue, by id. */
  readonly kinds = new Map<string, string>();

  assume(text: string, flips = true, brief?: string): void {
    if (!this.assumptions.some((known) => known.text === text)) this.assumptions.push({ text, flips, ...(brief && { brief }) });
  }

  has(as: Piece['as']): boolean {
    return this.pieces.some((piece) => piece.as === as);
  }
}

/** What stands in for what the text leaves out of wheels and tyres: those the vehicle has. */
export interface Stock {
  readonly rimDiameter: number;
  readonly rimWidth: string;
  readonly offset: string;
  readonly tyreId: string;
  readonly wheelId: string;
}
