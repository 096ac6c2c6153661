/** Tokens put into phrases with their meanings, and the line of them that the readers take from. */
import { editDistance } from '../engine/diagnostics.ts';
import { type Lexicon, type Meaning, singular } from './lexicon.ts';
import type { Amount, Token } from './tokens.ts';

export interface Item {
  readonly start: number;
  readonly end: number;
  readonly token: Token;
  /** Of words: what the phrase may mean; none for a word that is not known. */
  readonly meanings: readonly Meaning[];
  /** The phrase as the lexicon has it. */
  readonly phrase: string;
  /** A reader took it. */
  used: boolean;
}

/** A word taken for another that is spelt much like it. */
export interface Slip {
  readonly typed: string;
  readonly meant: string;
}

const MOST_TRIED = 60;
const LEAST_LENGTH = 5;

/** `taken` are places of words that are read already; with `slips` words typed a little wrong are taken for what they are nearest to. */
export function itemsOf(typed: readonly Token[], lexicon: Lexicon, taken: ReadonlySet<number> = new Set(), slips?: Slip[]): Item[] {
  const tokens = slips ? mended(typed, lexicon, taken, slips) : typed;
  const items: Item[] = [];
  for (let i = 0; i < tokens.length; ) {
    const token = tokens[i] as Token;
    const used = taken.has(token.start);
    const found = token.is === 'word' && !used ? longestPhrase(tokens, i, lexicon, taken) : undefined;
    const length = found?.length ?? 1;
    const { end } = tokens[i + length - 1] as Token;
    items.push({ start: token.start, end, token, meanings: found?.meanings ?? [], phrase: found?.phrase ?? '', used });
    i += length;
  }
  return unwrapped(items);
}

const MOST_WRAPPED = 3;

/** `tools (40 kg) in the cab`, `2 in lift (front)`: brackets round nothing but an amount or an axle part nothing. */
function unwrapped(items: readonly Item[]): Item[] {
  const dropped = new Set<number>();
  for (const [from, item] of items.entries()) {
    if (!isMark(item, '(')) continue;
    const length = items.slice(from + 1, from + MOST_WRAPPED + 2).findIndex((each) => isMark(each, ')'));
    const inside = items.slice(from + 1, from + 1 + length);
    if (length > 0 && inside.every(isSaidOfNext)) for (const at of [from, from + 1 + length]) dropped.add(at);
  }
  return dropped.size === 0 ? [...items] : items.filter((_, i) => !dropped.has(i));
}

const isMark = ({ token }: Item, mark: string): boolean => token.is === 'mark' && token.mark === mark;
const isSaidOfNext = ({ token, meanings }: Item): boolean =>
  token.is === 'amount' || meanings.some(({ is }) => is === 'axle') || (meanings.length === 1 && meanings[0]?.is === 'filler');

function mended(tokens: readonly Token[], lexicon: Lexicon, taken: ReadonlySet<number>, slips: Slip[]): Token[] {
  let tried = 0;
  return tokens.map((token) => {
    if (token.is !== 'word' || taken.has(token.start) || lexicon.vocabulary.has(singular(token.word)) || ++tried > MOST_TRIED) return token;
    const meant = nearestWord(token.word, lexicon);
    if (meant === undefined) return token;
    slips.push({ typed: token.word, meant });
    return { ...token, word: meant };
  });
}

interface Found {
  readonly phrase: string;
  readonly meanings: readonly Meaning[];
  readonly length: number;
}

/** Words of a phrase stand together, or with a hyphen between them. */
function longestPhrase(tokens: readonly Token[], at: number, lexicon: Lexicon, taken: ReadonlySet<number>): Found | undefined {
  let best: Found | undefined;
  let phrase = '';
  let words = 0;
  for (let i = at; i < tokens.length && words < lexicon.longest; i++) {
    const token = tokens[i] as Token;
    if (token.is === 'mark' && token.mark === '-' && words > 0) continue;
    if (token.is !== 'word' || taken.has(token.start)) break;
    words++;
    phrase = phrase === '' ? singular(token.word) : `${phrase} ${singular(token.word)}`;
    const meanings = lexicon.phrases.get(phrase);
    if (meanings) best = { phrase, meanings, length: i - at + 1 };
  }
  return best;
}

/** The word that a long one typed one letter off, or a very long one two off, was meant to be, or one typed without its vowels. */
function nearestWord(word: string, { spellings, unvowelled }: Lexicon): string | undefined {
  const whole = unvowelled.get(word);
  if (whole !== undefined) return whole;
  if (word.length < LEAST_LENGTH || word.length > 30 || /\d/.test(word)) return undefined;
  const most = word.length >= 9 ? 2 : 1;
  let best: { meant: string; distance: number } | undefined;
  for (const meant of spellings) {
    if (meant[0] !== word[0] || Math.abs(meant.length - word.length) > most + 1) continue;
    const distance = Math.min(editDistance(word, meant), editDistance(singular(word), meant));
    if (distance > 0 && distance <= most && (!best || distance < best.distance)) best = { meant, distance };
  }
  return best?.meant;
}

/** The line of items, with what the readers ask of it. */
export class Line {
  readonly items: readonly Item[];

  constructor(items: readonly Item[]) {
    this.items = items;
  }

  at(i: number): Item | undefined {
    return this.items[i];
  }

  amount(i: number): Amount | undefined {
    const item = this.items[i];
    return item && !item.used && item.token.is === 'amount' ? item.token.amount : undefined;
  }

  means<K extends Meaning['is']>(i: number, is: K): Extract<Meaning, { is: K }> | undefined {
    return this.items[i]?.meanings.find((meaning) => meaning.is === is) as Extract<Meaning, { is: K }> | undefined;
  }

  /** Says nothing by itself: a filler, or a mark that parts nothing. */
  isIdle(i: number): boolean {
    const item = this.items[i];
    if (!item) return false;
    if (item.token.is === 'mark') return !PARTING.has(item.token.mark);
    return (
      item.token.is === 'word' &&
      (this.means(i, 'filler') ?? this.means(i, 'separator') ?? this.means(i, 'count')) !== undefined &&
      !this.#says(i)
    );
  }

  #says(i: number): boolean {
    return (this.items[i]?.meanings ?? []).some(({ is }) => !QUIET.has(is));
  }

  /** The next item that says something, in a direction, over at most so many idle ones; parting marks stop it. */
  beside(i: number, step: 1 | -1, over = 2): number | undefined {
    let passed = 0;
    for (let j = i + step; j >= 0 && j < this.items.length; j += step) {
      if (this.isParting(j)) return undefined;
      if (!this.isIdle(j)) return j;
      if (++passed > over) return undefined;
    }
    return undefined;
  }

  isParting(i: number): boolean {
    const item = this.items[i];
    return item?.token.is === 'mark' && PARTING.has(item.token.mark);
  }

  use(...at: readonly (number | undefined)[]): void {
    for (const i of at) {
      const item = i === undefined ? undefined : this.items[i];
      if (item) item.used = true;
    }
  }

  where(test: (i: number) => boolean): number[] {
    return this.items.flatMap((item, i) => (!item.used && test(i) ? [i] : []));
  }
}

/** Meanings that say nothing of a build by themselves. */
const QUIET: ReadonlySet<Meaning['is']> = new Set(['filler', 'separator', 'not', 'count']);
const PARTING = new Set([',', ';', '.', '?', '!', '|', '&', ':', '(', ')', '/']);
