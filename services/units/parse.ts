/** Reads quantities as people type them, and says what is wrong with those it cannot read. */
import { type Dimension, describe, LENGTH, NONE } from './dimension.ts';
import { findUnit, fromUnit, fromUnitDelta, symbolsOf, type Unit, unitSymbols } from './unit-table.ts';

/** SI. */
export interface Measure {
  readonly value: number;
  readonly plusMinus: number;
}

export interface QuantityFault {
  readonly code:
    | 'NOT_A_QUANTITY'
    | 'UNIT_MISSING'
    | 'UNIT_UNKNOWN'
    | 'DIMENSION_WRONG'
    | 'AMBIGUOUS_NUMBER'
    | 'TOLERANCE_BAD'
    | 'NOT_FINITE';
  readonly message: string;
  readonly help: string;
  /** The part of the text at fault. */
  readonly start: number;
  readonly end: number;
}

export type Parsed =
  | { readonly ok: true; readonly measure: Measure; readonly unit: Unit; readonly stated: boolean }
  | { readonly ok: false; readonly fault: QuantityFault };

type One = Extract<Parsed, { ok: true }>;

/** A piece of the text that was typed, without the space around it. */
interface Piece {
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

const MOST_CHARACTERS = 200;
const TOLERANCE = /±|\+\s*\/\s*-|\+-/u;
/** The stroke, and the two signs of Unicode that print as one. */
const WHOLE_AND_PART = /^([+−-]?)\s*(\d+)(?:\s+|-)(\d+)[/⁄∕](\d+)/u;
const PART = /^([+−-]?)\s*(\d+)[/⁄∕](\d+)/u;
/** A fraction in one sign, alone or behind a whole number: `½`, `2⅜`. */
const ONE_SIGN = /^([+−-]?)\s*(\d*)[\s-]*([¼½¾⅐-⅞])/u;
const PLAIN = /^([+−-]?)\s*((?:\d{1,3}(?: \d{3})+(?:\.\d*)?|\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?)/iu;
const FEET_AND_INCHES =
  /^([+−-]?)\s*(\d+)\s*(?:ft|feet|foot|'|′|’)\s*(\d+(?:\.\d+)?|\d+(?:\s+|-)\d+[/⁄∕]\d+|\d+[/⁄∕]\d+|\d*[\s-]*[¼½¾⅐-⅞])\s*(?:in|inches|inch|"|″|”|'')?$/u;
const COMMA = /\d,\d/u;
const RANGE = /^(?:to|until|[-–—])\s*\d/u;

/** Reads `2.5 in`, `1 1/2 in`, `5' 4"`, `35 psi ± 5 %`, `19 ± 4 mm`. A bare number is a plain one, and refused where anything else is expected. */
export function parseQuantity(text: string, expected?: Dimension): Parsed {
  if (text.length > MOST_CHARACTERS) {
    return fault('NOT_A_QUANTITY', 'a text this long is not a quantity', writtenAs(expected), { text, start: 0, end: text.length });
  }
  const sign = TOLERANCE.exec(text);
  if (!sign) return parseOne(pieceOf(text, 0, text.length), expected);
  const tolerance = pieceOf(text, sign.index + sign[0].length, text.length);
  const main = parseOne(pieceOf(text, 0, sign.index), expected, unitFor(tolerance, expected));
  return main.ok ? withTolerance(main, tolerance) : main;
}

/** In `19 ± 4 mm` the unit stands once, for both; a `%` does so only where a plain number is asked for, else it is a share of the value. */
function unitFor({ text }: Piece, expected: Dimension | undefined): Unit | undefined {
  const name = text.slice(readNumber(text)?.length ?? 0).trim();
  return name === '' || (name === '%' && expected !== NONE) ? undefined : findUnit(name, expected);
}

/** No-break and thin spaces, which separate thousands in print, count as spaces; each is one character, so places stay right. */
function pieceOf(text: string, from: number, to: number): Piece {
  const cut = text.slice(from, to).replace(/\s/gu, ' ');
  const start = from + (cut.length - cut.trimStart().length);
  return { text: cut.trim(), start, end: start + cut.trim().length };
}

function withTolerance(main: One, piece: Piece): Parsed {
  const { text } = piece;
  const comma = ambiguous(piece);
  if (comma) return comma;
  const read = readNumber(text);
  if (!read)
    return fault(
      'TOLERANCE_BAD',
      `\`${text}\` is not a tolerance`,
      `write a number after the ±, such as \`± 3 ${main.unit.symbol}\` or \`± 5 %\``,
      piece,
    );
  if (read.value < 0)
    return fault('TOLERANCE_BAD', `\`${text}\` is negative`, 'a tolerance is a half-width: write it without a sign', piece);
  const name = text.slice(read.length).trim();
  const share = name === '%' && main.unit.dimension !== NONE;
  const unit = name === '' || share ? main.unit : findUnit(name, main.unit.dimension);
  if (!unit) return unknownUnit(name, piece, main.unit.dimension);
  if (unit.dimension !== main.unit.dimension) {
    const message = `the tolerance \`${text}\` is ${describe(unit.dimension)}, the value is ${describe(main.unit.dimension)}`;
    return fault('TOLERANCE_BAD', message, `give the tolerance in ${main.unit.symbol}`, piece);
  }
  const plusMinus = share ? Math.abs(main.measure.value) * (read.value / 100) : fromUnitDelta(read.value, unit);
  if (!Number.isFinite(plusMinus)) return fault('NOT_FINITE', `\`${text}\` is too large to compute with`, 'check the tolerance', piece);
  return { ...main, measure: { value: main.measure.value, plusMinus }, stated: true };
}

function parseOne(piece: Piece, expected: Dimension | undefined, otherwise?: Unit): Parsed {
  const { text } = piece;
  const comma = ambiguous(piece);
  if (comma) return comma;
  const feet = FEET_AND_INCHES.exec(text);
  if (feet) return feetAndInches(feet, expected, piece);
  const read = readNumber(text);
  if (!read) return fault('NOT_A_QUANTITY', `\`${text}\` does not start with a number`, writtenAs(expected), piece);
  const name = text.slice(read.length).trim();
  if (name === '') return otherwise ? measured(read.value, otherwise, expected, piece) : bare(read.value, expected, piece);
  if (RANGE.test(name))
    return fault(
      'NOT_A_QUANTITY',
      `\`${text}\` is a range`,
      `write its middle and half of its width, such as ${middleOf(expected)}`,
      piece,
    );
  if (/^[.\d]/u.test(name)) return fault('NOT_A_QUANTITY', `\`${text}\` does not start with one number`, writtenAs(expected), piece);
  const unit = findUnit(name, expected);
  return unit ? measured(read.value, unit, expected, piece) : unknownUnit(name, piece, expected);
}

/** A comma is a decimal point to some and parts thousands to others: never guessed. */
function ambiguous(piece: Piece): Parsed | undefined {
  const { text } = piece;
  if (!COMMA.test(text)) return undefined;
  const joined = `\`${text.replaceAll(',', '')}\``;
  const point = `\`${text.replace(',', '.')}\``;
  const grouped = /\d,\d{3}(?!\d)/.test(text);
  const help =
    text.split(',').length > 2 || text.includes('.') ? `write ${joined}` : grouped ? `write ${point} or ${joined}` : `write ${point}`;
  return fault('AMBIGUOUS_NUMBER', `\`${text}\` has a comma, which some read as a decimal point and some as thousands`, help, piece);
}

function bare(value: number, expected: Dimension | undefined, piece: Piece): Parsed {
  if (expected === undefined || expected === NONE) return measured(value, findUnit('1') as Unit, expected, piece);
  return fault('UNIT_MISSING', `\`${piece.text}\` has no unit`, `${describe(expected)} is expected: ${writtenIn(expected)}`, piece);
}

function feetAndInches(match: RegExpExecArray, expected: Dimension | undefined, piece: Piece): Parsed {
  const inches = readNumber(match[3] as string)?.value ?? Number.NaN;
  const total = Number(match[2]) * 12 + inches;
  return measured(isMinus(match[1]) ? -total : total, findUnit('in') as Unit, expected, piece);
}

function measured(value: number, unit: Unit, expected: Dimension | undefined, piece: Piece): Parsed {
  if (expected && unit.dimension !== expected) {
    return fault(
      'DIMENSION_WRONG',
      `\`${piece.text}\` is ${describe(unit.dimension)}, and ${describe(expected)} is expected`,
      writtenIn(expected),
      piece,
    );
  }
  const si = fromUnit(value, unit);
  if (Number.isNaN(si)) return fault('NOT_A_QUANTITY', `\`${piece.text}\` divides by zero`, writtenAs(expected), piece);
  if (!Number.isFinite(si)) return fault('NOT_FINITE', `\`${piece.text}\` is too large to compute with`, 'check the number', piece);
  return { ok: true, measure: { value: si, plusMinus: 0 }, unit, stated: false };
}

const isMinus = (sign: string | undefined): boolean => sign === '-' || sign === '−';

/** The number a text starts with, and how much of the text it takes. */
function readNumber(text: string): { readonly value: number; readonly length: number } | undefined {
  for (const [pattern, value] of READERS) {
    const match = pattern.exec(text);
    if (match) return { value: isMinus(match[1]) ? -value(match) : value(match), length: match[0].length };
  }
  return undefined;
}

const over = (a: number, b: number): number => (b === 0 ? Number.NaN : a / b);

/** `½` is a 1, a fraction slash and a 2 in one. */
function partOf(sign: string): number {
  const [above, below] = sign.normalize('NFKD').split('⁄').map(Number);
  return over(above ?? Number.NaN, below ?? Number.NaN);
}

const READERS: readonly (readonly [RegExp, (match: RegExpExecArray) => number])[] = [
  [WHOLE_AND_PART, (m) => Number(m[2]) + over(Number(m[3]), Number(m[4]))],
  [PART, (m) => over(Number(m[2]), Number(m[3]))],
  [ONE_SIGN, (m) => Number(m[2]) + partOf(m[3] as string)],
  [PLAIN, (m) => Number((m[2] as string).replaceAll(' ', ''))],
];

/** `write it in mm, cm, m, in or ft`. */
function writtenIn(dimension: Dimension): string {
  if (dimension === NONE) return 'write a plain number, or one with %';
  const units = unitsFor(dimension);
  return units.length === 0 ? `write ${describe(dimension)} with its unit` : `write it in ${listed(units)}`;
}

/** How a quantity is written at all, with units of just what is expected. */
function writtenAs(expected: Dimension | undefined): string {
  if (expected === undefined) return 'write a number and its unit, such as `15 mm`';
  const units = unitsFor(expected);
  return expected === NONE || units.length === 0 ? writtenIn(expected) : `write a number and its unit: ${listed(units)}`;
}

function middleOf(expected: Dimension = LENGTH): string {
  const [unit = ''] = expected === NONE ? [] : unitsFor(expected);
  const [middle, half] = [11, 1].map((number) => `${number} ${unit}`.trim());
  return `\`${middle} ± ${half}\``;
}

/** The first units of the dimension, and of those of the other system. */
function unitsFor(dimension: Dimension): readonly string[] {
  const symbols = symbolsOf(dimension);
  const us = symbols.filter((symbol) => findUnit(symbol)?.system === 'us');
  return [...new Set([...symbols.slice(0, 3), ...us.slice(0, 2)])];
}

const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;

function unknownUnit(name: string, piece: Piece, expected: Dimension | undefined): Parsed {
  const near = nearestUnit(name, expected);
  const known = expected ? writtenIn(expected) : 'known are mm, in, kg, lb, N, kPa, psi, deg, A, V, km/h, mph and others';
  const start = piece.end - name.length;
  return fault('UNIT_UNKNOWN', `there is no unit \`${name}\``, near ? `did you mean \`${near}\`?` : known, {
    text: name,
    start,
    end: piece.end,
  });
}

/** The unit that was probably meant: right but for its capitals, else one letter off; of the dimension expected if one is, else of any. */
function nearestUnit(name: string, expected: Dimension | undefined): string | undefined {
  const candidates = unitSymbols().filter((symbol) => !expected || findUnit(symbol, expected)?.dimension === expected);
  const bySpelling = [...candidates].sort((a, b) => Math.abs(a.length - name.length) - Math.abs(b.length - name.length));
  return (
    bySpelling.find((symbol) => symbol.toLowerCase() === name.toLowerCase()) ??
    bySpelling.find((symbol) => oneLetterOff(symbol.toLowerCase(), name.toLowerCase()))
  );
}

/** One letter wrong, missing or too many. */
function oneLetterOff(a: string, b: string): boolean {
  if (Math.abs(a.length - b.length) > 1 || Math.min(a.length, b.length) < 2) return false;
  let i = 0;
  while (i < Math.min(a.length, b.length) && a[i] === b[i]) i++;
  return a.slice(i + 1) === b.slice(i + 1) || a.slice(i) === b.slice(i + 1) || a.slice(i + 1) === b.slice(i);
}

function fault(code: QuantityFault['code'], message: string, help: string, { start, end }: Piece): Parsed {
  return { ok: false, fault: { code, message, help, start, end } };
}
