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
  const words = [...near].flatMap((k) => axlesNear(line, k)).filter((j, at, all) => all.indexOf(j) === at);
  const said = new Set(
    words.flatMap((j) => (line.means(j, 'axle')?.at === 'both' ? ['front', 'rear'] : [line.means(j, 'axle')?.at])),
  ) as ReadonlySet<Axle>;
  for (const { at } of amounts) if (at) (said as Set<Axle>).add(at);
  return said.size > 0 ? { at: (['front', 'rear'] as const).filter((at) => said.has(at)), words } : { words };
}

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
