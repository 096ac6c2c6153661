import Qty from 'js-quantities';
import { describe, expect, it } from 'vitest';
import { displayUnit, FORCE, findUnit, fromUnit, MASS, type Unit, unitSymbols } from './index.ts';

const unit = (symbol: string, expected = MASS): Unit => {
  const found = findUnit(symbol, expected);
  if (!found) throw new Error(`no unit ${symbol}`);
  return found;
};

describe('every name the js-quantities library knows too', () => {
  /** Names that mean something else there: a pound that is only ever mass, temperatures that are only differences, a milliohm misread. */
  const OTHERWISE = new Set(['ft lbs', 'ft lb', 'in lb', 'lb ft', 'lb·ft', 'lb/in', 'lbs/in', 'kg/mm', 'degC', 'degF', 'kilos', 'mΩ']);
  /** Factors it holds rounded: gallon 3.7854118 L, ounce 28.3495231 g, pound-force 4.448222 N, psi 6894.76 Pa, km/h 0.277777778 m/s. */
  const ROUNDED = /gal|quart|qt|oz|ounce|lbf|psi|kph/;
  const scalarOf = (name: string): number | undefined => {
    try {
      return Qty(1, name.replace(/[· ]/g, '*').replace('²', '^2').replace('³', '^3')).toBase().scalar;
    } catch {
      return undefined;
    }
  };
  const shared = unitSymbols().flatMap((name) => {
    const scalar = OTHERWISE.has(name) ? undefined : scalarOf(name);
    return scalar === undefined ? [] : [[name, scalar] as const];
  });

  it('is most of them', () => expect(shared.length).toBeGreaterThan(100));
  it.each(shared)('%s', (name, scalar) => {
    expect(Math.abs(fromUnit(1, unit(name)) / scalar - 1)).toBeLessThan(ROUNDED.test(name) ? 5e-7 : 1e-12);
  });
});

describe('what the definitions say exactly', () => {
  it.each([
    ['in', 0.0254],
    ['lb', 0.45359237],
    ['kgf', 9.80665],
    ['lbf', 4.4482216152605],
    ['psi', 6894.75729316836],
    ['lbf·ft', 1.3558179483314],
    ['lbf/in', 175.126835246476],
    ['gal', 0.003785411784],
    ['mph', 0.44704],
  ])('%s', (symbol, si) => expect(fromUnit(1, unit(symbol)) / si).toBeCloseTo(1, 13));
});

describe('units of mass where a force is asked for', () => {
  it.each([
    ['lb', 'lbf'],
    ['lbs', 'lbf'],
    ['kg', 'kgf'],
    ['t', 'tf'],
    ['N', 'N'],
  ])('%s is %s', (typed, meant) => expect(unit(typed, FORCE).symbol).toBe(meant));
  it('nothing else changes by what is asked for', () => expect(unit('mm', FORCE).symbol).toBe('mm'));
});

describe('the two systems', () => {
  const all = [...new Set(unitSymbols().map((symbol) => unit(symbol)))];

  it('show every unit of one in one of the other, of the same dimension', () => {
    for (const shown of all) {
      for (const system of ['metric', 'us'] as const) {
        const other = displayUnit(shown, system);
        expect(other.dimension, shown.symbol).toBe(shown.dimension);
        expect([system, 'both'], `${shown.symbol} in ${system}`).toContain(other.system);
      }
    }
  });

  it('leave a unit that is already of the system alone', () => {
    for (const shown of all) if (shown.system !== 'both') expect(displayUnit(shown, shown.system)).toBe(shown);
  });

  it('take the unit people use for the same thing', () => {
    const pairs = ['mm in', 'm ft', 'km mi', 'kg lb', 'N lbf', 'kPa psi', 'km/h mph', 'N·m lbf·ft', 'N/mm lbf/in', 'L gal', '°C °F'].map(
      (pair) => pair.split(' ') as [string, string],
    );
    for (const [metric, us] of pairs) {
      expect(displayUnit(unit(metric), 'us').symbol).toBe(us);
      expect(displayUnit(unit(us), 'metric').symbol).toBe(metric);
    }
  });
});

it('the longest names come first, so that a reader that takes the first match takes the longest', () => {
  const lengths = unitSymbols().map((symbol) => symbol.length);
  expect(lengths).toEqual([...lengths].sort((a, b) => b - a));
});
