/** Remembers what was made for a row of numbers, by the numbers themselves: no text is made of them. NaN equals NaN. */
export class ByNumbers<T> {
  readonly #most: number;
  readonly #buckets = new Map<number, { readonly numbers: readonly number[]; readonly made: T }[]>();
  #size = 0;

  /** When so many are kept, all are forgotten. */
  constructor(most: number) {
    this.#most = most;
  }

  get(numbers: readonly number[], make: () => T): T {
    const hash = hashOf(numbers);
    const bucket = this.#buckets.get(hash);
    const known = bucket?.find((one) => alike(one.numbers, numbers));
    if (known) return known.made;
    const entry = { numbers, made: make() };
    if (this.#size++ >= this.#most) {
      this.#buckets.clear();
      this.#size = 1;
    }
    const now = this.#buckets.get(hash);
    if (now) now.push(entry);
    else this.#buckets.set(hash, [entry]);
    return entry.made;
  }
}

const double = new Float64Array(1);
const halves = new Int32Array(double.buffer);

function hashOf(numbers: readonly number[]): number {
  let hash = 0;
  for (let i = 0; i < numbers.length; i++) {
    double[0] = numbers[i] as number;
    hash = (Math.imul(hash, 31) + Math.imul(halves[0] as number, 0x9e3779b1) + (halves[1] as number)) | 0;
  }
  return hash;
}

function alike(a: readonly number[], b: readonly number[]): boolean {
  for (let i = 0; i < a.length; i++) if (!Object.is(a[i], b[i])) return false;
  return a.length === b.length;
}
