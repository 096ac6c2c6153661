/** What people call a thing of parts by the word for the part: `lift` for the height that springs or coil-overs add. */
import type { Kind, Library } from '../engine/tree.ts';
import { lineage } from './library-view.ts';

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
