/**
 * When each operation is done by one person or more, in the order of the plan. Hours of work on one clock; a calendar
 * turns them into days. Changing what the vehicle stands on is work between operations: all that went before it is
 * finished first. Serial scheduling: each operation in turn at the earliest time its people, its predecessors and what
 * must dry allow.
 */

export interface ToSchedule {
  readonly duration: number;
  readonly crew: number;
  /** Places in the list of what must be finished, all earlier. */
  readonly before: readonly number[];
  /** Elapsed time after it before anything behind it; given by the calendar that turns work time into clock time. */
  readonly settling: number;
  /** Elapsed time it is away, its own duration in it. */
  readonly away: number;
  /** Nothing else is done while it is away: the vehicle itself is gone. */
  readonly vehicleAway: boolean;
  /** All before it in the list is finished first, and nothing behind it starts before it is done: a change of set-up. */
  readonly barrier: boolean;
  /** Not before that clock time. */
  readonly notBefore: number;
}

export interface Slot {
  /** Clock time, seconds since work began on the first day. */
  readonly start: number;
  readonly end: number;
  /** When those behind it may start. */
  readonly ready: number;
}

/** Working hours on a clock: days of a length, some of which are worked. Seconds from the start of the first working day. */
export interface WorkingDays {
  readonly dayLength: number;
  /** Whether a day is worked, by number from the first. */
  worked(day: number): boolean;
}

const DAY = 86_400;

/** The first moment at or after `time` at which work goes on. */
export function nextWorking(time: number, { dayLength, worked }: WorkingDays): number {
  let day = Math.floor(time / DAY);
  let within = time - day * DAY;
  if (within >= dayLength - 1e-6) [day, within] = [day + 1, 0];
  while (!worked(day)) [day, within] = [day + 1, 0];
  return day * DAY + within;
}

/** When work of that length that starts then is finished, nights and days off between. */
export function finishOf(start: number, duration: number, days: WorkingDays): number {
  let at = nextWorking(start, days);
  let left = duration;
  for (;;) {
    const dayEnd = Math.floor(at / DAY) * DAY + days.dayLength;
    if (at + left <= dayEnd + 1e-6) return at + left;
    left -= dayEnd - at;
    at = nextWorking(dayEnd, days);
  }
}

/** `people` may be fewer than an operation's crew: then it waits for all of them, and help is told of elsewhere. */
export function schedule(list: readonly ToSchedule[], people: number, days: WorkingDays): Slot[] {
  const slots: Slot[] = [];
  const free = new Array<number>(people).fill(0);
  let barrier = 0;
  for (const each of list) {
    const crew = Math.min(each.crew, people);
    const hands = free
      .map((at, i) => ({ at, i }))
      .sort((a, b) => a.at - b.at || a.i - b.i)
      .slice(0, crew);
    const ready = Math.max(0, ...each.before.map((i) => slots[i]?.ready ?? 0));
    const finished = each.barrier || each.vehicleAway ? Math.max(0, ...slots.map(({ end }) => end)) : 0;
    const start = nextWorking(Math.max(barrier, ready, finished, each.notBefore, ...hands.map(({ at }) => at)), days);
    const worked = finishOf(start, each.duration, days);
    const end = each.away > 0 ? Math.max(worked, start + each.away) : worked;
    for (const { i } of hands) free[i] = each.away > 0 && !each.vehicleAway ? start : worked;
    if (each.barrier || each.vehicleAway) barrier = Math.max(barrier, end);
    slots.push({ start, end, ready: end + each.settling });
  }
  return slots;
}
