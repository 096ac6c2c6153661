/**
 * Tyre designations as people type them: metric (`P265/70R16 111T`, `LT285/70R17 121/118Q E`, `285/70-17`, `265/70R16C`),
 * flotation (`33x12.50-15`, `35x12.50R17LT`) and numeric (`7.50R16`).
 *
 * The forms are those of ISO 4000-1 and of UN R30 and R54, annex 3 (from memory). Lengths come out in metres. A stroke, a
 * dash, an x or a space between the numbers all mean the same; whether the tyre is radial or diagonal is not kept.
 * Worked: `LT285/70R17 121/118Q E` → 0.285 m wide, aspect 0.70, rim 17, load index 121 (118 in pairs), Q, load range E.
 */
import { found, type Outcome, refused } from '../result.ts';

export interface Designation {
  readonly form: 'metric' | 'flotation' | 'numeric';
  /** What it is made for; decides standards, tolerances and how load follows pressure. */
  readonly service: 'passenger' | 'light-truck' | 'commercial';
  /** Marked P: a passenger tyre by the American standard, whose rating holds at another pressure than the European one's. */
  readonly pMetric: boolean;
  /** Nominal section width; m. */
  readonly width: number;
  /** Section height over width; absent where the size has none. */
  readonly aspect?: number;
  /** Nominal overall diameter, where the size states it; m. */
  readonly diameter?: number;
  /** Nominal rim diameter, inches. */
  readonly rim: number;
  readonly loadIndex?: number;
  /** In dual fitment. */
  readonly loadIndexDual?: number;
  readonly speedSymbol?: string;
  readonly loadRange?: string;
  readonly extraLoad: boolean;
  /** Written out in one form. */
  readonly text: string;
}

const INCH = 0.0254;
const LONGEST = 60;

const METRIC = /^(P|LT)? ?(\d{3}) ?[/ -] ?(\d{2,3}) ?(?:Z?[RBD]|[-/X ]) ?(\d{2}(?:\.5)?)(LT|C)?(?= |$)(.*)$/;
const FLOTATION = /^(LT)? ?(\d{2}(?:\.\d{1,2})?) ?[X/] ?(\d{1,2}(?:\.\d{1,3})?) ?(?:Z?[RBD]|[-/X ]) ?(\d{2}(?:\.5)?)(LT)?(?= |$)(.*)$/;
const NUMERIC = /^(LT)? ?(\d{1,2}\.\d{2}) ?(?:R|[-X ]) ?(\d{2}(?:\.5)?)(LT|C)?(?= |$)(.*)$/;
const NO_ASPECT = /^(\d{3}) ?R ?(\d{2})(C|LT)?(?= |$)(.*)$/;
const DIAMETER_ONLY = /^(\d{2})(?:"|''| ?IN(?:CH)?)?(?:'?S)?$/;

/** Reads a designation. What cannot be one says why, and what was probably meant. */
export function parseDesignation(typed: string): Outcome<Designation> {
  if (typed.length > LONGEST) return refused('a tyre designation is shorter than that');
  const text = plainText(typed);
  const read = readForm(text, typed);
  if (read.ok) return read;
  const meant = nearestReading(text);
  return meant === undefined ? read : refused(`${read.reason}; did you mean \`${meant}\`?`);
}

/** A load range is also written behind a stroke: `35X12.50R17LT/E 121Q`. */
const plainText = (typed: string): string =>
  typed
    .trim()
    .toUpperCase()
    .replaceAll('×', 'X')
    .replace(/[()]/g, '')
    .replace(/\/([B-H])(?= |$)/, ' $1')
    .replace(/\s+/g, ' ');

function readForm(text: string, typed: string): Outcome<Designation> {
  const metric = METRIC.exec(text);
  if (metric) return readMetric(metric, typed);
  const flotation = FLOTATION.exec(text);
  if (flotation) return readFlotation(flotation, typed);
  const numeric = NUMERIC.exec(text);
  if (numeric) return readNumeric(numeric, typed);
  const old = NO_ASPECT.exec(text);
  if (old)
    return refused(`\`${typed}\` has no aspect ratio: write it out, such as \`${old[1]}/80R${old[2]}\`, or give the measured diameter`);
  const inches = DIAMETER_ONLY.exec(text);
  if (inches) return refused(`\`${typed}\` names a diameter only: add width and rim, such as \`${inches[1]}x12.50R17\``);
  return refused(`\`${typed}\` is no tyre designation: write one such as \`265/70R17\`, \`33x12.50R17\` or \`7.50R16\``);
}

/** Slips of the hand, each as what was typed and what it stands for; the first that can be read is the suggestion. */
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
];

function nearestReading(text: string): string | undefined {
  for (const [pattern, mended] of SLIPS) {
    const match = pattern.exec(text);
    const read = match && readForm(mended(...match), text);
    if (read?.ok) return read.value.text;
  }
  return undefined;
}

