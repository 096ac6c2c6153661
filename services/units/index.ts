export { type Arithmetic, NUMBERS } from './arithmetic.ts';
export * from './dimension.ts';
export { type Agreed, bothWays, type HalfWidths, LOOSE, leftTogether, type Pin, pinOf, stacked } from './half-widths.ts';
export { type Measure, type Parsed, parseQuantity, type QuantityFault } from './parse.ts';
export { type PrintOptions, printQuantity, roundFor, type Towards } from './print.ts';
export { displayUnit, findUnit, fromUnit, fromUnitDelta, type System, toUnit, toUnitDelta, type Unit, unitSymbols } from './unit-table.ts';
