import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between } from '../../units/testing.ts';
import { type Designation, parseDesignation } from './designation.ts';
import {
  greatestPressure,
  type LoadClass,
  loadAtPressure,
  loadOfIndex,
  loadSpread,
  pressureForLoad,
  ratedPressure,
  speedOfSymbol,
} from './load.ts';

const size = (typed: string): Designation => {
  const read = parseDesignation(typed);
  if (!read.ok) throw new Error(read.reason);
  return read.value;
};
const load = (index: number): number => {
  const outcome = loadOfIndex(index);
  if (!outcome.ok) throw new Error(outcome.reason);
  return outcome.value;
};

describe('load index', () => {
  it('repeats tenfold 80 indices on, to the kilogram it is rounded down to', () => {
    for (let index = 60; index <= 70; index++) expect([0, 2, 3, 5, 7]).toContain(load(index + 80) - 10 * load(index));
  });
  it('rises with every step, by 1.4 to 4 %', () => {
    for (let index = 61; index <= 150; index++) {
      expect(load(index) / load(index - 1)).toBeGreaterThan(1.014);
      expect(load(index) / load(index - 1)).toBeLessThan(1.04);
    }
  });
});

describe('speed symbols', () => {
  it('of either case', () => expect(speedOfSymbol('t')).toEqual(speedOfSymbol('T')));
  it.each(['Z', 'X', 'I', '', 'constructor', '__proto__'])('%s says no speed', (symbol) => expect(speedOfSymbol(symbol).ok).toBe(false));
});

describe('pressure the rating holds at', () => {
  it.each([
    ['265/70R16 112T', 250],
    ['265/70R16 116T XL', 290],
    ['P265/70R16 111T', 240],
    ['LT285/70R17 121/118Q E', 550],
    ['31x10.50R15LT 109S C', 350],
    ['35x12.50R17LT 121Q E', 450],
    ['33x12.50R15LT 108R C', 240],
    ['LT295/70R17 121/118R E', 550],
    ['LT305/65R17 121/118R E', 450],
    ['31x11.50R15LT 110Q C', 350],
  ])('%s: %d kPa', (typed, kPa) => expect(ratedPressure(size(typed))).toEqual({ ok: true, value: kPa * 1000 }));
});

const PASSENGER: LoadClass = { service: 'passenger', pMetric: false };
const KINDS: readonly LoadClass[] = [
  PASSENGER,
  { service: 'passenger', pMetric: true },
  { service: 'light-truck', pMetric: false },
  { service: 'commercial', pMetric: false },
];

describe('load and pressure', () => {
  const rating = { load: 1250, pressure: 250_000 };
  it('are each other turned round, up to the rating', () => {
    fc.assert(
      fc.property(between(0.7, 1), fc.constantFrom(...KINDS), (share, service) => {
        const back = loadAtPressure(rating, pressureForLoad(rating, share * rating.load, service), service);
        expect(back.ok && back.value / rating.load).toBeCloseTo(share, 9);
      }),
    );
  });
  it('a wheel that lifts needs no more than the least pressure', () => expect(pressureForLoad(rating, -50, PASSENGER)).toBe(100_000));
  it('more than the rating asks for more than its pressure', () =>
    expect(pressureForLoad(rating, 1300, PASSENGER)).toBeGreaterThan(250_000));
  it.each([Number.NaN, 0, 99_000])('%s Pa says no load', (pressure) => expect(loadAtPressure(rating, pressure, PASSENGER).ok).toBe(false));
  it('a rating of nothing says no load', () => expect(loadAtPressure({ load: 0, pressure: 0 }, 200_000, PASSENGER).ok).toBe(false));
});

describe('what load tables leave open', () => {
  const rating = { load: 1450, pressure: 450_000 };
  it.each([
    ['35x12.50R17LT 121Q E', 0, 0.18],
    ['LT265/70R17 121/118R E', 0, 0.05],
    ['265/70R17 115S', 0.05, 0.05],
  ])('%s: under the law by %d, over it by %d of it', (typed, under, over) => {
    expect(loadSpread(size(typed), rating, 300_000)).toEqual({ under, over });
    expect(loadSpread(size(typed), rating, 450_000)).toEqual({ under: 0, over: 0 });
  });
});

describe('two load indices or a load range without LT or C', () => {
  it.each(['285/75R16 126/123R', '285/75R16 126/123R E', '285/70R17 10 ply'])('%s has no pressure of a passenger tyre', (typed) => {
    const pressure = ratedPressure(size(typed));
    expect(!pressure.ok && pressure.reason).toContain('LT or C?');
    expect(greatestPressure(size(typed)).ok).toBe(false);
    expect(size(typed).service).not.toBe('passenger');
  });
  it('is settled by either mark', () => {
    expect(ratedPressure(size('LT285/75R16 126/123R E'))).toEqual({ ok: true, value: 550_000 });
    expect(size('225/75R16C 121/120R').serviceUnclear).toBeUndefined();
  });
});

describe('greatest pressure', () => {
  // What sidewalls say, from memory: 300 to 350 kPa for passenger tyres, that of the rating and a little more for load range E.
  it.each([
    ['265/65R17 112T', 300, 350],
    ['265/65R17 116T XL', 340, 350],
    ['LT265/70R17 121/118R E', 550, 620],
  ])('%s', (typed, least, most) =>
    expect(greatestPressure(size(typed))).toEqual({ ok: true, value: { least: least * 1000, most: most * 1000 } }),
  );
  it('is not known of a light-truck tyre without its load range', () => expect(greatestPressure(size('LT265/70R17')).ok).toBe(false));
});
