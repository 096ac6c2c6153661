/** Reads quantities as people type them, and says what is wrong with those it cannot read. */
import { type Dimension, NONE, describe } from './dimension.ts';
import { type Unit, findUnit, fromUnit, fromUnitDelta, unitSymbols } from './unit-table.ts';

/** SI. */
export interface Measure {
  readonly value: number;
  readonly plusMinus: number;
}

export interface QuantityFault {
  readonly code: 'NOT_A_QUANTITY' | 'UNIT_MISSING' | 'UNIT_UNKNOWN' | 'DIMENSION_WRONG' | 'AMBIGUOUS_NUMBER' | 'TOLERANCE_BAD' | 'NOT_FINITE';
  readonly message: string;
  readonly help: string;
  /** The part of the text at fault. */
  readonly start: number;
  readonly end: number;
}

export type Parsed =
  | { readonly ok: true; readonly measure: Measure; readonly unit: Unit; readonly stated: boolean }
  | { readonly ok: false; readonly fault: QuantityFault };

const MOST_CHARACTERS = 200;
const TOLERANCE = /±|\+\s*\/\s*-|\+-/u;
const WHOLE_AND_PART = /^([+−-]?)\s*(\d+)(?:\s+|-)(\d+)\/(\d+)/u;
const PART = /^([+−-]?)\s*(\d+)\/(\d+)/u;
const PLAIN = /^([+−-]?)\s*((?:\d+(?: \d{3})*(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?)/iu;
const FEET_AND_INCHES = /^([+−-]?)\s*(\d+)\s*(?:ft|feet|foot|'|′|’)\s*(\d+(?:\.\d+)?|\d+\s+\d+\/\d+|\d+\/\d+)\s*(?:in|inches|inch|"|″|”)?\s*$/u;
const COMMA = /\d,\d/u;

/** Reads `2.5 in`, `1 1/2 in`, `5' 4"`, `35 psi ± 5 %`. A bare number is a plain one, and refused where anything else is expected. */
export function parseQuantity(text: string, expected?: Dimension): Parsed {
  if (text.length > MOST_CHARACTERS) return fault('NOT_A_QUANTITY', 'a text this long is not a quantity', 'write a number and its unit, such as `15 mm`', 0, text.length);
  const sign = TOLERANCE.exec(text);
  const head = sign ? text.slice(0, sign.index) : text;
  const main = parseOne(head, 0, expected);
  if (!main.ok || !sign) return main;
  const at = sign.index + sign[0].length;
  return withTolerance(main, text.slice(at), at);
}

type One = Extract<Parsed, { ok: true }>;

function withTolerance(main: One, text: string, at: number): Parsed {
  const read = readNumber(text);
  const end = at + text.length;
  if (!read) return fault('TOLERANCE_BAD', `\`${text.trim()}\` is not a tolerance`, 'write a number after the ±, such as `± 3 mm` or `± 5 %`', at, end);
  const name = text.slice(read.length).trim();
  if (read.value < 0) return fault('TOLERANCE_BAD', `\`${text.trim()}\` is negative`, 'a tolerance is a half-width: write it without a sign', at, end);
  if (name === '%' && main.unit.dimension !== NONE) return { ...main, measure: { value: main.measure.value, plusMinus: Math.abs(main.measure.value) * (read.value / 100) }, stated: true };
  const unit = name === '' ? main.unit : findUnit(name, main.unit.dimension);
  if (!unit) return unknownUnit(name, at + text.indexOf(name), end);
  if (unit.dimension !== main.unit.dimension) {
    return fault('TOLERANCE_BAD', `the tolerance \`${text.trim()}\` is ${describe(unit.dimension)}, the value is ${describe(main.unit.dimension)}`, `give the tolerance in ${main.unit.symbol}`, at, end);
  }
  return { ...main, measure: { value: main.measure.value, plusMinus: fromUnitDelta(read.value, unit) }, stated: true };
}

function parseOne(text: string, at: number, expected: Dimension | undefined): Parsed {
  const trimmed = text.trim();
  const start = at + text.indexOf(trimmed);
  const end = start + trimmed.length;
  const whole = `\`${trimmed}\``;
  if (COMMA.test(trimmed)) {
    return fault('AMBIGUOUS_NUMBER', `${whole} has a comma, which some read as a decimal point and some as thousands`, `write \`${trimmed.replace(',', '.')}\` or \`${trimmed.replaceAll(',', '')}\``, start, end);
  }
  const feet = FEET_AND_INCHES.exec(trimmed);
  if (feet) return feetAndInches(feet, expected, whole, start, end);
  const read = readNumber(trimmed);
  if (!read) return fault('NOT_A_QUANTITY', `${whole} does not start with a number`, 'write a number and its unit, such as `15 mm`', start, end);
  const name = trimmed.slice(read.length).trim();
  if (name === '') return bare(read.value, expected, whole, start, end);
  const unit = findUnit(name, expected);
  return unit ? measured(read.value, unit, expected, whole, start, end) : unknownUnit(name, end - name.length, end);
}

function bare(value: number, expected: Dimension | undefined, whole: string, start: number, end: number): Parsed {
  if (expected === undefined || expected === NONE) return measured(value, findUnit('1') as Unit, expected, whole, start, end);
  return fault('UNIT_MISSING', `${whole} has no unit`, `${describe(expected)} is expected: write it with its unit`, start, end);
}

function feetAndInches(match: RegExpExecArray, expected: Dimension | undefined, whole: string, start: number, end: number): Parsed {
  const inches = readNumber(match[3] as string)?.value ?? Number.NaN;
  const total = Number(match[2]) * 12 + inches;
  return measured(isMinus(match[1]) ? -total : total, findUnit('in') as Unit, expected, whole, start, end);
}

function measured(value: number, unit: Unit, expected: Dimension | undefined, whole: string, start: number, end: number): Parsed {
  if (expected && unit.dimension !== expected) {
    return fault('DIMENSION_WRONG', `${whole} is ${describe(unit.dimension)}, and ${describe(expected)} is expected`, `write it in a unit of ${describe(expected).replace(/^an? /, '')}`, start, end);
  }
  const si = fromUnit(value, unit);
  if (!Number.isFinite(si)) return fault('NOT_FINITE', `${whole} is too large to compute with`, 'check the number', start, end);
  return { ok: true, measure: { value: si + 0, plusMinus: 0 }, unit, stated: false };
}

const isMinus = (sign: string | undefined): boolean => sign === '-' || sign === '−';

function readNumber(text: string): { readonly value: number; readonly length: number } | undefined {
  const lead = text.length - text.trimStart().length;
  const rest = text.slice(lead);
  for (const [pattern, value] of READERS) {
    const match = pattern.exec(rest);
    if (match) return { value: isMinus(match[1]) ? -value(match) : value(match), length: lead + match[0].length };
  }
  return undefined;
}

const READERS: readonly (readonly [RegExp, (match: RegExpExecArray) => number])[] = [
  [WHOLE_AND_PART, (m) => Number(m[2]) + Number(m[3]) / Number(m[4])],
  [PART, (m) => Number(m[2]) / Number(m[3])],
  [PLAIN, (m) => Number((m[2] as string).replaceAll(' ', ''))],
];

function unknownUnit(name: string, start: number, end: number): Parsed {
  const near = unitSymbols().find((symbol) => symbol.toLowerCase() === name.toLowerCase() || within1(symbol, name));
  return fault('UNIT_UNKNOWN', `there is no unit \`${name}\``, near ? `did you mean \`${near}\`?` : 'known are mm, in, kg, lb, N, kPa, psi, deg, A, V, km/h, mph and others', start, end);
}

/** One letter wrong, missing or too many. */
function within1(a: string, b: string): boolean {
  if (Math.abs(a.length - b.length) > 1 || Math.min(a.length, b.length) < 2) return false;
  let i = 0;
  while (i < Math.min(a.length, b.length) && a[i] === b[i]) i++;
  return a.slice(i + 1) === b.slice(i + 1) || a.slice(i) === b.slice(i + 1) || a.slice(i + 1) === b.slice(i);
}

const fault = (code: QuantityFault['code'], message: string, help: string, start: number, end: number): Parsed => ({ ok: false, fault: { code, message, help, start, end } });
