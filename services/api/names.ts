/** What people write in a cell for a vehicle or a part: its id, its whole name, or the id of a class. */
import { LRUCache } from 'lru-cache';
import { findEntries, listEntries, type Noun } from '../../db/catalogue.ts';
import type { Tables } from '../../db/open.ts';
import { nearest } from '../engine/diagnostics.ts';
import type { Library } from '../engine/index.ts';
import type { Names } from '../sheets/row-request.ts';
import type { CataloguePart } from '../vehicle/index.ts';

const REMEMBERED = 5000;
const LONGEST = 100;
const NEAREST = 20;
const MOST_TOLD = 3;

/** Remembers what it found for as long as it lives: a job, or a request. */
export function storedNames(tables: Tables, library: Library): Names {
  const known = new LRUCache<string, { readonly found: { readonly id: string; readonly kind?: string } | undefined }>({ max: REMEMBERED });
  const find = async (noun: Noun, text: string) => {
    const key = `${noun} ${text}`;
    const before = known.get(key);
    if (before) return before.found;
    const [byId] = await findEntries<CataloguePart>(tables, noun, [{ id: text }]);
    const found = byId ?? (await byName(noun, text));
    known.set(key, { found: found && { id: found.id, kind: found.kind } });
    return found;
  };
  const byName = async (noun: Noun, text: string): Promise<CataloguePart | undefined> => {
    if (text.length > LONGEST || !/\p{L}{2}/u.test(text)) return undefined;
    const { items } = await listEntries<CataloguePart>(tables, noun, { limit: NEAREST, search: text });
    return items.find(({ name }) => plain(name) === plain(text));
  };
  return {
    like: async (noun, text) => {
      const words = text.trim().slice(0, LONGEST);
      if (!/\p{L}{2}/u.test(words)) return [];
      const { items } = await listEntries<CataloguePart>(tables, noun, { limit: MOST_TOLD, search: words });
      const found = nearest(words, noun === 'vehicle' ? library.classes.keys() : []);
      return [...items.map(({ id }) => id), ...(found === undefined ? [] : [found])].slice(0, MOST_TOLD);
    },
    part: async (text) => (await find('part', text)) as { id: string; kind: string } | undefined,
    vehicle: async (text) => {
      const found = await find('vehicle', text);
      if (found) return { from: 'catalogue', id: found.id };
      const named = [...library.classes.values()].find(({ id, title }) => id === text || plain(title) === plain(text));
      return named && { from: 'class', id: named.id };
    },
  };
}

const plain = (text: string): string => text.normalize('NFKC').toLowerCase().replace(/\s+/g, ' ').trim();
