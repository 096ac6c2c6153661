/**
 * Parts plain text into tyre sizes, wheel sizes, amounts, words and marks. Every pattern is anchored, bounded and without nested
 * repeats, so that a text is read in time proportional to its length whatever is in it.
 */
import { type Designation, parseDesignation } from '../models/tyres/designation.ts';
import { findUnit, type Unit } from '../units/index.ts';

interface Span {
  readonly start: number;
  readonly end: number;
}

/** What a number and its unit say, as typed. */
export interface Amount {
  readonly value: number;
  readonly plusMinus: number;
  readonly unit?: Unit;
  /** A sign was typed before it. */
  readonly signed: boolean;
  /** Digits were typed behind a point: `3.73`. */
  readonly decimals: number;
  /** `4.56s`, which only gears are called. */
  readonly gears?: boolean;
}

export type Token = Span &
  (
    | { readonly is: 'tyre'; readonly designation: Designation }
    | { readonly is: 'tyre-refused'; readonly why: string }
    /** A size but for its rim, as far as it goes: `285/70`, `35x12.50`. */
    | { readonly is: 'tyre-open'; readonly size: (rim: number) => string }
    | { readonly is: 'inches'; readonly value: number }
    | { readonly is: 'wheel'; readonly diameter: number; readonly width: number }
    /** `6x139.7`, `5 on 4.5`: the circle in millimetres, where it was said. */
    | { readonly is: 'bolts'; readonly bolts: number; readonly circle?: number }
    | { readonly is: 'amount'; readonly amount: Amount }
    | { readonly is: 'pair'; readonly front: Amount; readonly rear: Amount }
    | { readonly is: 'year' }
    | { readonly is: 'word'; readonly word: string }
    | { readonly is: 'address' }
    | { readonly is: 'mark'; readonly mark: string }
  );

type Body<T> = T extends Span ? Omit<T, 'start' | 'end'> : never;
type Reader = (match: RegExpExecArray) => Body<Token> | undefined;

/** Of a paste of more only so much is read: it bounds the time whatever the readers do with it. */
export const MOST_TOKENS = 1500;

export function tokensOf(text: string): Token[] {
  const tokens: Token[] = [];
  let at = 0;
  while (at < text.length && tokens.length < MOST_TOKENS) {
    if (text[at] === ' ') {
      at++;
      continue;
    }
    const token = settingBehind(text, at, tokens) ?? nextToken(text, at);
    tokens.push(token);
    at = token.end;
  }
  return tokens;
}

const SETTING = /[+-]? ?\d{1,3}(?:[.,]\d)?(?: ?mm)?(?=[\s,;)]|$)(?! ?(?:kgs?|lbs?|pounds?|kilos?|l|gal|qt|in|inch(?:es)?)(?![\p{L}\d]))/uy;
const BINDS = new Set(['et', 'os', 'offset', 'neg', 'pos', 'minus', 'negative', 'positive']);

/** `ET 25 8.5x17`: the number behind the word is the offset, whatever could be made of it with the next; `+25 offset 33 12.50R17` has its own before. */
function settingBehind(text: string, at: number, tokens: readonly Token[]): Token | undefined {
  const [before, word] = tokens.slice(-2).length === 2 ? tokens.slice(-2) : [undefined, tokens.at(-1)];
  if (word?.is !== 'word' || !BINDS.has(word.word) || before?.is === 'amount') return undefined;
  SETTING.lastIndex = at;
  const match = SETTING.exec(text);
  if (!match) return undefined;
  const value = Number(match[0].replace(/[ m]/g, '').replace(',', '.'));
  const body = plain({ value, signed: /^[+-]/.test(match[0]), ...(match[0].endsWith('mm') && withUnit('mm')) });
  return { is: 'amount', amount: body, start: at, end: at + match[0].length };
}

function nextToken(text: string, at: number): Token {
  const before = text[at - 1];
  const inside = before !== undefined && /[\p{L}\p{N}.]/u.test(before);
  for (const [pattern, read, anywhere] of READERS) {
    if (inside && !anywhere) continue;
    pattern.lastIndex = at;
    const match = pattern.exec(text);
    const body = match && match[0].length > 0 ? read(match) : undefined;
    if (match && body) return { ...body, start: at, end: at + match[0].length } as Token;
  }
  const letter = String.fromCodePoint(text.codePointAt(at) as number);
  return { is: 'mark', mark: letter, start: at, end: at + letter.length };
}

const decimal = (typed: string): number => Number(typed.replace(',', '.'));
const between = (x: number, low: number, high: number): boolean => x >= low && x <= high;

