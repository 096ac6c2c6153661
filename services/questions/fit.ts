/** Fits a short answer into a length: what matters least is shortened or left out first, and some of it never. */

export interface Segment {
  readonly id: string;
  /** From whole to shortest; an empty last one may be left out. */
  readonly variants: readonly string[];
}

export type Fitted = { readonly ok: true; readonly text: string } | { readonly ok: false; readonly least: number };

/**
 * Takes the next shorter variant of the segments in the order given, one step at a time, until all of it fits.
 * Where not even the shortest does, it tells the least length.
 */
export function fitSegments(
  segments: readonly Segment[],
  order: readonly string[],
  length: number,
  join: (texts: readonly string[]) => string,
): Fitted {
  const at = new Map(segments.map(({ id }) => [id, 0]));
  const text = (): string => join(segments.map(({ id, variants }) => variants[at.get(id) ?? 0] ?? '').filter((each) => each !== ''));
  for (const id of order) {
    if (text().length <= length) break;
    const segment = segments.find((each) => each.id === id);
    const now = at.get(id);
    if (segment && now !== undefined && now < segment.variants.length - 1) at.set(id, now + 1);
  }
  // What a later step made room for comes back, the last that gave way first.
  for (const id of [...order].reverse()) {
    const now = at.get(id);
    if (now === undefined || now === 0) continue;
    at.set(id, now - 1);
    if (text().length > length) at.set(id, now);
  }
  const made = text();
  return made.length <= length ? { ok: true, text: made } : { ok: false, least: made.length };
}
