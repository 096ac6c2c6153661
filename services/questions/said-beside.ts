/** What stands beside a part and is said of it: amounts of a kind it takes, the axle, its flavour. */
import type { Line } from './items.ts';
import type { PartWord } from './lexicon.ts';
import { axleLeads } from './read-sizes.ts';
import type { Amount } from './tokens.ts';

export type Axle = 'front' | 'rear';

/** An amount in the line, and the axle that is said with it. */
export interface Beside {
  readonly i: number;
  readonly amount: Amount;
  readonly dimension: Dimension;
  readonly at?: Axle;
}

type Dimension = 'length' | 'mass' | 'force' | 'charge' | 'energy' | 'volume' | 'bare';

const DIMENSIONS: Readonly<Record<string, Dimension>> = {
  in: 'length',
  mm: 'length',
  cm: 'length',
  ft: 'length',
  lb: 'mass',
  kg: 'mass',
  t: 'mass',
  kN: 'force',
  Ah: 'charge',
  Wh: 'energy',
  kWh: 'energy',
  qt: 'volume',
  L: 'volume',
  gal: 'volume',
};
export const dimensionOf = ({ unit }: Amount): Dimension | undefined => (unit ? DIMENSIONS[unit.symbol] : 'bare');

/**
 * Amounts of a kind the part takes: those before it, up to the part or size before; only where there are none, those behind it. Of
 * lengths all are taken where each comes with an axle (`2.5 front 1.5 rear lift`), else the nearest.
 */
export function amountsBeside(line: Line, i: number, part: PartWord, peek?: number): Beside[] {
  const before = collect(line, i, -1, part);
  const behind = collect(line, i, 1, part);
  const found = before.length > 0 ? [...before, ...behind.filter((each) => isMore(line, each, before))] : behind;
  if (peek !== undefined) return found;
  const byDimension = new Map<string, Beside[]>();
  for (const each of found) byDimension.set(each.dimension, [...(byDimension.get(each.dimension) ?? []), each]);
  return [...byDimension.values()].flatMap((same) => {
    const placed = same.filter(({ at }) => at !== undefined);
    return part.by_axle && placed.length > 1 ? placed : same.slice(0, 1);
  });
}

/** Behind a part that has an amount already, one of another kind is its own too, unless the next part comes right behind it. */
function isMore(line: Line, { i, dimension }: Beside, before: readonly Beside[]): boolean {
  const next = line.beside(i, 1, 1);
  return before.every((each) => each.dimension !== dimension) && (next === undefined || !line.means(next, 'part'));
}

/** Items away from a part, within which what is said of it stands. */
export const FURTHEST = 8;

function collect(line: Line, i: number, step: 1 | -1, part: PartWord): Beside[] {
  const found: Beside[] = [];
  for (let j = i + step; j >= 0 && j < line.items.length && Math.abs(j - i) <= FURTHEST; j += step) {
    const item = line.at(j);
    if (!item) break;
    if (item.token.is === 'pair' && !item.used && part.takes?.length) {
      const { front, rear } = item.token;
      return [...found, { i: j, amount: front, dimension: 'length', at: 'front' }, { i: j, amount: rear, dimension: 'length', at: 'rear' }];
    }
    const amount = line.amount(j);
    const dimension = amount && taken(amount, part);
    if (amount && dimension) {
      const at = axleWithAmount(line, j, i);
      found.push({ i: j, amount, dimension, ...(at && { at }) });
      continue;
    }
    if (amount || stops(line, j, step, found.length > 0)) break;
  }
  return found;
}

/** A comma goes on only behind a part that said nothing yet, and before an amount: `lift, 2.5 in`. */
function stops(line: Line, j: number, step: 1 | -1, has: boolean): boolean {
  if (line.isParting(j)) {
    const mark = line.at(j)?.token;
    const goesOn = mark?.is === 'mark' && ['(', ')', ':', '/', '&'].includes(mark.mark);
    return !(
      goesOn ||
      (step === 1 && !has && mark?.is === 'mark' && mark.mark === ',' && line.amount(j + 1) !== undefined && !line.means(j + 2, 'part'))
    );
  }
  if (line.isIdle(j)) return false;
  return !(line.means(j, 'axle') || line.means(j, 'flavour') || line.means(j, 'stock-noun'));
}

function axleWithAmount(line: Line, j: number, head: number): Axle | undefined {
  for (const k of axleLeads(line, j) ? [j - 1, j + 1] : [j + 1, j - 1]) {
    const axle = k === head ? undefined : line.means(k, 'axle');
    if (axle && axle.at !== 'both' && !line.at(k)?.used && !line.means(k, 'part')) return axle.at;
  }
  return undefined;
}

/** What kind of amount it is to the part; a bare number is a length, or thousands of pounds of pull. */
function taken(amount: Amount, part: PartWord): Dimension | undefined {
  const dimension = dimensionOf(amount);
  if (amount.signed && amount.value < 0) return undefined;
  if (dimension !== 'bare') return dimension && part.takes?.[dimension] ? dimension : undefined;
  if (part.bare && amount.value >= 1000) return 'force';
  if (part.bare && amount.value >= 2 && amount.value <= 20) return 'force';
  return part.takes?.length && amount.value >= 0.25 && amount.value <= 300 ? 'length' : undefined;
}

