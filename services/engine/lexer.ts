/** Splits an expression into tokens. Units are known here, so that `100 N/mm` is one stiffness and not a division. */
import { unitSymbols } from '../units/index.ts';

export interface Token {
  readonly is: 'number' | 'name' | 'text' | 'sign' | 'end' | 'bad';
  readonly text: string;
  /** Of a number. */
  readonly number?: number;
  readonly unit?: string;
  readonly start: number;
  readonly end: number;
}

const MIXED = /^(\d+)\s+(\d+)\/(\d+)/;
const NUMBER = /^(?:\d+(?:\.\d+)?|\.\d+)(?:e[+-]?\d+)?/i;
const NAME = /^[A-Za-z_][A-Za-z0-9_]*/;
const TEXT = /^'([^'\n]*)'/;
const SIGN = /^(?:>=|<=|==|!=|[-+*/^(),.<>±])/;
const LETTER = /[A-Za-z0-9_²³]/;

export function tokenize(text: string): readonly Token[] {
  const tokens: Token[] = [];
  let at = 0;
  while (at < text.length) {
    if (/\s/.test(text[at] as string)) at++;
    else {
      const token = nextToken(text, at, tokens.at(-1));
      tokens.push(token);
      at = token.end;
    }
  }
  tokens.push({ is: 'end', text: '', start: text.length, end: text.length });
  return tokens;
}

function nextToken(text: string, start: number, before: Token | undefined): Token {
  const rest = text.slice(start);
  const token = (is: Token['is'], length: number, value = rest.slice(0, length)): Token => ({
    is,
    text: value,
    start,
    end: start + length,
  });
  // After a dot a name is an attribute, whatever it looks like.
  if (before?.text !== '.' && /^[\d.]/.test(rest) && NUMBER.test(rest)) return numberToken(text, start);
  const name = NAME.exec(rest);
  if (name) return token('name', name[0].length);
  const quoted = TEXT.exec(rest);
  if (quoted) return token('text', quoted[0].length, quoted[1] as string);
  const sign = SIGN.exec(rest);
  if (sign) return token('sign', sign[0].length);
  return token('bad', [...rest][0]?.length ?? 1);
}

function numberToken(text: string, start: number): Token {
  const rest = text.slice(start);
  const mixed = MIXED.exec(rest);
  if (mixed) {
    const unit = unitAt(text, start + mixed[0].length);
    // `1 1/2` is a mixed number only with a unit behind it.
    if (unit)
      return {
        is: 'number',
        text: mixed[0],
        number: Number(mixed[1]) + Number(mixed[2]) / Number(mixed[3]),
        unit: unit.symbol,
        start,
        end: unit.end,
      };
  }
  const plain = (NUMBER.exec(rest) as RegExpExecArray)[0];
  const unit = unitAt(text, start + plain.length);
  return {
    is: 'number',
    text: plain,
    number: Number(plain),
    ...(unit && { unit: unit.symbol }),
    start,
    end: unit?.end ?? start + plain.length,
  };
}

/** Words of the language that are also, or start like, units where no unit is meant. */
const NOT_UNITS = new Set(['in', 'min']);

function unitAt(text: string, from: number): { readonly symbol: string; readonly end: number } | undefined {
  const at = from + (text.slice(from).length - text.slice(from).trimStart().length);
  const symbol = unitSymbols().find(
    (candidate) =>
      text.startsWith(candidate, at) && !(LETTER.test(candidate.at(-1) as string) && LETTER.test(text[at + candidate.length] ?? ' ')),
  );
  if (symbol === undefined) return undefined;
  const after = text.slice(at + symbol.length).trimStart();
  if (NOT_UNITS.has(symbol) && after.startsWith('(')) return undefined;
  return { symbol, end: at + symbol.length };
}
