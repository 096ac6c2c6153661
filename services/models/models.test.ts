/** The first models past the published values: what they refuse, and how they behave between and beyond. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NUMBERS } from '../units/index.ts';
import { between } from '../units/testing.ts';
import { longestRoute } from './brakes/hose-reach.ts';
import { torqueGrowth } from './brakes/torque-arm.ts';
import { shiftBetween } from './frames/frames.ts';
import { shownSpeed } from './instruments/speedometer.ts';
import { axleSharesIn, sagIn } from './loads/axle-loads.ts';
import { parseDesignation } from './tyres/designation.ts';
import { overallDiameter, sectionWidth } from './tyres/dimensions.ts';
import { loadOfIndex, ratedPressure, speedOfSymbol } from './tyres/load.ts';
import { outwardShift } from './tyres/wheel.ts';

const size = (text: string) => {
  const read = parseDesignation(text);
  if (!read.ok) throw new Error(read.reason);
  return read.value;
};
const reason = (text: string): string => {
  const read = parseDesignation(text);
  if (read.ok) throw new Error(`${text} was read as ${read.value.text}`);
  return read.reason;
};

describe('designations as people type them', () => {
  it.each([
    [
      'LT285/70R17 121/118Q E',
      {
        form: 'metric',
        service: 'light-truck',
        width: 0.285,
        aspect: 0.7,
        rim: 17,
        loadIndex: 121,
        loadIndexDual: 118,
        speedSymbol: 'Q',
        loadRange: 'E',
      },
    ],
    ['285/70-17', { form: 'metric', service: 'passenger', width: 0.285, aspect: 0.7, rim: 17 }],
    ['lt 285 / 70 r 17', { form: 'metric', service: 'light-truck', width: 0.285, rim: 17 }],
    ['P265/70R16 111T', { service: 'passenger', width: 0.265, rim: 16, loadIndex: 111, speedSymbol: 'T' }],
    ['265/70R16C 115/112R', { service: 'commercial', loadIndex: 115, loadIndexDual: 112, speedSymbol: 'R' }],
    ['255/85R16', { aspect: 0.85, rim: 16 }],
    ['265/70 R17 115T XL', { extraLoad: true, loadIndex: 115 }],
    ['33x12.50-15', { form: 'flotation', service: 'light-truck', diameter: 33 * 0.0254, width: 12.5 * 0.0254, rim: 15 }],
    ['35x12.50R17LT 121Q', { form: 'flotation', diameter: 35 * 0.0254, rim: 17, loadIndex: 121, speedSymbol: 'Q' }],
    ['33×10.5R15', { form: 'flotation', width: 10.5 * 0.0254 }],
    ['7.50R16', { form: 'numeric', service: 'commercial', width: 7.5 * 0.0254, rim: 16 }],
    ['7.50R16LT', { form: 'numeric', service: 'light-truck' }],
  ])('%s', (text, is) => expect(size(text)).toMatchObject(is));

  it.each([
    ['33', 'no tyre designation'],
    ['70/265R17', 'no tyre designation'],
    ['265/170R17', 'aspect ratio of 170'],
    ['265/70R32', 'rim of 32'],
    ['20x12.50R17', 'diameter of 20'],
    ['26x9.50R24', 'leaves no sidewall'],
    ['LT285/70R17 118/121Q', 'swapped'],
    ['big ones', 'no tyre designation'],
    ['', 'no tyre designation'],
  ])('refuses %s: %s', (text, why) => expect(reason(text)).toContain(why));

  it('never crashes on any text', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 70 }), (text) => {
        expect(typeof parseDesignation(text).ok).toBe('boolean');
      }),
    );
  });
});

describe('dimensions', () => {
  it('a numeric size that is in no table has none until it is measured', () => {
    const diameter = overallDiameter(size('7.10R16'));
    expect(!diameter.ok && diameter.reason).toContain('measure the tyre');
  });

  it('hold their nominal between least and most, and grow with width, aspect and rim', () => {
    fc.assert(
      fc.property(fc.integer({ min: 13, max: 33 }), fc.integer({ min: 6, max: 17 }), fc.integer({ min: 14, max: 20 }), (w, a, rim) => {
        const at = (width: number, aspect: number, inches: number) => {
          const outcome = overallDiameter(size(`${width}/${aspect}R${inches}`));
          if (!outcome.ok) throw new Error(outcome.reason);
          return outcome.value;
        };
        fc.pre((10 * w + 5) * 5 * a >= 5000);
        const here = at(w * 10 + 5, a * 5, rim);
        expect(here.least).toBeLessThanOrEqual(here.nominal);
        expect(here.most).toBeGreaterThanOrEqual(here.nominal);
        expect(at(w * 10 + 15, a * 5, rim).nominal).toBeGreaterThan(here.nominal);
        expect(at(w * 10 + 5, a * 5 + 5, rim).nominal).toBeGreaterThan(here.nominal);
        expect(at(w * 10 + 5, a * 5, rim + 1).nominal).toBeGreaterThan(here.nominal);
      }),
    );
  });

  it('a wider rim spreads the tyre by 0.4 of what it is wider, two tenths of an inch a half inch', () => {
    const tyre = size('265/70R17');
    const on = (inches: number): number => {
      const width = sectionWidth(tyre, inches * 0.0254);
      return width.ok ? width.value.nominal : Number.NaN;
    };
    expect(on(8.5) - on(8)).toBeCloseTo(0.2 * 0.0254, 9);
  });
});

describe('what tables do not hold', () => {
  it.each([59, 151, 100.5, Number.NaN])('load index %s', (index) => expect(loadOfIndex(index).ok).toBe(false));
  it('speed symbol', () => expect(speedOfSymbol('X').ok).toBe(false));
  it('a light-truck tyre without its load range does not say its pressure', () =>
    expect(ratedPressure(size('LT285/70R17 121/118Q')).ok).toBe(false));
});

describe('loads', () => {
  it('shares always add up to the mass, and give its place back', () => {
    fc.assert(
      fc.property(between(1, 500), between(-2, 6), between(2, 5), (mass, x, wheelbase) => {
        const { front, rear } = axleSharesIn(NUMBERS, mass, x, wheelbase);
        expect(front + rear).toBeCloseTo(mass, 8);
        expect((rear * wheelbase) / mass).toBeCloseTo(x, 8);
      }),
    );
  });
  it('springs of 36 N/mm a wheel give 13.6 mm under 100 kg', () => expect(sagIn(NUMBERS, 100, 36_000)).toBeCloseTo(0.01362, 5));
  it('brakes: the worked value of the header', () =>
    expect(torqueGrowth(NUMBERS, { load: 1300, radius: 0.39 }, { load: 1400, radius: 0.42 })).toBeCloseTo(0.1598, 4));
});

describe('frames and hoses', () => {
  const tree = new Map([
    ['ground', undefined],
    ['chassis', 'ground'],
    ['body', 'chassis'],
    ['engine', 'chassis'],
  ]);
  const raises = [
    { frame: 'body', by: 0.025 },
    { frame: 'chassis', by: 0.05 },
  ];
  it('a body lift moves the body against the chassis and all that stands on it; a raise of the chassis moves neither against the other', () => {
    expect(shiftBetween('chassis', 'body', tree, raises)).toBeCloseTo(0.025, 12);
    expect(shiftBetween('body', 'chassis', tree, raises)).toBeCloseTo(-0.025, 12);
    expect(shiftBetween('engine', 'body', tree, raises)).toBeCloseTo(0.025, 12);
    expect(shiftBetween('ground', 'body', tree, raises)).toBeCloseTo(0.075, 12);
    expect(shiftBetween('chassis', 'engine', tree, raises)).toBe(0);
  });
  it('a hose gains nothing from less droop', () => {
    expect(longestRoute(NUMBERS, 0.41, 0.025)).toBeCloseTo(0.435, 12);
    expect(longestRoute(NUMBERS, 0.41, -0.02)).toBe(0.41);
  });
});

describe('wheels and instruments', () => {
  it('less offset and a spacer both move the wheel outward', () =>
    expect(outwardShift({ offset: 0.025, spacer: 0 }, { offset: 0.01, spacer: 0.025 })).toBeCloseTo(0.04, 12));
  it('bigger tyres make the speedometer show less', () => {
    expect(shownSpeed(NUMBERS, 10, { overReading: 0, setDiameter: 0.776, diameter: 0.83, gearFactor: 1 })).toBeCloseTo(9.349, 3);
    expect(shownSpeed(NUMBERS, 10, { overReading: 0.04, setDiameter: 0.776, diameter: 0.776, gearFactor: 1 })).toBeCloseTo(10.4, 12);
  });
});
