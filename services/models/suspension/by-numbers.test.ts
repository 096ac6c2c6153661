import { describe, expect, it } from 'vitest';
import { ByNumbers } from './by-numbers.ts';

describe('what is remembered by numbers', () => {
  it('is made once for the same numbers, in the same order', () => {
    const known = new ByNumbers<string>(8);
    let made = 0;
    const get = (...numbers: number[]): string => known.get(numbers, () => `${numbers} ${made++}`);
    expect(get(1, 2)).toBe('1,2 0');
    expect(get(2, 1)).toBe('2,1 1');
    expect(get(1)).toBe('1 2');
    expect(get(Number.NaN)).toBe('NaN 3');
    expect([get(1, 2), get(2, 1), get(1), get(Number.NaN)]).toEqual(['1,2 0', '2,1 1', '1 2', 'NaN 3']);
    expect(get(1, 2 + 2e-16 * 4)).toBe('1,2.000000000000001 4');
  });

  it('is told apart where hashes are the same', () => {
    const known = new ByNumbers<string>(8);
    // Two doubles whose halves add up to the same hash: the low word's factor is taken over by the high word.
    const made = (low: number, high: number): number => new Float64Array(new Int32Array([low, high]).buffer)[0] as number;
    const [a, b] = [made(1, 0x40000000), made(0, (0x40000000 + 0x9e3779b1) | 0)];
    expect([a, b].every(Number.isFinite)).toBe(true);
    known.get([a], () => 'a');
    known.get([b], () => 'b');
    expect([known.get([a], () => ''), known.get([b], () => '')]).toEqual(['a', 'b']);
  });

  it('is forgotten when there is too much of it', () => {
    const known = new ByNumbers<number>(2);
    let made = 0;
    for (const n of [1, 2, 3]) known.get([n], () => made++);
    expect(known.get([3], () => made++)).toBe(2);
    expect(known.get([1], () => made++)).toBe(3);
  });
});
