/** When the job is done: its operations and changes of set-up on the shop's working days, and when it is seen again. */

import type { VehicleWorld } from '../../vehicle/world.ts';
import type { Amount } from '../answer.ts';
import { type System, shownDistance } from '../show.ts';
import { stepId } from '../step-id.ts';
import { type Activity, criticalPath } from './critical-path.ts';
import type { Operation, OrderedJob } from './operations.ts';
import type { Period } from './periods.ts';
import type { PriceInput, ShopInput } from './request.ts';
import { type Slot, schedule, type ToSchedule, type WorkingDays } from './schedule.ts';
import { meanOf } from './time.ts';

/** A moment: working day from 1, hours into it, and the date where one was given to begin with. */
export interface Moment {
  readonly day: number;
  readonly hour: number;
  readonly date: string | null;
}

export interface Calendar {
  readonly people: number;
  readonly hours_per_day: number;
  /** Work begins when everything that is ordered is there: a vehicle taken apart waits for nothing. */
  readonly begins: Moment & { readonly why: string };
  readonly entries: readonly CalendarEntry[];
  readonly ready: Moment;
  readonly visits: readonly {
    readonly after: Amount;
    readonly date: string | null;
    readonly steps: readonly string[];
  }[];
  /** Steps that set how long it takes at least, with as many people as it likes, and how long that is. */
  readonly critical: { readonly steps: readonly string[]; readonly hours: number };
  /** Steps that take more people than there are. */
  readonly needs_help: readonly string[];
}

export interface CalendarEntry {
  /** A step's id, or a set-up's with `make:` or `unmake:` before it. */
  readonly what: string;
  readonly from: Moment;
  readonly to: Moment;
  /** When what comes after it may begin, where it dries, settles or is away. */
  readonly ready: Moment | null;
  readonly contingent: boolean;
}

const HOUR = 3600;
const DAY = 24 * HOUR;
const WEEK = ['sun', 'mon', 'tue', 'wed', 'thu', 'fri', 'sat'];
const USUAL_DAYS = ['mon', 'tue', 'wed', 'thu', 'fri'];

interface Item {
  readonly what: string;
  readonly key?: string;
  readonly duration: number;
  readonly crew: number;
  readonly barrier: boolean;
  readonly operation?: Operation;
  /** Operations whose drying and settling is waited for: what they needed is not put back over wet paint. */
  readonly dry?: readonly string[];
}

/** Contingent operations are left out: a calendar is of what is sure, with the set-ups that asks for. */
export function calendarOf(
  ordered: OrderedJob,
  periods: readonly Period[],
  world: VehicleWorld,
  shop: ShopInput,
  waits: readonly PriceInput[],
  system: System,
): Calendar {
  const people = shop.people ?? 1;
  const hoursPerDay = shop.hours_per_day ?? 8;
  const clock = new Clock(shop.start, shop.working_days ?? USUAL_DAYS);
  const lead = Math.max(0, ...waits.map(({ lead_days: days = 0, on_hand: here }) => (here ? 0 : days)));
  const days: WorkingDays = { dayLength: hoursPerDay * HOUR, worked: (day) => clock.worked(day + lead) };
  const items = itemsOf(ordered, periods, people);
  const place = new Map(items.flatMap(({ key }, i) => (key === undefined ? [] : [[key, i] as const])));
  const slots = schedule(
    items.map((item) => toSchedule(item, ordered, place)),
    people,
    days,
  );
  const moment = (time: number, end = false): Moment => clock.moment(time, lead, hoursPerDay, end);
  const first = slots.length > 0 ? Math.min(...slots.map(({ start }) => start)) : 0;
  const last = Math.max(0, ...slots.map(({ ready }) => ready));
  return {
    people,
    hours_per_day: hoursPerDay,
    begins: { ...moment(first), why: lead > 0 ? `everything ordered is there after ${lead} days` : 'nothing is waited for' },
    entries: items.map((item, i) => entryOf(item, slots[i] as Slot, moment, world)),
    ready: moment(last, true),
    visits: visitsOf(ordered, world, shop, clock, last / DAY + lead, system),
    critical: criticalOf(ordered, world, items),
    needs_help: ordered.operations
      .filter(({ step }) => !step.contingent && step.asked.work.planning.crew > people)
      .map(({ step }) => stepId(step.asked, world)),
  };
}

