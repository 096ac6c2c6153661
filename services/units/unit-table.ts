/**
 * The units people use for trucks, with exact factors to the SI: inch 25.4 mm, pound 0.45359237 kg, standard gravity
 * 9.80665 m/s² (NIST SP 811, appendix B; from memory), US gallon 231 cubic inches.
 */

import type { Dimension } from './dimension.ts';
import * as d from './dimension.ts';

export type System = 'metric' | 'us';

export interface Unit {
  readonly symbol: string;
  readonly dimension: Dimension;
  /** SI = factor × number + offset. */
  readonly factor: number;
  readonly offset: number;
  readonly system: System | 'both';
  /** Decimals that make sense for it; absent: four significant figures. */
  readonly decimals?: number;
}

const INCH = 0.0254;
const FOOT = 0.3048;
const POUND = 0.45359237;
const GRAVITY = 9.80665;
const POUND_FORCE = POUND * GRAVITY;
const DEGREE = Math.PI / 180;
const MILE = 1609.344;
const GALLON = 231 * INCH ** 3;

interface Row {
  readonly names: readonly string[];
  readonly unit: Unit;
}

/** The first name is the symbol; the others are what people type. */
const row = (names: string, dimension: Dimension, factor: number, system: Unit['system'], decimals?: number, offset = 0): Row => {
  const all = names.split('|');
  return { names: all, unit: { symbol: all[0] as string, dimension, factor, offset, system, ...(decimals !== undefined && { decimals }) } };
};