export function axleOf(
  line: Line,
  i: number,
  amounts: readonly Beside[],
): { readonly at?: readonly Axle[]; readonly words: readonly number[] } {
  const near = new Set([i, ...amounts.map((each) => each.i)]);
  const found = [...near].flatMap((k) => axlesNear(line, k)).filter((j, at, all) => all.indexOf(j) === at);
  const none = found.filter((j) => deniedBefore(line, j) !== undefined);
  const after = found.length > 0 ? [] : axleInNextClause(line, Math.max(...near));
  const words = [...found.filter((j) => !none.includes(j)), ...after];
  if (words.length === 0 && none.length > 0) {
    const out = new Set(none.map((j) => line.means(j, 'axle')?.at));
    return {
      at: (['front', 'rear'] as const).filter((at) => !out.has(at)),
      words: none.flatMap((j) => [j, deniedBefore(line, j) as number]),
    };
  }
  const said = new Set(
    words.flatMap((j) => (line.means(j, 'axle')?.at === 'both' ? ['front', 'rear'] : [line.means(j, 'axle')?.at])),
  ) as ReadonlySet<Axle>;
  for (const { at } of amounts) if (at) (said as Set<Axle>).add(at);
  return said.size > 0 ? { at: (['front', 'rear'] as const).filter((at) => said.has(at)), words } : { words };
}

/** `no front`, `without the rear`. */
const deniedBefore = (line: Line, j: number): number | undefined =>
  [j - 1, j - 2].find((k) => line.means(k, 'not') !== undefined && line.at(k)?.used === false && (k === j - 1 || line.isIdle(j - 1)));

/** `2 in lift, rear only`: a clause of its own that says nothing but the axle. */
function axleInNextClause(line: Line, from: number): number[] {
  let mark = from + 1;
  while (line.isIdle(mark)) mark++;
  const token = line.at(mark)?.token;
  if (token?.is !== 'mark' || !AXLE_CLAUSE.has(token.mark)) return [];
  const ends = (j: number): boolean => line.at(j) === undefined || line.isParting(j);
  const said: number[] = [];
  for (let j = mark + 1; !ends(j); j++) {
    if (line.means(j, 'axle') && !line.means(j, 'part') && line.at(j)?.used === false) said.push(j);
    else if (!line.isIdle(j) && !line.means(j, 'denied')) return [];
  }
  return said;
}

const AXLE_CLAUSE = new Set([',', '(', ';', '.']);

/** Words for an axle within reach of an item, with nothing but idle words between. */
function axlesNear(line: Line, k: number): number[] {
  const found: number[] = [];
  for (let j = Math.max(0, k - 3); j <= k + 3; j++) {
    const said = line.at(j)?.used === false && line.means(j, 'axle') && !line.means(j, 'part');
    if (said && onlyIdleBetween(line, Math.min(j, k), Math.max(j, k))) found.push(j);
  }
  return found;
}

const onlyIdleBetween = (line: Line, from: number, to: number): boolean => {
  for (let j = from + 1; j < to; j++) if (!line.isIdle(j) && !line.means(j, 'flavour')) return false;
  return true;
};

const MOST_COUNTED = 12;
/** Between how many there are and what they are. */
const OF = new Set(['of', 'x', 'the', 'my', 'more', 'extra', 'new', 'other']);

/** How many there are of what begins at `from`: `two 80 gal tanks`, `pair of`, `3 batteries`. */
export function countBefore(line: Line, from: number): { readonly i: number; readonly value: number } | undefined {
  for (let i = from - 1; i >= 0 && i >= from - 3; i--) {
    if (line.at(i)?.used) return undefined;
    const said = line.means(i, 'count') ?? line.means(i, 'number') ?? bareCount(line.amount(i));
    if (said && !line.means(i, 'part')) return said.value >= 2 && said.value <= MOST_COUNTED ? { i, value: said.value } : undefined;
    if (!OF.has(line.at(i)?.phrase ?? '')) return undefined;
  }
  return undefined;
}

const bareCount = (amount: Amount | undefined): { readonly value: number } | undefined =>
  amount && !amount.unit && !amount.signed && !amount.gears && amount.plusMinus === 0 && Number.isInteger(amount.value)
    ? amount
    : undefined;

export function flavourOf(line: Line, i: number, part: PartWord): { readonly words: readonly number[] } {
  const known = new Set((part.flavours ?? []).flatMap(({ words }) => words));
  const words: number[] = [];
  for (const j of [i - 1, i - 2, i - 3, i + 1]) {
    if (line.isParting(j)) {
      if (j < i) break;
      continue;
    }
    if (line.at(j) && !line.at(j)?.used && known.has(line.at(j)?.phrase ?? '') && line.means(j, 'flavour')) words.push(j);
  }
  return { words };
}
