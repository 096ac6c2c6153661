/** One vehicle in one state as the engine sees it: its parts by kind and place, and its values. */
import { Bands } from '../engine/band.ts';
import type { World } from '../engine/bind.ts';
import { EQUAL_WITHIN } from '../engine/interpret.ts';
import { Ranges } from '../engine/proof.ts';
import type { Library, Signature } from '../engine/tree.ts';
import { type Candidate, type Provider, RANKS, type Texts, Values } from '../engine/values.ts';
import { LOOSE, type Pin, pinOf } from '../units/index.ts';
import { type Assembly, type Part, saidKey } from './assembly.ts';
import { isKind, lineage } from './library-view.ts';
import { axleOf, cornerOf, covers, FIRST_PART, levelOf, PLACES, placeNamed, subjectOf } from './places.ts';
import { providersFor } from './providers/index.ts';
import type { Place } from './request.ts';

/** What works have done so far: the value that now stands, by value name and subjects. */
export type Done = ReadonlyMap<string, Candidate>;

export interface VehicleWorld extends World {
  readonly assembly: Assembly;
  readonly library: Library;
  /** Parts that are on the vehicle: fitted ones that stay, planned ones, and the load. */
  readonly present: readonly Part[];
  /** What readings that it was made to agree with leave of a value, with others. */
  pinOf(slot: number): Pin;
  partOf(subject: number): Part | undefined;
  /** The part's id, or the place's. */
  idOf(subject: number): string;
  /** How people call a place: `front axle`, `front left`. */
  placeName(subject: number): string;
}

export function createWorld(assembly: Assembly, library: Library, texts: Texts, done: Done = new Map()): VehicleWorld {
  const said = done.size > 0 ? moved(assembly, library, texts, done) : assembly.said;
  let providers: ReadonlyMap<string, Provider> | undefined;
  const present = assembly.parts.filter((part) => !assembly.removed.has(part));
  const values: Values = new Values(
    {
      signature: (name) => signatureOf(library, name),
      provider: (name) => providers?.get(name),
      candidates: (name, subjects) => candidatesOf(assembly, said, library, done, values, name, subjects),
    },
    texts,
  );
  const byKind = new Map<string, readonly number[]>();
  const byPlace = new Map<string, (readonly number[])[]>();
  const partOf = (subject: number): Part | undefined => assembly.parts[subject - FIRST_PART];
  const placeOf = (subject: number) => (subject < FIRST_PART ? PLACES[subject] : partOf(subject)?.place);
  const everywhere = [...PLACES, ...assembly.parts.map(({ place }) => place)];
  const numbered = (of: (place: Place) => Place | undefined): number[] =>
    everywhere.map((place) => {
      const found = of(place);
      return found === undefined ? -1 : subjectOf(found);
    });
  const [places, axles, corners] = [numbered((place) => place), numbered(axleOf), numbered(cornerOf)];
  const pinned = (slot: number): Pin => {
    const { name, subjects } = values.node(slot);
    const agreed = assembly.agreed?.get(saidKey(name, subjects));
    return agreed ? pinOf(agreed, values.toleranceOf(slot)) : LOOSE;
  };
  const world: VehicleWorld = {
    assembly,
    library,
    present,
    values,
    bands: new Bands(values),
    pinOf: pinned,
    ranges: new Ranges(values),
    partOf,
    idOf: (subject) => partOf(subject)?.id ?? PLACES[subject] ?? 'vehicle',
    placeName: (subject) => {
      const place = placeOf(subject) ?? 'vehicle';
      return levelOf(place) === 'axle' ? `${place} axle` : place.replace('-', ' ');
    },
    parts: (kind) => {
      const known = byKind.get(kind);
      if (known) return known;
      const found = present.filter((part) => isKind(library, part.kind, kind)).map(({ subject }) => subject);
      byKind.set(kind, found);
      return found;
    },
    placed: placeNamed,
    placeOf: (subject) => places[subject] ?? -1,
    partsAt: (kind, place) => {
      const known = byPlace.get(kind) ?? [];
      byPlace.set(kind, known);
      known[place] ??= world.parts(kind).filter((part) => covers(PLACES[place] ?? 'vehicle', placeOf(part) ?? 'vehicle'));
      return known[place];
    },
    step: (subject, to) => (to === 'axle' ? axles : corners)[subject] ?? -1,
  };
  providers = providersFor(world);
  return world;
}

/** The dictionary's entry of a value: a quantity's, or that of an attribute under the kind that declares it. */
export function signatureOf(library: Library, name: string): Signature | undefined {
  const dot = name.indexOf('.');
  return dot < 0 ? library.quantities.get(name) : library.kinds.get(name.slice(0, dot))?.attributes.get(name.slice(dot + 1));
}

const isReading = ({ rank }: Candidate): boolean => rank === 'measured';

/** The assembly without readings of what is computed, such as of a gap with the planned tyres on: they say nothing of any other state. */
export function unread(assembly: Assembly, library: Library): Assembly {
  const kept = [...assembly.said].map(([key, said]) => {
    const computed = library.quantities.get(key.split('|')[0] as string)?.comes === 'computed';
    return [key, computed ? said.filter((one) => !isReading(one)) : said] as const;
  });
  return { ...assembly, said: new Map(kept) };
}

