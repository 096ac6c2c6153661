import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  ANGLE,
  type Dimension,
  FORCE,
  findUnit,
  LENGTH,
  MASS,
  NONE,
  PRESSURE,
  parseQuantity,
  printQuantity,
  type QuantityFault,
  SPEED,
  toUnit,
  toUnitDelta,
  unitSymbols,
} from './index.ts';
import { between } from './testing.ts';

const read = (text: string, expected: Dimension = LENGTH) => {
  const parsed = parseQuantity(text, expected);
  if (!parsed.ok) throw new Error(`${text}: ${parsed.fault.message}`);
  return parsed;
};
const fault = (text: string, expected: Dimension = LENGTH): QuantityFault => {
  const parsed = parseQuantity(text, expected);
  if (parsed.ok) throw new Error(`${text} was read as ${parsed.measure.value}`);
  return parsed.fault;
};

describe('numbers as people write them', () => {
  it.each([
    ['5\' 4-1/2"', 1.6383],
    ["5' 4''", 1.6256],
    ['-1\' 6"', -0.4572],
    ['4\u00a0600\u202fmm', 4.6],
    ['1.5e3 mm', 1.5],
    ['20 mm/deg', undefined],
  ])('%s', (text, metres) => {
    if (metres === undefined) expect(fault(text).code).toBe('DIMENSION_WRONG');
    else expect(read(text).measure.value).toBeCloseTo(metres, 12);
  });

  it('a shackle in tonnes is a force where a force is asked for', () =>
    expect(read('3.25 t', FORCE).measure.value).toBeCloseTo(31871.6, 1));
  it('a zero has no sign', () => expect(Object.is(read('-0 mm').measure.value, 0)).toBe(true));
  it('one unit after the tolerance stands for both', () => {
    expect(read('19 ± 4 mm').measure).toEqual({ value: expect.closeTo(0.019, 12), plusMinus: expect.closeTo(0.004, 12) });
    expect(read('2086 ± 5 lb', FORCE).unit.symbol).toBe('lbf');
    expect(read('10 ± 5 %', NONE).measure.value).toBeCloseTo(0.1, 12);
    expect(fault('19 ± 5 %').code).toBe('UNIT_MISSING');
    expect(fault('19 ± 4 kg').code).toBe('DIMENSION_WRONG');
  });
  it('a share of a plain number is that share itself, not a share of the number', () => {
    expect(read('10 % ± 5 %', NONE).measure.plusMinus).toBeCloseTo(0.05, 12);
    expect(read('10 kg ± 5 %', MASS).measure.plusMinus).toBeCloseTo(0.5, 12);
  });
});

describe('fractions of an inch', () => {
  // An inch is 25.4 mm by definition (ISO 31-1; NIST SP 811).
  it.each([
    ['½ in', 12.7],
    ['1½ in', 38.1],
    ['1 ½ in', 38.1],
    ['1-½"', 38.1],
    ['2⅜"', 60.325],
    ['-⅛ in', -3.175],
    ['1⁄2 in', 12.7],
    ['1 1⁄2 in', 38.1],
    ['1 1∕2 in', 38.1],
    ["5' 4½", 1638.3],
    ["5' 1⁄2 in", 1536.7],
  ])('%s is %f mm', (text, mm) => expect(read(text).measure.value).toBeCloseTo(mm / 1000, 12));

  it('also as a tolerance', () => expect(read('1½ ± ⅛ in').measure.plusMinus).toBeCloseTo(0.003175, 12));
  it('and a third is a third', () => expect(read('⅓ in').measure.value).toBeCloseTo(0.0254 / 3, 12));
});

