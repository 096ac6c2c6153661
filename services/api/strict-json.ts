/** JSON as the standard has it, and keys only once: what JSON.parse takes without a word is refused with its place. */
import { isUtf8 } from 'node:buffer';
import { ApiError, type ErrorCode } from './errors.ts';

/** Deeper than anything there is a form for, and far from where a walk over a value runs out of stack. */
const DEEPEST = 64;

/** Reads the bytes of a body. */
export function parseJsonBytes(body: Buffer): unknown {
  if (!isUtf8(body)) throw fault('JSON_MALFORMED', '', 'the body is not written in UTF-8', 'save or send it in UTF-8');
  return parseJson(body.toString('utf8'));
}

export function parseJson(text: string): unknown {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    const message = error instanceof Error ? error.message : 'it cannot be read';
    throw fault('JSON_MALFORMED', '', message.charAt(0).toLowerCase() + message.slice(1), 'check quotes, commas and brackets there');
  }
  refuseQuirks(text);
  return SUSPECT.test(text) ? keepable(value) : value;
}

const TITLES: Partial<Record<ErrorCode, string>> = {
  JSON_MALFORMED: 'The body is not JSON.',
  JSON_DUPLICATE_KEY: 'A key stands twice in one object.',
};

const fault = (code: ErrorCode, pointer: string, message: string, help: string, what: string = code): ApiError =>
  new ApiError(code, TITLES[code], [{ pointer, code: what, message, help }]);

/** Escapes of a zero byte, and of halves of a surrogate pair, which may or may not stand together. */
const SUSPECT = /\\u(?:0000|d[89a-f])/i;

/** The value, when every text in it is one that can be stored and shown: no zero bytes, no halves of a character. */
function keepable(value: unknown, pointer = ''): unknown {
  if (typeof value === 'string' && !isText(value)) throw unkeepable(pointer);
  if (typeof value !== 'object' || value === null) return value;
  for (const [key, below] of Object.entries(value)) {
    if (!isText(key)) throw unkeepable(pointer);
    keepable(below, `${pointer}/${escapeStep(key)}`);
  }
  return value;
}

const escapeStep = (step: string): string => step.replaceAll('~', '~0').replaceAll('/', '~1');
export const isText = (text: string): boolean => !text.includes('\0') && Buffer.from(text, 'utf8').toString('utf8') === text;

const unkeepable = (pointer: string): ApiError =>
  fault('REQUEST_INVALID', pointer, 'there is a zero byte or half a character in this text', 'leave it out', 'TEXT_WRONG');

interface Open {
  readonly keys: Set<string> | undefined;
  step: string;
  index: number;
}

/**
 * Refuses a key that stands twice in one object, one that means something else to JavaScript, and what is nested too deep. The text is
 * known to be JSON.
 */
function refuseQuirks(text: string): void {
  const open: Open[] = [];
  const pointer = (): string => open.map(({ keys, step, index }) => `/${keys ? escapeStep(step) : index}`).join('');
  let keyNext = false;
  for (let at = 0; at < text.length; at++) {
    const top = open.at(-1);
    switch (text[at]) {
      case '{':
      case '[':
        keyNext = text[at] === '{';
        open.push({ keys: keyNext ? new Set() : undefined, step: '', index: 0 });
        if (open.length > DEEPEST)
          throw fault('REQUEST_INVALID', '', `the body is nested more than ${DEEPEST} deep`, 'no form here is; send it flat', 'TOO_DEEP');
        break;
      case '}':
      case ']':
        open.pop();
        keyNext = false;
        break;
      case ',':
        if (top) top.index++;
        keyNext = top?.keys !== undefined;
        break;
      case '"': {
        const end = endOfText(text, at);
        if (keyNext && top?.keys) {
          top.step = JSON.parse(text.slice(at, end + 1)) as string;
          refuseKey(top.step, top.keys, pointer);
          keyNext = false;
        }
        at = end;
        break;
      }
    }
  }
}

function refuseKey(key: string, keys: Set<string>, pointer: () => string): void {
  if (keys.has(key)) throw fault('JSON_DUPLICATE_KEY', pointer(), `\`${key}\` is here twice`, 'keep one of the two');
  if (key === '__proto__')
    throw fault('REQUEST_INVALID', pointer(), 'no field or value can be called `__proto__`', 'leave it out', 'FIELD_UNKNOWN');
  keys.add(key);
}

/** Where the text that begins with the quote at `from` ends: at the first quote behind an even number of backslashes. */
function endOfText(text: string, from: number): number {
  for (let end = text.indexOf('"', from + 1); ; end = text.indexOf('"', end + 1)) {
    let slashes = 0;
    while (text[end - 1 - slashes] === '\\') slashes++;
    if (slashes % 2 === 0) return end;
  }
}
