/** Reads one value as given, against what the dictionary or a kind says it is. */
import { suggest } from '../engine/diagnostics.ts';
import type { Signature } from '../engine/tree.ts';
import { displayUnit, findUnit, NONE, parseQuantity, printQuantity, type Unit } from '../units/index.ts';
import { codeHelp, decoded } from './codes.ts';
import type { Faults } from './faults.ts';
import type { ValueInput } from './request.ts';

/** SI for numbers. `stated` tells whether a tolerance was written. */
export interface ReadValue {
  readonly value: number | boolean | string;
  readonly plusMinus: number;
  readonly stated: boolean;
}

export function readValue(input: ValueInput, signature: Signature, faults: Faults): ReadValue | undefined {
  switch (signature.type.is) {
    case 'truth':
      return readTruth(input, signature, faults);
    case 'text':
      return readText(input, signature.type.oneOf, faults);
    case 'number':
      return readNumber(input, signature, faults);
    default:
      return faults.add('VALUE_NOT_TAKEN', `\`${signature.name}\` takes no value`, 'leave it out');
  }
}

const TRUTHS: Readonly<Record<string, boolean>> = { yes: true, no: false, true: true, false: false };

function readTruth(input: ValueInput, signature: Signature, faults: Faults): ReadValue | undefined {
  const value = typeof input === 'boolean' ? input : TRUTHS[String(input).trim().toLowerCase()];
  if (value === undefined)
    return faults.add('VALUE_WRONG_TYPE', `\`${input}\` is neither yes nor no`, `write \`true\` or \`false\`${howHelp(signature)}`);
  return { value, plusMinus: 0, stated: true };
}

function readText(input: ValueInput, oneOf: readonly string[] | undefined, faults: Faults): ReadValue | undefined {
  if (typeof input !== 'string') return faults.add('VALUE_WRONG_TYPE', `\`${input}\` is not a text`, 'write it in quotes');
  if (oneOf && !oneOf.includes(input)) return faults.add('VALUE_UNKNOWN', `\`${input}\` is not one of its values`, suggest(input, oneOf));
  return { value: input, plusMinus: 0, stated: true };
}

/** A limit in the units of both systems. */
function inBoth(si: number, unit: Unit): string {
  const other = displayUnit(unit, 'us');
  return other.symbol === unit.symbol ? printQuantity(si, unit) : `${printQuantity(si, unit)} (${printQuantity(si, other)})`;
}

/** Faults of a value that is no number with its unit at all: how it is read tells what it would be. */
const UNREAD: ReadonlySet<string> = new Set(['NOT_A_QUANTITY', 'UNIT_MISSING']);

/** How it is read; of what may be below zero also what that means, as a gap is where two things touch. */
function howHelp({ measure, meaning, range }: Signature): string {
  const signed = (range?.atLeast ?? 0) < 0 ? `. Its meaning: ${meaning.replace(/^./, (letter) => letter.toLowerCase())}` : '';
  return measure ? `${signed}. How it is read: ${measure.how}` : signed;
}

function readNumber(input: ValueInput, signature: Signature, faults: Faults): ReadValue | undefined {
  const { type, unit, range } = signature;
  if (type.is !== 'number') return undefined;
  if (typeof input === 'boolean')
    return faults.add('VALUE_WRONG_TYPE', `\`${input}\` is not a quantity`, `write it as a text with its unit, such as "10 ${unit}"`);
  const text = decoded(signature, String(input));
  if (typeof input === 'number' && text === String(input) && type.dimension !== NONE) {
    const help = `write it as a text with its unit, such as "${input} ${unit}"${codeHelp(signature)}${howHelp(signature)}`;
    return faults.add('UNIT_MISSING', `\`${input}\` has no unit`, help);
  }
  const parsed = parseQuantity(text, type.dimension);
  if (!parsed.ok) {
    const { code, message, help } = parsed.fault;
    return faults.add(code, message, UNREAD.has(code) ? `${help}${codeHelp(signature)}${howHelp(signature)}` : help);
  }
  const { value, plusMinus } = parsed.measure;
  const asked = findUnit(unit ?? '1', type.dimension);
  if (asked && range?.atLeast !== undefined && value < range.atLeast) {
    return faults.add(
      'VALUE_OUT_OF_RANGE',
      `\`${input}\` is too small for ${signature.title.toLowerCase()}`,
      `it is at least ${inBoth(range.atLeast, asked)}`,
    );
  }
  if (asked && range?.atMost !== undefined && value > range.atMost) {
    return faults.add(
      'VALUE_OUT_OF_RANGE',
      `\`${input}\` is too large for ${signature.title.toLowerCase()}`,
      `it is at most ${inBoth(range.atMost, asked)}`,
    );
  }
  return { value, plusMinus, stated: parsed.stated };
}