/** Operations with the changes of set-up between them; those of one place are made together. */
function itemsOf({ operations }: OrderedJob, periods: readonly Period[], people: number): Item[] {
  const sure = periods.filter(({ contingent }) => !contingent);
  const hands = (crew: number): number => Math.min(crew, people);
  return operations.flatMap((operation, i): Item[] => {
    const change = (period: Period, how: 'make' | 'unmake'): Item => {
      const { setup, key } = period.here;
      const dry = how === 'unmake' ? operations.slice(period.from, i + 1).filter(({ setups }) => setups.includes(key)) : [];
      const duration = meanOf(setup[how]) / hands(setup.crew);
      return { what: `${how}:${key}`, duration, crew: setup.crew, barrier: true, dry: dry.map((one) => one.key) };
    };
    const before = sure.filter(({ from }) => from === i).map((period) => change(period, 'make'));
    const after = sure
      .filter(({ to }) => to === i)
      .map((period) => change(period, 'unmake'))
      .reverse();
    const { work } = operation.step.asked;
    const { crew } = work.planning;
    const own: Item = {
      what: operation.key,
      key: operation.key,
      duration: meanOf(work.hours) / hands(crew),
      crew,
      barrier: false,
      operation,
    };
    return [...before, ...(operation.step.contingent ? [] : [own]), ...after];
  });
}

function toSchedule(
  { key, duration, crew, barrier, operation, dry = [] }: Item,
  { before }: OrderedJob,
  place: ReadonlyMap<string, number>,
): ToSchedule {
  const planning = operation?.step.asked.work.planning;
  return {
    duration,
    crew,
    before: [...dry, ...(before.get(key ?? '') ?? []).map((earlier) => earlier.key)].flatMap((earlier) => place.get(earlier) ?? []),
    settling: planning?.settling?.time ?? 0,
    away: (planning?.sentOut?.days ?? 0) * DAY,
    vehicleAway: planning?.sentOut?.what === 'vehicle',
    barrier,
    notBefore: 0,
  };
}

function entryOf(
  { what, operation }: Item,
  { start, end, ready }: Slot,
  moment: (time: number, end?: boolean) => Moment,
  world: VehicleWorld,
): CalendarEntry {
  return {
    what: operation ? stepId(operation.step.asked, world) : what,
    from: moment(start),
    to: moment(end, true),
    ready: ready > end ? moment(ready, true) : null,
    contingent: operation?.step.contingent ?? false,
  };
}

function visitsOf(
  { visits }: OrderedJob,
  world: VehicleWorld,
  { start, km_per_week: pace }: ShopInput,
  clock: Clock,
  ready: number,
  system: System,
): Calendar['visits'] {
  return visits.map(({ distance, operations }) => ({
    after: shownDistance(distance, system),
    date: start !== undefined && pace !== undefined && pace > 0 ? clock.dateOf(Math.ceil(ready + (distance / 1000 / pace) * 7)) : null,
    steps: operations.map(({ step }) => stepId(step.asked, world)),
  }));
}

function criticalOf({ operations, before }: OrderedJob, world: VehicleWorld, items: readonly Item[]): Calendar['critical'] {
  const sure = operations.filter(({ step }) => !step.contingent);
  const place = new Map(sure.map(({ key }, i) => [key, i]));
  const duration = new Map(items.map((item) => [item.key, item.duration]));
  const activities = sure.map(({ key, step }): Activity => {
    const { settling, sentOut } = step.asked.work.planning;
    return {
      duration: Math.max(duration.get(key) ?? 0, (sentOut?.days ?? 0) * DAY),
      lag: settling?.time ?? 0,
      before: (before.get(key) ?? []).flatMap((earlier) => place.get(earlier.key) ?? []),
    };
  });
  const { path, length } = criticalPath(
    activities,
    sure.map((_, i) => i),
  );
  return { steps: path.map((i) => stepId((sure[i] as Operation).step.asked, world)), hours: Math.round((length / HOUR) * 10) / 10 };
}

/** Days from the start, with dates where it has one. Pure: the calendar of the Gregorian years, no clock and no time zone. */
class Clock {
  readonly #start: number | undefined;
  readonly #days: ReadonlySet<string>;

  constructor(start: string | undefined, days: readonly string[]) {
    this.#start = start === undefined ? undefined : Date.parse(`${start}T00:00:00Z`);
    this.#days = new Set(days);
  }

  /** Without a date the first day is taken for the first of a working week. */
  worked(day: number): boolean {
    const first = this.#start === undefined ? WEEK.indexOf([...this.#days][0] ?? 'mon') : new Date(this.#start).getUTCDay();
    return this.#days.has(WEEK[(first + day) % 7] as string);
  }

  dateOf(day: number): string | null {
    return this.#start === undefined ? null : new Date(this.#start + Math.floor(day) * DAY * 1000).toISOString().slice(0, 10);
  }

  /** Day 1 is the first day of the calendar; an end at the close of a day is of that day. */
  moment(time: number, lead: number, hoursPerDay: number, end: boolean): Moment {
    let day = Math.floor(time / DAY);
    let hour = (time - day * DAY) / HOUR;
    if (end && hour < 1e-9 && day > 0) [day, hour] = [day - 1, hoursPerDay];
    return { day: day + lead + 1, hour: Math.round(hour * 100) / 100, date: this.dateOf(day + lead) };
  }
}
