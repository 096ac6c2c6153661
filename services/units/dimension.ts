/**
 * Dimensions of quantities. The base is that of the SI without amount and light, plus the plane angle, which the SI
 * treats as a number: kept apart, an angle cannot be added to a ratio by mistake.
 *
 * Dimensions are interned: equal ones are the same object, so they compare with `===`.
 */

const BASE = ['length', 'mass', 'time', 'current', 'temperature', 'angle'] as const;

export interface Dimension {
  /** Exponents of the base joined by commas; equal for equal dimensions. */
  readonly key: string;
  readonly exponents: readonly number[];
}

const interned = new Map<string, Dimension>();

function intern(exponents: readonly number[]): Dimension {
  const key = exponents.join(',');
  const known = interned.get(key);
  if (known) return known;
  const made = { key, exponents };
  interned.set(key, made);
  return made;
}

const of = (length: number, mass = 0, time = 0, current = 0, temperature = 0, angle = 0): Dimension =>
  intern([length, mass, time, current, temperature, angle]);

export const NONE = of(0);
export const LENGTH = of(1);
export const MASS = of(0, 1);
export const TIME = of(0, 0, 1);
export const CURRENT = of(0, 0, 0, 1);
export const TEMPERATURE = of(0, 0, 0, 0, 1);
export const ANGLE = of(0, 0, 0, 0, 0, 1);
export const AREA = of(2);
export const VOLUME = of(3);
export const SPEED = of(1, 0, -1);
export const ACCELERATION = of(1, 0, -2);
export const FORCE = of(1, 1, -2);
export const PRESSURE = of(-1, 1, -2);
/** Torque and energy have one dimension in the SI. */
export const TORQUE = of(2, 1, -2);
export const ENERGY = TORQUE;
export const POWER = of(2, 1, -3);
export const VOLTAGE = of(2, 1, -3, -1);
export const CHARGE = of(0, 0, 1, 1);
export const RESISTANCE = of(2, 1, -3, -2);
export const STIFFNESS = of(0, 1, -2);
export const FREQUENCY = of(0, 0, -1);
export const ANGULAR_SPEED = of(0, 0, -1, 0, 0, 1);
export const DENSITY = of(-3, 1);

export const multiply = (a: Dimension, b: Dimension): Dimension => intern(a.exponents.map((x, i) => x + (b.exponents[i] as number)));
export const divide = (a: Dimension, b: Dimension): Dimension => intern(a.exponents.map((x, i) => x - (b.exponents[i] as number)));

/** The dimension to a whole power. */
export const power = (a: Dimension, n: number): Dimension => intern(a.exponents.map((x) => x * n + 0));

/** The square root of a dimension; undefined when an exponent is odd. */
export const root = (a: Dimension): Dimension | undefined =>
  a.exponents.every((x) => x % 2 === 0) ? intern(a.exponents.map((x) => x / 2)) : undefined;

const NAMES: ReadonlyMap<Dimension, string> = new Map([
  [NONE, 'a plain number'],
  [LENGTH, 'a length'],
  [MASS, 'a mass'],
  [TIME, 'a time'],
  [CURRENT, 'a current'],
  [TEMPERATURE, 'a temperature'],
  [ANGLE, 'an angle'],
  [AREA, 'an area'],
  [VOLUME, 'a volume'],
  [SPEED, 'a speed'],
  [ACCELERATION, 'an acceleration'],
  [FORCE, 'a force'],
  [PRESSURE, 'a pressure'],
  [TORQUE, 'a torque or energy'],
  [POWER, 'a power'],
  [VOLTAGE, 'a voltage'],
  [CHARGE, 'a charge'],
  [RESISTANCE, 'a resistance'],
  [STIFFNESS, 'a stiffness'],
  [FREQUENCY, 'a frequency'],
  [ANGULAR_SPEED, 'a rotational speed'],
  [DENSITY, 'a density'],
]);

const POWERS = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];

/** In words: `a length`, `a mass`, or the product of base dimensions where there is no word. */
export function describe(dimension: Dimension): string {
  const named = NAMES.get(dimension);
  if (named) return named;
  const factors = dimension.exponents.flatMap((exponent, i) =>
    exponent === 0 ? [] : [`${BASE[i]}${exponent === 1 ? '' : superscript(exponent)}`],
  );
  return factors.join('·');
}

const superscript = (n: number): string => (n < 0 ? '⁻' : '') + [...String(Math.abs(n))].map((digit) => POWERS[Number(digit)]).join('');
