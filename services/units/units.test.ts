import fc from 'fast-check';
import Qty from 'js-quantities';
import { expect, describe as group, it } from 'vitest';
import {
  ACCELERATION,
  ANGLE,
  describe,
  displayUnit,
  divide,
  FORCE,
  findUnit,
  fromUnit,
  LENGTH,
  MASS,
  multiply,
  NONE,
  PRESSURE,
  parseQuantity,
  power,
  printQuantity,
  root,
  roundFor,
  SPEED,
  TEMPERATURE,
  TIME,
  toUnit,
  unitSymbols,
} from './index.ts';
import { between } from './testing.ts';

const read = (text: string, expected = LENGTH) => {
  const parsed = parseQuantity(text, expected);
  if (!parsed.ok) throw new Error(`${text}: ${parsed.fault.message}`);
  return parsed;
};
const fault = (text: string, expected = LENGTH) => {
  const parsed = parseQuantity(text, expected);
  if (parsed.ok) throw new Error(`${text} was read as ${parsed.measure.value}`);
  return parsed.fault;
};

group('dimensions', () => {
  it('are the same object when they are equal', () => {
    expect(divide(LENGTH, TIME)).toBe(SPEED);
    expect(multiply(MASS, ACCELERATION)).toBe(FORCE);
    expect(divide(FORCE, power(LENGTH, 2))).toBe(PRESSURE);
    expect(root(power(LENGTH, 2))).toBe(LENGTH);
    expect(root(LENGTH)).toBeUndefined();
  });

  it('have words, or say what they are made of', () => {
    expect(describe(LENGTH)).toBe('a length');
    expect(describe(power(LENGTH, 4))).toBe('length⁴');
    expect(describe(divide(MASS, LENGTH))).toBe('length⁻¹·mass');
  });
});

group('factors, against the js-quantities library', () => {
  // Its names for ours; it knows no ±, no mixed numbers and no tyre trade, but it knows conversions.
  const NAMES: Record<string, string> = {
    in: 'in',
    ft: 'ft',
    mi: 'mi',
    yd: 'yd',
    mm: 'mm',
    cm: 'cm',
    km: 'km',
    kg: 'kg',
    g: 'g',
    t: 'tonne',
    lb: 'lb',
    oz: 'oz',
    N: 'N',
    kN: 'kN',
    lbf: 'lbf',
    kPa: 'kPa',
    MPa: 'MPa',
    bar: 'bar',
    psi: 'psi',
    min: 'min',
    h: 'h',
    day: 'day',
    'km/h': 'km/h',
    mph: 'mph',
    'm/s': 'm/s',
    L: 'l',
    gal: 'gal',
    qt: 'qt',
    A: 'A',
    mA: 'mA',
    V: 'V',
    W: 'W',
    kW: 'kW',
    J: 'J',
    Wh: 'Wh',
    kWh: 'kWh',
    N·m: 'N*m',
    lbf·ft: 'lbf*ft',
    'N/mm': 'N/mm',
    'lbf/in': 'lbf/in',
    'kg/m^3': 'kg/m^3',
    'mm^2': 'mm^2',
    'in^2': 'in^2',
  };
  it.each(Object.entries(NAMES))('%s', (symbol, name) => {
    const unit = findUnit(symbol);
    expect(unit).toBeDefined();
    expect(fromUnit(1, unit!) / Qty(1, name).toBase().scalar).toBeCloseTo(1, 6);
  });

  it('temperatures have an offset', () => {
    expect(fromUnit(20, findUnit('°C')!)).toBeCloseTo(293.15, 10);
    expect(fromUnit(68, findUnit('°F')!)).toBeCloseTo(Qty('68 tempF').to('tempK').scalar, 6);
  });
});

