/** From a question as typed to the request of an ordinary check: what was understood, what was assumed, what was not understood. */
import type { Library } from '../engine/index.ts';
import { parseDesignation } from '../models/tyres/designation.ts';
import type { CheckRequest, PartInput } from '../vehicle/index.ts';
import { itemsOf, Line, type Slip } from './items.ts';
import { isBareClass } from './judge.ts';
import { leftOver } from './left-over.ts';
import type { Lexicon } from './lexicon.ts';
import { buildOf, unitsOf } from './put-together.ts';
import { kindsOf, stockOf, type Vehicle, vehicleOf } from './question-vehicle.ts';
import { type NamedPart, readCatalogueParts, readNamedParts } from './read-catalogue.ts';
import { readLoads, readPeople, readSpeed } from './read-loads.ts';
import { readParts } from './read-parts.ts';
import { readTyres, readWheels, tidyNumber } from './read-sizes.ts';
import { readCuts, readGaps, readGears, readLaw, readStock, readTakenOff, readTopics } from './read-states.ts';
import { type NamedVehicle, type Run, settleVehicle, unknownRuns } from './read-vehicle.ts';
import { type Assumption, Notes, type Piece, type Stock } from './reading.ts';
import { echoOf, plainText } from './tidy.ts';
import { tokensOf } from './tokens.ts';

export interface Understood {
  /** As typed, made harmless. */
  readonly text: string;
  readonly as: Piece['as'];
  readonly says: string;
}

export interface Reading {
  readonly understood: readonly Understood[];
  /** Names beside parts and sizes, of makers or lines that are not in the catalogue: left out. */
  readonly names_ignored: readonly string[];
  readonly not_understood: readonly { readonly text: string; readonly why: string }[];
  /** Words taken for others that are spelt much like them. */
  readonly spelling: readonly { readonly text: string; readonly as: string }[];
}

export interface Question {
  readonly reading: Reading;
  readonly assumptions: readonly Assumption[];
  /** Absent when nothing was understood that a check could be about. */
  readonly build?: CheckRequest;
  readonly units: 'metric' | 'us';
  /** How the vehicle is known: named or described, by a class that was said, or by one that was assumed. */
  readonly vehicle: 'named' | 'class' | 'assumed';
  readonly vehicleInput: CheckRequest['vehicle'];
  /** Whether it is lawful is asked. */
  readonly asksLaw?: boolean;
  /** Kinds of part that are said to stay as they came. */
  readonly keeps?: readonly string[];
  /** Of the planned parts that are of the catalogue, by the id they have there. */
  readonly kinds?: ReadonlyMap<string, string>;
  /** Values of planned parts that were left out and are taken as the class has them, `rim_width(asked-wheel)`. */
  readonly standIns?: readonly string[];
  /** What to mind of parts that are to come off. */
  readonly cautions?: readonly string[];
  /** Rules that answer what is asked by its name. */
  readonly askedRules?: readonly string[];
  /** A load or people are all that is asked about. */
  readonly asksLoad?: boolean;
  /** Ids of the planned parts and names of loads, what is asked about first: `with a fridge on board, will 285/70R17 fit`. */
  readonly focus?: readonly string[];
}

/** Words of the question that may be a vehicle's name, to be looked up. */
export function namesIn(text: string, lexicon: Lexicon): Run[] {
  return unknownRuns(itemsOf(tokensOf(classesAsWords(plainText(text), lexicon)), lexicon));
}

/** `solid_axle_long`, the id of a class, is a phrase of its words. */
const classesAsWords = (text: string, { words }: Lexicon): string =>
  Object.keys(words.classes).reduce((all, id) => all.replaceAll(id, id.replaceAll('_', ' ')), text);

export interface Asked {
  readonly text: string;
  /** Given beside the text; wins over what the text says. */
  readonly vehicle?: CheckRequest['vehicle'];
  /** Class of the vehicle given, where it is one of the catalogue. */
  readonly vehicleClass?: string;
  readonly units?: 'metric' | 'us';
  /** Law packs to hold it against. */
  readonly jurisdictions?: readonly string[];
  /** Parts of the catalogue among the ids that the text has. */
  readonly parts?: readonly NamedPart[];
  /** Parts of the catalogue for each run of unknown words. */
  foundParts?(run: Run): readonly NamedPart[];
  /** Entries of the catalogue for each run of unknown words. */
  found(run: Run): readonly NamedVehicle[];
}

