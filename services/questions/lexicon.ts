/** The words the reader knows, from `words/`: parts with what an amount beside them means, places, states, fillers. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';
import { z } from 'zod';

const words = z.array(z.string().min(1));
const attributes = z.record(z.string(), z.union([z.string(), z.boolean()]));
const Elsewhere = z.strictObject({ kind: z.string(), says: z.string(), amount: z.string().optional() });
const axle = z.strictObject({
  kind: z.string(),
  says: z.string(),
  amount: z.string().optional(),
  /** Only where the class has a part of that kind; `elsewhere` is what it is on other classes. */
  where: z.string().optional(),
  elsewhere: Elsewhere.optional(),
});
const Share = z.strictObject({ share_of: z.string(), low: z.number(), high: z.number(), why: z.string() });

const PartWord = z.strictObject({
  id: z.string(),
  says: z.string(),
  words,
  /** Words that mean the part only with an amount beside them. */
  needs_amount: words.optional(),
  /** Words that may mean another part too. */
  ambiguous: words.optional(),
  kind: z.string().optional(),
  where: z.string().optional(),
  elsewhere: Elsewhere.optional(),
  name: z.string().optional(),
  at: z.enum(['front', 'rear', 'all']).optional(),
  by_axle: z.strictObject({ front: axle, rear: axle }).optional(),
  only_unless_said: z.enum(['front', 'rear']).optional(),
  /** Words that mean the parts at both ends. */
  both: words.optional(),
  takes: z.record(z.string(), z.string()).optional(),
  bare: z.strictObject({ thousands_of: z.string(), why: z.string() }).optional(),
  replaces: z.literal('fitted').optional(),
  assume: z.record(z.string(), Share).optional(),
  /** What goes with such a part, and is told with it. */
  mind: z.strictObject({ says: z.string(), brief: z.string() }).optional(),
  /** What is wrong with it at the other axle, and the cautions of that. */
  other_axle: z.strictObject({ why: z.string(), mind: words }).optional(),
  /** The amount beside these words is what the wheel gains, not the part's own. */
  lift_words: words.optional(),
  lever: z.strictObject({ low: z.number(), high: z.number(), why: z.string() }).optional(),
  flavours: z.array(z.strictObject({ words, attributes, why: z.string().optional() })).optional(),
  mass_of: z.array(z.strictObject({ words, per: z.string(), low: z.number(), high: z.number(), why: z.string() })).optional(),
});
export type PartWord = z.infer<typeof PartWord>;

const Place = z
  .strictObject({
    words,
    name: z.string(),
    kind: z.string().optional(),
    behind_front_axle: z.string().optional(),
    behind_rear_axle: z.string().optional(),
  })
  .refine((place) => (place.behind_front_axle === undefined) !== (place.behind_rear_axle === undefined), 'behind which axle');
const Obstacle = z.strictObject({
  words,
  says: z.string(),
  also: words.optional(),
  cut_words: words.optional(),
});
const Words = z.strictObject({
  places: z.record(z.string(), Place),
  load: words,
  people: z.strictObject({ words, beside_driver: words, one: words, alone: words, two: words, family: words }),
  states: z.strictObject({
    done: words,
    none: words,
    obstacles: z.record(z.string(), Obstacle),
    gap: words,
    stock: words,
    stock_nouns: words,
    not: words,
  }),
  /** By kind of part, and for `load`: the rules that are about it, where no finding has it among its parts. */
  own_rules: z.record(z.string(), words),
  /** What is asked about by its name. */
  topics: z.array(z.strictObject({ words, rules: words })),
  /** Kinds of part of which it is asked what they may touch. */
  shapes: words,
  /** What must not come off unsaid, and the cautions it has. */
  safety: z.array(z.strictObject({ words, says: z.string(), mind: words })),
  classes: z.record(z.string(), words),
  beyond: z.array(z.strictObject({ words, why: z.string() })),
  drop: words,
  gears: words,
  offset: words,
  bore: words,
  negative: words,
  positive: words,
  asked: words,
  needed: words,
  spare: words,
  solid: words,
  wheelbase: z.strictObject({ short: words, long: words }),
  solid_classes: z.strictObject({ short: z.string(), long: z.string(), pickup: z.string() }),
  asking: words,
  describing: words,
  removing: words,
  denied: words,
  law: words,
  law_places: z.record(z.string(), words),
  backspacing: words,
  tyre_words: words,
  wheel_words: words,
  front: words,
  rear: words,
  both: words,
  kinds_of_service: words,
  separators: words,
  filler: z.string(),
  common: z.string(),
  number_words: z.record(z.string(), z.number()),
  counting: z.record(z.string(), z.number()),
  swaps: z.record(z.string(), words),
  cautions: z.record(z.string(), z.string()),
});
export type Words = z.infer<typeof Words>;
export type Place = z.infer<typeof Place>;