/**
 * Readings of what is computed were taken before the work: they move by what it changes of the computed value. Where that
 * cannot be told, they no longer say anything.
 */
function moved(assembly: Assembly, library: Library, texts: Texts, done: Done): Assembly['said'] {
  const bare = unread(assembly, library);
  const taken = [...assembly.said].filter(([key, said]) => said.length > (bare.said.get(key)?.length ?? 0));
  if (taken.length === 0) return assembly.said;
  const states: StatesOf = (of) => [new Map<string, Candidate>(), done].map((work) => createWorld(of, library, texts, work).values);
  const worlds = states(bare);
  const shifted = taken.map(([key, said]) => {
    const by = moves(key, bare, worlds, states);
    return [key, said.flatMap((one) => (!isReading(one) ? [one] : Number.isNaN(by) ? [] : [{ ...one, value: one.value + by }]))] as const;
  });
  return new Map([...bare.said, ...shifted]);
}

/** The values of a vehicle before work and with it done. */
type StatesOf = (assembly: Assembly) => readonly Values[];

/** So far a chain of unknown values is followed to what of it is missing on both sides. */
const MOST_MISSING = 4;
/** Two values that something missing is given in turn, SI: what does not differ between them does not hang on it. */
const TRIALS = [0, 0.05] as const;

/**
 * By how much work moves a value. What is missing of it both before and after and goes into it alike cancels: where a
 * bumper's corner is, say. NaN where it does not.
 */
function moves(key: string, bare: Assembly, worlds: readonly Values[], states: StatesOf, depth = 0): number {
  const [name = '', subjects = ''] = key.split('|');
  const at = subjects === '' ? [] : subjects.split(',').map(Number);
  const [was, is] = worlds.map((values) => values.read(values.slot(name, at))) as [number, number];
  if (!Number.isNaN(is - was) || depth === MOST_MISSING) return is - was;
  const missing = new Set(
    worlds.flatMap((values) =>
      values.missingOf(values.slot(name, at)).map((slot) => saidKey(values.node(slot).name, values.node(slot).subjects)),
    ),
  );
  if (missing.has(key)) return Number.NaN;
  const [one, other] = TRIALS.map((value) => {
    const given = [...missing].map((each) => [each, [{ value, plusMinus: 0, rank: 'work' as const }]] as const);
    const supposed = { ...bare, said: new Map([...bare.said, ...given]) };
    return moves(key, supposed, states(supposed), states, depth + 1);
  }) as [number, number];
  return Math.abs(one - other) <= EQUAL_WITHIN ? one : Number.NaN;
}

/** Everything said about a value, what works made of it, and what holds for the trade at large. */
function candidatesOf(
  assembly: Assembly,
  all: Assembly['said'],
  library: Library,
  done: Done,
  values: Values,
  name: string,
  subjects: readonly number[],
): Candidate[] {
  const key = saidKey(name, subjects);
  const said: Candidate[] = (all.get(key) ?? []).map(({ text, ...candidate }) =>
    text === undefined ? candidate : { ...candidate, value: values.intern(text) },
  );
  const worked = done.get(key);
  // What is varied in a what-if stands as work does; work that follows changes it.
  if (worked) said.unshift(worked);
  const signature = signatureOf(library, name);
  const typical = typicalOf(assembly, library, name, subjects) ?? signature?.typical;
  if (typical) said.push({ value: typical.value, plusMinus: typical.plusMinus, rank: 'typical' });
  const other = signature && 'alsoSaidAs' in signature ? (signature.alsoSaidAs as string | undefined) : undefined;
  if (other !== undefined) {
    // A better statement of the same thing said otherwise wins: from it this one is computed.
    const best = values.node(values.slot(other, subjects)).candidates[0];
    if (best) said.splice(0, said.length, ...said.filter(({ rank }) => RANKS.indexOf(rank) <= RANKS.indexOf(best.rank)));
  }
  const standing = signature && ('initially' in signature ? signature.initially : 'default' in signature ? signature.default : undefined);
  if (typeof standing === 'string') said.push({ value: values.intern(standing), plusMinus: 0, rank: 'rule', note: STANDING });
  else if (standing !== undefined) said.push({ value: Number(standing), plusMinus: 0, rank: 'rule', note: STANDING });
  return said;
}

/** The values that are computed of this one, where it says them otherwise. */
export const otherwiseOf = ({ kinds }: Library, name: string): string[] =>
  [...kinds.values()].flatMap(({ id, attributes }) =>
    [...attributes].flatMap(([each, { alsoSaidAs }]) => (alsoSaidAs === name ? [`${id}.${each}`] : [])),
  );

/** Where a value that stands from the beginning comes from. */
const STANDING = 'as it is until somebody says otherwise or work changes it';

/** What is typical of an attribute, or of a quantity of parts, for parts of just this kind, on such a vehicle before any other. */
function typicalOf(assembly: Assembly, library: Library, name: string, [subject]: readonly number[]) {
  const part = subject === undefined ? undefined : assembly.parts[subject - FIRST_PART];
  if (!part) return undefined;
  const attribute = name.split('.')[1] ?? name;
  return lineage(library, part.kind)
    .map(({ id, typical }) => assembly.typical.get(id)?.get(attribute) ?? typical.get(attribute))
    .find((typical) => typical !== undefined);
}
