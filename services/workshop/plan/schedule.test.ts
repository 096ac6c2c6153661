/** Schedules and calendars on cases that can be done by hand, and what must hold of any. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { finishOf, nextWorking, schedule, type ToSchedule, type WorkingDays } from './schedule.ts';

const HOUR = 3600;
const DAY = 24 * HOUR;
const week: WorkingDays = { dayLength: 8 * HOUR, worked: (day) => day % 7 < 5 };
const plain: ToSchedule = { duration: HOUR, crew: 1, before: [], settling: 0, away: 0, vehicleAway: false, barrier: false, notBefore: 0 };

describe('working time', () => {
  it('stops at the end of the day and over the weekend', () => {
    expect(finishOf(0, 8 * HOUR, week)).toBe(8 * HOUR);
    expect(finishOf(0, 9 * HOUR, week)).toBe(DAY + HOUR);
    expect(nextWorking(4 * DAY + 8 * HOUR, week)).toBe(7 * DAY);
    expect(finishOf(4 * DAY + 7 * HOUR, 2 * HOUR, week)).toBe(7 * DAY + HOUR);
  });
});

describe('a schedule', () => {
  it('of one person is one thing after another; two work side by side', () => {
    const list = [plain, plain, { ...plain, before: [0, 1] }];
    expect(schedule(list, 1, week).map(({ start }) => start)).toEqual([0, HOUR, 2 * HOUR]);
    expect(schedule(list, 2, week).map(({ start }) => start)).toEqual([0, 0, HOUR]);
  });

  it('lets primer dry overnight and parts be away while other work goes on', () => {
    const dries = { ...plain, settling: 12 * HOUR };
    expect(schedule([dries, { ...plain, before: [0] }, plain], 1, week).map(({ start }) => start)).toEqual([0, DAY, DAY + HOUR]);
    const away = { ...plain, away: 2 * DAY };
    expect(schedule([away, plain, { ...plain, before: [0] }], 1, week).map(({ start }) => start)).toEqual([0, 0, 2 * DAY]);
    expect(schedule([{ ...away, vehicleAway: true }, plain], 1, week).map(({ start }) => start)).toEqual([0, 2 * DAY]);
  });

  it('changes a set-up only between operations', () => {
    const [a, change, b] = schedule([{ ...plain, duration: 3 * HOUR }, { ...plain, barrier: true }, plain], 2, week);
    expect([a?.start, change?.start, b?.start]).toEqual([0, 3 * HOUR, 4 * HOUR]);
  });

  it('never has more at work than there are people, nor anything before what it waits for', () => {
    const items = fc.array(
      fc.record({
        hours: fc.integer({ min: 1, max: 12 }),
        crew: fc.integer({ min: 1, max: 2 }),
        wait: fc.nat(3),
        settle: fc.integer({ min: 0, max: 20 }),
      }),
      { minLength: 1, maxLength: 12 },
    );
    fc.assert(
      fc.property(items, fc.integer({ min: 1, max: 2 }), (given, people) => {
        const list = given.map(({ hours, crew, wait, settle }, i) => ({
          ...plain,
          duration: hours * HOUR,
          crew,
          settling: settle * HOUR,
          before: wait > 0 && i - wait >= 0 ? [i - wait] : [],
        }));
        const slots = schedule(list, people, week);
        slots.forEach((slot, i) => {
          for (const earlier of list[i]?.before ?? []) expect(slot.start).toBeGreaterThanOrEqual(slots[earlier]?.ready ?? 0);
          const busy = slots.reduce(
            (sum, other, j) => sum + (other.start <= slot.start && slot.start < other.end ? Math.min(list[j]?.crew ?? 0, people) : 0),
            0,
          );
          expect(busy).toBeLessThanOrEqual(people);
        });
      }),
    );
  });
});
