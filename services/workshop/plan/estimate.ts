/**
 * What a job costs. Hours are the expected ones of their three times, in hundredths; each line is rounded to the currency
 * once, and sums are exact. What has no price is listed and leaves the estimate open: it is never nothing.
 */
import type { Spread } from '../../engine/planning.ts';
import type { VehicleWorld } from '../../vehicle/world.ts';
import { stepId } from '../step-id.ts';
import { Decimal, digitsOf, sumOf } from './decimal.ts';
import type { Operation, OrderedJob } from './operations.ts';
import type { Period } from './periods.ts';
import type { EstimateInput, PriceInput, TaxedOn } from './request.ts';
import { estimateSum, meanOf, NO_TIME, quantile, type Estimate as TimeEstimate } from './time.ts';

export type LineKind = 'labour' | 'set-up' | 'sent-out' | 'part' | 'bought' | 'consumable' | 'supplies';

export interface Line {
  readonly kind: LineKind;
  readonly text: string;
  readonly quantity: string;
  readonly unit: 'h' | 'pc' | '%';
  /** null where nobody gave a price. */
  readonly price: string | null;
  readonly amount: string | null;
  /** Steps it belongs to. */
  readonly steps: readonly string[];
  /** Findings, parts and steps that ask for it. */
  readonly because: readonly string[];
  readonly note?: string;
}

export interface Totals {
  readonly labour: string;
  readonly parts: string;
  readonly supplies: string;
  readonly sent_out: string;
  readonly contingency: string;
  readonly net: string;
  /** `on` is the sum of the `groups` it is on. */
  readonly tax: readonly {
    readonly name: string;
    readonly rate: string;
    readonly groups: readonly TaxedOn[];
    readonly on: string;
    readonly amount: string;
  }[];
  readonly total: string;
}

export interface Estimate {
  readonly wording: string;
  readonly currency: string;
  readonly digits: number;
  readonly lines: readonly Line[];
  readonly totals: Totals;
  /** Nothing that is sure to be needed is without a price, and nothing is unknown that may ask for more. */
  readonly complete: boolean;
  readonly unpriced: readonly string[];
  /** From labour alone: what one in ten such jobs stays below, and one in ten goes beyond, operations erring together. */
  readonly range: { readonly low: string; readonly high: string; readonly method: string };
  /** Each apart, with the set-ups that only it needs left out; none of it is in the totals. */
  readonly if_needed: readonly {
    readonly step: string;
    readonly lines: readonly Line[];
    readonly net: string;
    readonly unpriced: readonly string[];
  }[];
  /** Of the sums before it, in hundredths. */
  readonly contingency_rate: string;
  readonly valid_days: number;
  readonly approval_above: string | null;
  readonly exclusions: readonly string[];
}

const WORDING =
  'An estimate from what is known now, not a quotation: the price is what the work turns out to take. What the inspection or the work itself turns up changes it, and is told with its price before it is done.';
const EXCLUSIONS = [
  'rust, seized or broken fasteners, and damage that shows only once it is apart',
  'approval by an engineer or an authority, where local law asks for it',
  'work listed as needed only if measuring shows so',
];
const HOUR = 3600;
const ONE = Decimal.parse('1') as Decimal;

export interface EstimateParts {
  readonly ordered: OrderedJob;
  readonly periods: readonly Period[];
  readonly world: VehicleWorld;
  readonly titleOf: (operation: Operation) => string;
  readonly setupTitle: (period: Period) => string;
  readonly becauseOf: (operation: Operation) => readonly string[];
  /** Findings that are not known and may ask for more. */
  readonly open: number;
}

export function estimateOf(parts: EstimateParts, input: EstimateInput): Estimate {
  const pricing = new Pricing(parts, input);
  const { ordered, periods } = parts;
  const visits = ordered.visits.flatMap(({ operations }) => operations);
  const all = [...ordered.operations, ...visits];
  const sure = all.filter(({ step }) => !step.contingent);
  const labour = [
    ...sure.map((operation) => pricing.labourOf(operation)),
    ...periods.filter(({ contingent }) => !contingent).map((period) => pricing.setupLine(period)),
  ];
  const bought = [...pricing.partLines(sure), ...pricing.boughtLines(sure), ...pricing.consumableLines(sure)];
  const lines = [...labour, ...bought, ...pricing.suppliesLine(labour)];
  const totals = pricing.totals(lines);
  const unpriced = unpricedOf(lines);
  const spread = estimateSum([
    ...sure.map(({ step }) => step.asked.work.hours),
    ...periods.filter(({ contingent }) => !contingent).flatMap(({ here: { setup } }) => [setup.make, setup.unmake]),
  ]);
  return {
    wording: WORDING,
    currency: input.currency,
    digits: pricing.digits,
    lines,
    totals,
    complete: unpriced.length === 0 && parts.open === 0,
    unpriced,
    range: rangeOf(totals, spread, pricing),
    if_needed: uniqueBy(all.filter(({ step }) => step.contingent)).map((operation) => pricing.option(operation)),
    contingency_rate: (percentOf(input.contingency) ?? Decimal.zero).toString(),
    valid_days: input.valid_days ?? 30,
    approval_above: input.approval_above ?? null,
    exclusions: [...EXCLUSIONS, ...(input.exclusions ?? [])],
  };
}

