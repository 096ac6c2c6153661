/**
 * A reading with the planned parts on is a reading of those parts: with a larger tyre the gap is another one. It counts
 * for as long as the parts it hangs on are those it was taken with; what hangs on which kinds of part, the dictionary says.
 */
import type { Library } from '../engine/tree.ts';
import type { Catalogue } from './assembly.ts';
import { isKind } from './library-view.ts';
import type { PartInput } from './request.ts';

/** Names of the parts of those kinds that have come, gone or become others since; none where the reading still counts. */
export function changedSince(
  taken: readonly PartInput[],
  now: readonly PartInput[],
  kinds: readonly string[],
  { parts }: Catalogue,
  library: Library,
): string[] {
  const matters = (part: PartInput): boolean => {
    const kind = part.from === 'inline' ? part.kind : parts.get(part.part)?.kind;
    // What is not known to be of another kind may matter.
    return kind === undefined || kinds.some((of) => isKind(library, kind, of));
  };
  const [then, since] = [taken, now].map((list) => new Map(list.filter(matters).map((part) => [likeness(part), nameOf(part)])));
  const only = (these?: ReadonlyMap<string, string>, those?: ReadonlyMap<string, string>): string[] =>
    [...(these ?? [])].filter(([key]) => !those?.has(key)).map(([, name]) => name);
  return [...new Set([...only(then, since), ...only(since, then)])];
}

const nameOf = (part: PartInput): string => part.id ?? (part.from === 'catalogue' ? part.part : (part.name ?? part.kind));

/** What a part is and where; what it is called, and readings of it, do not make it another one. */
function likeness(part: PartInput): string {
  const what =
    part.from === 'catalogue'
      ? [part.part, part.version ?? null]
      : [part.kind, Object.entries(part.attributes ?? {}).sort(([a], [b]) => (a < b ? -1 : 1)), ...(part.shape ? [part.shape] : [])];
  return JSON.stringify([part.from, part.at ?? null, ...what]);
}
