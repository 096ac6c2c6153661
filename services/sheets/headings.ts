/** What a heading means: the dictionary of `rules/sheets/headings.yaml`, then the library's own quantities, kinds and attributes. */
import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { editDistance } from '../engine/diagnostics.ts';
import type { Library, Signature } from '../engine/tree.ts';
import { type Dimension, findUnit } from '../units/index.ts';
import { attributesOf } from '../vehicle/library-view.ts';
import type { PlaceInput } from '../vehicle/request.ts';

export interface PartTarget {
  readonly is: 'part';
  readonly kind: string;
  readonly at?: PlaceInput;
  readonly replaces?: string;
  /** Whose value the cell has; without one the cell says whether the part is there, or what size it is. */
  readonly attribute?: string;
  readonly form?: 'designation' | 'rim-and-offset';
  /** The unit of `12k` where no other is said. */
  readonly thousands?: string;
  /** Another part that the same cell speaks of. */
  readonly with?: Omit<PartTarget, 'is' | 'with' | 'form'>;
}

export type Target =
  | { readonly is: 'build' | 'vehicle' | 'class' | 'people' | 'speed' | 'parts' | 'kind' | 'item' | 'place' | 'replaces' | 'ours' }
  | { readonly is: 'load'; readonly field: 'mass' | 'behind_front_axle' }
  | PartTarget
  | { readonly is: 'attribute'; readonly attribute: string }
  | { readonly is: 'value'; readonly quantity: string; readonly place?: string }
  | { readonly is: 'reading'; readonly quantity: string; readonly of?: string };

/** How a table's rows are meant: each a build, or each a part of the build it names. */
export type RowsAre = 'build' | 'part';

interface Known {
  readonly target: Target;
  readonly unit?: string;
  readonly rows?: RowsAre;
}

export interface Meaning {
  readonly target: Target;
  /** Of bare numbers in the column, as it was written or as the heading implies. */
  readonly unit?: string;
}

export interface Headings {
  /** Nothing when the heading says nothing we know. */
  mean(heading: string, rows: RowsAre): Meaning | undefined;
  /** The heading of the dictionary that a longer one, not known, is spelt much like. */
  near(heading: string): string | undefined;
  /** A heading of the dictionary of the part or load that one which is not known speaks of. */
  like(heading: string): string | undefined;
  /** The unit in a heading's brackets, whatever else it says. */
  unitIn(heading: string): string | undefined;
  /** Where a load lies of which only the mass is said. */
  readonly loadPlace: { readonly name: string; readonly behind_rear_axle: string };
  /** The kind of part that somebody calls so, with where it goes. */
  kindOf(word: string): PartTarget | undefined;
  readonly none: ReadonlySet<string>;
  readonly some: ReadonlySet<string>;
  /** What stands before a row of sums. */
  readonly totals: ReadonlySet<string>;
  /** What a note begins with. */
  readonly notes: ReadonlySet<string>;
  /** The dictionary, for whoever asks what is known. */
  readonly list: readonly HeadingWords[];
}

export interface HeadingWords {
  readonly words: readonly string[];
  readonly read_as: string;
  readonly unit?: string;
  readonly rows?: RowsAre;
}

type Entry = { readonly words: readonly string[]; readonly unit?: string; readonly rows?: RowsAre } & Record<string, unknown>;

interface DictionaryFile {
  readonly spellings: Readonly<Record<string, string>>;
  readonly columns: readonly Entry[];
  readonly none: readonly string[];
  readonly some: readonly string[];
  readonly totals: readonly string[];
  readonly notes: readonly string[];
  readonly load_place: Headings['loadPlace'];
  readonly telling: readonly string[];
  readonly aside: readonly string[];
}

export const OURS = [
  'verdict',
  'controlling item',
  'margin',
  'margin ±',
  'margin unit',
  'hours low',
  'hours likely',
  'hours high',
  'added mass front',
  'added mass rear',
  'current added',
  'conflicts',
  'next measurement',
  'row fault',
  'remarks',
] as const;

