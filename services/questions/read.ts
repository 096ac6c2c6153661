/** From a question as typed to the request of an ordinary check: what was understood, what was assumed, what was not understood. */
import type { Library } from '../engine/index.ts';
import { parseDesignation } from '../models/tyres/designation.ts';
import { attributesOf, type CheckRequest, isKind, type LoadItem, type PartInput, type VehicleReading } from '../vehicle/index.ts';
import { itemsOf, Line, type Slip } from './items.ts';
import { isBareClass } from './judge.ts';
import type { Lexicon } from './lexicon.ts';
import { type NamedPart, readCatalogueParts, readNamedParts } from './read-catalogue.ts';
import { readLoads, readPeople, readSpeed } from './read-loads.ts';
import { type Kinds, readParts } from './read-parts.ts';
import { readTyres, readWheels, tidyNumber } from './read-sizes.ts';
import { readCuts, readGaps, readGears, readLaw, readStock } from './read-states.ts';
import { type NamedVehicle, type Run, type Settled, settleVehicle, unknownRuns } from './read-vehicle.ts';
import { type Assumption, type Needed, Notes, type Piece, type Stock } from './reading.ts';
import { echoOf, plainText } from './tidy.ts';
import { MOST_TOKENS, type Token, tokensOf } from './tokens.ts';

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

const MOST_PARTS = 60;
const FIRST_CLASS = 'midsize_independent_front';

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
    units: asked.units ?? unitsOf(tokens),
    vehicle: vehicle.known,
    vehicleInput: vehicle.input,
    ...(notes.asksLaw && { asksLaw: true }),
    focus: [...focusOf(build.build?.parts ?? [], line, notes, lexicon), ...(build.build?.load?.items ?? []).map(({ name }) => name)],
  };
}

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
  readCuts(line, notes, words);
  readLoads(line, notes, words);
  readParts(line, notes, kindsOf(library, vehicle.class), parts);
  readStock(line, notes);
  readLaw(line, notes);
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

interface Vehicle {
  readonly input: CheckRequest['vehicle'];
  readonly known: Question['vehicle'];
  /** Whose defaults stand in, and whose kinds of part there are. */
  readonly class: string;
}

function vehicleOf(
  { vehicle, vehicleClass = FIRST_CLASS }: Asked,
  settled: Settled | undefined,
  line: Line,
  notes: Notes,
  { words }: Lexicon,
  library: Library,
): Vehicle {
  if (vehicle)
    return {
      input: vehicle,
      known: isBareClass(vehicle) ? 'class' : 'named',
      class: vehicle.from === 'inline' ? vehicle.class : vehicleClass,
    };
  if (settled) {
    const { id, name, class: of = FIRST_CLASS } = settled.vehicle;
    notes.pieces.push({ start: settled.start, end: settled.end, as: 'vehicle', says: name });
    if (settled.misspelt) notes.assume(`the vehicle was taken to be ${name}`, true, `it is a ${name}`);
    return { input: { from: 'catalogue', vehicle: id }, known: 'named', class: of };
  }
  const at = line.where((i) => line.means(i, 'class') !== undefined)[0];
  const solid = at === undefined ? solidClass(line, notes, words, library) : undefined;
  if (solid !== undefined) return { input: { from: 'inline', class: solid }, known: 'class', class: solid };
  const id = at === undefined ? FIRST_CLASS : (line.means(at, 'class')?.id ?? FIRST_CLASS);
  const title = library.classes.get(id)?.title ?? id;
  const item = at === undefined ? undefined : line.at(at);
  line.use(at);
  if (item) notes.pieces.push({ start: item.start, end: item.end, as: 'vehicle', says: title });
  else notes.assume(`no vehicle of the catalogue was named: a ${lower(title)} was taken`, true, `a ${lower(title.replace(/,.*/, ''))}`);
  return { input: { from: 'inline', class: id }, known: item ? 'class' : 'assumed', class: id };
}

/** `short solid axle`, `solid axle … long wheelbase`: never a truck with another front, whatever else is said of it. */
function solidClass(line: Line, notes: Notes, { solid_classes: classes }: Lexicon['words'], library: Library): string | undefined {
  const [at] = line.where((i) => line.means(i, 'solid') !== undefined);
  if (at === undefined) return undefined;
  const [base] = line.where((i) => line.means(i, 'wheelbase') !== undefined);
  const pickup = line.items.some(({ token }) => token.is === 'word' && PICKUPS.has(token.word));
  const long = base === undefined ? undefined : line.means(base, 'wheelbase')?.long;
  const id = long === undefined ? (pickup ? classes.pickup : classes.short) : long ? classes.long : classes.short;
  const title = library.classes.get(id)?.title ?? id;
  if (long === undefined && !pickup)
    notes.assume(`on solid axles, and not said whether short, long or a pickup: a ${lower(title)} was taken`, true, lower(title));
  for (const i of [at, ...(base === undefined ? [] : [base])]) {
    const { start, end } = line.at(i) as { start: number; end: number };
    notes.pieces.push({ start, end, as: 'vehicle', says: title });
  }
  line.use(at, base);
  return id;
}