function readMetric([, prefix, width, aspect, rim, suffix, rest]: RegExpExecArray, typed: string): Outcome<Designation> {
  const [w, a, r] = [Number(width), Number(aspect), Number(rim)];
  const wrong =
    outside(w, 125, 455, 'section width', 'mm') ??
    outside(a, 25, 100, 'aspect ratio', '%') ??
    outside(r, 10, 26, 'rim', 'in') ??
    (w % 10 === 5 ? undefined : `metric section widths end in 5, and ${w} does not`) ??
    (a % 5 === 0 ? undefined : `aspect ratios go in fives, and ${a} does not`);
  if (wrong) return refused(`\`${typed}\`: ${wrong}`);
  const service = prefix === 'LT' || suffix === 'LT' ? 'light-truck' : suffix === 'C' ? 'commercial' : 'passenger';
  const plain = `${prefix ?? ''}${w}/${a}R${r}${suffix ?? ''}`;
  return withService(
    { form: 'metric', service, pMetric: prefix === 'P', width: w / 1000, aspect: a / 100, rim: r },
    plain,
    rest ?? '',
    typed,
  );
}

function readFlotation([, prefix, diameter, width, rim, suffix, rest]: RegExpExecArray, typed: string): Outcome<Designation> {
  const [d, w, r] = [Number(diameter), Number(width), Number(rim)];
  const wrong = outside(d, 24, 54, 'diameter', 'in') ?? outside(w, 5, 20, 'width', 'in') ?? outside(r, 13, 26, 'rim', 'in');
  if (wrong) return refused(`\`${typed}\`: ${wrong}`);
  if (d - r < 5) return refused(`\`${typed}\`: a ${d} in tyre leaves no sidewall on a ${r} in rim`);
  const plain = `${d}x${w.toFixed(2)}R${r}${prefix || suffix ? 'LT' : ''}`;
  return withService(
    { form: 'flotation', service: 'light-truck', pMetric: false, width: w * INCH, diameter: d * INCH, rim: r },
    plain,
    rest ?? '',
    typed,
  );
}

function readNumeric([, prefix, width, rim, suffix, rest]: RegExpExecArray, typed: string): Outcome<Designation> {
  const [w, r] = [Number(width), Number(rim)];
  const wrong = outside(w, 4, 14, 'width', 'in') ?? outside(r, 10, 24.5, 'rim', 'in');
  if (wrong) return refused(`\`${typed}\`: ${wrong}`);
  const service = prefix === 'LT' || suffix === 'LT' ? 'light-truck' : 'commercial';
  return withService(
    { form: 'numeric', service, pMetric: false, width: w * INCH, rim: r },
    `${w.toFixed(2)}R${r}${suffix ?? ''}`,
    rest ?? '',
    typed,
  );
}

const outside = (x: number, low: number, high: number, what: string, unit: string): string | undefined =>
  x >= low && x <= high ? undefined : `${/^[aeiou]/.test(what) ? 'an' : 'a'} ${what} of ${x} ${unit} is outside ${low} to ${high}`;

const SERVICE = /^(\d{2,3})(?:\/(\d{2,3}))?([A-HJ-NP-Y])?$/;
const RANGE = /^(?:LR)?([B-HJL-N])$/;
/** A symbol a space away from its index; the letters that are also load ranges stay those, save on passenger tyres H. */
const SPACED_SYMBOL = / (\d{2,3}(?:\/\d{2,3})?) (H|[P-Y])(?= |$)/;
const PLIES = /(?:^| )(\d{1,2})[ -]?(?:PLY|PR)(?= |$)/;
/** Load range by ply rating (Tire and Rim Association; from memory). */
const RANGE_OF_PLIES: ReadonlyMap<number, string> = new Map([
  [4, 'B'],
  [6, 'C'],
  [8, 'D'],
  [10, 'E'],
  [12, 'F'],
  [14, 'G'],
]);
const LEAST_INDEX = 60;
const GREATEST_INDEX = 150;

const spelled = (rest: string, service: Designation['service']): string =>
  rest
    .replace(PLIES, (_, plies: string) => ` ${RANGE_OF_PLIES.get(Number(plies)) ?? ''}`)
    .replace(SPACED_SYMBOL, (whole, index: string, symbol: string) =>
      symbol === 'H' && service !== 'passenger' ? whole : ` ${index}${symbol}`,
    );

/** What stands behind the size: load index, speed symbol, load range, extra load. Other words are a maker's and pass. */
function withService(size: Omit<Designation, 'text' | 'extraLoad'>, plain: string, rest: string, typed: string): Outcome<Designation> {
  let made: Designation = { ...size, extraLoad: false, text: plain };
  for (const word of spelled(rest, size.service).trim().split(' ').filter(Boolean)) {
    const service = SERVICE.exec(word);
    const range = RANGE.exec(word);
    if (service && Number(service[1]) >= LEAST_INDEX && Number(service[1]) <= GREATEST_INDEX) {
      const [, single, dual, symbol] = service;
      made = {
        ...made,
        loadIndex: Number(single),
        ...(dual && { loadIndexDual: Number(dual) }),
        ...(symbol && { speedSymbol: symbol }),
        text: `${made.text} ${word}`,
      };
    } else if (range?.[1]) made = { ...made, loadRange: range[1], text: `${made.text} ${range[1]}` };
    else if (word === 'XL') made = { ...made, extraLoad: true, text: `${made.text} XL` };
  }
  if (made.loadIndex !== undefined && made.loadIndexDual !== undefined && made.loadIndexDual > made.loadIndex) {
    return refused(`\`${typed}\`: the load index in dual fitment is never above the single one; are they swapped?`);
  }
  return found(made);
}
