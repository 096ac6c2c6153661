/**
 * What stands behind a size: load index, speed symbol, load range or ply rating, extra load (ISO 4000-1, UN R30 and R54, annex 3;
 * from memory). Other words are a maker's and pass. Worked: ` 121/118 Q LRE` → 121, 118, Q, E.
 */
import { found, type Outcome, refused } from '../result.ts';

export interface ServiceDescription {
  readonly loadIndex?: number;
  /** In dual fitment. */
  readonly loadIndexDual?: number;
  readonly speedSymbol?: string;
  readonly loadRange?: string;
  readonly extraLoad: boolean;
}

type Service = 'passenger' | 'light-truck' | 'commercial';

const INDEX = /^(?:LI)?(\d{2,3})([A-HJ-NP-Y])?(?:[/-](\d{2,3})([A-HJ-NP-Y])?)?$/;
const RANGE = /^(?:LR)?([B-HJL-N])$/;
/** Two letters for the same: a higher load at a higher pressure. */
const EXTRA_LOAD: ReadonlySet<string> = new Set(['XL', 'EL', 'RF', 'REINFORCED', 'HL']);
/** A symbol a space away from its index; the letters that are also load ranges stay those, save on passenger tyres H. */
const SPACED_SYMBOL = / (\d{2,3}(?:\/\d{2,3})?) (H|[P-Y])(?= |$)/;
const PLIES = /(?:^| )(\d{1,2})[ -]?(?:PLY|PR)(?:[ -]RAT(?:ED|ING))?(?= |$)/;
const RANGE_WORDS = / (?:LOAD RANGE|LR):? ?([B-HJL-N])(?= |$)/;
const RANGE_RATED = / ([B-HJL-N])[ -](?:RATED|LOAD)(?= |$)/;
/** Load range by ply rating (Tire and Rim Association; from memory). */
export const RANGE_OF_PLIES: ReadonlyMap<number, string> = new Map([
  [4, 'B'],
  [6, 'C'],
  [8, 'D'],
  [10, 'E'],
  [12, 'F'],
  [14, 'G'],
  [16, 'H'],
]);
const LEAST_INDEX = 60;
const GREATEST_INDEX = 150;

const spelled = (rest: string, service: Service): string =>
  rest
    .replace(PLIES, (_, plies: string) => ` ${RANGE_OF_PLIES.get(Number(plies)) ?? ''}`)
    .replace(RANGE_WORDS, ' $1')
    .replace(RANGE_RATED, ' $1')
    .replace(SPACED_SYMBOL, (whole, index: string, symbol: string) =>
      symbol === 'H' && service !== 'passenger' ? whole : ` ${index}${symbol}`,
    );

interface Told extends ServiceDescription {
  readonly text: string;
}

/** Of two of a kind the first counts: makers add a second in brackets. */
export function describeService(rest: string, service: Service): Outcome<Told> {
  let told: Told = { extraLoad: false, text: '' };
  const add = (more: Partial<Told>, word: string): void => {
    told = { ...told, ...more, text: `${told.text} ${word}`.trim() };
  };
  const words = spelled(rest, service).trim().split(' ').filter(Boolean);
  for (const word of words) {
    const index = readIndex(word);
    const range = RANGE.exec(word)?.[1];
    if (index && told.loadIndex === undefined) add(index.told, index.text);
    else if (range && told.loadRange === undefined) add({ loadRange: range }, range);
    else if (EXTRA_LOAD.has(word) && !told.extraLoad) add({ extraLoad: true }, 'XL');
  }
  const { loadIndex, loadIndexDual, speedSymbol } = told;
  const slip = slipIn(words, told);
  if (slip !== undefined) return refused(slip);
  if (service === 'light-truck' && loadIndex !== undefined && speedSymbol !== undefined && SLOW.has(speedSymbol))
    return refused(
      `behind an index \`${speedSymbol}\` is a speed symbol for no more than 90 km/h, which no light-truck tyre for the road has; as a load range it stands by itself; did you mean \`${loadIndex} ${speedSymbol}\`?`,
    );
  if (loadIndex !== undefined && loadIndexDual !== undefined && loadIndexDual > loadIndex)
    return refused('the load index in dual fitment is never above the single one; are they swapped?');
  return found(told);
}

/** Speed symbols up to 90 km/h, which are also load ranges: in the trade `121D` is said of load range D. */
const SLOW: ReadonlySet<string> = new Set(['B', 'C', 'D', 'E', 'F', 'G']);

/** Digits and one letter, as an index with its symbol has them; a maker's number has none. */
const LIKE_INDEX = /^(?:LI)?(?:\d{2,4}(?:[/-]\d{2,4})?[A-Z]\d?|\d{3}([A-Z])\1)$/;

/** Why a word that looks like a load index cannot be one, and what was probably meant; where none was read. */
function slipIn(words: readonly string[], { loadIndex }: Told): string | undefined {
  const like = loadIndex === undefined ? words.find((word) => LIKE_INDEX.test(word)) : undefined;
  if (like === undefined) return undefined;
  const meant = nearestIndices(like).map((text) => `\`${text}\``);
  const question = meant.length > 0 ? `; did you mean ${meant.join(' or ')}?` : '';
  return `\`${like}\` is no load index with its speed symbol: indices go from ${LEAST_INDEX} to ${GREATEST_INDEX}, such as \`115T\`${question}`;
}

const MOST_NAMED = 3;

/** By one stroke of a key: one too many, two swapped, a one mistyped; those of truck tyres alone. */
function nearestIndices(word: string): string[] {
  const cuts = [...word].map((_, i) => [word.slice(0, i), word.slice(i)] as const);
  const fewer = cuts.map(([before, after]) => before + after.slice(1));
  const swapped = cuts.map(([before, after]) => `${before}${after[1] ?? ''}${after[0] ?? ''}${after.slice(2)}`);
  const ones = cuts.map(([before, after]) => `${before}${after.replace(/^\d/, '1')}`);
  return [...new Set([...fewer, ...swapped, ...ones].filter(isOfTrucks))].slice(0, MOST_NAMED);
}

/** An index with its symbol, as truck tyres have them; in pairs a tyre carries a little less. */
function isOfTrucks(text: string): boolean {
  const { loadIndex = 0, loadIndexDual = loadIndex, speedSymbol } = readIndex(text)?.told ?? {};
  return speedSymbol !== undefined && loadIndex >= 95 && loadIndex <= 132 && loadIndexDual <= loadIndex && loadIndexDual >= loadIndex - 8;
}

const isIndex = (index: number): boolean => index >= LEAST_INDEX && index <= GREATEST_INDEX;

/** `121/118Q` and `121Q/118Q` say the same. */
function readIndex(word: string): { readonly told: Partial<ServiceDescription>; readonly text: string } | undefined {
  const match = INDEX.exec(word);
  const single = Number(match?.[1]);
  const [, , first, dual, second] = match ?? [];
  if (!match || !isIndex(single) || (dual !== undefined && !isIndex(Number(dual)))) return undefined;
  const symbol = second ?? first;
  const told = { loadIndex: single, ...(dual && { loadIndexDual: Number(dual) }), ...(symbol && { speedSymbol: symbol }) };
  return { told, text: `${single}${dual ? `/${dual}` : ''}${symbol ?? ''}` };
}