export function readHeadings(file: string, library: Library): Headings {
  const { spellings, columns, none, some, totals, notes, load_place, telling, aside } = parse(readFileSync(file, 'utf8')) as DictionaryFile;
  const plain = (text: string): string => plainWords(text, spellings).join(' ');
  const known = new Map<string, Known[]>();
  const add = (words: string, entry: Known): void => {
    known.set(plain(words), [...(known.get(plain(words)) ?? []), entry]);
  };
  for (const { words, unit, rows, ...target } of columns)
    for (const word of words)
      add(word, { target: target as unknown as Target, ...(unit !== undefined && { unit }), ...(rows && { rows }) });
  for (const name of OURS) add(name, { target: { is: 'ours' } });
  const kinds = kindWords(columns, library, plain);
  for (const [words, target] of libraryWords(library)) if (!known.has(plain(words))) add(words, { target });

  const find = (words: readonly string[], rows: RowsAre): Known | undefined => {
    const found = known.get(words.join(' '));
    return found?.find((entry) => entry.rows === rows) ?? found?.find((entry) => entry.rows === undefined);
  };
  /** With `front`, `rear` and the sides taken out, for what takes a place. */
  const placed = (words: readonly string[], rows: RowsAre): Known | undefined => {
    const place = placeIn(words);
    const found =
      place &&
      find(
        words.filter((word) => !PLACE_WORDS.has(word)),
        rows,
      );
    if (!place || !found) return undefined;
    const { target } = found;
    if (target.is === 'value' && target.place === undefined && library.quantities.get(target.quantity)?.per.length === 1)
      return { ...found, target: { ...target, place } };
    return target.is === 'part' && target.at === 'all' ? { ...found, target: { ...target, at: place } } : undefined;
  };
  const signature = (target: Target): Signature | undefined => signatureOf(target, library);
  const fits = (unit: string, target: Target): boolean => {
    const dimension = dimensionOf(signature(target));
    return dimension !== undefined && findUnit(unit, dimension)?.dimension === dimension;
  };
  return {
    mean(heading, rows) {
      const { title, bracketed } = splitHeading(heading);
      const reading = readingOf(title, library, plain);
      if (reading) return withUnit({ target: reading }, bracketed, fits);
      const words = plainWords(title, spellings);
      const found = find(words, rows) ?? placed(words, rows);
      if (found) return withUnit(found, bracketed, fits);
      // A unit may stand at the end without brackets, and what stands in brackets need be none.
      const last = words.at(-1) ?? '';
      const short = words.slice(0, -1);
      const before = find(short, rows) ?? placed(short, rows);
      if (before && fits(last, before.target)) return withUnit(before, last, fits);
      const whole = plainWords(heading, spellings);
      const wide = bracketed === undefined ? undefined : (find(whole, rows) ?? placed(whole, rows));
      return wide && withUnit(wide, undefined, fits);
    },
    near(heading) {
      const typed = plain(splitHeading(heading).title);
      if (typed.length < LEAST_NEAR) return undefined;
      const words = columns.flatMap((column) => column.words);
      return words.find((word) => word[0] === heading.trim().toLowerCase()[0] && editDistance(plain(word), typed) <= MOST_OFF);
    },
    like(heading) {
      const typed = plainWords(splitHeading(heading).title, spellings);
      const told = typed.some((word) => aside.includes(word)) ? undefined : typed.find((word) => telling.includes(word));
      if (told === undefined) return undefined;
      const words = columns.filter(({ rows }) => rows === undefined).flatMap((column) => column.words);
      return words.find((word) => plainWords(word, spellings).includes(told));
    },
    unitIn: (heading) => splitHeading(heading).bracketed,
    loadPlace: load_place,
    kindOf: (word) => kinds.get(plain(word)),
    list: columns.map(({ words, unit, rows, ...target }) => ({
      words,
      read_as: wordsFor(target as unknown as Target),
      ...(unit !== undefined && { unit }),
      ...(rows && { rows }),
    })),
    none: new Set(none),
    some: new Set(some),
    totals: new Set(totals),
    notes: new Set(notes),
  };
}

/** Shorter ones are like too many: `year` and `gear`. */
const LEAST_NEAR = 6;
const MOST_OFF = 2;
const PLACE_WORDS = new Set(['front', 'rear', 'left', 'right', 'fr', 'rr']);

function placeIn(words: readonly string[]): PlaceInput | undefined {
  const end = words.some((word) => word === 'front' || word === 'fr')
    ? 'front'
    : words.some((word) => word === 'rear' || word === 'rr')
      ? 'rear'
      : undefined;
  const side = words.includes('left') ? 'left' : words.includes('right') ? 'right' : undefined;
  if (end === undefined) return undefined;
  return side === undefined ? end : `${end}-${side}`;
}

/** Lower case, without punctuation and the s of a plural, in the spelling of the dictionary. */
function plainWords(text: string, spellings: Readonly<Record<string, string>>): string[] {
  return text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}±%°"]+/gu, ' ')
    .trim()
    .split(' ')
    .map((word) => {
      const spelt = spellings[word] ?? word;
      const single = spelt.length > 3 && /[^su]s$/.test(spelt) ? spelt.slice(0, -1) : spelt;
      return spellings[single] ?? single;
    });
}

function splitHeading(heading: string): { title: string; bracketed?: string } {
  const found = /^(.*?)\s*(?:\[([^[\]]+)\]|\(([^()]+)\))\s*$/.exec(heading.trim());
  const bracketed = (found?.[2] ?? found?.[3])?.trim();
  if (!found || bracketed === undefined || found[1] === '') return { title: heading };
  // `tyre_gap(cab-mounts)` names what it is of.
  return findUnit(bracketed) ? { title: found[1] as string, bracketed } : { title: heading };
}

