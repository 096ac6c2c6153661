/** The catalogue behind a database, as checks read it; an empty one begins with the demo's entries. */
import { findEntries, listEntries, putEntries } from '../../db/catalogue.ts';
import type { Tables } from '../../db/open.ts';
import type { CataloguePart, CatalogueVehicle } from '../vehicle/index.ts';
import type { DemoData, Lookup } from './catalogue.ts';

export const storedLookup = (tables: Tables): Lookup => ({
  vehicles: (refs) => findEntries<CatalogueVehicle>(tables, 'vehicle', refs),
  parts: (refs) => findEntries<CataloguePart>(tables, 'part', refs),
});

export async function beginWithDemo(tables: Tables, demo: DemoData): Promise<void> {
  for (const noun of ['vehicle', 'part'] as const) if ((await listEntries(tables, noun, { limit: 1 })).items.length > 0) return;
  await putEntries(tables, 'vehicle', demo.vehicles.map(unversioned));
  await putEntries(tables, 'part', demo.parts.map(unversioned));
}

const unversioned = <T extends { readonly version: number }>({ version: _, ...entry }: T): Omit<T, 'version'> => entry;