const ROWS: readonly Row[] = [
  row('1', d.NONE, 1, 'both', 3),
  row('%|percent', d.NONE, 0.01, 'both', 1),
  row('mm|millimetre|millimetres|millimeter|millimeters', d.LENGTH, 0.001, 'metric', 1),
  row('cm|centimetre|centimetres|centimeter|centimeters', d.LENGTH, 0.01, 'metric', 2),
  row('m|metre|metres|meter|meters', d.LENGTH, 1, 'metric', 3),
  row('km|kilometre|kilometres|kilometer|kilometers', d.LENGTH, 1000, 'metric', 1),
  row('in|"|″|”|inch|inches', d.LENGTH, INCH, 'us', 2),
  row("ft|'|′|’|foot|feet", d.LENGTH, FOOT, 'us', 2),
  row('yd|yard|yards', d.LENGTH, 3 * FOOT, 'us', 2),
  row('mi|mile|miles', d.LENGTH, MILE, 'us', 1),
  row('kg|kgs|kilo|kilos|kilogram|kilograms', d.MASS, 1, 'metric', 0),
  row('g|gram|grams', d.MASS, 0.001, 'metric', 0),
  row('t|tonne|tonnes', d.MASS, 1000, 'metric', 3),
  row('lb|lbs|pound|pounds', d.MASS, POUND, 'us', 0),
  row('oz|ounce|ounces', d.MASS, POUND / 16, 'us', 1),
  row('N|newton|newtons', d.FORCE, 1, 'metric', 0),
  row('kN', d.FORCE, 1000, 'metric', 2),
  row('kgf', d.FORCE, GRAVITY, 'metric', 0),
  row('tf', d.FORCE, 1000 * GRAVITY, 'metric', 3),
  row('lbf|lbs-force', d.FORCE, POUND_FORCE, 'us', 0),
  row('s|sec|second|seconds', d.TIME, 1, 'both', 1),
  row('min|minute|minutes', d.TIME, 60, 'both', 0),
  row('h|hr|hrs|hour|hours', d.TIME, 3600, 'both', 1),
  row('day|days', d.TIME, 86400, 'both', 1),
  row('kPa', d.PRESSURE, 1000, 'metric', 0),
  row('bar|bars', d.PRESSURE, 1e5, 'metric', 2),
  row('psi', d.PRESSURE, POUND_FORCE / INCH ** 2, 'us', 1),
  row('Pa', d.PRESSURE, 1, 'metric', 0),
  row('MPa', d.PRESSURE, 1e6, 'metric', 2),
  row('deg|°|degree|degrees', d.ANGLE, DEGREE, 'both', 2),
  row('rad|radian|radians', d.ANGLE, 1, 'both', 4),
  row('A|amp|amps|ampere|amperes', d.CURRENT, 1, 'both', 1),
  row('mA', d.CURRENT, 0.001, 'both', 0),
  row('V|volt|volts', d.VOLTAGE, 1, 'both', 2),
  row('mV', d.VOLTAGE, 0.001, 'both', 0),
  row('W|watt|watts', d.POWER, 1, 'both', 0),
  row('kW', d.POWER, 1000, 'both', 2),
  row('Ah|amp-hour|amp-hours', d.CHARGE, 3600, 'both', 1),
  row('Wh', d.ENERGY, 3600, 'both', 0),
  row('kWh', d.ENERGY, 3.6e6, 'both', 2),
  row('J|joule|joules', d.ENERGY, 1, 'both', 0),
  row('ohm|Ω|ohms', d.RESISTANCE, 1, 'both', 4),
  row('mohm|mΩ', d.RESISTANCE, 0.001, 'both', 2),
  row('N·m|Nm|N.m|N m|N*m', d.TORQUE, 1, 'metric', 0),
  row('lbf·ft|lbf ft|lb-ft|lb·ft|lb ft|lbs-ft|lbf-ft|ft-lb|ft-lbs|ft-lbf|ft·lbf|ft lb|ft lbs', d.TORQUE, POUND_FORCE * FOOT, 'us', 0),
  row('lbf·in|lb-in|in-lb|in-lbs|in lb', d.TORQUE, POUND_FORCE * INCH, 'us', 0),
  row('N/mm', d.STIFFNESS, 1000, 'metric', 1),
  row('kgf/mm|kg/mm', d.STIFFNESS, 1000 * GRAVITY, 'metric', 2),
  row('N/m', d.STIFFNESS, 1, 'metric', 0),
  row('lbf/in|lb/in|lbs/in', d.STIFFNESS, POUND_FORCE / INCH, 'us', 0),
  row('m/s', d.SPEED, 1, 'metric', 2),
  row('km/h|kph|kmh', d.SPEED, 1 / 3.6, 'metric', 1),
  row('mph|mi/h', d.SPEED, MILE / 3600, 'us', 1),
  row('m/s^2|m/s²', d.ACCELERATION, 1, 'both', 2),
  row('L|l|litre|litres|liter|liters', d.VOLUME, 0.001, 'metric', 1),
  row('mL|ml', d.VOLUME, 1e-6, 'metric', 0),
  row('m^3|m³', d.VOLUME, 1, 'metric', 3),
  row('gal|gallon|gallons', d.VOLUME, GALLON, 'us', 2),
  row('qt|quart|quarts', d.VOLUME, GALLON / 4, 'us', 1),
  row('K|kelvin', d.TEMPERATURE, 1, 'both', 1),
  row('°C|degC', d.TEMPERATURE, 1, 'metric', 1, 273.15),
  row('°F|degF', d.TEMPERATURE, 5 / 9, 'us', 1, 273.15 - (32 * 5) / 9),
  row('Hz', d.FREQUENCY, 1, 'both', 2),
  row('rpm|rev/min', d.ANGULAR_SPEED, (2 * Math.PI) / 60, 'both', 0),
  row('deg/s', d.ANGULAR_SPEED, DEGREE, 'both', 1),
  row('rad/s', d.ANGULAR_SPEED, 1, 'both', 2),
  row('mm/deg|mm/°', d.divide(d.LENGTH, d.ANGLE), 0.001 / DEGREE, 'metric', 2),
  row('in/deg|in/°', d.divide(d.LENGTH, d.ANGLE), INCH / DEGREE, 'us', 3),
  row('mm^2|mm²|mm2', d.AREA, 1e-6, 'metric', 1),
  row('cm^2|cm²|cm2', d.AREA, 1e-4, 'metric', 1),
  row('m^2|m²|m2', d.AREA, 1, 'metric', 3),
  row('in^2|in²|in2|sq in', d.AREA, INCH ** 2, 'us', 2),
  row('ft^2|ft²|ft2|sq ft', d.AREA, FOOT ** 2, 'us', 2),
  row('kg/m^3|kg/m³|kg/m3', d.DENSITY, 1, 'metric', 0),
  row('lb/ft^3|lb/ft³|lb/ft3', d.DENSITY, POUND / FOOT ** 3, 'us', 1),
];

