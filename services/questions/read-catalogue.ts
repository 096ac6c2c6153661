/** Parts of the catalogue, named by their ids (`orrisbeck-trail-265`) or by their names, which may be spelt a little wrong. */
import type { Library } from '../engine/index.ts';
import type { PartInput, PlaceInput } from '../vehicle/index.ts';
import { type Lexicon, normalPhrase, type PartWord, singular } from './lexicon.ts';
import { isRefusedBefore } from './read-refusals.ts';
import { likeness, type Run } from './read-vehicle.ts';
import type { Notes } from './reading.ts';
import { plainText } from './tidy.ts';

/** An entry of the catalogue. */
export interface NamedPart {
  readonly id: string;
  readonly name: string;
  readonly kind: string;
}

const ID = /(?<![\p{L}\p{N}-])[\p{L}\p{N}]{1,40}(?:[-_][\p{L}\p{N}]{1,40}){1,8}(?![\p{L}\p{N}-])/gu;
const MOST_IDS = 20;

/** Words that have the form of an id, and may be one. */
export const idsIn = (typed: string): string[] =>
  [...new Set([...plainText(typed).matchAll(ID)].map(([id]) => id).filter((id) => /\p{L}{2}/u.test(id)))].slice(0, MOST_IDS);

/** Puts the parts named into the build, and gives the places in the text that name them. */
export function readCatalogueParts(
  text: string,
  parts: readonly NamedPart[],
  { parts: words, words: all }: Lexicon,
  library: Library,
  notes: Notes,
): { readonly start: number; readonly end: number }[] {
  const byId = new Map(parts.map((part) => [part.id.toLowerCase(), part]));
  return [...text.matchAll(ID)].flatMap((match) => {
    const part = byId.get(match[0]);
    const axles = part && placesOf(part.kind, words, library);
    if (!part || !axles) return [];
    const span = { start: match.index, end: match.index + match[0].length };
    if (isRefusedBefore(text, span.start, all)) putRefused(part, span, notes);
    else putPart(part, axles, span, notes);
    return [span];
  });
}

interface Span {
  readonly start: number;
  readonly end: number;
}

function putPart(part: NamedPart, axles: readonly (PlaceInput | undefined)[], span: Span, notes: Notes): void {
  const puts = axles.map((at): PartInput => ({ from: 'catalogue', part: part.id, ...(at && { at }), replaces: 'fitted' }));
  notes.kinds.set(part.id, part.kind);
  notes.pieces.push({
    ...span,
    as: part.kind === 'tyre' || part.kind === 'wheel' ? part.kind : 'part',
    says: part.name,
    puts: { parts: puts },
  });
}

const putRefused = (part: NamedPart, span: Span, notes: Notes): void =>
  void notes.pieces.push({ ...span, as: 'state', says: `no ${part.name}` });

interface Word extends Span {
  readonly word: string;
}

/** A part of the catalogue that a clause names, and the words that do. */
interface Match {
  readonly part: NamedPart;
  readonly words: readonly Word[];
  readonly exact: boolean;
}

/** What stands beside a run of unknown words, up to the next comma: there the rest of a name is. */
export function clauseAround(text: string, { words }: Run): Span {
  const [from, to] = [words[0]?.start ?? 0, words.at(-1)?.end ?? 0];
  const before = Math.max(
    from - REACH,
    ...[...text.slice(Math.max(0, from - REACH), from).matchAll(BREAK)].map(
      (each) => Math.max(0, from - REACH) + each.index + each[0].length,
    ),
  );
  const after = BREAK_ONCE.exec(text.slice(to, to + REACH));
  return { start: Math.max(0, before), end: after ? to + after.index : Math.min(text.length, to + REACH) };
}

const REACH = 60;
const BREAK = /[,;&+?!|]|\.(?= |$)|(?<!\p{L})(?:and|plus|with|on|w)(?!\p{L})/gu;
const BREAK_ONCE = new RegExp(BREAK.source, 'u');
/** A number stands apart from the unit it is written together with. */
const WORD = /\d+(?:\.\d+)?(?=(?:kn|mm|kg|in|lb)(?![\p{L}\d]))|[\p{L}\p{N}][\p{L}\p{N}./-]*/gu;

const wordsIn = (text: string, from = 0): Word[] =>
  [...text.matchAll(WORD)].map((match) => ({
    word: match[0].replace(/[./-]+$/, ''),
    start: from + match.index,
    end: from + match.index + match[0].length,
  }));

