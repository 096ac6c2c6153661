/** JSON as the standard has it, and keys only once: what JSON.parse takes without a word is refused with its place. */
import { ApiError } from './errors.ts';

export function parseJson(text: string): unknown {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    const message = error instanceof Error ? error.message : 'it cannot be read';
    throw new ApiError('JSON_MALFORMED', 'The body is not JSON.', [
      {
        pointer: '',
        code: 'JSON_MALFORMED',
        message: message.charAt(0).toLowerCase() + message.slice(1),
        help: 'check quotes, commas and brackets there',
      },
    ]);
  }
  const pointer = duplicateKey(text);
  if (pointer === undefined) return SUSPECT.test(text) ? keepable(value) : value;
  throw new ApiError('JSON_DUPLICATE_KEY', 'A key stands twice in one object.', [
    { pointer, code: 'JSON_DUPLICATE_KEY', message: `\`${pointer.split('/').at(-1)}\` is here twice`, help: 'keep one of the two' },
  ]);
}

/** Escapes of a zero byte, and of halves of a surrogate pair, which may or may not stand together. */
const SUSPECT = /\\u(?:0000|d[89a-f])/i;

/** The value, when every text in it is one that can be stored and shown: no zero bytes, no halves of a character. */
function keepable(value: unknown, pointer = ''): unknown {
  if (typeof value === 'string' && !isText(value)) throw unkeepable(pointer);
  if (typeof value !== 'object' || value === null) return value;
  for (const [key, below] of Object.entries(value)) {
    if (!isText(key)) throw unkeepable(pointer);
    keepable(below, `${pointer}/${key.replaceAll('~', '~0').replaceAll('/', '~1')}`);
  }
  return value;
}

const isText = (text: string): boolean => !text.includes('\0') && Buffer.from(text, 'utf8').toString('utf8') === text;

const unkeepable = (pointer: string): ApiError =>
  new ApiError('REQUEST_INVALID', 'A text has characters that are none.', [
    { pointer, code: 'TEXT_WRONG', message: 'there is a zero byte or half a character in this text', help: 'leave it out' },
  ]);

interface Open {
  readonly keys: Set<string> | undefined;
  step: string;
  index: number;
}

const TOKEN = /"(?:[^"\\]|\\.)*"|[{}[\],:]|[^\s"{}[\],:]+/g;

/** The pointer of the first key that stands twice. The text is known to be JSON. */
function duplicateKey(text: string): string | undefined {
  const open: Open[] = [];
  let keyNext = false;
  for (const [token] of text.matchAll(TOKEN)) {
    const top = open.at(-1);
    if (token === '{' || token === '[') {
      open.push({ keys: token === '{' ? new Set() : undefined, step: '', index: 0 });
      keyNext = token === '{';
    } else if (token === '}' || token === ']') {
      open.pop();
      keyNext = false;
    } else if (token === ',') {
      if (top) top.index++;
      keyNext = top?.keys !== undefined;
    } else if (keyNext && top?.keys) {
      top.step = JSON.parse(token) as string;
      keyNext = false;
      if (top.keys.has(top.step))
        return open.map(({ keys, step, index }) => `/${keys ? step.replaceAll('~', '~0').replaceAll('/', '~1') : index}`).join('');
      top.keys.add(top.step);
    }
  }
  return undefined;
}