const unpricedOf = (lines: readonly Line[]): string[] => [
  ...new Set(lines.filter(({ amount }) => amount === null).map(({ text }) => text)),
];

const uniqueBy = (operations: readonly Operation[]): Operation[] => [
  ...new Map(operations.map((operation) => [operation.key, operation])).values(),
];

function rangeOf(totals: Totals, spread: TimeEstimate = NO_TIME, { digits }: Pricing): Estimate['range'] {
  const share = (at: number): number => (spread.mean === 0 ? 0 : quantile(spread, at, true) / spread.mean - 1);
  const [total, labour] = [Decimal.parse(totals.total), Decimal.parse(totals.labour)].map((amount) => amount?.toNumber() ?? 0) as [
    number,
    number,
  ];
  const net = Decimal.parse(totals.net)?.toNumber() ?? 0;
  const loading = net === 0 ? 1 : total / net;
  const end = (at: number): string => Decimal.fromNumber(Math.max(0, total + labour * share(at) * loading), digits).toString();
  return {
    low: end(0.1),
    high: end(0.9),
    method: 'three-point estimates of labour as a beta distribution, operations erring together; 10 % and 90 %',
  };
}

class Pricing {
  readonly digits: number;
  readonly #parts: EstimateParts;
  readonly #input: EstimateInput;

  constructor(parts: EstimateParts, input: EstimateInput) {
    this.#parts = parts;
    this.#input = input;
    this.digits = digitsOf(input.currency);
  }

