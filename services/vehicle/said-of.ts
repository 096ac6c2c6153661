/** What a reading says it is of: a place, or parts, by id or in the very words in which an answer names them. */
import { nearest } from '../engine/diagnostics.ts';
import { listed, suggestFrom } from './faults.ts';
import { axleOf, covers, isPlace } from './places.ts';
import type { Place, PlaceInput } from './request.ts';

/** What a part is called. */
interface Called {
  readonly id: string;
  readonly group: string;
  readonly name: string;
  readonly place: Place;
}

const plain = (text: string): string => text.trim().toLowerCase().replace(/\s+/g, ' ');

/** `front`, `front axle`, `the front left`, `front left and right`, `all four corners`: the one place that is just those, if there is. */
export function placeSaid(text: string): PlaceInput | undefined {
  const words = plain(text).replace(/^the /, '');
  if (words === 'all' || words === 'all four corners' || words === 'front axle and rear axle') return 'all';
  const pair = /^(front|rear) left and (?:\1 )?right$/.exec(words)?.[1];
  const place = pair ?? words.replace(/ axle$/, '').replaceAll(' ', '-');
  return isPlace(place) ? place : undefined;
}

/** The parts that are meant: of an id, of a group, at a place, or of a name with its place in brackets. */
export function partsSaid<P extends Called>(of: string, parts: readonly P[]): { readonly parts: readonly P[]; readonly byName: boolean } {
  const place = placeSaid(of);
  const byId = parts.filter((part) => part.id === of || part.group === of || (place !== undefined && isAt(part, place)));
  if (byId.length > 0) return { parts: byId, byName: false };
  return { parts: parts.filter((part) => isCalled(part, of)), byName: true };
}

const isAt = ({ place }: Called, at: PlaceInput): boolean => at === 'all' || covers(at, place);

function isCalled(part: Called, text: string): boolean {
  const name = plain(part.name);
  if (plain(text) === name) return true;
  const [, called = '', where = ''] = /^(.*)\(([^()]*)\)$/.exec(text.trim()) ?? [];
  const place = placeSaid(where);
  return plain(called) === name && place !== undefined && isAt(part, place);
}

/** Which of the parts was probably meant: the exact id, with its side where one was written. */
export function helpForPart(of: string, parts: readonly Called[]): string {
  const [head = '', at] = of.split('@');
  const groups = parts.map(({ group }) => group);
  const group = groups.includes(head) ? head : at === undefined ? undefined : nearest(head, groups);
  const named =
    group ??
    parts.find(
      ({ name }) =>
        name ===
        nearest(
          head.replace(/\(.*$/, ''),
          parts.map((part) => part.name),
        ),
    )?.group;
  const own = parts.filter((part) => part.group === named);
  const there = own.filter(({ place }) => at !== undefined && isSide(place, plain(at)));
  const meant = there.length > 0 ? there : own;
  if (meant.length > 0) return `did you mean ${listed(meant.map(({ id }) => id))}?`;
  return suggestFrom(of, [...groups, ...parts.map(({ id }) => id)]);
}

/** `left` is a side of a corner, `front` its end. */
const isSide = (place: Place, side: string): boolean => place.split('-').includes(side) || axleOf(place) === side;