describe('what cannot be read', () => {
  it.each([
    ['10-12 mm', 'NOT_A_QUANTITY', '10-12 mm'],
    ['10 to 12 mm', 'NOT_A_QUANTITY', '10 to 12 mm'],
    ['1.5.2 mm', 'NOT_A_QUANTITY', '1.5.2 mm'],
    ['1200 300 mm', 'NOT_A_QUANTITY', '1200 300 mm'],
    ['3/0 in', 'NOT_A_QUANTITY', '3/0 in'],
    ['  15 ', 'UNIT_MISSING', '15'],
    ['5 mm ± 1,5 mm', 'AMBIGUOUS_NUMBER', '1,5 mm'],
    ['5 mm ± 1e999 mm', 'NOT_FINITE', '1e999 mm'],
    ['5 mm ± -1 mm', 'TOLERANCE_BAD', '-1 mm'],
    ['5 mm ± 2 furlong', 'UNIT_UNKNOWN', 'furlong'],
  ])('%s: %s at the right place', (text, code, place) => {
    const { code: got, start, end } = fault(text);
    expect([got, text.slice(start, end)]).toEqual([code, place]);
  });

  it.each([
    ['Q', SPEED, 'write a number and its unit: m/s, km/h or mph'],
    ['touches', LENGTH, 'write a number and its unit: mm, cm, m, in or ft'],
    ['much', NONE, 'write a plain number, or one with %'],
    ['10-12 kg', MASS, 'write its middle and half of its width, such as `11 kg ± 1 kg`'],
    ['100 mph ± fast', SPEED, 'write a number after the ±, such as `± 3 mph` or `± 5 %`'],
  ])('%s: the help names units of just what is expected', (text, expected, help) => expect(fault(text, expected).help).toBe(help));

  it('says it in lowercase, with what was typed in backticks', () => {
    for (const text of ['15', '15 kg', '15 furlong', '2,5 mm', 'x', '5 mm ± x', '1e999 mm', '10-12 mm']) {
      const { message } = fault(text);
      expect(message).toMatch(/`/);
      expect(message.charAt(0)).toBe(message.charAt(0).toLowerCase());
    }
  });

  it.each([
    ['15', LENGTH, 'a length is expected: write it in mm, cm, m, in or ft'],
    ['15 kg', LENGTH, 'write it in mm, cm, m, in or ft'],
    ['15 furlong', LENGTH, 'write it in mm, cm, m, in or ft'],
    ['35 KPA', PRESSURE, 'did you mean `kPa`?'],
    ['35 pis', PRESSURE, 'write it in kPa, bar or psi'],
    ['35 pso', PRESSURE, 'did you mean `psi`?'],
    ['5 degre', ANGLE, 'did you mean `degree`?'],
    ['5 mmm', LENGTH, 'did you mean `mm`?'],
    ['1,250,000 kg', MASS, 'write `1250000 kg`'],
    ['1,250.5 kg', MASS, 'write `1250.5 kg`'],
    ['1,250 kg', MASS, 'write `1.250 kg` or `1250 kg`'],
  ])('%s, and how to mend it', (text, expected, help) => expect(fault(text, expected).help).toBe(help));
});

describe('round trip', () => {
  const units = [...new Set(unitSymbols().map((symbol) => findUnit(symbol)!))];

  it('what is printed is read back, as near as it was rounded', () => {
    fc.assert(
      fc.property(fc.constantFrom(...units), between(-1e5, 1e5), between(0, 1e3), (unit, x, tolerance) => {
        const si = unit.factor * x + unit.offset;
        const printed = printQuantity(si, unit, { plusMinus: unit.factor * tolerance });
        const { measure } = read(printed, unit.dimension);
        const step = Math.max(10 ** -(unit.decimals ?? 3), 1e-3 * Math.abs(x));
        expect(Math.abs(toUnit(measure.value, unit) - x)).toBeLessThanOrEqual(0.5 * step * (1 + 1e-6) + 1e-6);
        expect(toUnitDelta(measure.plusMinus, unit)).toBeGreaterThanOrEqual(tolerance * (1 - 1e-6) - 1e-6);
      }),
    );
  });

  it('nothing comes out that is not a finite number, nor -0, whatever is typed', () => {
    const piece = fc.constantFrom(
      '1',
      '0',
      '-',
      '−',
      '+',
      '.',
      '/',
      ' ',
      '±',
      ',',
      'e9',
      '999',
      'mm',
      '"',
      "'",
      'ft',
      '%',
      'lb',
      'NaN',
      '\u00a0',
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 12 }), fc.constantFrom(LENGTH, MASS, FORCE, NONE, undefined), (pieces, expected) => {
        const text = pieces.join('');
        const parsed = parseQuantity(text, expected);
        if (parsed.ok) {
          const { value, plusMinus } = parsed.measure;
          expect([Number.isFinite(value), Object.is(value, -0), Number.isFinite(plusMinus), plusMinus >= 0]).toEqual([
            true,
            false,
            true,
            true,
          ]);
        } else {
          expect(parsed.fault.start >= 0 && parsed.fault.start <= parsed.fault.end && parsed.fault.end <= text.length).toBe(true);
        }
      }),
      { numRuns: 3000 },
    );
  });

  it('what is not known prints as that', () => {
    expect(printQuantity(Number.NaN, findUnit('mm')!)).toBe('unknown');
    expect(printQuantity(Number.POSITIVE_INFINITY, findUnit('kg')!)).toBe('unknown');
  });
});
