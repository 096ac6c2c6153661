import fc from 'fast-check';

/** Numbers spread evenly over an interval. `fc.double` spreads them over the representable ones: nearly all lie next to 0. */
export function uniform(min: number, max: number): fc.Arbitrary<number> {
  return fc.integer({ min: 0, max: 1_000_000_000 }).map((i) => min + ((max - min) * i) / 1_000_000_000);
}
