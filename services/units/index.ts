export { type Arithmetic, NUMBERS } from './arithmetic.ts';
export * from './dimension.ts';
export { bothWays, type HalfWidths, stacked } from './half-widths.ts';
export { type Measure, type Parsed, parseQuantity, type QuantityFault } from './parse.ts';
export { type PrintOptions, printQuantity, roundFor, type Towards } from './print.ts';
export { displayUnit, findUnit, fromUnit, fromUnitDelta, type System, toUnit, toUnitDelta, type Unit, unitSymbols } from './unit-table.ts';