/** Reads a question. Pure: the same text, words and catalogue give the same reading. */
export function readQuestion(asked: Asked, lexicon: Lexicon, library: Library): Question {
  const text = classesAsWords(plainText(asked.text), lexicon);
  const tokens = tokensOf(text);
  const notes = new Notes();
  const named = readCatalogueParts(text, asked.parts ?? [], lexicon, library, notes);
  const within = (spans: readonly { start: number; end: number }[]): number[] =>
    tokens.filter(({ start }) => spans.some((span) => start >= span.start && start < span.end)).map(({ start }) => start);
  const byId = within(named);
  const runs = unknownRuns(itemsOf(tokens, lexicon, new Set(byId)));
  const meant = asked.vehicle ? undefined : settleVehicle(runs, asked.found, new Set(lexicon.words.describing));
  const settled = meant?.is === 'one' ? meant.settled : undefined;
  const others = runs.filter(({ words }) => !words.some(({ start }) => settled?.taken.includes(start)));
  const byName = readNamedParts(text, others, (run) => asked.foundParts?.(run) ?? [], lexicon, library, notes);
  const taken = [...byId, ...within(byName), ...(meant?.is === 'several' ? meant.taken : [])];
  const slips: Slip[] = [];
  const line = new Line(itemsOf(tokens, lexicon, new Set([...taken, ...(settled?.taken ?? [])]), slips));
  if (meant?.is === 'several')
    notes.assume(`${meant.names.join(', ')}: which of them was not said, so none was taken`, true, 'no vehicle taken');
  const vehicle = vehicleOf(asked, settled, line, notes, lexicon, library);
  readAll(line, text, notes, lexicon, library, vehicle);
  const build = buildOf(notes, vehicle, asked, tokens, library);
  const left = leftOver(line, text, notes);
  const said = new Set(
    slips.filter(({ typed }) =>
      line.items.some(({ token, used }) => used && token.is === 'word' && text.slice(token.start, token.end) === typed),
    ),
  );
  return {
    reading: {
      understood: [...notes.pieces]
        .sort((a, b) => a.start - b.start)
        .map(({ start, end, as, says }) => ({ text: echoOf(text.slice(start, end)), as, says })),
      names_ignored: left.names,
      not_understood: left.missed,
      spelling: [...said].map(({ typed, meant }) => ({ text: echoOf(typed), as: meant })),
    },
    ...build,
    // Of a text that asks nothing nothing is assumed.
    assumptions: build.build ? notes.assumptions : [],
    units: asked.units ?? unitsOf(tokens, notes),
    vehicle: vehicle.known,
    vehicleInput: vehicle.input,
    ...(notes.asked.size > 0 && { askedRules: [...notes.asked] }),
    ...(isOfLoad(notes) && { asksLoad: true }),
    ...(notes.asksLaw && { asksLaw: true }),
    ...(notes.kinds.size > 0 && { kinds: notes.kinds }),
    ...(notes.keeps.size > 0 && { keeps: [...notes.keeps] }),
    ...(notes.standIns.size > 0 && { standIns: [...notes.standIns] }),
    ...(notes.cautions.size > 0 && { cautions: [...notes.cautions] }),
    focus: [...focusOf(build.build?.parts ?? [], line, notes, lexicon), ...(build.build?.load?.items ?? []).map(({ name }) => name)],
  };
}

const OTHER_THAN_LOAD: ReadonlySet<Piece['as']> = new Set(['tyre', 'wheel', 'part', 'gears', 'measured']);
const isOfLoad = (notes: Notes): boolean =>
  (notes.has('load') || notes.has('people')) && !notes.pieces.some(({ as }) => OTHER_THAN_LOAD.has(as));