function withUnit(
  { target, unit }: { target: Target; unit?: string },
  written: string | undefined,
  fits: (unit: string, target: Target) => boolean,
): Meaning | undefined {
  if (written === undefined) return { target, ...(unit !== undefined && { unit }) };
  return fits(written, target) ? { target, unit: written } : undefined;
}

/** `tyre_gap of cab-mounts`, `tyre_gap(cab-mounts)`, `hose_route @ front-hoses`, `measured wheelbase`. */
function readingOf(heading: string, library: Library, plain: (text: string) => string): Target | undefined {
  const quantityOf = (text: string): string | undefined =>
    [...library.quantities.values()].find(
      ({ name, title, comes, measure }) =>
        (comes !== 'computed' || measure !== undefined) && (plain(name) === plain(text) || plain(title) === plain(text)),
    )?.name;
  const asked = /^(?:measured\s+)?(.+?)(?:\s*@\s*|\s+of\s+|\s*\(\s*)([\w@.-]+)\s*\)?$/i.exec(heading.trim());
  const named = asked ? quantityOf(asked[1] as string) : undefined;
  if (asked && named !== undefined) return { is: 'reading', quantity: named, of: asked[2] as string };
  const measured = /^measured\s+(.+)$/i.exec(heading.trim());
  const quantity = measured ? quantityOf(measured[1] as string) : undefined;
  return quantity ? { is: 'reading', quantity } : undefined;
}

function* libraryWords(library: Library): Generator<[string, Target]> {
  for (const { name, title, per, comes } of library.quantities.values()) {
    if (comes === 'computed' || comes === 'state' || per.some(({ is }) => is === 'part') || per.length > 1) continue;
    const target: Target = { is: 'value', quantity: name };
    yield [name, target];
    yield [title, target];
  }
  for (const { id, title, abstract } of library.kinds.values()) {
    if (abstract) continue;
    yield [id, { is: 'part', kind: id }];
    yield [title, { is: 'part', kind: id }];
    for (const [attribute, { attribute: signature }] of attributesOf(library, id))
      for (const kind of new Set([id, title]))
        for (const word of new Set([attribute, signature.title])) yield [`${kind} ${word}`, { is: 'part', kind: id, attribute }];
  }
}

/** Words of the dictionary's columns of parts, of the library's kinds, and the place and replacing that go with them. */
function kindWords(columns: readonly Entry[], library: Library, plain: (text: string) => string): ReadonlyMap<string, PartTarget> {
  const found = new Map<string, PartTarget>();
  const usual = new Map<string, PartTarget>();
  for (const { words, unit: _, ...target } of columns as readonly (Entry & PartTarget)[]) {
    if (target.is !== 'part') continue;
    const { kind, at, replaces } = target;
    const part: PartTarget = { is: 'part', kind, ...(at && { at }), ...(replaces && { replaces }) };
    if (!usual.has(kind)) usual.set(kind, part);
    for (const word of words) if (!found.has(plain(word)) && target.with === undefined) found.set(plain(word), part);
  }
  for (const { id, title } of library.kinds.values())
    for (const word of [id, title]) if (!found.has(plain(word))) found.set(plain(word), usual.get(id) ?? { is: 'part', kind: id });
  return found;
}

/** What a column was taken for, in words. */
export function wordsFor(target: Target): string {
  switch (target.is) {
    case 'part': {
      const of = [target, ...(target.with ? [target.with] : [])].map(
        ({ kind, at, attribute }) => `${kind}${at ? ` at ${at}` : ''}${attribute ? `: ${attribute}` : ''}`,
      );
      return `part ${of.join(', and ')}`;
    }
    case 'attribute':
      return `the part's ${target.attribute}`;
    case 'value':
      return `${target.quantity}${target.place ? ` at ${target.place}` : ''}`;
    case 'reading':
      return `reading of ${target.quantity}${target.of ? ` of ${target.of}` : ''}`;
    case 'load':
      return `load: ${target.field}`;
    default:
      return target.is;
  }
}

export function signatureOf(target: Target, library: Library): Signature | undefined {
  switch (target.is) {
    case 'part':
      return target.attribute === undefined ? undefined : attributesOf(library, target.kind).get(target.attribute)?.attribute;
    case 'attribute':
      return [...library.kinds.values()].map(({ attributes }) => attributes.get(target.attribute)).find((found) => found !== undefined);
    case 'value':
    case 'reading':
      return library.quantities.get(target.quantity);
    case 'speed':
      return library.quantities.get('top_speed');
    case 'load':
      return library.kinds.get('part')?.attributes.get(target.field);
    default:
      return undefined;
  }
}

const dimensionOf = (signature: Signature | undefined): Dimension | undefined =>
  signature?.type.is === 'number' ? signature.type.dimension : undefined;
