/** What people call a thing of parts by the word for the part: `lift` for the height that springs or coil-overs add. */
import type { Kind, Library } from '../engine/tree.ts';
import { lineage } from './library-view.ts';

/** What is read in place of something that is only worked out: what begins with the same words. */
export function helpInsteadOf(name: string, { quantities }: Library): string {
  const read = [...quantities.values()].filter(({ measure }) => measure).map((each) => each.name.replace(/_fitted$/, ''));
  const words = name.split('_');
  const alike = words
    .map((_, i) => words.slice(0, words.length - i).join('_'))
    .map((begin) => [...new Set(read.filter((each) => each.startsWith(`${begin}_`)))])
    .find((found) => found.length > 0);
  return alike
    ? `read ${alike.map((each) => `\`${each}\``).join(', ')}`
    : 'read what it is worked out from: see what a check asks to be measured';
}

/** How a quantity is written that was named by its title, as lists print it. */
export function helpByTitle(written: string, { quantities, kinds }: Library): string | undefined {
  const title = written.trim().toLowerCase();
  if (title === '') return undefined;
  const attributes = [...kinds.values()].flatMap((kind) => [...kind.attributes.values()]);
  const names = [...quantities.values(), ...attributes].filter((each) => each.title.toLowerCase() === title).map(({ name }) => name);
  // As it stands is what a reading is of in any case.
  const shortest = [...new Set(names)].sort((a, b) => a.length - b.length)[0];
  return shortest && `that is how \`${shortest.replace(/_fitted$/, '')}\` is told to people: write that name`;
}

/** Of which kinds it is said, where it is an attribute of any. */
export function helpByAttribute(written: string, library: Library): string | undefined {
  const having = [...library.kinds.values()].filter(({ attributes }) => attributes.has(written));
  if (having.length === 0) return undefined;
  return `\`${written}\` is said of ${having.map(({ id }) => partsOf(id, library)).join(' or ')}`;
}

/** Kinds of which the word is in the name, with what can be said of them; nothing where no kind has it. */
export function helpByKind(word: string, library: Library): string | undefined {
  const named = [...library.kinds.values()].filter(
    ({ id, attributes }) => id.split('_').includes(word.toLowerCase()) && hasNumber(attributes),
  );
  if (named.length === 0) return undefined;
  const told = named.map(({ id, attributes }) => {
    const names = [...attributes].filter(([, { type }]) => type.is === 'number').map(([name]) => `\`${name}\``);
    return `${names.join(', ')} of ${partsOf(id, library)}`;
  });
  return `\`${word}\` is a kind of part, not a quantity: say ${told.join('; or ')}, with the part's id under \`of\``;
}

const hasNumber = (attributes: Kind['attributes']): boolean => [...attributes.values()].some(({ type }) => type.is === 'number');

/** A part of that kind, or of those that it groups. */
function partsOf(id: string, library: Library): string {
  const kinds = [...library.kinds.values()].filter((kind) => !kind.abstract && lineage(library, kind.id).some((one) => one.id === id));
  return kinds.map((kind) => `a \`${kind.id}\``).join(' or ');
}
