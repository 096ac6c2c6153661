/**
 * Exact decimal numbers: an integer and how many of its digits stand behind the point. Sums and products are exact;
 * only rounding loses anything, and says where. Half is rounded away from zero, as bills are.
 */

export class Decimal {
  readonly #units: bigint;
  readonly #scale: number;

  private constructor(units: bigint, scale: number) {
    this.#units = units;
    this.#scale = scale;
  }

  static readonly zero = new Decimal(0n, 0);

  /** `12`, `-3.50`; undefined for anything else. */
  static parse(text: string): Decimal | undefined {
    const match = /^(-?)(\d{1,15})(?:\.(\d{1,9}))?$/.exec(text.trim());
    if (!match) return undefined;
    const [, sign, whole = '0', part = ''] = match;
    const units = BigInt(whole + part);
    return new Decimal(sign === '-' ? -units : units, part.length);
  }

  /** A number as it is shown with that many digits behind the point. */
  static fromNumber(value: number, digits: number): Decimal {
    if (!Number.isFinite(value)) throw new RangeError(`${value} is no number`);
    return new Decimal(BigInt(Math.round(value * 10 ** digits)), digits);
  }

  plus(other: Decimal): Decimal {
    const scale = Math.max(this.#scale, other.#scale);
    return new Decimal(this.#at(scale) + other.#at(scale), scale);
  }

  minus(other: Decimal): Decimal {
    return this.plus(new Decimal(-other.#units, other.#scale));
  }

  times(other: Decimal): Decimal {
    return new Decimal(this.#units * other.#units, this.#scale + other.#scale);
  }

  /** That many hundredths of it. */
  percent(rate: Decimal): Decimal {
    return new Decimal(this.#units * rate.#units, this.#scale + rate.#scale + 2);
  }

  rounded(digits: number): Decimal {
    if (digits >= this.#scale) return new Decimal(this.#at(digits), digits);
    const unit = 10n ** BigInt(this.#scale - digits);
    const [magnitude, sign] = this.#units < 0n ? [-this.#units, -1n] : [this.#units, 1n];
    return new Decimal(sign * ((magnitude + unit / 2n) / unit), digits);
  }

  compare(other: Decimal): number {
    const scale = Math.max(this.#scale, other.#scale);
    const [a, b] = [this.#at(scale), other.#at(scale)];
    return a < b ? -1 : a > b ? 1 : 0;
  }

  get isNegative(): boolean {
    return this.#units < 0n;
  }

  /** For ranges and charts; not for sums. */
  toNumber(): number {
    return Number(this.toString());
  }

  toString(): string {
    const digits = (this.#units < 0n ? -this.#units : this.#units).toString().padStart(this.#scale + 1, '0');
    const sign = this.#units < 0n ? '-' : '';
    return this.#scale === 0 ? sign + digits : `${sign}${digits.slice(0, -this.#scale)}.${digits.slice(-this.#scale)}`;
  }

  #at(scale: number): bigint {
    return this.#units * 10n ** BigInt(scale - this.#scale);
  }
}

export const sumOf = (amounts: readonly Decimal[]): Decimal => amounts.reduce((sum, amount) => sum.plus(amount), Decimal.zero);

/** Digits behind the point of a currency; ISO 4217 (from memory). Others have two. */
const DIGITS: Readonly<Record<string, number>> = {
  BHD: 3,
  BIF: 0,
  CLP: 0,
  DJF: 0,
  GNF: 0,
  IQD: 3,
  ISK: 0,
  JOD: 3,
  JPY: 0,
  KMF: 0,
  KRW: 0,
  KWD: 3,
  LYD: 3,
  OMR: 3,
  PYG: 0,
  RWF: 0,
  TND: 3,
  UGX: 0,
  VND: 0,
  VUV: 0,
  XAF: 0,
  XOF: 0,
  XPF: 0,
};

export const digitsOf = (currency: string): number => DIGITS[currency] ?? 2;
