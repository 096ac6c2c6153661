export * from './dimension.ts';
export { type Measure, type Parsed, type QuantityFault, parseQuantity } from './parse.ts';
export { type PrintOptions, type Towards, printQuantity, roundFor } from './print.ts';
export { type System, type Unit, displayUnit, findUnit, fromUnit, fromUnitDelta, toUnit, toUnitDelta, unitSymbols } from './unit-table.ts';
