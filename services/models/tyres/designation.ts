/**
 * Tyre designations as people type them: metric (`P265/70R16 111T`, `LT285/70R17 121/118Q E`, `285/70-17`, `225/75R16C`),
 * metric without an aspect ratio (`185R14C`), flotation (`33x12.50-15`, `35x12,50R17LT`), numeric (`7.50R16`), and plain
 * talk of a diameter (`33s`, `33"`, `33x12.50`).
 *
 * The forms are those of ISO 4000-1 and of UN R30 and R54, annex 3 (from memory). Lengths come out in metres. A stroke, a
 * dash, an x or a space between the numbers all mean the same, so a dash says nothing of the plies: only the letters R, D and B do.
 * Worked: `LT285/70R17 121/118Q E` → 0.285 m wide, aspect 0.70, rim 17, load index 121 (118 in pairs), Q, load range E.
 */
import { found, type Outcome, refused } from '../result.ts';
import { nearestReadings } from './designation-slips.ts';
import { describeService, type ServiceDescription } from './service-description.ts';

export type Construction = 'radial' | 'diagonal' | 'bias-belted';

export interface Designation extends ServiceDescription {
  readonly form: 'metric' | 'flotation' | 'numeric' | 'plain';
  /** What it is made for; decides standards, tolerances and how load follows pressure. */
  readonly service: 'passenger' | 'light-truck' | 'commercial';
  /**
   * Two load indices or a load range stand behind a metric size that says neither LT nor C, or its wall is 85 % of its width: a passenger tyre has none of them, so it is
   * one of those two, and which is for the sidewall to say. `service` is the more careful one meanwhile.
   */
  readonly serviceUnclear?: true;
  /** Marked P: a passenger tyre by the American standard, whose rating holds at another pressure than the European one's. */
  readonly pMetric: boolean;
  /** Nominal section width, m; absent where only a diameter was said. */
  readonly width?: number;
  /** Section height over width; absent where the size has none. */
  readonly aspect?: number;
  /** The size states no aspect ratio, and the full one of its kind stands in. */
  readonly aspectAssumed?: boolean;
  /** Nominal overall diameter, where the size states it; m. */
  readonly diameter?: number;
  /** Nominal rim diameter, inches; absent where only a diameter was said. */
  readonly rim?: number;
  /** By the letter R, D or B; radial where none was written. */
  readonly construction: Construction;
  /** Written out in one form. */
  readonly text: string;
}

const INCH = 0.0254;
const LONGEST = 60;

const METRIC = /^(P|LT|ST|T)?[ -]?(\d{3}) ?[/ -] ?(\d{2,3}) ?(?:Z?([RBD])F?|[-/X ]) ?(\d{2}(?:\.5)?)(LT|C|P)?(?= |$)(.*)$/;
const FLOTATION =
  /^(LT)?[ -]?(\d{2}(?:\.\d{1,2})?) ?[X/-] ?(\d{1,2}(?:\.\d{1,3})?) ?(?:Z?([RBD])|[-/X ]) ?(\d{2}(?:\.5)?)(LT)?(?= |$)(.*)$/;
const NUMERIC = /^(LT)?[ -]?(\d{1,2}\.\d{2}) ?(?:([RBD])|[-/X ]) ?(\d{2}(?:\.5)?)(LT|C)?(?= |$)(.*)$/;
const NO_ASPECT = /^(\d{3}) ?([RD]) ?(\d{2})(C|LT)?(?= |$)(.*)$/;
const PLAIN_DIAMETER = /^(\d{2}(?:\.\d)?) ?(?:"|IN(?:CH(?:ES)?)?|'?S)(?: ?T[IY]RES?)?$/;
const PLAIN_PAIR = /^(\d{2}(?:\.\d{1,2})?) ?"?X ?(\d{1,2}(?:\.\d{1,3})?)"?$/;

/** Reads a designation. What cannot be one says why, and what was probably meant. */
export function parseDesignation(typed: string): Outcome<Designation> {
  if (typed.length > LONGEST) return refused('a tyre designation is shorter than that');
  const text = plainText(typed);
  const read = readForm(text, typed);
  if (read.ok || read.reason.includes('did you mean')) return read;
  const meant = nearestReadings(text, (mended) => {
    const again = readForm(mended, typed);
    return again.ok ? again.value : undefined;
  });
  if (meant.length === 0) return read;
  return refused(`${read.reason}; did you mean ${meant.map((size) => `\`${size}\``).join(' or ')}?`);
}

/** One way of writing what is written in many; a load range is also written behind a stroke: `35X12.50R17LT/E 121Q`. */
const plainText = (typed: string): string =>
  typed
    .trim()
    .toUpperCase()
    .replaceAll('×', 'X')
    .replace(/[‐-―−]/g, '-')
    .replace(/[″“”]|''/g, '"')
    .replace(/[’‘]/g, "'")
    .replace(/(\d),(?=\d)/g, '$1.')
    .replace(/[()[\]]/g, '')
    .replace(/\/([B-H])(?= |$)/, ' $1')
    .replace(/\s+/g, ' ')
    .trim();

function readForm(text: string, typed: string): Outcome<Designation> {
  const diameter = PLAIN_DIAMETER.exec(text);
  if (diameter) return readPlain(diameter, typed);
  const pair = PLAIN_PAIR.exec(text);
  if (pair) return readPlain(pair, typed);
  const bare = text.replaceAll('"', '');
  const metric = METRIC.exec(bare);
  if (metric) return readMetric(metric, typed);
  const flotation = FLOTATION.exec(bare);
  if (flotation) return readFlotation(flotation, typed);
  const numeric = NUMERIC.exec(bare);
  if (numeric) return readNumeric(numeric, typed);
  const full = NO_ASPECT.exec(bare);
  if (full) return readFullProfile(full, typed);
  return refused(`\`${typed}\` is no tyre designation: write one such as \`265/70R17\`, \`33x12.50R17\` or \`7.50R16\``);
}