/** Puts parts that are named by their names into the build; several that are named as well are none. */
export function readNamedParts(
  text: string,
  runs: readonly Run[],
  found: (run: Run) => readonly NamedPart[],
  { parts: words, words: all }: Lexicon,
  library: Library,
  notes: Notes,
): Span[] {
  // What it is need not be said where whose and which it is are: `Thwaitesgill Prow` is a bumper.
  const plain = new Set([
    ...AXLES,
    ...words
      .flatMap((word) => [...word.words, ...(word.flavours ?? []).flatMap((each) => each.words)])
      .flatMap((typed) => normalPhrase(typed).split(' ')),
  ]);
  const describes = (word: string): boolean => plain.has(plainWord(word));
  const taken: Span[] = [];
  for (const run of runs) {
    if (taken.some(({ start }) => run.words.some((word) => word.start === start))) continue;
    const clause = clauseAround(text, run);
    const said = wordsIn(text.slice(clause.start, clause.end), clause.start).filter(
      (word) => !taken.some(({ start }) => start === word.start),
    );
    const matches = found(run)
      .flatMap((part) => matchOf(part, said, run, describes) ?? [])
      .sort((a, b) => b.words.length - a.words.length || (a.part.id < b.part.id ? -1 : 1));
    const [best, ...others] = matches;
    if (!best) continue;
    const rivals = others.filter((other) => other.words.length === best.words.length);
    if (rivals.length > 0) {
      const names = [best, ...rivals].slice(0, MOST_TOLD).map(({ part }) => part.name);
      notes.assume(`${names.join(', ')}: which of them was not said, so none was taken`, true, 'which of the catalogue’s was not said');
      // The maker is known; what is said of the part is still read.
      taken.push(...run.words.filter(({ start }) => best.words.some((word) => word.start === start)));
      continue;
    }
    const axles = placesOf(best.part.kind, words, library);
    if (!axles) continue;
    const span = { start: Math.min(...best.words.map(({ start }) => start)), end: Math.max(...best.words.map(({ end }) => end)) };
    taken.push(...best.words);
    if (isRefusedBefore(text, span.start, all)) {
      putRefused(best.part, span, notes);
      continue;
    }
    putPart(best.part, axles, span, notes);
    if (!best.exact) notes.assume(`“${best.part.name}” of the catalogue was taken`, true, best.part.name);
  }
  return taken;
}

const MOST_TOLD = 4;
const ENOUGH = 0.55;

/** Every word of the name but plain ones and one more is said, two at the least, and no figure that says otherwise. */
function matchOf(part: NamedPart, said: readonly Word[], run: Run, describes: (word: string) => boolean): Match | undefined {
  const name = wordsIn(plainText(part.name)).map(({ word }) => word);
  const left = [...said];
  const words: Word[] = [];
  const missing: string[] = [];
  let exact = true;
  for (const wanted of name) {
    const at = nearest(wanted, left);
    const [word] = at === undefined ? [] : left.splice(at, 1);
    if (word) words.push(word);
    else missing.push(wanted);
    exact &&= word !== undefined && likenessOf(wanted, word.word) === 1;
  }
  if (!run.words.some(({ start }) => words.some((word) => word.start === start))) return undefined;
  if (missing.filter((word) => /^\p{L}{3,}/u.test(word) && !describes(word)).length > 1) return undefined;
  if (words.length < Math.min(2, name.length)) return undefined;
  const said_otherwise = missing.some((word) => /\d/.test(word) && left.some((other) => shape(other.word) === shape(word)));
  return said_otherwise ? undefined : { part, words, exact };
}

const AXLES = new Set(['front', 'rear']);
/** `17x8.5` and `17x9` are figures of one form. */
const shape = (word: string): string => word.replace(/\d+(?:\.\d+)?/g, '9');

function nearest(wanted: string, among: readonly Word[]): number | undefined {
  const scored = among.map(({ word }, i) => ({ i, like: likenessOf(wanted, word) })).filter(({ like }) => like >= ENOUGH);
  return scored.sort((a, b) => b.like - a.like || a.i - b.i)[0]?.i;
}

const plainWord = (word: string): string => singular(word.replaceAll('-', ''));

function likenessOf(wanted: string, word: string): number {
  const [a, b] = [plainWord(wanted), plainWord(word)];
  if (a === b) return 1;
  return /\d/.test(a + b) || Math.min(a.length, b.length) < LEAST_LIKE ? 0 : likeness(a, b);
}

const LEAST_LIKE = 4;

/** All corners, the axle the kind is for, or the vehicle; nothing where the kind does not say at which axle. */
function placesOf(kind: string, words: readonly PartWord[], library: Library): readonly (PlaceInput | undefined)[] | undefined {
  const fits = library.kinds.get(kind)?.fits;
  if (fits === 'vehicle') return [undefined];
  if (fits === 'corner') return [kind === 'brake_hose' ? 'front' : 'all'];
  const known = words.find((word) => word.kind === kind && word.at);
  if (known?.at) return [known.at];
  const axle = (['front', 'rear'] as const).find((at) => words.some((word) => word.by_axle?.[at].kind === kind));
  return axle ? [axle] : undefined;
}
