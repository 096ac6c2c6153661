/** The catalogue behind a database, as checks read it; an empty one begins with the demo's entries. */
import { findEntries, listEntries, type Noun, putEntries } from '../../db/catalogue.ts';
import type { Tables } from '../../db/open.ts';
import type { CataloguePart, CatalogueVehicle } from '../vehicle/index.ts';
import type { DemoData, Lookup } from './catalogue.ts';

export const storedLookup = (tables: Tables): Lookup => ({
  vehicles: (refs) => findEntries<CatalogueVehicle>(tables, 'vehicle', refs),
  parts: (refs) => findEntries<CataloguePart>(tables, 'part', refs),
  ids: async () => ({ vehicles: await idsOf(tables, 'vehicle'), parts: await idsOf(tables, 'part') }),
});

const MOST_IDS = 200;

const idsOf = async (tables: Tables, noun: Noun): Promise<string[]> =>
  (await listEntries<{ readonly id: string }>(tables, noun, { limit: MOST_IDS })).items.map(({ id }) => id);

/** All of the demo or nothing of it: a catalogue with half of it would never get the rest. */
export async function beginWithDemo(tables: Tables, demo: DemoData): Promise<void> {
  for (const noun of ['vehicle', 'part'] as const) if ((await listEntries(tables, noun, { limit: 1 })).items.length > 0) return;
  await tables.transaction(async (inside) => {
    await putEntries(inside, 'vehicle', demo.vehicles.map(unversioned));
    await putEntries(inside, 'part', demo.parts.map(unversioned));
  });
}

const unversioned = <T extends { readonly version: number }>({ version: _, ...entry }: T): Omit<T, 'version'> => entry;
