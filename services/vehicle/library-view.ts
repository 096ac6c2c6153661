/** Questions about kinds that need their ancestors. */
import type { Attribute, Fitting, Kind, Library } from '../engine/tree.ts';

/** A library does not change once it is loaded. */
const lineages = new WeakMap<Library, Map<string, readonly Kind[]>>();

/** The kind and those above it, nearest first. */
export function lineage(library: Library, kind: string): readonly Kind[] {
  const lines = lineages.get(library) ?? new Map<string, readonly Kind[]>();
  lineages.set(library, lines);
  const known = lines.get(kind);
  if (known) return known;
  const line: Kind[] = [];
  for (let at = library.kinds.get(kind); at; at = at.is === undefined ? undefined : library.kinds.get(at.is)) line.push(at);
  lines.set(kind, line);
  return line;
}

export const isKind = (library: Library, kind: string, ancestor: string): boolean =>
  lineage(library, kind).some(({ id }) => id === ancestor);

/** It lies round the tyre, or may, as a liner does: one of a kind that says so, or below one. */
export const liesRoundTyre = (library: Library, kind: string): boolean =>
  lineage(library, kind).some(({ roundTheTyre }) => roundTheTyre === true);

/** An attribute with the name its values go by: the kind that declares it, a dot, the attribute. */
export interface NamedAttribute {
  readonly leaf: string;
  readonly attribute: Attribute;
}

export function attributesOf(library: Library, kind: string): ReadonlyMap<string, NamedAttribute> {
  const found = new Map<string, NamedAttribute>();
  for (const { id, attributes } of lineage(library, kind)) {
    for (const [name, attribute] of attributes) if (!found.has(name)) found.set(name, { leaf: `${id}.${name}`, attribute });
  }
  return found;
}

/** The attribute that has most of the typed words in its title, its meaning or the kind that declares it, as `lift` is of a suspension lift. */
export function meantBy(typed: string, known: ReadonlyMap<string, NamedAttribute>): string | undefined {
  const words = typed.toLowerCase().match(/[a-z]{3,}/g) ?? [];
  const scored = [...known].map(([name, { leaf, attribute }]) => {
    const said: readonly string[] = `${leaf.split('.')[0]} ${attribute.title} ${attribute.meaning}`.toLowerCase().match(/[a-z]+/g) ?? [];
    return { name, score: words.filter((word) => said.includes(word)).length };
  });
  const most = Math.max(...scored.map(({ score }) => score));
  return most > 0 ? scored.find(({ score }) => score === most)?.name : undefined;
}

/** The kind of which a place holds one at most, if the given kind is of such a one. */
export const exclusiveKind = (library: Library, kind: string): string | undefined =>
  lineage(library, kind).findLast(({ onePerPlace }) => onePerPlace)?.id;

/** The works that put a part of the kind on; undefined where nothing is known of it. */
export const fittingFor = (library: Library, kind: string): Fitting | undefined =>
  lineage(library, kind).find(({ fitting }) => fitting !== undefined)?.fitting;

/** What is read on the vehicle as it stands: of what parts change, the value before them. */
export const asItStands = ({ quantities }: Library, name: string): string =>
  quantities.has(`${name}_fitted`) && quantities.has(`${name}_as_built`) ? `${name}_fitted` : name;
