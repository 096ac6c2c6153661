/**
 * From what was asked to one vehicle with its parts mounted: catalogue references are looked up, sizes and units
 * are read, pairs are put at their corners, and everything said about anything is kept with its rank and origin.
 * Pure. Every fault of the request is found at once, each under its pointer.
 */

import { nearest } from '../engine/diagnostics.ts';
import { coordinatesOf, isPoint } from '../engine/dictionary-file.ts';
import type { Basis, ClassDefaults, Jurisdiction, Kind, Library, Quantity, Shape, Signature } from '../engine/tree.ts';
import type { Candidate } from '../engine/values.ts';
import { type Agreed, NONE, parseQuantity } from '../units/index.ts';
import { Faults, listed, suggestFrom } from './faults.ts';
import { helpByAttribute, helpByKind, helpByTitle, helpInsteadOf } from './kind-words.ts';
import { asItStands, attributesOf, exclusiveKind, isKind, meantBy, type NamedAttribute } from './library-view.ts';
import { covers, FIRST_PART, isPlace, levelOf, PLACES, placesFor, subjectOf } from './places.ts';
import { FROM_HUB, readPlacedShape, SHAPE_FRAMES, type ShapeFrame } from './read-shape.ts';
import { type ReadValue, readValue } from './read-value.ts';
import type {
  CataloguePart,
  CatalogueVehicle,
  CheckRequest,
  InlineVehicle,
  PartInput,
  Place,
  PlaceInput,
  ReadingInput,
  RequestFault,
  Use,
  ValueInput,
  VehicleInput,
  VehicleReading,
} from './request.ts';
import { helpForPart, partsSaid, placeSaid } from './said-of.ts';
import { changedSince } from './taken-with.ts';

export interface Catalogue {
  /** By `id` (the current version) and by `id@version`. */
  readonly vehicles: ReadonlyMap<string, CatalogueVehicle>;
  readonly parts: ReadonlyMap<string, CataloguePart>;
  readonly hash: string;
  /** Ids there are, to name what was probably meant by one there is not. */
  readonly known?: { readonly vehicles: readonly string[]; readonly parts: readonly string[] };
}

export interface Part {
  readonly subject: number;
  /** With its place behind an `@` when the input stands for several. */
  readonly id: string;
  /** As in the input, one for all its places. */
  readonly group: string;
  readonly kind: string;
  readonly name: string;
  readonly place: Place;
  /** `law`: no part of the vehicle, but a limit it is held against. */
  readonly state: 'fitted' | 'planned' | 'load' | 'law';
  /** The fitted parts it takes the place of. */
  readonly replaces: Part[];
  /** Of what a tyre can touch, where it is: as the class has it, or as it was given. */
  readonly shape?: Shape;
  /** What it is fixed to, where that is not what its kind is fixed to. */
  readonly on?: ShapeFrame;
  /** Of a limit, the text of law it is from. */
  readonly basis?: readonly Basis[];
}

/** What was said about one value. */
export type Said = Candidate & {
  readonly text?: string;
  /** How many places or parts the statement was made for at once. */
  readonly breadth?: number;
};

/** A reading as it was given, whether or not anything counts of it. */
export interface GivenReading {
  readonly name: string;
  /** Those it was made for. */
  readonly subjects: readonly (readonly number[])[];
  readonly statement: number;
  readonly said?: Said;
  /** Why it no longer counts. */
  readonly outdated?: string;
}

export interface Assembly {
  readonly name: string;
  readonly className: string;
  /** What is typical of kinds of part on vehicles of its class. */
  readonly typical: ClassDefaults['typical'];
  readonly parts: readonly Part[];
  /** Fitted parts that planned ones take the place of. */
  readonly removed: ReadonlySet<Part>;
  /** Positions of the class that nothing fills. */
  readonly unfilled: readonly { readonly kind: string; readonly place: Place }[];
  /** By value name, then subjects. */
  readonly said: ReadonlyMap<string, readonly Said[]>;
  readonly assumptions: readonly string[];
  /** All that were given, in order. */
  readonly readings: readonly GivenReading[];
  /** Readings that no longer count, and why, by value name and subjects. */
  readonly outdated: ReadonlyMap<string, string>;
  /** What was made to agree with readings, by value name and subjects. */
  readonly agreed?: ReadonlyMap<string, Agreed>;
  /** Once fitted: the readings that no vehicle of the class is taken to have, by value name and subjects, with what the class allows. */
  readonly outside?: ReadonlyMap<string, Pick<Candidate, 'value' | 'plusMinus'>>;
}

export const saidKey = (name: string, subjects: readonly number[]): string => `${name}|${subjects.join(',')}`;

export type Assembled =
  | { readonly ok: true; readonly assembly: Assembly }
  | { readonly ok: false; readonly faults: readonly RequestFault[] };

export function assemble(request: CheckRequest, catalogue: Catalogue, library: Library): Assembled {
  const faults = new Faults();
  const assembly = new Assembler(library, catalogue).build(request, faults);
  return faults.list.length === 0 && assembly ? { ok: true, assembly } : { ok: false, faults: faults.list };
}

type Rank = Candidate['rank'];