const PICKUPS = new Set(['pickup', 'truck', 'ute']);

const lower = (text: string): string => text.replace(/^./, (letter) => letter.toLowerCase());

/** Wheels and tyres of the class, for what is left out. */
function stockOf(library: Library, id: string): Stock {
  const fitted = library.classes.get(id)?.fitted ?? [];
  const wheel = fitted.find(({ kind }) => kind === 'wheel');
  const said = (name: string): string | undefined => [...(wheel?.attributes ?? [])].find(([attribute]) => attribute === name)?.[1];
  const diameter = /^([\d.]+) mm/.exec(said('rim_diameter') ?? '')?.[1];
  return {
    rimDiameter: diameter === undefined ? 17 : Math.round(Number(diameter) / 25.4),
    rimWidth: said('rim_width') ?? '7.75 in ± 0.25',
    offset: said('offset') ?? '25 mm ± 10',
    tyreId: fitted.find(({ kind }) => kind === 'tyre')?.id ?? 'factory-tyres',
    wheelId: wheel?.id ?? 'factory-wheels',
  };
}

const kindsOf = (library: Library, of: string): Kinds => ({
  fitted: (kind) => library.classes.get(of)?.fitted.some((part) => part.kind === kind) ?? false,
  has: (kind, attribute) => attributesOf(library, kind).has(attribute),
  range: (kind, attribute) => {
    const found = attributesOf(library, kind).get(attribute)?.attribute;
    return found?.range ? { ...found.range, ...(found.unit && { unit: found.unit }) } : undefined;
  },
});

/** What no reader took: names beside parts, things that are known and not checked, and what is not known at all. */
function leftOver(line: Line, text: string, notes: Notes): { names: string[]; missed: { text: string; why: string }[] } {
  const names: string[] = [];
  const missed = notes.missed.map(({ start, end, why }) => ({ start, text: echoOf(text.slice(start, end)), why }));
  line.items.forEach((item, i) => {
    if (item.used) return;
    const { token } = item;
    const typed = text.slice(item.start, item.end);
    const beyond = line.means(i, 'beyond');
    if (beyond) missed.push({ start: item.start, text: echoOf(typed), why: beyond.why });
    else if (line.means(i, 'drop')) missed.push({ start: item.start, text: echoOf(typed), why: 'lowering is not read' });
    else if (token.is === 'bolts' || line.means(i, 'bore'))
      missed.push({ start: item.start, text: echoOf(typed), why: 'of which wheels it is was not said' });
    else if (token.is === 'address')
      missed.push({ start: item.start, text: 'a link or mention', why: 'links, mentions and markup are not read' });
    else if (token.is === 'amount' || token.is === 'pair' || token.is === 'inches')
      missed.push({ start: item.start, text: echoOf(typed), why: 'it is not clear what the number is of' });
    else if (token.is === 'wheel' || token.is === 'tyre' || token.is === 'tyre-open')
      missed.push({ start: item.start, text: echoOf(typed), why: 'it is not clear what the size is of' });
    else if (line.means(i, 'load') && isCounted(line, i))
      missed.push({ start: item.start, text: echoOf(typed), why: 'what they weigh was not said' });
    else if (line.means(i, 'part'))
      missed.push({ start: item.start, text: echoOf(typed), why: 'no amount was said with it, or there is too much of it' });
    else if (token.is === 'word' && item.meanings.length === 0 && echoOf(typed) !== '') {
      if (besidePart(line, i)) names.push(echoOf(typed));
      else missed.push({ start: item.start, text: echoOf(typed), why: UNKNOWN });
    }
  });
  return { names: unique(names), missed: [...unreadRest(line, text), ...joined(missed.sort((a, b) => a.start - b.start))] };
}

/** What is behind the most that is read of a paste. */
function unreadRest({ items }: Line, text: string): { text: string; why: string }[] {
  const end = items.at(-1)?.end ?? text.length;
  return text.length - end > 1 ? [{ text: 'the rest of a long text', why: `only the first ${MOST_TOKENS} words and signs are read` }] : [];
}

const UNKNOWN = 'not known';
const MOST_MISSED = 40;

