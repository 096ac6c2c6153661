/** Helpers that make the texts with units which the service takes: `mm(15)`, `inches(2.5, 0.1)`. */

/** A number with its unit and, where given, its tolerance in the same unit. */
export type QuantityText = `${number} ${string}`;

const quantity =
  (unit: string) =>
  (value: number, plusMinus?: number): QuantityText => {
    if (!Number.isFinite(value) || (plusMinus !== undefined && !(plusMinus >= 0)))
      throw new RangeError(`${value} ± ${plusMinus ?? 0} ${unit} is no quantity`);
    return plusMinus === undefined ? `${value} ${unit}` : `${value} ${unit} ± ${plusMinus} ${unit}`;
  };

export const mm = quantity('mm');
export const inches = quantity('in');
export const metres = quantity('m');
export const kg = quantity('kg');
export const pounds = quantity('lb');
export const kilonewtons = quantity('kN');
export const kilopascals = quantity('kPa');
export const psi = quantity('psi');
export const degrees = quantity('deg');
export const kilometresPerHour = quantity('km/h');
export const milesPerHour = quantity('mph');
export const percent = quantity('%');
