/** Where vehicles and parts come from: a port, and the demo catalogue behind it when no database is set. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'yaml';
import type { Catalogue, CataloguePart, CatalogueVehicle, CheckRequest, PartInput } from '../vehicle/index.ts';

export interface ListQuery {
  /** Id after which to go on. */
  readonly after?: string;
  readonly limit: number;
  readonly kind?: string;
  readonly search?: string;
}

/** The most a list answers with at once. */
export const MOST_LISTED = 200;

export interface CataloguePort {
  vehicle(id: string, version?: number): Promise<CatalogueVehicle | undefined>;
  part(id: string, version?: number): Promise<CataloguePart | undefined>;
  /** In the order of their ids. */
  vehicles(query: ListQuery): Promise<readonly CatalogueVehicle[]>;
  parts(query: ListQuery): Promise<readonly CataloguePart[]>;
  /** Throws when it cannot be reached. */
  ping(): Promise<void>;
  close(): Promise<void>;
}

/** The entries a request names, as the checker wants them; what is not there is left out and becomes a fault of the request. */
export async function entriesFor(request: CheckRequest, port: CataloguePort): Promise<Catalogue> {
  const named = (parts: readonly PartInput[] | undefined): PartInput[] => [...(parts ?? [])];
  const vehicles = new Map<string, CatalogueVehicle>();
  const parts = new Map<string, CataloguePart>();
  const { vehicle } = request;
  const found =
    vehicle.from === 'catalogue'
      ? await enter(vehicles, vehicle.vehicle, vehicle.version, (id, version) => port.vehicle(id, version))
      : undefined;
  const fitted = vehicle.from === 'inline' ? vehicle.fitted : found?.fitted;
  const wanted = [...named(fitted), ...named(request.parts)].filter((input) => input.from === 'catalogue');
  for (const { part, version } of wanted) await enter(parts, part, version, (id, of) => port.part(id, of));
  const complete = (vehicle.from !== 'catalogue' || found) && wanted.every(({ part, version }) => parts.has(keyOf(part, version)));
  const hash = hashOf([...vehicles.values(), ...parts.values()]);
  return complete ? { vehicles, parts, hash } : { vehicles, parts, hash, known: await knownIds(port) };
}

/** As many ids as one page of each list has. */
async function knownIds(port: CataloguePort): Promise<NonNullable<Catalogue['known']>> {
  const [vehicles, parts] = await Promise.all([port.vehicles({ limit: MOST_LISTED }), port.parts({ limit: MOST_LISTED })]);
  return { vehicles: vehicles.map(({ id }) => id), parts: parts.map(({ id }) => id) };
}

const keyOf = (id: string, version: number | undefined): string => (version === undefined ? id : `${id}@${version}`);

async function enter<T>(
  map: Map<string, T>,
  id: string,
  version: number | undefined,
  get: (id: string, version?: number) => Promise<T | undefined>,
): Promise<T | undefined> {
  const key = keyOf(id, version);
  if (map.has(key)) return map.get(key);
  const found = await get(id, version);
  if (found) map.set(key, found);
  else if (version !== undefined) {
    const current = await get(id);
    if (current) map.set(id, current);
  }
  return found;
}

/** Depends on what the entries say alone, not on the order they were named in. */
const hashOf = (entries: readonly unknown[]): string =>
  createHash('sha256')
    .update(
      entries
        .map((entry) => JSON.stringify(entry))
        .sort()
        .join('\n'),
    )
    .digest('hex');

export interface DemoData {
  readonly vehicles: readonly CatalogueVehicle[];
  readonly parts: readonly CataloguePart[];
}

/** Reads the demo catalogue's files. */
export function readDemo(folder: string): DemoData {
  const read = <T>(file: string): T => parse(readFileSync(join(folder, file), 'utf8')) as T;
  return { vehicles: read<CatalogueVehicle[]>('vehicles.yaml'), parts: read<CataloguePart[]>('parts.yaml') };
}

/** A catalogue that lives in memory and does not change. */
export function memoryCatalogue({ vehicles, parts }: DemoData): CataloguePort {
  const one = <T extends { readonly id: string; readonly version: number }>(
    all: readonly T[],
    id: string,
    version?: number,
  ): T | undefined =>
    all.filter((entry) => entry.id === id && (version === undefined || entry.version === version)).sort((a, b) => b.version - a.version)[0];
  const list = <T extends { readonly id: string; readonly name: string; readonly kind?: string }>(
    all: readonly T[],
    { after, limit, kind, search }: ListQuery,
  ): T[] =>
    all
      .filter((entry) => (after === undefined || entry.id > after) && (kind === undefined || entry.kind === kind))
      .filter((entry) => search === undefined || `${entry.id} ${entry.name}`.toLowerCase().includes(search.toLowerCase()))
      .sort((a, b) => (a.id < b.id ? -1 : 1))
      .slice(0, limit);
  return {
    vehicle: async (id, version) => one(vehicles, id, version),
    part: async (id, version) => one(parts, id, version),
    vehicles: async (query) => list(vehicles, query),
    parts: async (query) => list(parts, query),
    ping: async () => {},
    close: async () => {},
  };
}
