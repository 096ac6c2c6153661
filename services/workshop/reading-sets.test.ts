/** Which readings are chosen, of made-up ones whose worth follows by hand. */
import { describe, expect, it } from 'vitest';
import { chanceSettled, type Spread } from './chance.ts';
import { bestSet, type Readable } from './reading-sets.ts';
import type { OpenFinding } from './trial-readings.ts';

interface Open {
  /** Slots and their shares of its doubt. */
  readonly doubt?: Readonly<Record<number, number>>;
  readonly missing?: readonly number[];
  readonly middle?: number;
  readonly hazard?: 'safety' | 'damage';
}

/** A margin of the middle given, with a band of ± 1 by worst case and by root sum of squares. */
function open({ doubt = {}, missing = [], middle = 0.2, hazard = 'damage' }: Open): OpenFinding {
  const before: Spread = { worst: 1, rss: 1 };
  const chanceWith = (left: Spread): number => chanceSettled(middle, before, left);
  const shares = Object.entries(doubt).map(([slot, share]) => ({ slot: Number(slot), share }));
  const isUnknown = missing.length > 0;
  return {
    group: { evaluations: [{ rule: { hazard } }] },
    now: { controlling: { doubt: shares } },
    isUnknown,
    missing: new Set(missing),
    left: before,
    chance: isUnknown ? 0 : chanceWith(before),
    chanceWith,
  } as unknown as OpenFinding;
}

interface Read {
  readonly minutes: number;
  readonly reaches?: readonly OpenFinding[];
  readonly tells?: readonly OpenFinding[];
  readonly at?: { readonly id: string; readonly minutes: number };
}

const reading = (slot: number, { minutes, reaches = [], tells = [], at = { id: 'floor', minutes: 0 } }: Read): Readable => ({
  slots: [slot],
  position: at,
  end: 'front',
  minutes,
  tells: new Set(tells),
  reaches: new Set(reaches),
  below: new Set([slot]),
  kept: 0.05,
});

const chosen = (readable: readonly Readable[], findings: readonly OpenFinding[], stands: readonly string[] = []) =>
  bestSet(readable, findings, new Set(stands), false)?.map(({ slots }) => slots[0]);

describe('the readings that settle most for their minutes', () => {
  it('of two that settle as much the one that is sooner taken, whichever is listed first', () => {
    const [one, other] = [open({ doubt: { 1: 1 } }), open({ doubt: { 2: 1 } })];
    const [slow, quick] = [reading(1, { minutes: 30, reaches: [one] }), reading(2, { minutes: 5, reaches: [other] })];
    expect(chosen([slow, quick], [one, other])).toEqual([2]);
    expect(chosen([quick, slow], [other, one])).toEqual([2]);
  });

  it('one that settles less may be worth more by its minutes, and not at any price', () => {
    const [much, little] = [open({ doubt: { 1: 1 }, middle: 0.2 }), open({ doubt: { 2: 0.5, 3: 0.5 }, middle: 0.6 })];
    const whole = (minutes: number): Readable => reading(1, { minutes, reaches: [much] });
    const half = reading(2, { minutes: 5, reaches: [little] });
    expect(chosen([whole(90), half], [much, little])).toEqual([2]);
    expect(chosen([whole(5), half], [much, little])).toEqual([1]);
  });

  it('getting there is paid once, and not at all where one stands already', () => {
    const [lying, standing] = [open({ doubt: { 1: 1 } }), open({ doubt: { 2: 1 } })];
    const under = { id: 'on stands', minutes: 20 };
    const [below, above] = [reading(1, { minutes: 5, reaches: [lying], at: under }), reading(2, { minutes: 10, reaches: [standing] })];
    expect(chosen([below, above], [lying, standing])).toEqual([2]);
    expect(chosen([below, above], [lying, standing], ['on stands front'])).toEqual([1]);
  });

  it('what concerns safety counts twice', () => {
    const [damage, safety] = [open({ doubt: { 1: 1 } }), open({ doubt: { 2: 1 }, hazard: 'safety' })];
    const pair = [reading(1, { minutes: 10, reaches: [damage] }), reading(2, { minutes: 15, reaches: [safety] })];
    expect(chosen(pair, [damage, safety])).toEqual([2]);
    const dear = [reading(1, { minutes: 10, reaches: [damage] }), reading(2, { minutes: 25, reaches: [safety] })];
    expect(chosen(dear, [damage, safety])).toEqual([1]);
  });

  it('half of what is missing tells nothing: all of it is read or none', () => {
    const finding = open({ missing: [1, 2] });
    const both = [reading(1, { minutes: 5, tells: [finding] }), reading(2, { minutes: 3, tells: [finding] })];
    expect(chosen(both, [finding])).toEqual([2, 1]);
    expect(chosen(both.slice(0, 1), [finding])).toBeUndefined();
  });

  it('a reading that takes hardly any of the doubt is not worth its minutes', () => {
    const finding = open({ doubt: { 1: 0.001, 2: 0.999 }, middle: 0 });
    expect(chosen([reading(1, { minutes: 1, reaches: [finding] })], [finding])).toBeUndefined();
  });
});