/** What a phrase means; one phrase may mean several things, of which the grammar takes what fits. */
export type Meaning =
  | { readonly is: 'part'; readonly part: PartWord; readonly word: string }
  | { readonly is: 'flavour'; readonly word: string }
  | { readonly is: 'place'; readonly place: Place; readonly id: string }
  | { readonly is: 'obstacle'; readonly id: string; readonly word: string }
  | { readonly is: 'topic'; readonly rules: readonly string[] }
  | { readonly is: 'safety'; readonly says: string; readonly mind: readonly string[] }
  | { readonly is: 'class'; readonly id: string }
  | { readonly is: 'beyond'; readonly why: string }
  | { readonly is: 'people'; readonly how: 'some' | 'beside-driver' | 'one' | 'alone' | 'two' | 'family' }
  | { readonly is: 'axle'; readonly at: 'front' | 'rear' | 'both' }
  | { readonly is: 'number'; readonly value: number }
  | { readonly is: 'count'; readonly value: number }
  | { readonly is: 'sign'; readonly negative: boolean }
  | { readonly is: 'wheelbase'; readonly long: boolean }
  | { readonly is: 'law-place'; readonly id: string }
  | {
      readonly is:
        | 'load'
        | 'done'
        | 'not-done'
        | 'gap'
        | 'stock'
        | 'stock-noun'
        | 'not'
        | 'drop'
        | 'gears'
        | 'offset'
        | 'bore'
        | 'asked'
        | 'needed'
        | 'spare'
        | 'solid'
        | 'removing'
        | 'denied'
        | 'law'
        | 'backspacing'
        | 'tyre'
        | 'wheel'
        | 'service'
        | 'separator'
        | 'filler';
    };

export interface Lexicon {
  readonly parts: readonly PartWord[];
  readonly words: Words;
  /** By phrase, its words parted by one space and each without a plural s. */
  readonly phrases: ReadonlyMap<string, readonly Meaning[]>;
  /** Words in the longest phrase. */
  readonly longest: number;
  /** Single words long enough that one typed a little wrong is still surely meant. */
  readonly spellings: readonly string[];
  /** Those of them that are typed without their vowels, `lvl`, `bmpr`: where but one is meant. */
  readonly unvowelled: ReadonlyMap<string, string>;
  /** Every word of every phrase. */
  readonly vocabulary: ReadonlySet<string>;
}

const LEAST_SPELLING = 5;

/** `coil-overs`, `Coil Over`: hyphens part words, a plural s is left off. */
export const normalPhrase = (words: string): string => words.toLowerCase().replaceAll('-', ' ').split(/\s+/).map(singular).join(' ');

