/** The two nouns of the catalogue: their forms, their tables, and what makes an entry of theirs unfit. */
import type { z } from 'zod';
import type { NewEntry, Noun } from '../../db/catalogue.ts';
import type { Tables } from '../../db/open.ts';
import type { Library } from '../engine/index.ts';
import type { RequestFault } from '../vehicle/index.ts';
import { attributeNames, type NewPart, type NewVehicle, partChecker, vehicleFaults } from './entries.ts';
import type { Table } from './import-csv.ts';
import { CataloguePart, CatalogueVehicle, PartChange, PartEntry, VehicleChange, VehicleEntry } from './schemas/request.ts';
import { storedLookup } from './stored-catalogue.ts';

export interface Described {
  readonly noun: Noun;
  readonly path: 'vehicles' | 'parts';
  readonly operation: 'Vehicle' | 'Part';
  readonly schema: z.ZodType;
  readonly entry: z.ZodType;
  readonly change: z.ZodType;
  readonly table: Table;
  faults(entry: NewEntry, inside: Tables): Promise<readonly RequestFault[]> | readonly RequestFault[];
}

export function nouns(library: Library): readonly Described[] {
  const faultsOfPart = partChecker(library);
  const own = ['id', 'name', 'maker', 'note'];
  return [
    {
      noun: 'vehicle',
      path: 'vehicles',
      operation: 'Vehicle',
      schema: CatalogueVehicle,
      entry: VehicleEntry,
      change: VehicleChange,
      table: {
        own: [...own, 'class'],
        needed: ['id', 'name', 'class'],
        field: 'values',
        names: new Set(library.quantities.keys()),
        places: true,
      },
      faults: (entry, inside) => vehicleFaults(entry as NewVehicle, library, storedLookup(inside)),
    },
    {
      noun: 'part',
      path: 'parts',
      operation: 'Part',
      schema: CataloguePart,
      entry: PartEntry,
      change: PartChange,
      table: { own: [...own, 'kind'], needed: ['id', 'name', 'kind'], field: 'attributes', names: attributeNames(library), places: false },
      faults: (entry) => faultsOfPart(entry as NewPart),
    },
  ];
}
