/** What a plan is asked with, beside the build it is for. Money is written as texts of decimals: numbers of JSON are not exact. */
import type { CheckRequest, PartInput, ValueInput, VehicleReading } from '../../vehicle/request.ts';

/** An amount of money without its currency, such as `"85.00"`. */
export type Money = string;
/** `"20 %"` */
export type Percent = string;

export interface PriceInput {
  readonly price?: Money;
  readonly supplied_by?: 'shop' | 'customer';
  readonly on_hand?: boolean;
  readonly lead_days?: number;
}

export type TaxedOn = 'labour' | 'parts' | 'supplies' | 'sent_out' | 'contingency';

export interface EstimateInput {
  /** ISO 4217. */
  readonly currency: string;
  /** An hour's rate by skill, and `default` for the others. */
  readonly labour: Readonly<Record<string, Money>>;
  /** Planned parts by their id in the build; the price of one. */
  readonly parts?: Readonly<Record<string, PriceInput>>;
  /** What works buy, by its name or `step id/name`. */
  readonly buys?: Readonly<Record<string, PriceInput>>;
  readonly consumables?: Readonly<Record<string, Money>>;
  /** Works sent out, by work or step; in the place of their hours. */
  readonly sent_out?: Readonly<Record<string, Money>>;
  /** Consumables and fasteners without a price of their own, as a share of labour. */
  readonly shop_supplies?: Percent;
  readonly contingency?: Percent;
  readonly tax?: readonly { readonly name: string; readonly rate: Percent; readonly on?: readonly TaxedOn[] }[];
  readonly valid_days?: number;
  /** Beyond it the customer is asked before work goes on. */
  readonly approval_above?: Money;
  readonly exclusions?: readonly string[];
}

export interface ShopInput {
  /** One or two. */
  readonly people?: number;
  readonly hours_per_day?: number;
  /** `mon` to `sun`. */
  readonly working_days?: readonly string[];
  /** The day parts are ordered and the job is agreed. */
  readonly start?: string;
  /** For the dates of later visits. */
  readonly km_per_week?: number;
}

export interface Signed {
  readonly by: string;
  readonly date: string;
  readonly note?: string;
  /** Where photos are kept: names or addresses. */
  readonly photos?: readonly string[];
}

export interface InspectionInput extends Signed {
  readonly point: string;
  readonly result: 'sound' | 'worn' | 'unsafe' | 'not_looked_at';
}

export interface DoneInput {
  readonly step: string;
  /** Where it was done otherwise than planned. */
  readonly amounts?: Readonly<Record<string, ValueInput>>;
}

export interface AsBuiltInput extends DoneInput, Signed {
  readonly passed: boolean;
  readonly readings?: readonly { readonly quantity: string; readonly value: ValueInput }[];
}

export interface StateInput {
  /** Planned parts that are on it already. */
  readonly fitted?: readonly string[];
  readonly done?: readonly DoneInput[];
  readonly inspection?: readonly InspectionInput[];
  readonly accepted?: readonly (Signed & { readonly finding: string })[];
  readonly as_built?: readonly AsBuiltInput[];
}

export interface TurnedUpInput {
  readonly measured?: readonly VehicleReading[];
  readonly inspection?: readonly InspectionInput[];
  readonly parts?: readonly PartInput[];
  readonly note?: string;
}

export interface StagesInput {
  /** `budget`: what may be spent on it, all in; it is held against the shop's terms. */
  readonly groups: readonly { readonly name: string; readonly parts: readonly string[]; readonly budget?: Money }[];
  /** `best` looks for the cheapest order that is safe all along; up to four groups. */
  readonly order?: 'as_given' | 'best';
}

export interface PlanRequest extends CheckRequest {
  readonly shop?: ShopInput;
  readonly estimate?: EstimateInput;
  readonly state?: StateInput;
  readonly turned_up?: TurnedUpInput;
  readonly stages?: StagesInput;
}