/** Behind a size: load index and speed symbol, load range, plies, extra load. */
const INDEX = '(?: ?(?:[6-9]\\d|1[0-5]\\d)(?: ?/ ?\\d{2,3} ?)?[a-kmnp-y](?![a-z\\d]))?';
const SERVICE = `(${INDEX}(?:[ /]?(?:(?:load range|lr|range) ?)?[b-hn](?: ?rated| load range)?(?![a-z\\d]))?(?: ?\\d{1,2}[ -]?(?:ply|pr)(?![a-z]))?(?: ?xl(?![a-z]))?${INDEX})`;
/** `17`, `16.5`, `17s`, `17"`. */
const RIM = '(\\d{2}(?:\\.5)?)(?![\\d.,]\\d|\\d)(?:"|\'?s(?![a-z\\d]))?';

/** A size in one spelling; what is no size to the reader of designations says why. */
function tyre(size: string, service = ''): Body<Token> {
  const tail = service
    .replace(/load range|rated|range|lr/g, ' ')
    .replace(/^\//, ' ')
    .replace(/(\d) ?\/ ?(\d+) ?/g, '$1/$2');
  const read = parseDesignation(`${size} ${tail}`.replace(/\s+/g, ' ').trim());
  if (read.ok) return { is: 'tyre', designation: read.value };
  const bare = parseDesignation(size);
  return bare.ok && tail ? { is: 'tyre', designation: bare.value } : { is: 'tyre-refused', why: read.reason };
}

const isMetric = (width: number, aspect: number, rim: number): boolean =>
  between(width, 125, 455) && between(aspect, 25, 100) && between(rim, 12, 26);

/** What is written with an R is meant as a size, even one that cannot be: the reader of designations says what is wrong with it. */
const metric: Reader = ([typed, prefix = '', width, aspect, rim, suffix = '', service]) =>
  isMetric(Number(width), Number(aspect), Number(rim)) || /\dr\d/.test(typed)
    ? tyre(`${prefix}${width}/${aspect}R${rim}${suffix}`, service)
    : undefined;

/** Where nothing but a space parts the numbers only a size that exists is one. */
const metricSpaced: Reader = (match) => (Number(match[2]) % 10 === 5 && Number(match[3]) % 5 === 0 ? metric(match) : undefined);

const flotationWidth = (typed: string): number => (typed.length === 4 && !/[.,]/.test(typed) ? Number(typed) / 100 : decimal(typed));

const flotation: Reader = ([, prefix = '', diameter = '', width = '', rim, suffix = '', service]) => {
  const [d, w] = [decimal(diameter), flotationWidth(width)];
  if (!between(d, 24, 54) || !between(w, 6, 20) || !between(Number(rim), 13, 26)) return undefined;
  return tyre(`${prefix}${d}x${w.toFixed(2)}R${rim}${suffix}`, service);
};

const openFlotation: Reader = ([, diameter = '', width = '']) => {
  const [d, w] = [decimal(diameter), flotationWidth(width)];
  return between(d, 27, 54) && between(w, 8, 20) ? { is: 'tyre-open', size: (rim) => `${d}x${w.toFixed(2)}R${rim}` } : undefined;
};

const openMetric: Reader = ([, prefix = '', width, aspect]) =>
  between(Number(width), 155, 405) && Number(width) % 10 === 5 && between(Number(aspect), 30, 90) && Number(aspect) % 5 === 0
    ? { is: 'tyre-open', size: (rim) => `${prefix}${width}/${aspect}R${rim}` }
    : undefined;

const numeric: Reader = ([, width, rim, suffix = '', service]) =>
  between(Number(width), 5, 14) && between(Number(rim), 13, 24.5) ? tyre(`${width}R${rim}${suffix}`, service) : undefined;

const wheelOf = (diameter: number, width: number): Body<Token> | undefined =>
  between(diameter, 13, 26) && between(width, 4.5, 14) && diameter > width ? { is: 'wheel', diameter, width } : undefined;

const half = (typed: string): number => (/ 1\/2$/.test(typed) ? Number(typed.split(' ')[0]) + 0.5 : decimal(typed));
const wheel: Reader = ([, diameter = '', width = '']) => wheelOf(Number(diameter), half(width));
const wheelTurned: Reader = ([, width = '', diameter = '']) => wheelOf(Number(diameter), half(width));

const plain = (amount: Partial<Amount> & { readonly value: number }): Amount => ({ plusMinus: 0, signed: false, decimals: 0, ...amount });

/** Of numbers: a comma before three digits parts thousands, before one or two it is a decimal point. */
const numberOf = (typed: string): number => (/,\d{3}(?!\d)/.test(typed) ? Number(typed.replaceAll(',', '')) : decimal(typed));
const decimalsOf = (typed: string): number => (/,\d{3}(?!\d)/.test(typed) ? 0 : (/[.,](\d+)$/.exec(typed)?.[1]?.length ?? 0));

/** What people write for units, each with the symbol of the table. */
const UNITS: readonly (readonly [RegExp, string])[] = [
  [/^(?:"|inch(?:es)?|in|inchs|zoll)$/, 'in'],
  [/^(?:millimet(?:er|re)s?|mm|mil)$/, 'mm'],
  [/^(?:centimet(?:er|re)s?|cm)$/, 'cm'],
  [/^(?:ft|feet|foot|')$/, 'ft'],
  [/^(?:pounds?|lbs?|#)$/, 'lb'],
  [/^(?:kilograms?|kilos?|kgs?)$/, 'kg'],
  [/^(?:kn|kilonewtons?)$/, 'kN'],
  [/^(?:amp ?hours?|ah)$/, 'Ah'],
  [/^wh$/, 'Wh'],
  [/^kwh$/, 'kWh'],
  [/^(?:quarts?|qts?)$/, 'qt'],
  [/^(?:lit(?:er|re)s?|l)$/, 'L'],
  [/^(?:gallons?|gals?)$/, 'gal'],
  [/^(?:mph)$/, 'mph'],
  [/^(?:km\/h|kph|kmh)$/, 'km/h'],
  [/^psi$/, 'psi'],
  [/^bar$/, 'bar'],
  [/^kpa$/, 'kPa'],
  [/^(?:degrees?|deg|°)$/, 'deg'],
  [/^(?:tonnes?)$/, 't'],
];
const UNIT =
  '(?:[ -]?(inch(?:es)?|inchs|millimet(?:er|re)s?|centimet(?:er|re)s?|feet|foot|pounds?|kilograms?|kilos?|kilonewtons?|amp ?hours?|quarts?|lit(?:er|re)s?|gallons?|degrees?|tonnes?|km/h|mm|mil|cm|ft|lbs?|kgs?|kn|ah|kwh|wh|qts?|gals?|mph|kph|kmh|psi|bar|kpa|deg|l|zoll|in(?! the | my | a | bed| cab| roof| it| back))(?![a-z\\d])| ?(["\'#°]))';

function unitOf(typed: string | undefined): Unit | undefined {
  const symbol = typed === undefined ? undefined : UNITS.find(([pattern]) => pattern.test(typed))?.[1];
  return symbol === undefined ? undefined : findUnit(symbol);
}
const withUnit = (word?: string, sign?: string): { readonly unit?: Unit } => {
  const unit = unitOf(word ?? sign);
  return unit ? { unit } : {};
};

const NUMBER = '(\\d{1,3}(?:,\\d{3}){1,3}(?:\\.\\d{1,3})?|\\d{1,9}(?:[.,]\\d{1,3})?|\\.\\d{1,3})';

const amount: Reader = ([, sign, typed = '', thousand, word, mark]) => {
  const value = numberOf(typed) * (thousand ? 1000 : 1) * (sign === '-' ? -1 : 1);
  return { is: 'amount', amount: plain({ value, signed: sign !== undefined, decimals: decimalsOf(typed), ...withUnit(word, mark) }) };
};

const fraction: Reader = ([, sign, whole, over, under, word, mark]) => {
  const [a, b] = [Number(over), Number(under)];
  if (![2, 4, 8, 16].includes(b) || a >= b) return undefined;
  const value = (Number(whole ?? 0) + a / b) * (sign === '-' ? -1 : 1);
  return { is: 'amount', amount: plain({ value, signed: sign !== undefined, ...withUnit(word, mark) }) };
};

const COUNTS: Readonly<Record<string, number>> = {
  one: 1,
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
  ten: 10,
  twelve: 12,
};
const WORDED_UNIT = 'inch(?:es)?|mm|cm|millimet(?:er|re)s?|centimet(?:er|re)s?|feet|foot|pounds?|lbs?|kilograms?|kilos?|kgs?|tonnes?';

/** `two-inch`, `2 and a half inches`, `half a tonne`. */
const worded: Reader = ([, whole, more, unit]) => {
  const value = whole === undefined ? 0.5 : (COUNTS[whole] ?? Number(whole)) + (more ? 0.5 : 0);
  return { is: 'amount', amount: plain({ value, ...withUnit(unit) }) };
};

/** A ton is 2000 lb, 1000 kg or 2240 lb, by who says it. */
const TON = { value: 961.5, plusMinus: 54.5 };

/** `half a ton`, `two and a half tons`; `half ton` is a truck. */
const tons: Reader = ([, half, whole = '', more]) => {
  const count = half === undefined ? (COUNTS[whole] ?? decimal(whole)) + (more ? 0.5 : 0) : 0.5;
  return { is: 'amount', amount: plain({ value: TON.value * count, plusMinus: TON.plusMinus * count, ...withUnit('kg') }) };
};

const range: Reader = ([, from = '', to = '', word, mark]) => {
  const [a, b] = [decimal(from), decimal(to)];
  if (!(a < b) || b > 4 * a) return undefined;
  return { is: 'amount', amount: plain({ value: (a + b) / 2, plusMinus: (b - a) / 2, ...withUnit(word, mark) }) };
};

const pair: Reader = ([, front = '', word, mark, rear = '', secondWord, secondMark]) => {
  const [a, b] = [decimal(front), decimal(rear)];
  const unit = withUnit(secondWord ?? word, secondMark ?? mark);
  return between(a, 0.25, 12) && between(b, 0.25, 12) && !('unit' in unit && unit.unit?.symbol !== 'in')
    ? { is: 'pair', front: plain({ value: a, ...unit }), rear: plain({ value: b, ...unit }) }
    : undefined;
};

const INCHES_END = 20;

const boltPattern: Reader = ([, bolts = '', circle = '', lugs]) => {
  if (lugs !== undefined) return { is: 'bolts', bolts: Number(lugs) };
  const typed = half(circle.replace(/ ?1\/2$/, ' 1/2'));
  return { is: 'bolts', bolts: Number(bolts), circle: typed < INCHES_END ? typed * 25.4 : typed };
};

const sticky = (source: string): RegExp => new RegExp(source, 'yu');

/** In order: the first that reads wins. `true`: also straight behind a letter or digit. */
const READERS: readonly (readonly [RegExp, Reader, boolean?])[] = [
  [
    sticky('(?:https?|ftp)://\\S{0,2000}|www\\.\\S{1,2000}|<[^<>]{0,200}>|@[\\p{L}\\p{N}_.-]{1,60}|#[\\p{L}_][\\p{L}\\p{N}_-]{0,60}'),
    () => ({ is: 'address' }),
    true,
  ],
  [sticky('4x2(?![\\d.]|x)|2wd(?![\\p{L}\\d])'), () => ({ is: 'word', word: '2wd' })],
  [sticky('[246]x[246](?![\\d.]|x)|4wd(?![\\p{L}\\d])|[2-5][ -]?d(?:oo)?r(?![\\p{L}\\d])'), () => ({ is: 'word', word: '4x4' })],
  [sticky(`(lt|p)? ?(\\d{3}) ?/ ?(\\d{2,3}) ?(?:z?rf?|[-/x ]|on )? ?${RIM}(lt|c)?${SERVICE}`), metric],
  [sticky(`(lt|p)? ?(\\d{3}) ?- ?(\\d{2,3}) ?(?:z?rf?|[-/x ]) ?${RIM}(lt|c)?${SERVICE}`), metricSpaced],
  [sticky(`(lt|p)? ?(\\d{3}) (\\d{2}) ?(?:z?rf?|[-/ ]) ?${RIM}(lt|c)?${SERVICE}`), metricSpaced],
  [sticky(`(lt|p)?(\\d{3})(\\d{2}) ?[r-]? ?${RIM}(lt|c)?${SERVICE}`), metricSpaced],
  [
    sticky(
      `(lt)? ?(\\d{2}(?:[.,]\\d{1,2})?)"? ?(?:x|by) ?(\\d{4}|\\d{1,2}(?:[.,]\\d{1,3})?)"? ?(?:z?r|[-x/]|on|) ?r?${RIM}(lt)?${SERVICE}`,
    ),
    flotation,
  ],
  [sticky(`(lt)? ?(\\d{2}) ?[/-] ?(\\d{1,2}[.,]\\d{1,2}) ?(?:z?r|[-x/ ]) ?r?${RIM}(lt)?${SERVICE}`), flotation],
  [sticky(`(lt)? ?(\\d{2}) (\\d{1,2}[.,]50?) ?(?:z?r|[-x/ ]) ?r?${RIM}(lt)?${SERVICE}`), flotation],
  [sticky(`(\\d{1,2}\\.\\d{2}) ?(?:r|-) ?${RIM}(lt|c)?${SERVICE}`), numeric],
  [sticky('(\\d{2}(?:[.,]\\d)?)"? ?(?:x|by) ?(\\d{4}|\\d{1,2}[.,]\\d{1,2}|\\d{1,2})(?![\\d.])s?'), openFlotation],
  [sticky("(lt|p)?(\\d{3})/(\\d{2})(?!\\d)'?s?"), openMetric],
  [
    sticky(
      '([4-8]) ?(?:x|on|/) ?(\\d{3}(?:\\.\\d{1,2})?|[4-7]\\.\\d{1,2}|[4-7] ?1/2|[56](?="))(?![\\d.])(?: ?mm|"| ?in(?![a-z]))?|([4568])[ -](?:lug|bolt|stud)s?(?![a-z])',
    ),
    boltPattern,
  ],
  [
    sticky(
      '(\\d{2})(?:"| ?in(?:ch)?)? ?(?:x|by|\\*) ?(\\d{1,2} 1/2|\\d{1,2}(?:[.,]\\d{1,2})?)(?![\\d.])(?:"| ?in(?![a-z])| ?j{1,2}(?![a-z])|\'?s(?![a-z]))?',
    ),
    wheel,
  ],
  [sticky('(\\d{1,2} 1/2|\\d{1,2}(?:[.,]\\d{1,2})?) ?j{0,2} ?(?:x|by|\\*) ?(\\d{2})(?![\\d.])"?'), wheelTurned],
  [
    sticky("([2-7]\\.\\d{2})'?s(?![\\p{L}\\d])"),
    ([, ratio]) => ({ is: 'amount', amount: plain({ value: Number(ratio), decimals: 2, gears: true }) }),
  ],
  [sticky('(\\d{2,3}(?:\\.\\d)?)"?\'?s(?![\\p{L}\\d])'), ([, inches]) => ({ is: 'inches', value: Number(inches) })],
  // `2x100Ah`, `3 x 20 kg`: how many, and each of them.
  [
    sticky('([2-9]|1[0-2]) ?x ?(?=\\d{1,4}(?:[.,]\\d)? ?(?:ah|k?wh|kgs?|lbs?|l|gal|qt|liters?|litres?|quarts?)(?![\\p{L}\\d]))'),
    ([, n]) => ({ is: 'amount', amount: plain({ value: Number(n) }) }),
  ],
  [sticky('(?:19[6-9]\\d|20[0-4]\\d)(?![\\d.,])(?! ?(?:lb|kg|mm|pound|kilo|#|w|in))'), () => ({ is: 'year' })],
  [
    sticky(
      `(?:(half a)|(\\d{1,2}(?:[.,]\\d)?|${Object.keys(COUNTS).join('|')})( and a half)?)[ -](?:short |long |us )?(?:ton(?<=half a (?:short |long |us )?ton)|tons)(?![\\p{L}\\d])(?! (?:truck|pickup|ifs|rig))`,
    ),
    tons,
  ],
  [sticky(`(?:half(?: an?)?|(\\d{1,2}|${Object.keys(COUNTS).join('|')})( and a half)?)[ -](${WORDED_UNIT})(?![\\p{L}\\d])`), worded],
  [sticky(`([+-])? ?(?:(\\d{1,2})[ -])?(\\d)/(\\d{1,2})${UNIT}?(?![\\d.])`), fraction],
  [sticky(`(\\d{1,3}(?:[.,]\\d{1,2})?) ?(?:-|to|or) ?(\\d{1,3}(?:[.,]\\d{1,2})?)${UNIT}`), range],
  [sticky(`(\\d{1,2}(?:[.,]\\d{1,2})?)${UNIT}? ?/ ?(\\d{1,2}(?:[.,]\\d{1,2})?)(?!\\d)${UNIT}?`), pair],
  [sticky(`([+-](?=[\\d.]))?${NUMBER}(?!\\d)( ?k(?![\\p{L}\\d]))?${UNIT}?`), amount, true],
  [sticky('(?:et|os|bs|bl|sl|cb|neg|pos|minus)(?= ?[+-]?\\d)'), ([word]) => ({ is: 'word', word })],
  [sticky('w/o(?!\\p{L})'), () => ({ is: 'word', word: 'without' })],
  [sticky('w/'), () => ({ is: 'word', word: 'with' })],
  [sticky('[amrh]/t(?!\\p{L})'), () => ({ is: 'word', word: 'tire' })],
  [sticky('f/r(?!\\p{L})'), () => ({ is: 'word', word: 'f/r' })],
  [sticky("\\p{L}[\\p{L}\\p{N}']{0,59}"), ([word]) => ({ is: 'word', word }), true],
];