class Assembler {
  readonly #library: Library;
  readonly #catalogue: Catalogue;
  readonly #parts: Part[] = [];
  readonly #said = new Map<string, Said[]>();
  readonly #assumptions: string[] = [];
  readonly #readings: GivenReading[] = [];
  /** Where the input of a group of parts is. */
  readonly #inputs = new Map<string, Faults>();
  #statements = 0;
  readonly #outdated = new Map<string, string>();
  #planned: readonly PartInput[] = [];
  #defaults: ClassDefaults | undefined;

  constructor(library: Library, catalogue: Catalogue) {
    this.#library = library;
    this.#catalogue = catalogue;
  }

  build(request: CheckRequest, faults: Faults): Assembly | undefined {
    this.#planned = request.parts ?? [];
    const at = faults.in('vehicle');
    const vehicle = this.#vehicle(request.vehicle, at);
    const defaults = vehicle && this.#class(vehicle.class, at);
    if (!vehicle || !defaults) return this.#partsAlone(request, faults);
    this.#defaults = defaults;
    this.#classValues(defaults);
    const rank: Rank = request.vehicle.from === 'catalogue' ? 'catalogue' : 'stated';
    // What the catalogue states is told where the entry was named.
    const stated = request.vehicle.from === 'inline' ? at : at.in('vehicle').held();
    for (const [name, input] of Object.entries(vehicle.values ?? {})) this.#vehicleValue(name, input, rank, stated.in('values', name));
    (vehicle.fitted ?? []).forEach((part, i) => this.#part(part, 'fitted', rank, stated.in('fitted', i)));
    this.#classParts(defaults);
    (request.parts ?? []).forEach((part, i) => this.#part(part, 'planned', 'stated', faults.in('parts', i)));
    this.#load(request.load, faults.in('load'));
    this.#use(request.use, faults.in('use'));
    (request.vehicle.measured ?? []).forEach((reading, i) => this.#reading(reading, at.in('measured', i)));
    const removed = new Set(this.#parts.flatMap((part) => part.replaces));
    this.#crowded(removed, faults);
    return {
      name: vehicle.name ?? defaults.title,
      className: defaults.title,
      typical: defaults.typical,
      parts: this.#parts,
      removed,
      unfilled: this.#unfilled(defaults, removed),
      said: this.#said,
      assumptions: this.#assumptions,
      readings: this.#readings,
      outdated: this.#outdated,
    };
  }

  #class(id: string, faults: Faults): ClassDefaults | undefined {
    const { classes } = this.#library;
    return (
      classes.get(id) ??
      faults.in('class').add('CLASS_UNKNOWN', `there is no class \`${id}\``, suggestFrom(id, classes.keys(), '/v1/classes'))
    );
  }

  /** Without a vehicle nothing can be put together, but the parts and the load can be in fault all the same. */
  #partsAlone(request: CheckRequest, faults: Faults): undefined {
    (request.parts ?? []).forEach((part, i) => this.#part(part, 'fitted', 'stated', faults.in('parts', i)));
    this.#load(request.load, faults.in('load'));
    this.#use(request.use, faults.in('use'));
    (request.vehicle.measured ?? []).forEach((reading, i) => this.#readingAlone(reading, faults.in('vehicle', 'measured', i)));
  }

  /** Of a reading without its vehicle: that there is such a quantity, or such an attribute of some kind, and that its value can be one. */
  #readingAlone({ quantity, value }: VehicleReading, faults: Faults): void {
    if (isPoint(this.#library.quantities, quantity)) return;
    const known = this.#library.quantities.get(quantity);
    if (known) return void readValue(value, known, faults.in('value'));
    const attributes = [...this.#library.kinds.values()].flatMap((kind) => [...kind.attributes.keys(), ...leavesOf(kind)]);
    if (!attributes.includes(quantity))
      faults
        .in('quantity')
        .add(
          'QUANTITY_UNKNOWN',
          `there is no quantity \`${quantity}\``,
          helpByTitle(quantity, this.#library) ??
            suggestFrom(quantity, [...this.#library.quantities.keys(), ...attributes], '/v1/quantities'),
        );
  }

  #use({ top_speed, jurisdictions = [] }: Use = {}, faults: Faults): void {
    if (top_speed !== undefined) this.#vehicleValue('top_speed', top_speed, 'stated', faults.in('top_speed'));
    const known = this.#library.jurisdictions;
    for (const [i, id] of jurisdictions.entries()) {
      const at = faults.in('jurisdictions', i);
      if (!known.has(id))
        at.add('JURISDICTION_UNKNOWN', `there is no law pack \`${id}\``, suggestFrom(id, known.keys(), '/v1/jurisdictions'));
      else if (jurisdictions.indexOf(id) !== i) at.add('JURISDICTION_TWICE', `\`${id}\` is named twice`, 'keep one of the two');
      else this.#law(id);
    }
  }

  /** Each limit of a law pack is a part for the rules to range over. */
  #law(id: string): void {
    const { title, limits } = this.#library.jurisdictions.get(id) as Jurisdiction;
    for (const { kind, attributes, basis } of limits) {
      const group = this.#freeId(undefined, `${id}-${kind.replaceAll('_', '-')}`, new Faults());
      const limit = this.#add({ group, kind, name: title, place: 'vehicle', state: 'law', single: true, basis });
      for (const [name, text] of attributes) this.#attribute([limit], name, text, { rank: 'rule', note: title }, new Faults());
    }
  }

  #vehicle(input: VehicleInput, faults: Faults): InlineVehicle | undefined {
    if (input.from === 'inline') return input;
    const { vehicles } = this.#catalogue;
    const found = vehicles.get(input.version === undefined ? input.vehicle : `${input.vehicle}@${input.version}`);
    if (found) return found;
    if (vehicles.has(input.vehicle))
      return faults
        .in('version')
        .add('VERSION_UNKNOWN', `\`${input.vehicle}\` has no version ${input.version}`, 'leave `version` out to take the current one');
    return faults
      .in('vehicle')
      .add(
        'VEHICLE_UNKNOWN',
        `there is no vehicle \`${input.vehicle}\` in the catalogue`,
        suggestFrom(input.vehicle, this.#catalogue.known?.vehicles ?? plainIds(vehicles), '/v1/vehicles'),
      );
  }

  #say(name: string, subjects: readonly number[], said: Said): void {
    const key = saidKey(name, subjects);
    const all = [...(this.#said.get(key) ?? []), said];
    this.#said.set(key, all.filter((one) => !isSuperseded(one, all)).sort(nearestFirst));
  }

  #classValues(defaults: ClassDefaults): void {
    for (const [name, byPlace] of defaults.values) {
      for (const [place, text] of byPlace)
        this.#placed(
          name,
          place === 'vehicle' ? text : { [place]: text },
          { rank: 'class-default', note: defaults.title },
          spotsOf(new Faults()),
        );
    }
  }

  #vehicleValue(name: string, input: ValueInput | Readonly<Record<string, ValueInput>>, rank: Rank, faults: Faults): void {
    this.#placed(name, input, { rank }, spotsOf(faults));
  }

  /** A value of a quantity: one for all its subjects, or one by place. */
  #placed(name: string, input: ValueInput | Readonly<Record<string, ValueInput>>, origin: Origin, spots: Spots): void {
    if (isPoint(this.#library.quantities, name)) return this.#point(name, input, origin, spots);
    const quantity = this.#library.quantities.get(name);
    if (!quantity)
      return spots.name.add(
        'QUANTITY_UNKNOWN',
        `there is no quantity \`${name}\``,
        suggestFrom(name, this.#library.quantities.keys(), '/v1/quantities'),
      );
    if (quantity.comes === 'computed' && origin.rank !== 'measured')
      return spots.name.add('QUANTITY_COMPUTED', `\`${name}\` is computed`, 'leave it out, or give it as a reading under `measured`');
    const [of] = quantity.per;
    const level = of === undefined ? 'vehicle' : of.is === 'part' || quantity.per.length > 1 ? undefined : of.is;
    if (level === undefined)
      return spots.name.add(
        'QUANTITY_PER_PART',
        `\`${name}\` belongs to a part`,
        'give it as a reading under `measured` with `of` naming the part',
      );
    const places = PLACES.filter((place) => levelOf(place) === level);
    if (typeof input !== 'object') {
      const subjects = level === 'vehicle' ? [[]] : places.map((place) => [subjectOf(place)]);
      return this.#sayAll(name, subjects, input, quantity, origin, spots.value());
    }
    for (const [place, value] of Object.entries(input)) {
      const covered = isPlace(place) || place === 'all' ? placesFor(level, place as PlaceInput) : [];
      if (covered.length === 0)
        spots
          .place(place)
          .add('PLACE_UNKNOWN', `\`${name}\` has no value at \`${place}\``, `its places are ${places.map((p) => `\`${p}\``).join(', ')}`);
      this.#sayAll(
        name,
        // What is of the vehicle is of nothing in particular, also where `vehicle` is written.
        covered.map((p) => (level === 'vehicle' ? [] : [subjectOf(p)])),
        value,
        quantity,
        origin,
        spots.value(place),
      );
    }
  }

  /** A point says its coordinates. */
  #point(name: string, input: ValueInput | Readonly<Record<string, ValueInput>>, origin: Origin, spots: Spots): void {
    for (const [place, value] of typeof input === 'object' ? Object.entries(input) : [[undefined, input] as const]) {
      const coordinates = coordinatesOf(name, String(value));
      if (!coordinates)
        spots.value(place).add('POINT_WRONG', `\`${value}\` is not a point`, 'write x, y, z with one unit, such as "8, 728, 212 mm ± 20"');
      for (const [coordinate, text] of coordinates ?? [])
        this.#placed(coordinate, place === undefined ? text : { [place]: text }, origin, spots);
    }
  }

  #sayAll(
    name: string,
    subjects: readonly (readonly number[])[],
    input: ValueInput,
    signature: Signature,
    origin: Origin,
    faults: Faults,
  ): void {
    const read = subjects.length > 0 ? readValue(input, signature, faults) : undefined;
    if (!read) return;
    const { toolError, isPassedOver, ...plain } = origin;
    const shared = toolError === undefined ? undefined : sharedError(toolError, read, signature, origin.tool, faults);
    const said = { ...asSaid(read, signature, plain), ...(shared && { shared }), statement: ++this.#statements, breadth: subjects.length };
    if (said.rank === 'measured') this.#readings.push({ name, subjects, statement: said.statement, said });
    if (!isPassedOver) for (const subject of subjects) this.#say(name, subject, said);
  }

  #part(input: PartInput, state: 'fitted' | 'planned', rank: Rank, faults: Faults): void {
    const found = this.#describe(input, rank, faults);
    if (!found) return;
    const { kind, places } = found;
    const group = this.#freeId(input.id, found.id, faults);
    if (!this.#inputs.has(group)) this.#inputs.set(group, faults);
    const where = this.#placing(input, kind, places, faults);
    const made = places.map((place) => this.#add({ group, kind, name: found.name, place, state, single: places.length === 1, ...where }));
    for (const [name, value] of Object.entries(found.attributes))
      this.#attribute(made, name, value, { rank: found.rank, ...(found.note && { note: found.note }) }, found.at(name));
    for (const [name, reading] of Object.entries(input.measured ?? {}))
      this.#attribute(
        made,
        name,
        readingValue(reading),
        readingOrigin(reading),
        faults.in('measured', name),
        ...(typeof reading === 'object' ? ['value'] : []),
      );
    if (state === 'planned') for (const part of made) part.replaces.push(...this.#replaced(part, input.replaces, faults.in('replaces')));
  }

  #describe(input: PartInput, rank: Rank, faults: Faults): Described | undefined {
    const catalogued = input.from === 'catalogue' ? this.#cataloguePart(input, faults) : undefined;
    if (input.from === 'catalogue' && !catalogued) return undefined;
    const kindId = input.from === 'inline' ? input.kind : (catalogued as CataloguePart).kind;
    const kind = this.#library.kinds.get(kindId);
    if (!kind)
      return faults
        .in('kind')
        .add('KIND_UNKNOWN', `there is no kind \`${kindId}\``, suggestFrom(kindId, this.#library.kinds.keys(), '/v1/kinds'));
    if (kind.abstract)
      return faults.in('kind').add('KIND_ABSTRACT', `\`${kindId}\` only groups other kinds`, `say which: ${this.#below(kindId)}`);
    const at = input.at ?? (kind.fits === 'vehicle' ? 'vehicle' : undefined);
    if (at === undefined)
      return faults.add(
        'AT_MISSING',
        `a part of the kind \`${kind.id}\` needs a place`,
        `add \`at\`: \`front\`, \`rear\`, \`all\`${kind.fits === 'corner' ? ', or a corner such as `front-left`' : ''}`,
      );
    const places = placesFor(kind.fits, at);
    if (places.length === 0)
      return faults.in('at').add('AT_WRONG', `a part of the kind \`${kind.id}\` does not fit at \`${at}\``, `it fits ${FITS[kind.fits]}`);
    if (input.from === 'inline') {
      return {
        id: kindId,
        kind: kindId,
        name: input.name ?? kind.title,
        places,
        attributes: input.attributes ?? {},
        rank,
        at: (name) => faults.in('attributes', name),
      };
    }
    const { id, name, maker, attributes } = catalogued as CataloguePart;
    return {
      id,
      kind: kindId,
      name,
      places,
      attributes,
      rank: 'catalogue',
      note: maker ? `${name}, ${maker}` : name,
      at: () => faults.in('part'),
    };
  }

  /** Where a part was said to be: only of what a tyre can touch does anybody ask. */
  #placing(input: PartInput, kind: string, places: readonly Place[], faults: Faults): Pick<Part, 'shape' | 'on'> {
    if (input.from !== 'inline' || !input.shape) return {};
    const at = faults.in('shape');
    if (!isKind(this.#library, kind, OBSTACLE))
      at.add('SHAPE_NOT_HERE', `the place of a part of the kind \`${kind}\` is not asked for`, 'leave `shape` out');
    const { on } = input.shape;
    if (on !== undefined) this.#carried(on, places, at.in('on'));
    const shape = readPlacedShape(input.shape, at);
    return { ...(shape && { shape }), ...(on && { on }) };
  }

  /** What a part is said to ride on must be there: every place has frame, body and wheel, the rest is as the class has it. */
  #carried(on: ShapeFrame, places: readonly Place[], faults: Faults): void {
    const defaults = this.#defaults;
    if (!defaults) return;
    const bears = (frame: string, place: Place): boolean =>
      FROM_HUB.some((every) => every === frame) ||
      defaults.fitted.some(({ kind, at }) => {
        const known = this.#library.kinds.get(kind);
        return known?.frame === frame && placesFor(known.fits, (at ?? 'vehicle') as PlaceInput).includes(place);
      });
    const without = places.find((place) => !bears(on, place));
    if (without === undefined) return;
    const possible = SHAPE_FRAMES.filter((frame) => places.every((place) => bears(frame, place)));
    const what = this.#library.frames.get(on)?.title.toLowerCase() ?? on;
    faults.add(
      'SHAPE_ON_WRONG',
      `${defaults.title} has no \`${on}\` (${what}) at its ${without.replace('-', ' ')}`,
      `say what it is fixed to there: ${possible.map((frame) => `\`${frame}\``).join(', ')}; \`knuckle\` is whatever carries the wheel`,
    );
  }

  #below(kind: string): string {
    return [...this.#library.kinds.values()]
      .filter((k) => !k.abstract && isKind(this.#library, k.id, kind))
      .map((k) => `\`${k.id}\``)
      .join(', ');
  }

  #cataloguePart(input: Extract<PartInput, { from: 'catalogue' }>, faults: Faults): CataloguePart | undefined {
    const { parts } = this.#catalogue;
    const found = parts.get(input.version === undefined ? input.part : `${input.part}@${input.version}`);
    if (found) return found;
    if (parts.has(input.part))
      return faults
        .in('version')
        .add('VERSION_UNKNOWN', `\`${input.part}\` has no version ${input.version}`, 'leave `version` out to take the current one');
    return faults
      .in('part')
      .add(
        'PART_UNKNOWN',
        `there is no part \`${input.part}\` in the catalogue`,
        suggestFrom(input.part, this.#catalogue.known?.parts ?? plainIds(parts), '/v1/parts'),
      );
  }

  #freeId(asked: string | undefined, fallback: string, faults: Faults): string {
    const taken = (id: string): boolean => isPlace(id) || this.#parts.some((part) => part.group === id);
    const id = asked ?? fallback;
    if (!taken(id)) return id;
    if (asked !== undefined) {
      faults.in('id').add('ID_TAKEN', `\`${id}\` already names another part or a place`, 'give each part an id of its own');
      return id;
    }
    let n = 2;
    while (taken(`${id}-${n}`)) n++;
    return `${id}-${n}`;
  }

  #add({ single, ...part }: Omit<Part, 'subject' | 'id' | 'replaces'> & { readonly single: boolean }): Part {
    const made: Part = {
      ...part,
      subject: FIRST_PART + this.#parts.length,
      id: single ? part.group : `${part.group}@${part.place}`,
      replaces: [],
    };
    this.#parts.push(made);
    return made;
  }

  #attribute(parts: readonly Part[], name: string, input: ValueInput, origin: Origin, faults: Faults, ...toValue: readonly string[]): void {
    const kind = parts[0]?.kind;
    if (kind === undefined) return;
    const known = attributesOf(this.#library, kind);
    const found = known.get(name);
    if (!found) return faults.add('ATTRIBUTE_UNKNOWN', `a part of the kind \`${kind}\` has no \`${name}\``, helpWith(name, kind, known));
    this.#sayAll(
      found.leaf,
      parts.map(({ subject }) => [subject]),
      input,
      found.attribute,
      origin,
      toValue.length > 0 ? faults.in(...toValue) : faults,
    );
  }

  /** What a planned part takes the place of. */
  #replaced(part: Part, replaces: string | readonly string[] | undefined, faults: Faults): Part[] {
    const fitted = this.#parts.filter(({ state }) => state === 'fitted');
    const names = replaces === undefined ? [] : typeof replaces === 'string' ? [replaces] : replaces;
    return names.flatMap((name, i) => {
      const where = typeof replaces === 'string' ? faults : faults.in(i);
      if (name === 'fitted') return this.#rivals(part, fitted);
      const named = fitted.filter(({ id, group }) => id === name || group === name);
      if (named.length === 0)
        where.add(
          'REPLACES_UNKNOWN',
          `nothing fitted is called \`${name}\``,
          suggestFrom(
            name,
            fitted.map(({ group }) => group),
          ),
        );
      const here = named.filter(({ place }) => place === part.place);
      return here.length > 0 ? here : named;
    });
  }

  /** Parts that cannot be at the same place as the given one. */
  #rivals(part: Part, among: readonly Part[]): Part[] {
    const exclusive = exclusiveKind(this.#library, part.kind);
    if (exclusive === undefined) return [];
    return among.filter((other) => other !== part && other.place === part.place && exclusiveKind(this.#library, other.kind) === exclusive);
  }

  #crowded(removed: ReadonlySet<Part>, faults: Faults): void {
    const groups = new Map<string, string>();
    const present = this.#parts.filter((part) => !removed.has(part));
    for (const part of present.filter(({ state }) => state === 'planned')) {
      const rival = this.#rivals(part, present).find((other) => other.subject < part.subject);
      if (rival && !groups.has(part.group)) groups.set(part.group, rival.group);
    }
    for (const [group, rival] of groups) {
      (this.#inputs.get(group) ?? faults.in('parts')).add(
        'PLACE_TAKEN',
        `\`${group}\` goes where \`${rival}\` already is`,
        `add \`replaces: ${rival}\` (or \`replaces: fitted\`) if it comes off`,
      );
    }
  }

  /**
   * What the class wears from the factory, except where the vehicle says what is there. A part stated under the id it has in
   * the class is that part: what is not said of it is as the class has it.
   */
  #classParts(defaults: ClassDefaults): void {
    const fromClass: string[] = [];
    for (const part of defaults.fitted) {
      const kind = this.#library.kinds.get(part.kind);
      if (!kind) continue;
      const wanted = placesFor(kind.fits, (part.at ?? 'vehicle') as PlaceInput);
      const exclusive = exclusiveKind(this.#library, part.kind);
      const stated = this.#parts.filter(({ group, kind: of }) => group === part.id && of === part.kind);
      const free = wanted.filter(
        (place) =>
          !this.#parts.some(
            (other) =>
              other.place === place &&
              (stated.includes(other) || (exclusive !== undefined && exclusiveKind(this.#library, other.kind) === exclusive)),
          ),
      );
      const group = stated.length > 0 ? part.id : this.#freeId(undefined, part.id, new Faults());
      const made = free.map((place) =>
        this.#add({
          group,
          kind: part.kind,
          name: part.name ?? kind.title,
          place,
          state: 'fitted',
          single: free.length + stated.length === 1,
          ...(part.shape && { shape: part.shape }),
        }),
      );
      for (const [name, text] of part.attributes)
        this.#attribute([...made, ...stated], name, text, { rank: 'class-default', note: defaults.title }, new Faults());
      const { shape } = part;
      // What was not named is called as the class calls it.
      for (const own of stated)
        this.#parts[own.subject - FIRST_PART] = {
          ...own,
          ...(shape && !own.shape && { shape }),
          ...(own.name === kind.title && part.name && { name: part.name }),
        };
      if (made.length > 0) fromClass.push(part.name ?? kind.title);
    }
    if (fromClass.length > 0) this.#assumptions.push(`As the class has them, since the vehicle does not say: ${fromClass.join(', ')}`);
  }

  #unfilled(defaults: ClassDefaults, removed: ReadonlySet<Part>): { kind: string; place: Place }[] {
    const present = this.#parts.filter((part) => !removed.has(part));
    return defaults.positions.flatMap(({ kind, at }) => {
      const fits = this.#library.kinds.get(kind)?.fits ?? 'vehicle';
      return placesFor(fits, at as PlaceInput)
        .filter((place) => !present.some((part) => part.place === place && isKind(this.#library, part.kind, kind)))
        .map((place) => ({ kind, place }));
    });
  }

  #load(load: CheckRequest['load'], faults: Faults): void {
    for (let i = 1; i <= (load?.occupants ?? 0); i++) {
      const kind = i <= IN_FRONT ? 'occupant' : 'rear_occupant';
      this.#add({ group: `occupant-${i}`, kind, name: `Occupant ${i}`, place: 'vehicle', state: 'load', single: true });
    }
    (load?.items ?? []).forEach((item, i) => {
      const part = this.#add({
        group: this.#freeId(undefined, item.name, faults),
        kind: 'cargo',
        name: item.name,
        place: 'vehicle',
        state: 'load',
        single: true,
      });
      const { name: _, ...attributes } = item;
      for (const [name, value] of Object.entries(attributes))
        this.#attribute([part], name, value, { rank: 'stated' }, faults.in('items', i, name));
    });
  }

  #reading(reading: VehicleReading, at: Faults): void {
    const isPassedOver = reading.passed_over === true;
    // What counts for nothing in any case stops no check.
    const faults = isPassedOver ? new Faults() : at;
    const origin: Origin = { ...readingOrigin(reading), ...(isPassedOver && { isPassedOver }) };
    const { of } = reading;
    const quantity = reading.with ? reading.quantity : asItStands(this.#library, reading.quantity);
    const known = this.#library.quantities.get(quantity);
    const kind = known?.per.length === 1 && known.per[0]?.is === 'part' ? known.per[0].kind : undefined;
    const having = this.#parts.flatMap((part) => {
      const found = known ? this.#ofKind(part, kind, quantity, known) : this.#attributeOf(part, quantity);
      return found ? [{ part, ...found }] : [];
    });
    const place = isPoint(this.#library.quantities, quantity) || (known && kind === undefined);
    const ofKinds = known ? undefined : helpByAttribute(quantity, this.#library);
    if (!place && having.length === 0 && ofKinds !== undefined) return this.#ofNoPart(quantity, of, ofKinds, faults);
    if (!place && !known && having.length === 0)
      return faults
        .in('quantity')
        .add(
          'QUANTITY_UNKNOWN',
          `there is no quantity \`${quantity}\``,
          helpByTitle(quantity, this.#library) ??
            helpByKind(quantity, this.#library) ??
            suggestFrom(quantity, this.#readable(of), '/v1/quantities'),
        );
    if (known?.unread)
      return faults
        .in('quantity')
        .add('QUANTITY_UNKNOWN', `\`${quantity}\` is worked out, and nobody reads it`, helpInsteadOf(quantity, this.#library));
    const since = this.#changedSince(reading);
    if (place) {
      const places = placesEach(known ?? this.#library.quantities.get(`${quantity}_x`));
      const at = of === undefined ? undefined : (placeSaid(of) ?? of);
      if (at === undefined && places.length > 0)
        return faults.add(
          'OF_MISSING',
          `\`${quantity}\` is another one at each place, and nothing says where it was read`,
          `add \`of\`: ${listed(places)}; or \`all\`, if each was read and they are the same`,
        );
      if (since.length > 0 && known) return this.#outdate(reading, known.title, since, quantity, placesOf(known, at));
      const input = at === undefined ? reading.value : { [at]: reading.value };
      return this.#placed(quantity, input, origin, spotsOfReading(faults));
    }
    if (of === undefined)
      return faults.add(
        'OF_MISSING',
        `\`${quantity}\` belongs to a part`,
        `add \`of\`: ${listed(having.map(({ part }) => part.group))}${known && !isOfSeveral(having) ? ', or a place' : ''}`,
      );
    const meant = partsSaid(
      of,
      having.map(({ part }) => part),
    );
    const named = having.filter(({ part }) => meant.parts.includes(part));
    if (named.length === 0)
      return faults.in('of').add(
        'OF_UNKNOWN',
        `\`${of}\` is neither a part with \`${quantity}\` nor the place of one`,
        helpForPart(
          of,
          having.map(({ part }) => part),
        ),
      );
    const groups = new Set(named.map(({ part }) => part.group));
    if (groups.size > 1 && (meant.byName || !known || isOfSeveral(named)))
      return faults.in('of').add('OF_UNCLEAR', `several parts at \`${of}\` have \`${quantity}\``, `name one: ${listed(groups)}`);
    const [{ name, signature }] = named as [(typeof named)[number]];
    if (since.length > 0)
      return this.#outdate(
        reading,
        signature.title,
        since,
        name,
        named.map(({ part }) => [part.subject]),
      );
    this.#sayAll(
      name,
      named.map(({ part }) => [part.subject]),
      reading.value,
      signature,
      origin,
      faults.in('value'),
    );
  }

  /** An attribute there is, and no part here that has it: what is wrong is the part, be there none of that name or one of another kind. */
  #ofNoPart(quantity: string, of: string | undefined, ofKinds: string, faults: Faults): void {
    const [part] = of === undefined ? [] : partsSaid(of, this.#parts).parts;
    if (of !== undefined && !part && placeSaid(of) === undefined)
      return faults.in('of').add('OF_UNKNOWN', `no part here is called \`${of}\``, `${ofKinds}; ${helpForPart(of, this.#parts)}`);
    const own =
      part &&
      [...attributesOf(this.#library, part.kind).values()].filter(
        ({ leaf, attribute: { type } }) => type.is === 'number' && !leaf.startsWith('part.'),
      );
    const told = own?.map(({ attribute: { name, meaning } }) => `\`${name}\` (${meaning})`) ?? [];
    const whose = part ? `\`${part.group}\`, of the kind \`${part.kind}\`,` : 'no part here';
    const has = told.length > 0 ? `it has ${told.join(', ')}. ` : '';
    faults.in('quantity').add('QUANTITY_UNKNOWN', `${whose} has ${part ? 'no ' : ''}\`${quantity}\``, `${has}${ofKinds}`);
  }

  #changedSince({ quantity, with: taken }: VehicleReading): string[] {
    const kinds = this.#library.quantities.get(quantity)?.measure?.with;
    return kinds && taken ? changedSince(taken, this.#planned, kinds, this.#catalogue, this.#library) : [];
  }

  /** A reading of other parts than those that are planned now says nothing any more; that is told. */
  #outdate(
    { of, value, date, passed_over: isPassedOver }: VehicleReading,
    title: string,
    since: readonly string[],
    name: string,
    subjects: readonly (readonly number[])[],
  ): void {
    const reading = `the reading ${value}${date === undefined ? '' : ` of ${date}`}`;
    const why = `${reading} was taken with other parts (${since.map((name) => `\`${name}\``).join(', ')}) and no longer counts: read it again`;
    this.#readings.push({ name, subjects, statement: ++this.#statements, outdated: why });
    if (isPassedOver) return;
    this.#assumptions.push(`${title}${of === undefined ? '' : ` of ${of}`}: ${why}`);
    for (const each of subjects) this.#outdated.set(saidKey(name, each), why);
  }

  /** What can be read: of a part its attributes, and every quantity. */
  #readable(of: string | undefined): string[] {
    const part = this.#parts.find(({ id, group }) => id === of || group === of);
    return [...(part ? attributesOf(this.#library, part.kind).keys() : []), ...this.#library.quantities.keys()];
  }

  /** A quantity of parts of a kind, on a part of that kind. */
  #ofKind(part: Part, kind: string | undefined, name: string, signature: Signature): NamedValue | undefined {
    return kind !== undefined && isKind(this.#library, part.kind, kind) ? { name, signature } : undefined;
  }

  /** An attribute of a part, by its name alone or with its kind before it: `slack`, `fuel_filler.slack`. */
  #attributeOf({ kind }: Part, written: string): NamedValue | undefined {
    const attributes = attributesOf(this.#library, kind);
    const found = attributes.get(written.slice(written.indexOf('.') + 1));
    const fits = found && (found.leaf === written || !written.includes('.') || written.startsWith(`${kind}.`));
    return fits ? { name: found.leaf, signature: found.attribute } : undefined;
  }
}

/** Places at which a value of each axle, or of each corner, is read; none of what is of the vehicle. */
const placesEach = (quantity: Quantity | undefined): readonly Place[] => {
  const level = quantity?.per.length === 1 ? quantity.per[0]?.is : undefined;
  return PLACES.filter((place) => place !== 'vehicle' && levelOf(place) === level);
};

/** The subjects of a quantity of places, at one of them or at all. */
function placesOf({ per: [of] }: Quantity, at: string | undefined): (readonly number[])[] {
  if (of?.is !== 'axle' && of?.is !== 'corner') return [[]];
  return PLACES.filter((place) => levelOf(place) === of.is && (at === undefined || at === 'all' || (isPlace(at) && covers(at, place)))).map(
    (place) => [subjectOf(place)],
  );
}

/** A place says which part is meant only where parts of one kind have the value: what tyres touch is a dozen things at one corner. */
const isOfSeveral = (having: readonly { readonly part: Part }[]): boolean => new Set(having.map(({ part }) => part.kind)).size > 1;

/** What a value of a part goes by, and what it must be. */
interface NamedValue {
  readonly name: string;
  readonly signature: Signature;
}

interface Described {
  readonly id: string;
  readonly kind: string;
  readonly name: string;
  readonly places: readonly Place[];
  readonly attributes: Readonly<Record<string, ValueInput>>;
  readonly rank: Rank;
  readonly note?: string;
  /** Where faults of an attribute go. */
  readonly at: (name: string) => Faults;
}

/** Where the faults of a value go: those of its name, of its place, and of what it is said to be. */
interface Spots {
  readonly name: Faults;
  place(place: string): Faults;
  value(place?: string): Faults;
}

/** Of a value under its name, or under its name and place. */
const spotsOf = (faults: Faults): Spots => ({
  name: faults,
  place: (place) => faults.in(place),
  value: (place) => (place === undefined ? faults : faults.in(place)),
});

const spotsOfReading = (faults: Faults): Spots => ({
  name: faults.in('quantity'),
  place: () => faults.in('of'),
  value: () => faults.in('value'),
});

/** `toolError` as it was written. */
type Origin = Pick<Said, 'rank' | 'note' | 'date' | 'tool' | 'by'> & { readonly toolError?: string; readonly isPassedOver?: boolean };

const FITS = {
  vehicle: 'the vehicle as a whole',
  axle: '`front`, `rear` or `all`',
  corner: '`front`, `rear`, `all`, or a corner such as `front-left`',
} as const;

/** Of readings of one value the latest counts, wherever it stands and of however much it is; one without a date is older than any with. */
const isSuperseded = (one: Said, all: readonly Said[]): boolean =>
  one.rank === 'measured' && all.some((other) => other.rank === 'measured' && (other.date ?? '') > (one.date ?? ''));

/** What is spelt nearly so, else what is meant so, else all there is. */
function helpWith(name: string, kind: string, known: ReadonlyMap<string, NamedAttribute>): string {
  const meant = nearest(name, known.keys()) === undefined ? meantBy(name, known) : undefined;
  return meant === undefined
    ? suggestFrom(name, known.keys(), `/v1/kinds/${kind}`)
    : `did you mean \`${meant}\` (${known.get(meant)?.attribute.title.toLowerCase()})? /v1/kinds/${kind} has all of them`;
}

/** Of several statements of one rank, what is said of fewer things, later, or more narrowly stands; never what was written first. */
function nearestFirst(a: Said, b: Said): number {
  const [dateA, dateB] = [a.date ?? '', b.date ?? ''];
  return (
    (a.breadth ?? 1) - (b.breadth ?? 1) ||
    (dateA === dateB ? 0 : dateA > dateB ? -1 : 1) ||
    a.plusMinus - b.plusMinus ||
    (a.value < b.value ? -1 : a.value > b.value ? 1 : 0)
  );
}

/** Attributes of a kind with its name before them, as they may be written too. */
const leavesOf = ({ id, attributes }: Kind): string[] => [...attributes.keys()].map((name) => `${id}.${name}`);

/** What a tyre can touch. */
const OBSTACLE = 'tyre_obstacle';

/** So many sit in front, until somebody says otherwise; who comes after them sits behind. */
const IN_FRONT = 2;

const plainIds = (map: ReadonlyMap<string, unknown>): string[] => [...map.keys()].filter((id) => !id.includes('@'));

const readingValue = (reading: ValueInput | ReadingInput): ValueInput => (typeof reading === 'object' ? reading.value : reading);

function readingOrigin(reading: ValueInput | ReadingInput): Origin {
  if (typeof reading !== 'object') return { rank: 'measured' };
  const { date, tool, tool_error: toolError, by, note } = reading;
  const told = { ...(date && { date }), ...(tool && { tool }), ...(by && { by }), ...(note && { note }) };
  return { rank: 'measured', ...told, ...(toolError && { toolError }) };
}

/** What a tool is off by at one reading, alike at all: a length, say, or a share of what is read. */
function sharedError(written: string, { value }: ReadValue, { type }: Signature, tool: string | undefined, faults: Faults): Said['shared'] {
  if (tool === undefined)
    return faults.add('TOOL_MISSING', '`tool_error` is of no tool', 'name the `tool`: readings with one tool share its error');
  if (type.is !== 'number' || typeof value !== 'number')
    return faults.add('TOOL_ERROR_WRONG', 'what is read here is no number', 'leave `tool_error` out');
  const share = parseQuantity(written, NONE);
  const parsed = share.ok && written.includes('%') ? share : parseQuantity(written, type.dimension);
  if (!parsed.ok) return faults.add('TOOL_ERROR_WRONG', `\`tool_error\`: ${parsed.fault.message}`, parsed.fault.help);
  const size = parsed === share && type.dimension !== NONE ? parsed.measure.value * value : parsed.measure.value;
  return { tool, plusMinus: size };
}

/** A reading that states no tolerance has what a careful person usually gets. */
function asSaid({ value, plusMinus, stated }: ReadValue, signature: Signature, origin: Origin): Said {
  const usual = origin.rank === 'measured' && !stated ? (signature.measure?.accuracy ?? 0) : plusMinus;
  const plain = typeof value === 'number' ? value : typeof value === 'boolean' ? Number(value) : Number.NaN;
  return { ...origin, value: plain, plusMinus: usual, ...(typeof value === 'string' && { text: value }) };
}
