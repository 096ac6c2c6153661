/**
 * What a check is asked with. Numbers are strings with units ("2.5 in ± 0.1"); a bare number is accepted only
 * where the thing is a count. Turning these into SI, against the kinds and quantities, is the assembly's work.
 */

import type { ShapeFrame } from './read-shape.ts';

export type Place = 'vehicle' | 'front' | 'rear' | 'front-left' | 'front-right' | 'rear-left' | 'rear-right';

/** A part may also be placed at `all` corners or axles; a corner part `at: front` is a pair. */
export type PlaceInput = Place | 'all';

/** A value as given: a quantity with its unit, a text, a truth, or a count. */
export type ValueInput = string | boolean | number;

export interface ReadingInput {
  readonly value: ValueInput;
  readonly date?: string;
  readonly tool?: string;
  /** By how much that tool may be off, alike at every reading with it, on top of the value's own tolerance: "1 mm", "0.2 %". */
  readonly tool_error?: string;
  readonly by?: string;
  readonly note?: string;
}

export interface VehicleReading extends ReadingInput {
  /** A quantity of the dictionary. */
  readonly quantity: string;
  /** A place, or the id of a part; absent for the vehicle. */
  readonly of?: string;
  /** Of a reading with the planned parts on: the parts there were; absent for those of this request, or for the vehicle as it stands where that is known too. */
  readonly with?: readonly PartInput[];
  /** Another reading of the same counts in its place; no request says so, a saved build's measurements do. */
  readonly passed_over?: true;
}

interface PartCommon {
  /** The part's name in this build; findings use it. */
  readonly id?: string;
  readonly at?: PlaceInput;
  /** Ids of fitted parts that this one takes the place of, or `fitted` for whatever one-per-place part is there. */
  readonly replaces?: string | readonly string[];
  readonly measured?: Readonly<Record<string, ValueInput | ReadingInput>>;
}

export type PartInput =
  | (PartCommon & { readonly from: 'catalogue'; readonly part: string; readonly version?: number })
  | (PartCommon & {
      readonly from: 'inline';
      readonly kind: string;
      readonly name?: string;
      readonly attributes?: Readonly<Record<string, ValueInput>>;
      readonly shape?: ShapeInput;
    });

/** Where something is that a tyre can touch; lengths with units, points as "-445, 600, 410 mm". */
export interface ShapeInput {
  /** What it is fixed to; as its kind is where left out. */
  readonly on?: ShapeFrame;
  /** `drawing`: below the front axle's centre, on the ground, as designed. `hub`: the centre of the hub's face, at ride height, wheels straight ahead. */
  readonly from?: 'drawing' | 'hub';
  readonly radius?: string;
  readonly plus_minus?: string;
  /** Runs of straight pieces; one point alone is a ball. */
  readonly lines?: readonly (readonly string[])[];
  /** Flat, three or four corners each. */
  readonly patches?: readonly (readonly string[])[];
}

/** A value for the vehicle, or one for each place: `{ front: "1270 kg", rear: "1500 kg" }`. */
export type VehicleValueInput = ValueInput | Readonly<Record<string, ValueInput>>;

export interface InlineVehicle {
  readonly name?: string;
  /** Class whose defaults stand in for what is not given. */
  readonly class: string;
  readonly values?: Readonly<Record<string, VehicleValueInput>>;
  /** What is on it now. */
  readonly fitted?: readonly PartInput[];
}

export type VehicleInput =
  | { readonly from: 'catalogue'; readonly vehicle: string; readonly version?: number; readonly measured?: readonly VehicleReading[] }
  | (InlineVehicle & { readonly from: 'inline'; readonly measured?: readonly VehicleReading[] });

export interface LoadItem {
  readonly name: string;
  readonly mass: string;
  /** Distance from the front axle towards the rear; negative is ahead of it. One of the two says where it is. */
  readonly behind_front_axle?: string;
  /** Distance from the rear axle towards the rear; negative is ahead of it. */
  readonly behind_rear_axle?: string;
  /** Above the ground. */
  readonly height?: string;
}

export interface Use {
  readonly top_speed?: string;
  /** Ids of law packs. Without one, nothing legal is claimed. */
  readonly jurisdictions?: readonly string[];
}

export interface CheckRequest {
  readonly vehicle: VehicleInput;
  readonly parts?: readonly PartInput[];
  readonly load?: { readonly occupants?: number; readonly items?: readonly LoadItem[] };
  readonly use?: Use;
  readonly units?: 'metric' | 'us';
  /** Makes the defaults of the class agree with the readings there are, within their tolerances. */
  readonly fit_to_readings?: boolean;
  /** Which of the value graph to answer with: what findings that are not clear rest on, or everything read. */
  readonly values?: 'used' | 'all';
  /** Other ways to cure what is in conflict or too close to call, each with what it costs elsewhere. */
  readonly alternatives?: boolean;
  /** Quantities of the vehicle, its axles or its corners to answer with as well, whether or not a rule reads them. */
  readonly also?: readonly string[];
  /** Readings planned at most, each of which is a check of what is open: for those who tell a few alone. No request of the contract has it. */
  readonly most_readings?: number;
}

/** One thing of a build that is varied: named as a reading of it is. Over a range in steps, or among values of its own. */
export interface VaryInput {
  /** A quantity of the dictionary, or an attribute of a part. */
  readonly quantity: string;
  /** A place, or the id of a part; absent for the vehicle. */
  readonly of?: string;
  readonly from?: ValueInput;
  readonly to?: ValueInput;
  readonly step?: string;
  /** Half-width it is held to; exact when left out. */
  readonly plus_minus?: string;
  readonly among?: readonly ValueInput[];
}

export interface WhatIfRequest extends Omit<CheckRequest, 'values'> {
  readonly vary: VaryInput;
}

/** A thing of the catalogue: the part of `PartInput` and `InlineVehicle` that a maker or a shop can state once for all. */
export interface CataloguePart {
  readonly id: string;
  readonly version: number;
  readonly kind: string;
  readonly name: string;
  readonly maker?: string;
  readonly attributes: Readonly<Record<string, ValueInput>>;
  readonly note?: string;
}

export interface CatalogueVehicle extends InlineVehicle {
  readonly id: string;
  readonly version: number;
  readonly name: string;
  readonly maker?: string;
  readonly note?: string;
}

/** A fault in a request: where (RFC 6901), what, and how to mend it. */
export interface RequestFault {
  readonly pointer: string;
  readonly code: string;
  readonly message: string;
  readonly help: string;
}
