/** A margin as people read it: with a ±, or its range where that says more. */
import type { Margin } from './answer.ts';

/** The range of a margin tells what its tolerances leave; a ± does as well, shorter, where the two sides are alike. */
export function marginText({ value, unit, plus_minus, low, high }: Margin, how: 'in full' | 'in short' = 'in short'): string {
  const of = unit === '1' ? '' : ` ${unit}`;
  if (plus_minus === undefined) return `${value}${of}`;
  const range = ` (${low ?? 'no end'} to ${high ?? 'no end'}${of})`;
  const alike = low !== null && high !== null && Math.abs(high - value - (value - low)) <= 2.5 * lastDecimal([value, low, high]);
  return alike ? `${value} ± ${plus_minus}${of}${how === 'in full' ? range : ''}` : `${value}${of}${range}`;
}

const lastDecimal = (numbers: readonly number[]): number => 10 ** -Math.max(...numbers.map((x) => String(x).split('.')[1]?.length ?? 0));
