/** Arithmetic that a model can be written in once for numbers of any sort: plain ones, or all that a number may be. */
export interface Arithmetic<N> {
  of(x: number): N;
  sum(terms: readonly N[]): N;
  minus(a: N, b: N): N;
  times(a: N, b: N): N;
  over(a: N, b: N): N;
  /** The greatest. */
  most(...terms: readonly N[]): N;
}

export const NUMBERS: Arithmetic<number> = {
  of: (x) => x,
  sum: (terms) => terms.reduce((sum, x) => sum + x, 0),
  minus: (a, b) => a - b,
  times: (a, b) => a * b,
  over: (a, b) => a / b,
  most: (...terms) => Math.max(...terms),
};
