/** The vehicle a question is about: as given, named, described or assumed; and what its class has. */
import type { Library } from '../engine/index.ts';
import { attributesOf, type CheckRequest } from '../vehicle/index.ts';
import type { Line } from './items.ts';
import { isBareClass } from './judge.ts';
import type { Lexicon } from './lexicon.ts';
import type { Kinds } from './put-part.ts';
import type { Asked, Question } from './read.ts';
import type { Settled } from './read-vehicle.ts';
import type { Notes, Stock } from './reading.ts';
import { lowerFirst } from './tidy.ts';

const FIRST_CLASS = 'midsize_independent_front';

export interface Vehicle {
  readonly input: CheckRequest['vehicle'];
  readonly known: Question['vehicle'];
  /** Whose defaults stand in, and whose kinds of part there are. */
  readonly class: string;
}

export function vehicleOf(
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
  else
    notes.assume(
      `no vehicle of the catalogue was named: a ${lowerFirst(title)} was taken`,
      true,
      `a ${lowerFirst(title.replace(/,.*/, ''))}`,
    );
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
    notes.assume(`on solid axles, and not said whether short, long or a pickup: a ${lowerFirst(title)} was taken`, true, lowerFirst(title));
  for (const i of [at, ...(base === undefined ? [] : [base])]) {
    const { start, end } = line.at(i) as { start: number; end: number };
    notes.pieces.push({ start, end, as: 'vehicle', says: title });
  }
  line.use(at, base);
  return id;
}

const PICKUPS = new Set(['pickup', 'truck', 'ute']);

/** Wheels and tyres of the class, for what is left out. */
export function stockOf(library: Library, id: string): Stock {
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

export const kindsOf = (library: Library, of: string): Kinds => ({
  fitted: (kind) => library.classes.get(of)?.fitted.some((part) => part.kind === kind) ?? false,
  has: (kind, attribute) => attributesOf(library, kind).has(attribute),
  range: (kind, attribute) => {
    const found = attributesOf(library, kind).get(attribute)?.attribute;
    return found?.range ? { ...found.range, ...(found.unit && { unit: found.unit }) } : undefined;
  },
});
