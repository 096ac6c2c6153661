/** Parts of the catalogue named by their ids: `orrisbeck-trail-265`. */
import type { Library } from '../engine/index.ts';
import type { PartInput, PlaceInput } from '../vehicle/index.ts';
import type { PartWord } from './lexicon.ts';
import type { Notes } from './reading.ts';
import { plainText } from './tidy.ts';

/** An entry of the catalogue. */
export interface NamedPart {
  readonly id: string;
  readonly name: string;
  readonly kind: string;
}

const ID = /(?<![\p{L}\p{N}-])[\p{L}\p{N}]{1,40}(?:[-_][\p{L}\p{N}]{1,40}){1,8}(?![\p{L}\p{N}-])/gu;
const MOST_IDS = 20;

/** Words that have the form of an id, and may be one. */
export const idsIn = (typed: string): string[] =>
  [...new Set([...plainText(typed).matchAll(ID)].map(([id]) => id).filter((id) => /\p{L}{2}/u.test(id)))].slice(0, MOST_IDS);

/** Puts the parts named into the build, and gives the places in the text that name them. */
export function readCatalogueParts(
  text: string,
  parts: readonly NamedPart[],
  words: readonly PartWord[],
  library: Library,
  notes: Notes,
): { readonly start: number; readonly end: number }[] {
  const byId = new Map(parts.map((part) => [part.id.toLowerCase(), part]));
  return [...text.matchAll(ID)].flatMap((match) => {
    const part = byId.get(match[0]);
    const axles = part && placesOf(part.kind, words, library);
    if (!part || !axles) return [];
    const span = { start: match.index, end: match.index + match[0].length };
    const puts = axles.map((at): PartInput => ({ from: 'catalogue', part: part.id, ...(at && { at }), replaces: 'fitted' }));
    notes.pieces.push({
      ...span,
      as: part.kind === 'tyre' || part.kind === 'wheel' ? part.kind : 'part',
      says: part.name,
      puts: { parts: puts },
    });
    return [span];
  });
}

/** All corners, the axle the kind is for, or the vehicle; nothing where the kind does not say at which axle. */
function placesOf(kind: string, words: readonly PartWord[], library: Library): readonly (PlaceInput | undefined)[] | undefined {
  const fits = library.kinds.get(kind)?.fits;
  if (fits === 'vehicle') return [undefined];
  if (fits === 'corner') return [kind === 'brake_hose' ? 'front' : 'all'];
  const known = words.find((word) => word.kind === kind && word.at);
  if (known?.at) return [known.at];
  const axle = (['front', 'rear'] as const).find((at) => words.some((word) => word.by_axle?.[at].kind === kind));
  return axle ? [axle] : undefined;
}
