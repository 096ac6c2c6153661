/** Whether an entry can be taken into the catalogue: its kind or class is known, and its values have the units these ask for. */
import { suggest } from '../engine/diagnostics.ts';
import type { Library } from '../engine/index.ts';
import { Faults } from '../vehicle/faults.ts';
import { assemble, type CataloguePart, type CatalogueVehicle, type RequestFault } from '../vehicle/index.ts';
import { attributesOf, isKind, type NamedAttribute } from '../vehicle/library-view.ts';
import { readValue } from '../vehicle/read-value.ts';
import { entriesFor, type Lookup } from './catalogue.ts';

export type NewPart = Omit<CataloguePart, 'version'>;
export type NewVehicle = Omit<CatalogueVehicle, 'version'>;

/** A check of parts; what a kind's attributes are is worked out once a kind. */
export function partChecker(library: Library): (part: NewPart) => RequestFault[] {
  const known = new Map<string, ReadonlyMap<string, NamedAttribute>>();
  const attributes = (kind: string): ReadonlyMap<string, NamedAttribute> => {
    const found = known.get(kind) ?? attributesOf(library, kind);
    known.set(kind, found);
    return found;
  };
  return (part) => {
    const faults = new Faults();
    const kind = library.kinds.get(part.kind);
    if (!kind) faults.in('kind').add('KIND_UNKNOWN', `there is no kind \`${part.kind}\``, suggest(part.kind, library.kinds.keys()));
    else if (kind.abstract)
      faults.in('kind').add('KIND_ABSTRACT', `\`${kind.id}\` only groups other kinds`, `say which: ${below(library, kind.id)}`);
    else
      for (const [name, value] of Object.entries(part.attributes)) {
        const at = faults.in('attributes', name);
        const found = attributes(kind.id).get(name);
        if (found) readValue(value, found.attribute, at);
        else at.add('ATTRIBUTE_UNKNOWN', `a ${kind.title.toLowerCase()} has no \`${name}\``, suggest(name, attributes(kind.id).keys()));
      }
    return faults.list;
  };
}

const below = (library: Library, group: string): string =>
  [...library.kinds.values()]
    .filter(({ id, abstract }) => !abstract && isKind(library, id, group))
    .map(({ id }) => `\`${id}\``)
    .join(', ');

/** A vehicle is put together as it stands, with nothing more on it. */
export async function vehicleFaults(
  { id: _, maker: __, note: ___, ...vehicle }: NewVehicle,
  library: Library,
  lookup: Lookup,
): Promise<RequestFault[]> {
  const request = { vehicle: { from: 'inline' as const, ...vehicle } };
  const assembled = assemble(request, await entriesFor(request, lookup), library);
  return assembled.ok ? [] : assembled.faults.map((fault) => ({ ...fault, pointer: fault.pointer.replace(/^\/vehicle/, '') }));
}

/** Every attribute of every kind, for the columns of a table of parts. */
export const attributeNames = (library: Library): ReadonlySet<string> =>
  new Set([...library.kinds.values()].flatMap(({ attributes }) => [...attributes.keys()]));