/** Used where a mass unit is typed for a force: `4600 lb` of line pull, a shackle of `3.25 t`. */
const AS_FORCE: Readonly<Record<string, string>> = { lb: 'lbf', kg: 'kgf', t: 'tf' };

const byName = new Map<string, Unit>(ROWS.flatMap(({ names, unit }) => names.map((name) => [name, unit] as const)));
const symbols = [...byName.keys()].filter((name) => name !== '1').sort((a, b) => b.length - a.length || (a < b ? -1 : 1));

/** Every name a unit goes by, the longest first, so that a reader that takes the first match takes the longest. */
export const unitSymbols = (): readonly string[] => symbols;

/** The unit of that name. `lb`, `kg` and `t` are forces where a force is expected; otherwise the expected dimension does not matter. */
export function findUnit(symbol: string, expected?: Dimension): Unit | undefined {
  const name = symbol.trim();
  const found = byName.get(name) ?? byName.get(name.toLowerCase());
  return (found && expected === d.FORCE && byName.get(AS_FORCE[found.symbol] ?? '')) || found;
}

/** Symbols of the units of a dimension, one a unit, in the order people would look for them. */
export const symbolsOf = (dimension: Dimension): readonly string[] =>
  ROWS.filter(({ unit }) => unit.dimension === dimension).map(({ unit }) => unit.symbol);

/** Counterparts of the two systems; of several, the first of a unit's own is taken. Units of neither column are the same in both. */
const PAIRS: readonly (readonly [metric: string, us: string])[] = [
  ['mm', 'in'],
  ['cm', 'in'],
  ['m', 'ft'],
  ['m', 'yd'],
  ['km', 'mi'],
  ['kg', 'lb'],
  ['t', 'lb'],
  ['g', 'oz'],
  ['N', 'lbf'],
  ['kN', 'lbf'],
  ['kgf', 'lbf'],
  ['tf', 'lbf'],
  ['kPa', 'psi'],
  ['bar', 'psi'],
  ['MPa', 'psi'],
  ['Pa', 'psi'],
  ['N·m', 'lbf·ft'],
  ['N·m', 'lbf·in'],
  ['N/mm', 'lbf/in'],
  ['N/m', 'lbf/in'],
  ['kgf/mm', 'lbf/in'],
  ['km/h', 'mph'],
  ['m/s', 'mph'],
  ['L', 'gal'],
  ['L', 'qt'],
  ['mL', 'qt'],
  ['m^3', 'gal'],
  ['°C', '°F'],
  ['mm/deg', 'in/deg'],
  ['mm^2', 'in^2'],
  ['cm^2', 'in^2'],
  ['m^2', 'ft^2'],
  ['kg/m^3', 'lb/ft^3'],
];
/** A map keeps the last of equal keys: turned round, the first. */
const backwards = [...PAIRS].reverse();
const toUs = new Map(backwards);
const toMetric = new Map(backwards.map(([metric, us]) => [us, metric] as const));

/** The unit to show in a system what people use the given unit for. */
export function displayUnit(unit: Unit, system: System): Unit {
  const counterpart = (system === 'us' ? toUs : toMetric).get(unit.symbol);
  return (counterpart !== undefined && byName.get(counterpart)) || unit;
}

export const toUnit = (si: number, unit: Unit): number => (si - unit.offset) / unit.factor;
export const fromUnit = (x: number, unit: Unit): number => x * unit.factor + unit.offset;
/** Differences and tolerances have no offset. */
export const toUnitDelta = (si: number, unit: Unit): number => si / unit.factor;
export const fromUnitDelta = (x: number, unit: Unit): number => x * unit.factor;
