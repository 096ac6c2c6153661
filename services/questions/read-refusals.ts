/** Reads what is said not to be wanted, or to be taken off: `without a winch`, `delete the rear bumper`, `winch removed`, `don't lift it`. */
import type { Line } from './items.ts';
import type { Words } from './lexicon.ts';

/** The items that say it, and whether what they are said of comes after or before them. */
export interface Refusal {
  readonly items: readonly number[];
  readonly says: 'no' | 'as it came';
}

const FURTHEST = 12;

/**
 * Whether what stands at `i` is refused: by a word before it in its clause with no other part or size between, or by one right behind it.
 * `a winch or a bumper` after one word of refusal are both refused.
 */
export function refusalOf(line: Line, i: number, refused: ReadonlySet<number>): Refusal | undefined {
  const between: number[] = [];
  for (let j = i - 1; j >= Math.max(0, i - FURTHEST) && !line.isParting(j); j--) {
    const item = line.at(j);
    if (!item || line.at(j)?.phrase === 'but' || line.at(j)?.phrase === 'just') break;
    if (refused.has(j) && isJoined(line, j, i)) return { items: [], says: 'no' };
    if (refused.has(j)) break;
    if (item.used || isHead(line, j) || line.means(j, 'safety') || line.means(j, 'obstacle')) break;
    if (isSign(line, j)) continue;
    if (isOfBefore(line, j)) break;
    if (line.means(j, 'not') || line.means(j, 'removing')) return means(line, j, i) ? { items: [j, ...between], says: 'no' } : undefined;
    if (line.means(j, 'stock') && j >= i - 2) return { items: [j], says: 'as it came' };
    if (item.token.is === 'amount') between.push(j);
  }
  const taken = [i - 1, i + 1].find((j) => isNegativeMass(line, j));
  if (taken !== undefined) return { items: [taken], says: 'no' };
  for (let j = i + 1; j <= i + FURTHEST && !line.isParting(j); j++) {
    // `winch and bumper removed` is said of both.
    if (isHead(line, j) && !['and', 'or'].includes(line.at(j - 1)?.phrase ?? '')) return undefined;
    if (line.means(j, 'removing') && !line.at(j)?.used && (endsClause(line, j) || isOfBefore(line, j)))
      return { items: keepsFor(line, i, j) ? [] : [j], says: 'no' };
  }
  return undefined;
}

/** `drawers -20 kg`. */
function isNegativeMass(line: Line, j: number): boolean {
  const amount = line.amount(j);
  return amount?.signed === true && amount.value < 0 && ['kg', 'lb', 't', 'L', 'gal'].includes(amount.unit?.symbol ?? '');
}

/** `offset minus 10` refuses nothing; `minus 20 kg drawers` does. */
function isSign(line: Line, j: number): boolean {
  const next = line.at(j + 1)?.token;
  return line.means(j, 'sign') !== undefined && next?.is === 'amount' && (next.amount.unit?.symbol ?? 'mm') === 'mm';
}

const PARTICIPLE = /(?:ed|gone|sold|off|fitted|longer)$/;

/** `bumper removed 265/70R17`: right behind a part the word is of that part, whatever comes next. */
const isOfBefore = (line: Line, j: number): boolean => {
  const before = line.means(j, 'removing') && PARTICIPLE.test(line.at(j)?.phrase ?? '') ? line.beside(j, -1, 1) : undefined;
  return before !== undefined && isHead(line, before);
};

/** The word is left for the parts between. */
const keepsFor = (line: Line, from: number, to: number): boolean => {
  for (let k = from + 1; k < to; k++) if (isHead(line, k)) return true;
  return false;
};

/** `removed` behind a part is of that part unless another comes after it: `winch, removed bumper`. */
const endsClause = (line: Line, j: number): boolean => {
  for (let k = j + 1; k < line.items.length && !line.isParting(k); k++) if (isHead(line, k)) return false;
  return true;
};

const isHead = (line: Line, j: number): boolean => {
  const is = line.at(j)?.token.is;
  return line.means(j, 'part') !== undefined || is === 'tyre' || is === 'wheel' || is === 'tyre-open' || is === 'inches';
};

/** `no rubbing`, `not sure`, `don't know`: what is denied is said right behind. */
function means(line: Line, j: number, i: number): boolean {
  for (let k = j + 1; k < i; k++) if (line.means(k, 'denied')) return false;
  return true;
}

/** `or`, `nor` and strokes go on with a refusal. */
function isJoined(line: Line, from: number, to: number): boolean {
  for (let k = from + 1; k < to; k++) if (['or', 'nor'].includes(line.at(k)?.phrase ?? '')) return true;
  return false;
}

const escaped = (words: readonly string[]): string => words.map((word) => word.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')).join('|');
const BEFORE = 60;

/** The same of a part of the catalogue, whose name is found before the rest is read. */
export function isRefusedBefore(text: string, start: number, { states: { not }, removing, denied }: Words): boolean {
  const clause =
    text
      .slice(Math.max(0, start - BEFORE), start)
      .split(/[,;.!?|&]|(?<!\p{L})(?:but|just|and|plus|with)(?!\p{L})/u)
      .at(-1) ?? '';
  const said = new RegExp(`(?<![\\p{L}-])(?:${escaped([...not, ...removing])})(?![\\p{L}-])(.*)$`, 'u').exec(clause);
  return said !== null && !new RegExp(`(?<!\\p{L})(?:${escaped(denied)})(?!\\p{L})`, 'u').test(said[1] ?? '');
}
