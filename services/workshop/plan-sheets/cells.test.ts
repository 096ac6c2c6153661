import { describe, expect, it } from 'vitest';
import { csvCell, csvOf, harmless } from './cells.ts';

describe('cells', () => {
  it.each(['=1+1', '+1', '-2', '@SUM(A1)', '\tx', '\rx'])('that a spreadsheet would run are made text: %j', (text) => {
    expect(harmless(text)).toBe(`'${text}`);
  });
  it('leave numbers and plain texts alone, and quote what CSV needs quoted', () => {
    expect([csvCell(-2.5), csvCell('a-b'), csvCell(null), csvCell(true)]).toEqual(['-2.5', 'a-b', '', 'true']);
    expect(csvOf([['a "b"', 'c,d', '=x']])).toBe('"a ""b""","c,d",\'=x\r\n');
  });
});