/** Marks of tyres that are not for running on a truck, and why. */
const NOT_FOR_TRUCKS: Readonly<Record<string, string>> = {
  ST: '`ST` marks a trailer tyre, which no driven or steered axle may run on',
  T: '`T` marks a temporary spare, which is not a tyre to fit: for the room it takes, state its diameter',
};

/** The least sidewall there is between rim and tread (from memory: 205/25R20 has 51 mm); m. */
const LEAST_SIDEWALL = 0.05;

function readMetric([, prefix, width, aspect, plies, rim, suffix, rest]: RegExpExecArray, typed: string): Outcome<Designation> {
  const [w, a, r] = [Number(width), Number(aspect), Number(rim)];
  const wrong =
    NOT_FOR_TRUCKS[prefix ?? ''] ??
    outside(w, 125, 455, 'section width', 'mm') ??
    outside(a, 25, 100, 'aspect ratio', '%') ??
    outside(r, 10, 26, 'rim', 'in') ??
    (w % 10 === 5 ? undefined : `metric section widths end in 5, and ${w} does not`) ??
    (a % 5 === 0 ? undefined : `aspect ratios go in fives, and ${a} does not`) ??
    (w * a >= LEAST_SIDEWALL * 1e5 ? undefined : `a sidewall of ${Math.round((w * a) / 100)} mm is lower than any tyre's`);
  if (wrong) return refused(`\`${typed}\`: ${wrong}`);
  const written = { mark: prefix ?? suffix, rest: rest ?? '' };
  const size = { form: 'metric', width: w / 1000, aspect: a / 100, rim: r, construction: constructionOf(plies) } as const;
  return serviced(size, written, typed, ({ service, pMetric }) => {
    const before = service === 'light-truck' ? 'LT' : pMetric ? 'P' : '';
    return `${before}${w}/${a}${plies ?? 'R'}${r}${service === 'commercial' ? 'C' : ''}`;
  });
}

/** A size without an aspect ratio has the full one, about 0.80 of its width (UN R30 and R54 tables; from memory: 185R14C is 650 mm). */
const FULL_ASPECT = 0.8;

function readFullProfile([, width, plies, rim, suffix, rest]: RegExpExecArray, typed: string): Outcome<Designation> {
  const [w, r] = [Number(width), Number(rim)];
  const wrong =
    outside(w, 125, 255, 'section width', 'mm') ??
    outside(r, 10, 20, 'rim', 'in') ??
    (w % 10 === 5 ? undefined : `metric section widths end in 5, and ${w} does not`);
  if (wrong) return refused(`\`${typed}\`: ${wrong}`);
  const size = {
    form: 'metric',
    width: w / 1000,
    aspect: FULL_ASPECT,
    aspectAssumed: true,
    rim: r,
    construction: constructionOf(plies),
  } as const;
  return serviced(size, { mark: suffix, rest: rest ?? '' }, typed, ({ service }) => {
    const behind = service === 'commercial' ? 'C' : service === 'light-truck' ? 'LT' : '';
    return `${w}${plies}${r}${behind}`;
  });
}

/** Sidewall over width below which no flotation size is (from memory: 33x12.50R22 has 0.44). */
const LEAST_FLOTATION_ASPECT = 0.25;

function readFlotation([, prefix, diameter, width, plies, rim, suffix, rest]: RegExpExecArray, typed: string): Outcome<Designation> {
  const [d, w, r] = [Number(diameter), Number(width), Number(rim)];
  const wrong =
    outside(d, 24, 54, 'diameter', 'in') ??
    outside(w, 5, 20, 'width', 'in') ??
    outside(r, 13, 26, 'rim', 'in') ??
    (d - r >= 5 ? undefined : `a ${d} in tyre leaves no sidewall on a ${r} in rim`) ??
    ((d - r) / 2 >= LEAST_FLOTATION_ASPECT * w
      ? undefined
      : `a sidewall of ${(d - r) / 2} in is too low for a tyre ${w} in wide; no such tyre is made`);
  if (wrong) return refused(`\`${typed}\`: ${wrong}`);
  const size = { form: 'flotation', width: w * INCH, diameter: d * INCH, rim: r, construction: constructionOf(plies) } as const;
  const marked = { mark: prefix ?? suffix, rest: rest ?? '' };
  return serviced(size, marked, typed, ({ marked: lt }) => `${d}x${w.toFixed(2)}${plies ?? 'R'}${r}${lt ? 'LT' : ''}`);
}