/** `batteries`, `winches`, `boxes`, `tyres`. */
export function singular(word: string): string {
  if (word.length > 4 && word.endsWith('ies')) return `${word.slice(0, -3)}y`;
  if (word.length > 5 && /(?:ch|sh|x|ss)es$/.test(word)) return word.slice(0, -2);
  return word.length > 3 && word.endsWith('s') && !word.endsWith('ss') ? word.slice(0, -1).replace(/'$/, '') : word;
}

const folder = fileURLToPath(new URL('./words', import.meta.url));
const read = (file: string): unknown => parse(readFileSync(join(folder, file), 'utf8'));

/** Reads the words once; a fault in the files is thrown at start. */
export function loadLexicon(): Lexicon {
  const parts = z.array(PartWord).parse(read('parts.yaml'));
  const all = Words.parse(read('words.yaml'));
  const phrases = new Map<string, Meaning[]>();
  const add = (typed: readonly string[], meaning: (word: string) => Meaning): void => {
    for (const word of typed) {
      const key = normalPhrase(word);
      phrases.set(key, [...(phrases.get(key) ?? []), meaning(word)]);
    }
  };
  for (const part of parts) {
    add(part.words, (word) => ({ is: 'part', part, word }));
    for (const { words: typed } of part.flavours ?? []) add(typed, (word) => ({ is: 'flavour', word }));
  }
  addWords(all, add);
  const longest = Math.max(...[...phrases.keys()].map((phrase) => phrase.split(' ').length));
  const single = new Set([...phrases.keys()].flatMap((phrase) => phrase.split(' ')));
  // Words of plain talk are told from names, and are nothing that another word could be misspelt for.
  const common = all.common
    .split(/\s+/)
    .map(singular)
    .filter((word) => word !== '' && !phrases.has(word));
  add(common, () => ({ is: 'filler' }));
  const spellings = [...single].filter(({ length }) => length >= LEAST_SPELLING).sort();
  return {
    parts,
    words: all,
    phrases,
    longest,
    vocabulary: new Set([...single, ...common]),
    spellings,
    unvowelled: withoutVowels(spellings),
  };
}

const LEAST_CONSONANTS = 3;

function withoutVowels(spellings: readonly string[]): ReadonlyMap<string, string> {
  const meant = new Map<string, string[]>();
  for (const word of spellings) {
    const short = word.replace(/(?<=.)[aeiou](?=.)/g, '');
    if (short !== word && short.length >= LEAST_CONSONANTS) meant.set(short, [...(meant.get(short) ?? []), word]);
  }
  return new Map(
    [...meant].flatMap(([short, [word, another]]) => (word !== undefined && another === undefined ? [[short, word] as const] : [])),
  );
}

function addWords(all: Words, add: (typed: readonly string[], meaning: (word: string) => Meaning) => void): void {
  for (const [id, place] of Object.entries(all.places)) add(place.words, () => ({ is: 'place', place, id }));
  for (const [id, { words: typed }] of Object.entries(all.states.obstacles)) add(typed, (word) => ({ is: 'obstacle', id, word }));
  for (const { words: typed, rules } of all.topics) add(typed, () => ({ is: 'topic', rules }));
  for (const { words: typed, says, mind } of all.safety) add(typed, () => ({ is: 'safety', says, mind }));
  for (const [id, typed] of Object.entries(all.classes)) add([id.replaceAll('_', ' '), ...typed], () => ({ is: 'class', id }));
  for (const [id, typed] of Object.entries(all.law_places)) add(typed, () => ({ is: 'law-place', id }));
  for (const { words: typed, why } of all.beyond) add(typed, () => ({ is: 'beyond', why }));
  for (const [word, value] of Object.entries(all.number_words)) add([word], () => ({ is: 'number', value }));
  for (const [word, value] of Object.entries(all.counting)) add([word], () => ({ is: 'count', value }));
  const { people, states } = all;
  add(people.words, (word) => ({ is: 'people', how: people.beside_driver.includes(word) ? 'beside-driver' : 'some' }));
  for (const how of ['one', 'alone', 'two', 'family'] as const) add(people[how], () => ({ is: 'people', how }));
  for (const which of ['negative', 'positive'] as const) add(all[which], () => ({ is: 'sign', negative: which === 'negative' }));
  for (const at of ['front', 'rear', 'both'] as const) add(all[at], () => ({ is: 'axle', at }));
  for (const which of ['short', 'long'] as const) add(all.wheelbase[which], () => ({ is: 'wheelbase', long: which === 'long' }));
  const plain = {
    load: all.load,
    done: states.done,
    'not-done': states.none,
    gap: states.gap,
    stock: states.stock,
    'stock-noun': states.stock_nouns,
    not: states.not,
    drop: all.drop,
    gears: all.gears,
    offset: all.offset,
    bore: all.bore,
    asked: all.asked,
    needed: all.needed,
    spare: all.spare,
    solid: all.solid,
    removing: all.removing,
    denied: all.denied,
    law: all.law,
    backspacing: all.backspacing,
    tyre: all.tyre_words,
    wheel: all.wheel_words,
    service: all.kinds_of_service,
    separator: all.separators,
    filler: all.filler.split(/\s+/).filter(Boolean),
  } as const;
  for (const [is, typed] of Object.entries(plain)) add(typed, () => ({ is: is as keyof typeof plain }));
}
