/** The catalogue behind a database; an empty one begins with the demo's entries. */
import { addEntries, getEntry, listEntries } from '../../db/catalogue.ts';
import { openDatabase, type Tables, type Where } from '../../db/open.ts';
import type { CataloguePart, CatalogueVehicle } from '../vehicle/index.ts';
import type { CataloguePort, DemoData } from './catalogue.ts';
import { ApiError } from './errors.ts';

/** A database that is away is no fault of the request: it asks the caller to come back. */
async function reached<T>(asked: Promise<T>): Promise<T> {
  return asked.catch((cause: unknown) => {
    throw Object.assign(new ApiError('UNAVAILABLE', 'The database does not answer.', [], { 'retry-after': '2' }), { cause });
  });
}

/** All of the demo or nothing of it: a catalogue with half of it would never get the rest. */
async function beginWith(demo: DemoData, tables: Tables): Promise<void> {
  const [vehicles, parts] = await Promise.all([listEntries(tables, 'vehicle', { limit: 1 }), listEntries(tables, 'part', { limit: 1 })]);
  if (vehicles.length + parts.length > 0) return;
  await tables.transaction(async (inside) => {
    await addEntries(inside, 'vehicle', demo.vehicles);
    await addEntries(inside, 'part', demo.parts);
  });
}

export async function storedCatalogue(where: Where, demo: DemoData): Promise<CataloguePort> {
  const { tables, ping, close } = await openDatabase(where);
  await beginWith(demo, tables).catch(async (error: unknown) => {
    await close();
    throw error;
  });
  return {
    vehicle: (id, version) => reached(getEntry<CatalogueVehicle>(tables, 'vehicle', id, version)),
    part: (id, version) => reached(getEntry<CataloguePart>(tables, 'part', id, version)),
    vehicles: (query) => reached(listEntries<CatalogueVehicle>(tables, 'vehicle', query)),
    parts: (query) => reached(listEntries<CataloguePart>(tables, 'part', query)),
    ping,
    close,
  };
}