/** Words not known that stand together are one entry; of very many the first are named. */
function joined(missed: readonly { start: number; text: string; why: string }[]): { text: string; why: string }[] {
  const merged: { text: string; why: string; end: number }[] = [];
  for (const { start, text, why } of missed) {
    const last = merged.at(-1);
    if (last && why === UNKNOWN && last.why === UNKNOWN && start - last.end <= 1 && last.text.length + text.length < 38) {
      last.text = `${last.text} ${text}`;
      last.end = start + text.length;
    } else if (!merged.some((known) => known.text === text)) merged.push({ text, why, end: start + text.length });
  }
  const shown = merged.slice(0, MOST_MISSED).map(({ text, why }) => ({ text, why }));
  return merged.length > shown.length ? [...shown, { text: `and ${merged.length - shown.length} more`, why: UNKNOWN }] : shown;
}

/** `2 dirt bikes`: a load that is counted and not weighed. */
const isCounted = (line: Line, i: number): boolean => {
  const before = line.at(i - 1);
  return line.means(i - 1, 'number') !== undefined || (before?.token.is === 'amount' && !before.token.amount.unit);
};

const unique = (texts: readonly string[]): string[] => [...new Set(texts)].slice(0, MOST_MISSED);

/** A word nobody knows right beside a size or a part is a maker's or a line's name. */
function besidePart(line: Line, i: number): boolean {
  for (const step of [1, -1] as const) {
    for (let j = i + step, words = 0; words <= 2; j += step, words++) {
      const item = line.at(j);
      if (!item) break;
      const { token } = item;
      if (token.is === 'tyre' || token.is === 'wheel' || token.is === 'tyre-open' || token.is === 'inches') return true;
      if (item.used && line.means(j, 'part')) return true;
      if (line.means(j, 'tyre') || line.means(j, 'wheel')) return true;
      const passes =
        (token.is === 'word' && item.meanings.length === 0) ||
        line.means(j, 'flavour') ||
        line.means(j, 'axle') ||
        (token.is === 'amount' && item.used);
      if (!passes) break;
    }
  }
  return false;
}

/** Pieces put together: the parts in the order they were said. */
function buildOf(
  notes: Notes,
  vehicle: Vehicle,
  asked: Asked,
  tokens: readonly Token[],
  library: Library,
): { readonly build?: CheckRequest } {
  const pieces = [...notes.pieces].sort((a, b) => a.start - b.start);
  const parts = oncePerPlace(
    pieces.flatMap(({ puts }) => puts?.parts ?? []),
    notes,
  ).slice(0, MOST_PARTS);
  const items: LoadItem[] = pieces.flatMap(({ puts }) => puts?.items ?? []);
  const measured: VehicleReading[] = pieces.flatMap(({ puts }) => puts?.measured ?? []);
  const fitted: PartInput[] = pieces.flatMap(({ puts }) => puts?.fitted ?? []);
  const occupants = pieces.find(({ puts }) => puts?.occupants !== undefined)?.puts?.occupants;
  const topSpeed = pieces.find(({ puts }) => puts?.topSpeed !== undefined)?.puts?.topSpeed;
  if (parts.length === 0 && items.length === 0 && occupants === undefined && measured.length === 0) return {};
  if (occupants === undefined) notes.assume('nobody was said to ride in it: the driver alone was counted', true, 'driver alone');
  const jurisdictions = [...new Set([...(asked.jurisdictions ?? []), ...pieces.flatMap(({ puts }) => puts?.jurisdictions ?? [])])];
  if (notes.asksLaw && jurisdictions.length === 0)
    notes.assume('law was not looked at: no place was named whose text is there', true, 'law not looked at');
  if (parts.some((part) => isElectric(part, notes, library)))
    notes.assume('of what is electrical the mass is checked, not battery, alternator and wiring', true, ELECTRICS);
  const use = { ...(topSpeed !== undefined && { top_speed: topSpeed }), ...(jurisdictions.length > 0 && { jurisdictions }) };
  return {
    build: {
      vehicle: withRead(vehicle.input, measured, fitted, notes),
      ...(parts.length > 0 && { parts: withIds(parts) }),
      load: { occupants: occupants ?? 1, ...(items.length > 0 && { items: named(items) }) },
      ...(Object.keys(use).length > 0 && { use }),
      units: asked.units ?? unitsOf(tokens),
    },
  };
}

export const ELECTRICS = 'electrics not checked';
const ELECTRIC = ['electric_accessory', 'second_battery'] as const;

/** A winch is asked for its pull; what else draws or stores is asked for what it does to the supply. */
const isElectric = (part: PartInput, notes: Notes, library: Library): boolean => {
  const kind = part.from === 'inline' ? part.kind : (notes.kinds.get(part.part) ?? '');
  return kind !== 'winch' && library.kinds.has(kind) && ELECTRIC.some((of) => isKind(library, kind, of));
};