group('reading quantities', () => {
  it.each([
    ['15 mm', 0.015],
    ['2.5 in', 0.0635],
    ['2.5"', 0.0635],
    ['1 1/2 in', 0.0381],
    ['1-1/2"', 0.0381],
    ['3/8 in', 0.009525],
    ['5\' 4"', 1.6256],
    ['5 ft 4 in', 1.6256],
    ['-10 mm', -0.01],
    ['−10 mm', -0.01],
    ['+25mm', 0.025],
    ['1 200 mm', 1.2],
    ['.5 m', 0.5],
  ])('%s', (text, value) => expect(read(text).measure.value).toBeCloseTo(value, 12));

  it('reads hours that start with a one', () => expect(read('1.2 h', TIME).measure.value).toBe(4320));

  it('takes lb for a mass or a force, as expected', () => {
    expect(read('4600 lb', MASS).measure.value).toBeCloseTo(2086.52, 2);
    expect(read('10000 lb', FORCE).measure.value).toBeCloseTo(44482.2, 1);
  });

  it.each([
    ['2.5 in ± 0.1', 0.00254],
    ['2.5 in ± 0.1 in', 0.00254],
    ['2.5 in +/- 2 mm', 0.002],
    ['100 mm ± 5 %', 0.005],
  ])('a tolerance: %s', (text, plusMinus) => {
    const parsed = read(text);
    expect(parsed.measure.plusMinus).toBeCloseTo(plusMinus, 12);
    expect(parsed.stated).toBe(true);
  });

  it('tells an exact value from one with no tolerance stated', () => expect(read('15 mm').stated).toBe(false));

  it.each([
    ['15', 'UNIT_MISSING'],
    ['15 furlong', 'UNIT_UNKNOWN'],
    ['15 kg', 'DIMENSION_WRONG'],
    ['2,5 in', 'AMBIGUOUS_NUMBER'],
    ['1,250 mm', 'AMBIGUOUS_NUMBER'],
    ['about an inch', 'NOT_A_QUANTITY'],
    ['', 'NOT_A_QUANTITY'],
    ['5 mm ± -1', 'TOLERANCE_BAD'],
    ['5 mm ± 3 kg', 'TOLERANCE_BAD'],
    ['5 mm ± x', 'TOLERANCE_BAD'],
    ['1e999 mm', 'NOT_FINITE'],
  ])('refuses %s', (text, code) => expect(fault(text).code).toBe(code));

  it('says what was probably meant', () => {
    expect(fault('15 m m').help).toContain('mm');
    expect(fault('35 PSl', PRESSURE).help).toContain('psi');
    expect(fault('2,5 in').help).toBe('write `2.5 in`');
  });

  it('points at the part of the text that is wrong', () => {
    const text = '15 mmm';
    const { start, end } = fault(text);
    expect(text.slice(start, end)).toBe('mmm');
  });

  it('never crashes, and never reads something as not a number', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 60 }), fc.constantFrom(LENGTH, MASS, NONE, ANGLE, TEMPERATURE, undefined), (text, expected) => {
        const parsed = parseQuantity(text, expected);
        if (parsed.ok) expect(Number.isFinite(parsed.measure.value) && parsed.measure.plusMinus >= 0).toBe(true);
        else expect(parsed.fault.message.length > 0 && parsed.fault.start <= parsed.fault.end).toBe(true);
      }),
    );
  });
});

group('printing', () => {
  const all = unitSymbols().map((symbol) => findUnit(symbol)!);

  it('goes there and back in every unit', () => {
    fc.assert(
      fc.property(fc.constantFrom(...all), between(-1e6, 1e6), (unit, x) => {
        const back = toUnit(fromUnit(x, unit), unit);
        expect(Math.abs(back - x)).toBeLessThanOrEqual(1e-6 * Math.max(1, Math.abs(x)));
      }),
    );
  });

  it('rounds to the side asked for, never past it, and never to -0', () => {
    fc.assert(
      fc.property(fc.constantFrom(...all), between(-1e5, 1e5), (unit, x) => {
        const [down, up] = [roundFor(x, unit, 'down'), roundFor(x, unit, 'up')];
        const noise = 1e-8 * Math.max(1, Math.abs(x));
        expect(down).toBeLessThanOrEqual(x + noise);
        expect(up).toBeGreaterThanOrEqual(x - noise);
        expect(Object.is(down, -0) || Object.is(up, -0)).toBe(false);
      }),
    );
  });

  it('does not push a whole number off its mark by noise in its last bits', () => {
    expect(roundFor(0.1 + 0.2, findUnit('m')!, 'up')).toBe(0.3);
    expect(roundFor(toUnit(0.029, findUnit('mm')!), findUnit('mm')!, 'down')).toBe(29);
  });

  it('prints value and tolerance in one unit, the tolerance rounded up', () => {
    expect(printQuantity(0.019, findUnit('mm')!, { plusMinus: 0.00401 })).toBe('19 ± 4.1 mm');
    expect(printQuantity(2086.52, displayUnit(findUnit('kg')!, 'us'))).toBe('4600 lb');
  });

  it('changes system and back', () => {
    expect(displayUnit(findUnit('mm')!, 'us').symbol).toBe('in');
    expect(displayUnit(findUnit('in')!, 'metric').symbol).toBe('mm');
    expect(displayUnit(findUnit('deg')!, 'us').symbol).toBe('deg');
    expect(displayUnit(findUnit('psi')!, 'metric').symbol).toBe('kPa');
  });
});
