/** The catalogue entries a check needs, and the demo catalogue. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'yaml';
import type { Catalogue, CataloguePart, CatalogueVehicle, CheckRequest } from '../vehicle/index.ts';

/** Which entry: its current version, or the one of that number. */
export interface EntryRef {
  readonly id: string;
  readonly version?: number;
}

/** Finds the entries named, the current version of each and those of other numbers that are asked for. */
export interface Lookup {
  vehicles(refs: readonly EntryRef[]): Promise<readonly CatalogueVehicle[]>;
  parts(refs: readonly EntryRef[]): Promise<readonly CataloguePart[]>;
  /** Ids there are, some hundred at most: what somebody who wrote another may have meant. */
  ids(): Promise<NonNullable<Catalogue['known']>>;
}

/** The entries a request names, as the checker wants them; what is not there is left out and becomes a fault of the request. */
export async function entriesFor({ vehicle, parts = [] }: Pick<CheckRequest, 'vehicle' | 'parts'>, lookup: Lookup): Promise<Catalogue> {
  const vehicleRef = vehicle.from === 'catalogue' ? [refTo(vehicle.vehicle, vehicle.version)] : [];
  const vehicles = byRef(vehicleRef, await lookup.vehicles(vehicleRef));
  const fitted = vehicle.from === 'inline' ? vehicle.fitted : vehicles.get(keyOf(vehicleRef[0] as EntryRef))?.fitted;
  const partRefs = [...(fitted ?? []), ...parts].flatMap((part) => (part.from === 'catalogue' ? [refTo(part.part, part.version)] : []));
  const found = byRef(partRefs, await lookup.parts(partRefs));
  const complete = [...vehicleRef.map((ref) => vehicles.has(keyOf(ref))), ...partRefs.map((ref) => found.has(keyOf(ref)))].every(Boolean);
  const hash = hashOf([...vehicles.values(), ...found.values()]);
  return complete ? { vehicles, parts: found, hash } : { vehicles, parts: found, hash, known: await lookup.ids() };
}

const refTo = (id: string, version: number | undefined): EntryRef => ({ id, ...(version !== undefined && { version }) });
const keyOf = ({ id, version }: EntryRef): string => (version === undefined ? id : `${id}@${version}`);

/** Of an entry that has not the version asked for, the current one stands in under its plain id, so that the fault can say so. */
function byRef<T extends { readonly id: string; readonly version: number }>(
  refs: readonly EntryRef[],
  found: readonly T[],
): Map<string, T> {
  const newest = (id: string) => found.filter((entry) => entry.id === id).sort((a, b) => b.version - a.version)[0];
  const entries = new Map<string, T>();
  for (const ref of refs) {
    const exact = ref.version === undefined ? newest(ref.id) : found.find(({ id, version }) => id === ref.id && version === ref.version);
    const entry = exact ?? newest(ref.id);
    if (entry) entries.set(exact ? keyOf(ref) : ref.id, entry);
  }
  return entries;
}

/** Depends on what the entries say alone, not on the order they were named in or their keys were kept in. */
const hashOf = (entries: readonly unknown[]): string =>
  createHash('sha256')
    .update(
      entries
        .map((entry) => JSON.stringify(entry, keysInOrder))
        .sort()
        .join('\n'),
    )
    .digest('hex');

const keysInOrder = (_: string, value: unknown): unknown =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
    ? Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
    : value;

export interface DemoData {
  readonly vehicles: readonly CatalogueVehicle[];
  readonly parts: readonly CataloguePart[];
}

/** Reads the demo catalogue's files. */
export function readDemo(folder: string): DemoData {
  const read = <T>(file: string): T => parse(readFileSync(join(folder, file), 'utf8')) as T;
  return { vehicles: read<CatalogueVehicle[]>('vehicles.yaml'), parts: read<CataloguePart[]>('parts.yaml') };
}

/** Looks up in the demo catalogue, without a database. */
export function demoLookup({ vehicles, parts }: DemoData): Lookup {
  const among = <T extends { readonly id: string }>(all: readonly T[], refs: readonly EntryRef[]): T[] =>
    all.filter((entry) => refs.some(({ id }) => id === entry.id));
  return {
    vehicles: async (refs) => among(vehicles, refs),
    parts: async (refs) => among(parts, refs),
    ids: async () => ({ vehicles: vehicles.map(({ id }) => id), parts: parts.map(({ id }) => id) }),
  };
}