/** What was read of the truck itself, beside what is known of it. */
function withRead(
  vehicle: CheckRequest['vehicle'],
  measured: readonly VehicleReading[],
  fitted: readonly PartInput[],
  notes: Notes,
): CheckRequest['vehicle'] {
  // What the question says goes before what was read of the same thing earlier.
  const earlier = (vehicle.measured ?? []).filter(
    (known) => !measured.some(({ quantity, of }) => quantity === known.quantity && of === known.of),
  );
  const more = measured.length > 0 ? { measured: [...earlier, ...measured] } : {};
  if (fitted.length === 0 || vehicle.from === 'catalogue') {
    if (fitted.length > 0)
      notes.assume('the tyres on it now are those of the catalogue, whatever the question says', true, 'the catalogue’s own tyres');
    return { ...vehicle, ...more };
  }
  return { ...vehicle, fitted: [...(vehicle.fitted ?? []), ...fitted], ...more };
}

/** One part of a kind at a place: what was said first stands, what came later makes it more exact. */
function oncePerPlace(parts: readonly PartInput[], notes: Notes): PartInput[] {
  const kept = new Map<string, PartInput>();
  const inCatalogue = new Set(parts.flatMap((part) => (part.from === 'catalogue' ? [notes.kinds.get(part.part) ?? ''] : [])));
  for (const part of parts) {
    if (part.from === 'inline' && notes.without.has(`${part.kind} ${part.at ?? ''}`) && notes.weak.has(part)) continue;
    if (part.from === 'inline' && inCatalogue.has(part.kind) && !MANY.has(part.kind)) {
      notes.assume(`${part.name ?? part.kind} was left out: the part of the catalogue that is named stands for it`, true);
      continue;
    }
    const key = part.from === 'inline' ? `${part.kind} ${part.at ?? ''}${MANY.has(part.kind) ? ` ${part.name}` : ''}` : part.part;
    if (part.from !== 'inline') {
      kept.set(key, part);
      continue;
    }
    const known = kept.get(key);
    if (known?.from === 'inline' && notes.weak.has(part) && !notes.weak.has(known)) continue;
    if (known?.from !== 'inline' || (notes.weak.has(known) && !notes.weak.has(part))) kept.set(key, part);
    else if (clashes(known.attributes ?? {}, part.attributes ?? {})) {
      const of = notes.pieces.find(({ puts }) => puts?.parts?.includes(part));
      if (of)
        notes.missed.push({
          ...of,
          why: `another than the ${lower(known.name ?? known.kind)} that was said first; one is answered at a time`,
        });
    } else
      kept.set(key, {
        ...known,
        name:
          Object.keys(known.attributes ?? {}).length >= Object.keys(part.attributes ?? {}).length ? (known.name ?? '') : (part.name ?? ''),
        attributes: { ...part.attributes, ...known.attributes },
      });
  }
  for (const need of notes.needs) tellUnsized(need, [...kept.values()], notes);
  return [...kept.values()];
}

function tellUnsized({ kind, at, attribute, says }: Needed, parts: readonly PartInput[], notes: Notes): void {
  const part = parts.find((one) => one.from === 'inline' && one.kind === kind && one.at === at);
  if (part?.from === 'inline' && !(attribute in (part.attributes ?? {})))
    notes.assume(`how much of ${says} was not said: it is not known`, true, `${says}: no amount said`);
}

const clashes = (a: Readonly<Record<string, unknown>>, b: Readonly<Record<string, unknown>>): boolean =>
  Object.entries(a).some(([name, value]) => name in b && b[name] !== value && name !== 'droop_added');

/** Of these there may be several at one place. */
const MANY = new Set(['fridge', 'second_battery', 'light_bar', 'roof_cargo', 'water_tank']);

const withIds = (parts: readonly PartInput[]): PartInput[] => {
  const seen = new Map<string, number>();
  return parts.map((part) => {
    const kind = part.from === 'inline' ? part.kind.replaceAll('_', '-') : part.part;
    const n = (seen.get(kind) ?? 0) + 1;
    seen.set(kind, n);
    return { id: `asked-${kind}${n > 1 ? `-${n}` : ''}`, ...part };
  });
};

/** Loads of one name are told apart. */
function named(items: readonly LoadItem[]): LoadItem[] {
  const seen = new Map<string, number>();
  return items.map((item) => {
    const n = (seen.get(item.name) ?? 0) + 1;
    seen.set(item.name, n);
    return n > 1 ? { ...item, name: `${item.name} ${n}` } : item;
  });
}

/** As the question was written: by most of its units, sizes of tyres and wheels left out. */
function unitsOf(tokens: readonly Token[]): 'metric' | 'us' {
  let us = 0;
  for (const token of tokens) {
    const units = token.is === 'amount' ? [token.amount.unit] : token.is === 'pair' ? [token.front.unit] : [];
    for (const unit of units) us += unit?.system === 'us' ? 1 : unit?.system === 'metric' ? -1 : 0;
  }
  return us > 0 ? 'us' : 'metric';
}