  #line(
    kind: LineKind,
    text: string,
    quantity: Decimal,
    unit: Line['unit'],
    price: string | undefined,
    of: readonly Operation[],
    note?: string,
  ): Line {
    const { world, becauseOf } = this.#parts;
    const each = price === undefined ? undefined : Decimal.parse(price);
    return {
      kind,
      text,
      quantity: quantity.toString(),
      unit,
      price: each?.toString() ?? null,
      amount: each ? (unit === '%' ? each.percent(quantity) : each.times(quantity)).rounded(this.digits).toString() : null,
      steps: [...new Set(of.map(({ step }) => stepId(step.asked, world)))],
      because: [...new Set(of.flatMap(becauseOf))],
      ...(note !== undefined && { note }),
    };
  }

  /** Hours of the dearest of its skills, or the price of having it done elsewhere. */
  labourOf(operation: Operation): Line {
    const { work } = operation.step.asked;
    const id = stepId(operation.step.asked, this.#parts.world);
    const elsewhere = this.#input.sent_out?.[id] ?? this.#input.sent_out?.[work.id];
    const text = this.#parts.titleOf(operation);
    if (elsewhere !== undefined || work.planning.sentOut) return this.#line('sent-out', text, ONE, 'pc', elsewhere, [operation]);
    return this.#line('labour', text, hundredths(work.hours), 'h', this.#rate(work.skills), [operation]);
  }

  setupLine(period: Period): Line {
    const { setup } = period.here;
    const total = Decimal.fromNumber((meanOf(setup.make) + meanOf(setup.unmake)) / HOUR, 2);
    return this.#line('set-up', this.#parts.setupTitle(period), total, 'h', this.#rate(['mechanical']), [period.first, period.last]);
  }

  #rate(skills: readonly string[]): string | undefined {
    const { labour } = this.#input;
    const rates = skills.flatMap((skill) => labour[skill] ?? labour['default'] ?? []);
    return rates.reduce<string | undefined>(
      (dearest, rate) =>
        dearest === undefined || (Decimal.parse(rate) as Decimal).compare(Decimal.parse(dearest) as Decimal) > 0 ? rate : dearest,
      skills.length === 0 ? labour['default'] : undefined,
    );
  }

  /** Planned parts that steps put on, by the id they have in the build. */
  partLines(operations: readonly Operation[]): Line[] {
    const { world } = this.#parts;
    const groups = new Map<string, { readonly name: string; readonly places: Set<number>; readonly by: Operation[] }>();
    const instead = insteadOf(operations, world);
    for (const operation of operations)
      for (const subject of operation.step.fits) {
        const part = world.partOf(subject);
        if (!part) continue;
        const group = groups.get(part.group) ?? { name: part.name, places: new Set(), by: [] };
        group.places.add(subject);
        group.by.push(operation);
        groups.set(part.group, group);
      }
    return [...groups].map(([id, { name, places, by }]) => {
      const quantity = Decimal.fromNumber(places.size, 0);
      const other = instead.get(id);
      if (!other) return this.#priced('part', name, quantity, this.#input.parts?.[id], by);
      return this.#line('part', name, quantity, 'pc', '0', by, `not put on, and not billed: “${this.#parts.titleOf(other)}”`);
    });
  }

  #priced(kind: LineKind, text: string, quantity: Decimal, given: PriceInput | undefined, by: readonly Operation[]): Line {
    if (given?.supplied_by !== 'customer') return this.#line(kind, text, quantity, 'pc', given?.price, by);
    // What the customer brings is not sold to them; its price is what it is worth.
    const worth = given.price !== undefined && Decimal.parse(given.price)?.compare(Decimal.zero) ? `, worth ${given.price} each` : '';
    return this.#line(
      kind,
      text,
      quantity,
      'pc',
      '0',
      by,
      `supplied by the customer${worth}; not billed, and not under the shop's warranty`,
    );
  }

  boughtLines(operations: readonly Operation[]): Line[] {
    const { world } = this.#parts;
    return operations.flatMap((operation) =>
      operation.step.asked.work.planning.parts.map((what) => {
        const given = this.#input.buys?.[`${stepId(operation.step.asked, world)}/${what}`] ?? this.#input.buys?.[what];
        return this.#priced('bought', `${what}: ${this.#parts.titleOf(operation)}`, ONE, given, [operation]);
      }),
    );
  }

  /** Each once for all that use it; without a price it is in the shop's supplies, if there are such. */
  consumableLines(operations: readonly Operation[]): Line[] {
    const users = new Map<string, Operation[]>();
    for (const operation of operations)
      for (const what of [...operation.step.asked.work.planning.consumables, ...singleUse(operation)])
        users.set(what, [...(users.get(what) ?? []), operation]);
    return [...users].flatMap(([what, by]) => {
      const price = this.#input.consumables?.[what];
      if (price === undefined && this.#input.shop_supplies !== undefined) return [];
      return [this.#line('consumable', what, Decimal.fromNumber(by.length, 0), 'pc', price, by)];
    });
  }

  suppliesLine(labour: readonly Line[]): Line[] {
    const rate = percentOf(this.#input.shop_supplies);
    if (!rate) return [];
    return [
      this.#line(
        'supplies',
        'Consumables and single-use fasteners without a price of their own',
        rate,
        '%',
        totalOf(labour).toString(),
        [],
      ),
    ];
  }

  option(operation: Operation): Estimate['if_needed'][number] {
    const labour = [this.labourOf(operation)];
    const lines = [...labour, ...this.boughtLines([operation]), ...this.consumableLines([operation]), ...this.suppliesLine(labour)];
    return {
      step: stepId(operation.step.asked, this.#parts.world),
      lines,
      net: totalOf(lines).rounded(this.digits).toString(),
      unpriced: unpricedOf(lines),
    };
  }

  totals(lines: readonly Line[]): Totals {
    const of = (...kinds: readonly LineKind[]): Decimal => totalOf(lines.filter(({ kind }) => kinds.includes(kind))).rounded(this.digits);
    const groups = {
      labour: of('labour', 'set-up'),
      parts: of('part', 'bought'),
      supplies: of('consumable', 'supplies'),
      sent_out: of('sent-out'),
    };
    const before = sumOf(Object.values(groups));
    const contingency = before.percent(percentOf(this.#input.contingency) ?? Decimal.zero).rounded(this.digits);
    const all: Readonly<Record<TaxedOn, Decimal>> = { ...groups, contingency };
    const tax = (this.#input.tax ?? []).map(({ name, rate, on: taxed }) => {
      const on = taxed ?? (Object.keys(all) as TaxedOn[]);
      const base = sumOf(on.map((group) => all[group]));
      return { name, rate, groups: on, on: base.toString(), amount: base.percent(percentOf(rate) ?? Decimal.zero).rounded(this.digits) };
    });
    const net = before.plus(contingency);
    const text = (amount: Decimal): string => amount.rounded(this.digits).toString();
    return {
      ...(Object.fromEntries(Object.entries(groups).map(([name, amount]) => [name, text(amount)])) as Record<keyof typeof groups, string>),
      contingency: text(contingency),
      net: text(net),
      tax: tax.map((each) => ({ ...each, amount: text(each.amount) })),
      total: text(net.plus(sumOf(tax.map(({ amount }) => amount)))),
    };
  }
}

/** Planned parts that a step puts another one in the place of, by their id in the build. */
export function insteadOf(operations: readonly Operation[], { partOf }: Pick<VehicleWorld, 'partOf'>): ReadonlyMap<string, Operation> {
  return new Map(
    operations
      .filter(({ step }) => step.asked.work.planning.standsFor.length > 0)
      .flatMap((operation) => [...operation.step.fits].map((subject) => [partOf(subject)?.group ?? '', operation] as const)),
  );
}

const singleUse = ({ step }: Operation): string[] =>
  step.asked.work.planning.fasteners.filter((fastener) => fastener.singleUse).map(({ what }) => what);

const totalOf = (lines: readonly Line[]): Decimal =>
  sumOf(lines.flatMap(({ amount }) => (amount === null ? [] : [Decimal.parse(amount) as Decimal])));

/** Expected hours, as they are shown and billed. */
const hundredths = (hours: Spread): Decimal => Decimal.fromNumber(meanOf(hours) / HOUR, 2);

export const percentOf = (text: string | undefined): Decimal | undefined =>
  text === undefined ? undefined : Decimal.parse(text.replace(/\s*%$/, ''));
