import fc from 'fast-check';

/**
 * Numbers spread evenly between two. The library's own `double` is even over bit patterns, so that a range through zero is nearly
 * all numbers far too small to matter.
 */
export const between = (least: number, most: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1_000_000 }).map((k) => least + ((most - least) * k) / 1_000_000);