/** What stands in the clause that asks, then tyres and wheels, then all else in the order it was said. */
function focusOf(parts: readonly PartInput[], line: Line, notes: Notes, { words }: Lexicon): string[] {
  const clauses = askingClauses(line, new Set(words.asking));
  const kindOf = (part: PartInput): string => (part.from === 'inline' ? part.kind : (notes.kinds.get(part.part) ?? ''));
  const said = new Map<string, number>();
  for (const { start, as, puts } of notes.pieces)
    for (const part of puts?.parts ?? []) {
      const asked = clauses.some((clause) => start >= clause.start && start < clause.end);
      const order = (asked ? 0 : as === 'tyre' || as === 'wheel' ? 1 : 2) * MOST_LETTERS + start;
      said.set(kindOf(part), Math.min(order, said.get(kindOf(part)) ?? Number.POSITIVE_INFINITY));
    }
  const order = (part: PartInput): number => said.get(kindOf(part)) ?? Number.POSITIVE_INFINITY;
  return [...parts].sort((a, b) => order(a) - order(b)).flatMap(({ id }) => (id === undefined ? [] : [id]));
}

/** More than a text has, which parts what is asked from what is said beside it. */
const MOST_LETTERS = 1e6;
/** Behind the word that asks, these begin what is said beside it: `will 33s clear with a fridge on board`. */
const BESIDE = new Set(['with', 'w', 'on', 'having', 'running']);

function askingClauses(line: Line, asking: ReadonlySet<string>): { readonly start: number; readonly end: number }[] {
  const ends = (j: number, behind: boolean): boolean => line.isParting(j) || (behind && BESIDE.has(line.at(j)?.phrase ?? ''));
  return line.items.flatMap(({ phrase, token }, i) => {
    if (!asking.has(phrase) && !(token.is === 'word' && asking.has(token.word))) return [];
    let [from, to] = [i, i];
    while (from > 0 && !ends(from - 1, false)) from--;
    while (to < line.items.length - 1 && !ends(to + 1, true)) to++;
    return [{ start: line.at(from)?.start ?? 0, end: line.at(to)?.end ?? 0 }];
  });
}

/** In this order, since an amount goes with what stands nearest in meaning: a gap before a part, a load before a bumper. */
function readAll(line: Line, text: string, notes: Notes, { words, parts }: Lexicon, library: Library, vehicle: Vehicle): void {
  const { input } = vehicle;
  const stock = stockOf(library, vehicle.class);
  readTyres(line, text, notes, stock);
  readWheels(line, notes, stock);
  readGears(line, notes);
  readSpeed(line, notes);
  readPeople(line, text, notes);
  readGaps(line, notes, words);
  readTakenOff(line, notes);
  readCuts(line, notes, words);
  readLoads(line, notes, words);
  readParts(line, notes, kindsOf(library, vehicle.class), parts);
  readStock(line, notes);
  readLaw(line, notes);
  readTopics(line, notes);
  for (const [id, where] of notes.refusedParts) {
    const says = notes.plannedParts.get(id);
    if (says !== undefined) notes.missed.push({ ...where, why: `${says}: said to be wanted, and not to be`, known: says });
  }
  if (input.from === 'inline' && isBareClass(input) && !notes.has('wheel')) assumeRims(notes, stock);
}

/** Trucks of a class come on wheels of more sizes than one: of tyres asked about alone the wheels are those they are for. */
function assumeRims(notes: Notes, { rimDiameter, wheelId }: Stock): void {
  const tyre = notes.pieces.find(({ as, puts }) => as === 'tyre' && puts?.parts);
  const [part] = tyre?.puts?.parts ?? [];
  const size = part?.from === 'inline' ? part.attributes?.designation : undefined;
  const read = typeof size === 'string' ? parseDesignation(size) : undefined;
  const rim = read?.ok ? read.value.rim : undefined;
  if (!tyre || rim === undefined || rim === rimDiameter) return;
  const wheels: PartInput = {
    from: 'inline',
    id: wheelId,
    kind: 'wheel',
    name: 'Wheels on it now',
    at: 'all',
    attributes: { rim_diameter: `${tidyNumber(rim)} in` },
  };
  notes.assume(
    `no wheels were said: those on it were taken to be of ${tidyNumber(rim)} in, as the tyres`,
    true,
    `wheels of ${tidyNumber(rim)} in`,
  );
  notes.pieces.push({
    start: tyre.start,
    end: tyre.end,
    as: 'wheel',
    says: `wheels of ${tidyNumber(rim)} in, as the tyres`,
    puts: { fitted: [wheels] },
  });
}
