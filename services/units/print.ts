/** Numbers as people read them. */
import { toUnit, toUnitDelta, type Unit } from './unit-table.ts';

export type Towards = 'nearest' | 'down' | 'up';

const SIGNIFICANT = 4;

/** Rounds to the decimals that make sense for the unit; never -0. A number already that round, but for noise in its last bits, stays. */
export function roundFor(x: number, unit: Unit, towards: Towards): number {
  if (!Number.isFinite(x)) return x;
  const decimals = unit.decimals ?? SIGNIFICANT - 1 - Math.floor(Math.log10(Math.abs(x) || 1));
  const scaled = shift(x, decimals);
  const nearest = Math.round(scaled);
  const noise = Math.abs(scaled - nearest) <= 1e-9 * Math.max(1, Math.abs(scaled));
  const rounded = noise || towards === 'nearest' ? nearest : towards === 'down' ? Math.floor(scaled) : Math.ceil(scaled);
  return shift(rounded, -decimals) + 0;
}

/** Moves the decimal point exactly, through the decimal text of the number. */
function shift(x: number, places: number): number {
  const [mantissa, exponent = '0'] = String(x).split('e');
  return Number(`${mantissa}e${Number(exponent) + places}`);
}

export interface PrintOptions {
  readonly plusMinus?: number;
  readonly towards?: Towards;
}

/** `19 mm`, `19 ± 4 mm`. A tolerance rounds up. What is not a finite number is `unknown`, never `NaN mm`. */
export function printQuantity(si: number, unit: Unit, { plusMinus = 0, towards = 'nearest' }: PrintOptions = {}): string {
  if (!Number.isFinite(si)) return 'unknown';
  const value = roundFor(toUnit(si, unit), unit, towards);
  const tolerance = plusMinus > 0 ? ` ± ${roundFor(toUnitDelta(plusMinus, unit), unit, 'up')}` : '';
  if (unit.symbol === '1') return `${value}${tolerance}`;
  return `${value}${tolerance}${unit.symbol === '°' ? '' : ' '}${unit.symbol}`;
}
