/** What was probably meant by a designation that cannot be read: slips of the hand mended, the likeliest first. */

/** Each as what was typed and what it stands for; the first that can be read is the suggestion. */
const SLIPS: readonly (readonly [RegExp, (...pieces: string[]) => string])[] = [
  // A letter for a digit: 265/7OR17.
  [/^(.*\d)[OIL](.*)$/, (_, before, after) => `${before}${/O/.test(_ as string) ? 0 : 1}${after}`],
  // Strokes left out: 2657017, 26570R17, 3312.50R15.
  [
    /^(P|LT)?(\d{3})(\d{2}) ?[R-]?(\d{2})(?!\d)(.*)$/,
    (_, service = '', width, aspect, rim, rest) => `${service}${width}/${aspect}R${rim}${rest}`,
  ],
  [/^(\d{2})(\d{1,2}\.\d{1,2}) ?[R-]?(\d{2})(?!\d)(.*)$/, (_, diameter, width, rim, rest) => `${diameter}X${width}R${rim}${rest}`],
  // Two numbers swapped: 265/17R70, 70/265R17.
  [
    /^(P|LT)?(\d{3})\/(\d{2}) ?[R-]?(\d{2})(.*)$/,
    (_, service = '', width, rim, aspect, rest) => `${service}${width}/${aspect}R${rim}${rest}`,
  ],
  [
    /^(P|LT)?(\d{2})\/(\d{3}) ?[R-]?(\d{2})(.*)$/,
    (_, service = '', aspect, width, rim, rest) => `${service}${width}/${aspect}R${rim}${rest}`,
  ],
  // Two digits swapped: 256/70R16, 265/07R16.
  [/^(P|LT)?(\d)(\d)(\d)\/(.*)$/, (_, service = '', a, b, c, rest) => `${service}${a}${c}${b}/${rest}`],
  [/^(.*\/)(\d)(\d)(\D.*)$/, (_, before, a, b, after) => `${before}${b}${a}${after}`],
  // A width or an aspect ratio between two that exist.
  [/^(P|LT)?(\d{2})\d\/(.*)$/, (_, service = '', tens, rest) => `${service}${tens}5/${rest}`],
  [/^(.*\/)(\d\d)(\D.*)$/, (_, before, aspect, after) => `${before}${5 * Math.round(Number(aspect) / 5)}${after}`],
  // A point slipped or left out: 33x125.0R15, 33x1250R15, 750R16.
  [
    /^(\d{2}) ?X ?(\d{1,2})(?:(\d)\.(\d)|(50|75)) ?(.*)$/,
    (_, diameter, width, a, b, half, rest) => `${diameter}X${width}.${half ?? a + b} ${rest}`,
  ],
  [/^(\d{1,2}\.\d) ?[R-] ?(\d{2})(?!\d)(.*)$/, (_, width, rim, rest) => `${width}0R${rim}${rest}`],
  // A load range or XL run into the size: LT285/70R17E.
  [/^(.*R\d{2})(XL|[B-H])(?= |$)(.*)$/, (_, size, range, rest) => `${size} ${range}${rest}`],
  [/^(\d)(\d{2}) ?[R-] ?(\d{2})(?!\d)(.*)$/, (_, width, half, rim, rest) => `${width}.${half}R${rim}${rest}`],
];

/** Sizes trucks are often seen on, by the numbers alone: where several readings are as near, one of these was meant. */
const OFTEN_SEEN: ReadonlySet<string> = new Set(
  `215/75R15 225/75R15 235/75R15 265/75R15 31x10.50R15 32x11.50R15 33x12.50R15 35x12.50R15 215/85R16 225/75R16 235/70R16 235/85R16 245/70R16
  245/75R16 255/70R16 255/85R16 265/70R16 265/75R16 285/75R16 305/70R16 315/75R16 225/65R17 235/80R17 245/65R17 245/70R17 255/65R17 255/70R17
  255/75R17 255/80R17 265/65R17 265/70R17 275/65R17 275/70R17 285/65R17 285/70R17 285/75R17 295/70R17 305/65R17 315/70R17 33x12.50R17 34x10.50R17
  35x12.50R17 37x12.50R17 245/60R18 255/60R18 255/70R18 265/60R18 265/65R18 265/70R18 275/65R18 275/70R18 285/60R18 285/65R18 295/70R18 305/60R18
  305/65R18 33x12.50R18 35x12.50R18 255/55R19 245/60R20 265/50R20 265/60R20 275/55R20 275/60R20 285/55R20 295/55R20 295/60R20 305/50R20 305/55R20
  33x12.50R20 35x12.50R20 37x12.50R20 6.50R16 7.00R16 7.50R16`.split(/\s+/),
);

interface Read {
  readonly text: string;
  readonly service: string;
}

const MOST_NAMED = 3;

/** The readings of what was probably meant, the likeliest first; none where nothing is near. */
export function nearestReadings(text: string, read: (mended: string) => Read | undefined): readonly string[] {
  for (const [pattern, mended] of SLIPS) {
    const match = pattern.exec(text);
    const found = match && read(mended(...match));
    if (found) return [found.text];
  }
  return bySingleEdit(text, read).slice(0, MOST_NAMED);
}

const LEAST_DIGITS = 5;
const sizeOf = ({ text }: Read): string => (text.split(' ')[0] ?? '').replace(/^(P|LT)|(LT|C)$/g, '').replace(/[DB](?=\d\d$)/, 'R');

/**
 * One stroke of a key amiss: one too many, two swapped, one wrong, one missing; of the first of these that leads anywhere,
 * all that it leads to. Only a size that is often seen is guessed at.
 */
function bySingleEdit(text: string, read: (mended: string) => Read | undefined): string[] {
  if (text.replace(/\D/g, '').length < LEAST_DIGITS) return [];
  for (const edits of EDITS) {
    const found = new Set<string>();
    for (const mended of edits(text)) {
      const size = read(mended);
      if (size && OFTEN_SEEN.has(sizeOf(size))) found.add(size.text);
    }
    if (found.size > 0) return [...found].sort();
  }
  return [];
}

const KEYS = [...'0123456789/RX.'];
const cuts = (text: string): (readonly [before: string, after: string])[] =>
  [...text, ''].map((_, i) => [text.slice(0, i), text.slice(i)] as const);

const EDITS: readonly ((text: string) => string[])[] = [
  (text) => cuts(text).flatMap(([before, after]) => (after ? [before + after.slice(1)] : [])),
  (text) => cuts(text).flatMap(([before, after]) => (after.length > 1 ? [`${before}${after[1]}${after[0]}${after.slice(2)}`] : [])),
  (text) => cuts(text).flatMap(([before, after]) => (after ? KEYS.map((key) => before + key + after.slice(1)) : [])),
  (text) => cuts(text).flatMap(([before, after]) => KEYS.map((key) => before + key + after)),
];
