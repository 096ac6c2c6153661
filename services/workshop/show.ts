/** From SI to what people read: units of the system asked for, decimals that make sense, rounding towards the worse side. */
import type { Dimension, Unit } from '../units/index.ts';
import { displayUnit, findUnit, LENGTH, NONE, printQuantity, roundFor, toUnit, toUnitDelta } from '../units/index.ts';
import type { Amount } from './answer.ts';

export type System = 'metric' | 'us';
export type Towards = 'nearest' | 'down' | 'up';

export interface Shown {
  readonly unit: Unit;
  amount(si: number, plusMinus?: number, towards?: Towards): Amount;
  rounded(si: number, towards: Towards): number;
  text(si: number, towards?: Towards): string;
}

/** How a number of that dimension is shown, in the system's counterpart of the unit people use for it. */
export function show(unitSymbol: string | undefined, dimension: Dimension, system: System): Shown {
  const used = findUnit(unitSymbol ?? '1', dimension) ?? findUnit('1');
  const unit = displayUnit(used as Unit, system);
  const rounded = (si: number, towards: Towards): number => roundFor(toUnit(si, unit), unit, towards);
  return {
    unit,
    rounded,
    amount: (si, plusMinus = 0, towards = 'nearest') => ({
      value: rounded(si, towards),
      unit: unit.symbol,
      ...(plusMinus > 0 && { plus_minus: roundFor(toUnitDelta(plusMinus, unit), unit, 'up') }),
    }),
    text: (si, towards = 'nearest') => printQuantity(si, unit, { towards }),
  };
}

/**
 * A rounded margin whose tolerance, rounded up, does not reach across the line where it did not before: rounding must not read as another verdict.
 */
export function onItsSide(margin: Amount, si: number, plusMinus: number): Amount {
  const { value, unit, plus_minus = 0 } = margin;
  if (plusMinus > Math.abs(si)) return margin;
  const room = Math.abs(value);
  return plus_minus <= room ? margin : { value, unit, ...(room > 0 && { plus_minus: room }) };
}

/** Distances after which something is done again are round figures: 80, 150 and 800 km are 50, 100 and 500 mi. */
const ROUND = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10];

/** To the nearest figure that people say, from ten on. */
export function roundDistance(distance: number): number {
  if (!(distance >= 10)) return Math.round(distance * 10) / 10;
  const size = 10 ** Math.floor(Math.log10(distance));
  return ROUND.reduce((best, each) => (Math.abs(each * size - distance) < Math.abs(best - distance) ? each * size : best), size);
}

/** A distance between visits, by the figures that the trade of either system uses. */
export function shownDistance(si: number, system: System): Amount {
  const { unit, amount } = show('km', LENGTH, system);
  return system === 'us' ? { value: roundDistance(toUnit(si, unit)), unit: unit.symbol } : amount(si);
}

/** A number, or a range of two, before a unit that has a counterpart in the other system. */
const MEASURED = /(\d+(?:\.\d+)?)(?:( to | and )(\d+(?:\.\d+)?))? (mm|m|km|kg|kPa|bar|km\/h|N m)(?![\w/])/g;

/** Words of a rule as the system has them: what is written in metric there is read in inches by who works in inches. */
export function prose(text: string, system: System): string {
  if (system === 'metric') return text;
  return text.replace(MEASURED, (whole, first: string, joint: string | undefined, second: string | undefined, symbol: string) => {
    const from = findUnit(symbol);
    if (!from) return whole;
    const unit = displayUnit(from, system);
    const told = (x: string): number => {
      const value = toUnit(Number(x) * from.factor, unit);
      return unit.symbol === 'mi' ? roundDistance(value) : unit.symbol === 'mph' ? Math.round(value) : roundFor(value, unit, 'nearest');
    };
    const said = second === undefined ? `${told(first)} ${unit.symbol}` : `${told(first)}${joint}${told(second)} ${unit.symbol}`;
    // A speed is the figure a standard is written at, and stays beside its counterpart.
    return unit.symbol === 'mph' ? `${said} (${whole})` : said;
  });
}

/** Numbers in the units of a system by the symbol people use; rims are in inches in both. */
export function shownAs(system: System) {
  const by = (symbol: string): Shown & { readonly symbol: string } => {
    const used = findUnit(symbol) as Unit;
    const shown = show(symbol, used.dimension, symbol === 'in' ? 'us' : system);
    return { ...shown, symbol: shown.unit.symbol };
  };
  const [distance, unit] = system === 'us' ? [1609.344, '1/mi'] : [1000, '1/km'];
  /** How often a circumference goes into a kilometre, or a mile. */
  const turns = (circumference: number): Amount => ({ value: Math.round((10 * distance) / circumference) / 10, unit });
  const share = (x: number): Amount => show('%', NONE, system).amount(x);
  return Object.assign(by, { turns, share });
}