function readNumeric([, prefix, width, plies, rim, suffix, rest]: RegExpExecArray, typed: string): Outcome<Designation> {
  const [w, r] = [Number(width), Number(rim)];
  const wrong = outside(w, 4, 14, 'width', 'in') ?? outside(r, 10, 24.5, 'rim', 'in');
  if (wrong) return refused(`\`${typed}\`: ${wrong}`);
  const size = { form: 'numeric', width: w * INCH, rim: r, construction: constructionOf(plies) } as const;
  return serviced(size, { mark: prefix ?? suffix, rest: rest ?? '' }, typed, ({ service, marked }) => {
    const behind = !marked ? '' : service === 'light-truck' ? 'LT' : 'C';
    return `${w.toFixed(2)}${plies ?? 'R'}${r}${behind}`;
  });
}

/** A diameter as it is talked of, with the width if that was said too. */
function readPlain([, diameter, width]: RegExpExecArray, typed: string): Outcome<Designation> {
  const [d, w] = [Number(diameter), width === undefined ? undefined : Number(width)];
  const wrong = outside(d, 24, 54, 'diameter', 'in') ?? (w === undefined ? undefined : outside(w, 5, 20, 'width', 'in'));
  if (wrong) return refused(`\`${typed}\`: ${wrong}`);
  return found({
    form: 'plain',
    service: 'light-truck',
    pMetric: false,
    diameter: d * INCH,
    ...(w !== undefined && { width: w * INCH }),
    construction: 'radial',
    extraLoad: false,
    text: w === undefined ? `${d}"` : `${d}x${w.toFixed(2)}`,
  });
}

const constructionOf = (plies: string | undefined): Construction => (plies === 'D' ? 'diagonal' : plies === 'B' ? 'bias-belted' : 'radial');

const outside = (x: number, low: number, high: number, what: string, unit: string): string | undefined =>
  x >= low && x <= high ? undefined : `${/^[aeiou]/.test(what) ? 'an' : 'a'} ${what} of ${x} ${unit} is outside ${low} to ${high}`;

type Size = Omit<Designation, 'text' | 'service' | 'pMetric' | keyof ServiceDescription>;
interface Marks {
  readonly service: Designation['service'];
  readonly pMetric: boolean;
  /** A mark of its service stands with the size. */
  readonly marked: boolean;
}

/** What a size is for where no mark says so. */
const UNMARKED = { metric: 'passenger', flotation: 'light-truck', numeric: 'commercial', plain: 'light-truck' } as const;

/** No passenger tyre of a truck's size has so high a wall: 235/85R16 and 255/85R16 are made as LT, some as C (from memory). */
const TRUCK_ASPECT = 0.85;

/** A C a space away stands for commercial where two load indices follow, else for a load range. */
const SPACED_MARK = /^ ?(LT|P|C(?= \d{2,3}\/\d{2,3}))(?= |$)/;

/** What was probably meant behind a size, with the size. */
const inFull = (reason: string, size: string): string =>
  reason.replace(/did you mean (.*)\?$/, (_, meant: string) => `did you mean ${meant.replaceAll(/`([^`]+)`/g, `\`${size} $1\``)}?`);

function serviced(
  size: Size,
  { mark: written, rest: behind }: { readonly mark: string | undefined; readonly rest: string },
  typed: string,
  text: (marks: Marks) => string,
): Outcome<Designation> {
  const spaced = written === undefined ? (SPACED_MARK.exec(behind)?.[1] ?? / (LT)(?= |$)/.exec(behind)?.[1]) : undefined;
  const mark = written ?? spaced;
  const rest = spaced === undefined ? behind : behind.replace(new RegExp(`^(.*?) ?${spaced}(?= |$)`), '$1');
  const service = mark === 'LT' ? 'light-truck' : mark === 'C' ? 'commercial' : mark === 'P' ? 'passenger' : UNMARKED[size.form];
  const marks: Marks = { service, pMetric: mark === 'P', marked: mark !== undefined };
  const description = describeService(rest, service);
  if (!description.ok) return refused(`\`${typed}\`: ${inFull(description.reason, text(marks))}`);
  const { text: told, ...rated } = description.value;
  const ofTrucks = rated.loadIndexDual !== undefined || rated.loadRange !== undefined || (size.aspect ?? 0) >= TRUCK_ASPECT;
  const unclear = size.form === 'metric' && mark === undefined && !('aspectAssumed' in size) && ofTrucks;
  return found({
    ...size,
    ...(unclear ? { service: 'commercial', serviceUnclear: true } : { service }),
    pMetric: marks.pMetric,
    ...rated,
    text: [text(marks), told].filter(Boolean).join(' '),
  });
}
