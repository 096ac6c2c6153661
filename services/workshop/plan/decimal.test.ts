/** Exact decimals against decimal.js, which computes them another way. */
import { Decimal as Oracle } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Decimal, digitsOf, sumOf } from './decimal.ts';

Oracle.set({ precision: 60, rounding: Oracle.ROUND_HALF_UP });
const amount = fc
  .tuple(fc.boolean(), fc.bigInt({ min: 0n, max: 999_999_999n }), fc.integer({ min: 0, max: 6 }), fc.integer({ min: 0, max: 999_999 }))
  .map(([negative, whole, digits, part]) => {
    const text = digits === 0 ? `${whole}` : `${whole}.${String(part).padStart(6, '0').slice(0, digits)}`;
    return negative ? `-${text}` : text;
  });
const ours = (text: string): Decimal => Decimal.parse(text) as Decimal;

describe('decimals', () => {
  it('add up, multiply, take shares and round as decimal.js does', () => {
    fc.assert(
      fc.property(amount, amount, fc.integer({ min: 0, max: 4 }), (a, b, digits) => {
        const [x, y] = [new Oracle(a), new Oracle(b)];
        const same = (mine: Decimal, theirs: Oracle): void => expect(new Oracle(mine.toString()).equals(theirs)).toBe(true);
        same(ours(a).plus(ours(b)), x.plus(y));
        same(ours(a).minus(ours(b)), x.minus(y));
        same(ours(a).times(ours(b)), x.times(y));
        same(ours(a).percent(ours(b)), x.times(y).dividedBy(100));
        same(ours(a).times(ours(b)).rounded(digits), x.times(y).toDecimalPlaces(digits));
        expect(ours(a).compare(ours(b))).toBe(x.comparedTo(y));
      }),
    );
  });

  it('lose nothing in long sums, where numbers do', () => {
    const cents = Array.from({ length: 1000 }, () => '0.10');
    expect(sumOf(cents.map(ours)).toString()).toBe('100.00');
    expect(cents.reduce((sum, cent) => sum + Number(cent), 0)).not.toBe(100);
  });

  it('round half away from zero, and print with the digits of the currency', () => {
    expect(ours('2.345').rounded(2).toString()).toBe('2.35');
    expect(ours('-2.345').rounded(2).toString()).toBe('-2.35');
    expect(ours('7').rounded(2).toString()).toBe('7.00');
    expect([digitsOf('JPY'), digitsOf('EUR'), digitsOf('KWD')]).toEqual([0, 2, 3]);
  });

  it('read nothing that is not one', () => {
    for (const text of ['', '1,5', '1e3', '.5', '5.', 'NaN', '--1', '1.1234567890']) expect(Decimal.parse(text)).toBeUndefined();
  });
});
