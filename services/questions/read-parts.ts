/** Reads parts: each word for one, whether it is planned, asked for or refused, and at which axle it goes in. */
import type { PlaceInput } from '../vehicle/index.ts';
import type { Line } from './items.ts';
import type { PartWord } from './lexicon.ts';
import { type Kinds, putPart, type Said } from './put-part.ts';
import { refusalOf } from './read-refusals.ts';
import type { Notes } from './reading.ts';
import { type Axle, amountsBeside, axleOf, countBefore, FURTHEST, flavourOf } from './said-beside.ts';
import type { Amount } from './tokens.ts';

/** Nobody asks about more parts at once; the rest of a paste is told as not understood. */
const MOST_HEADS = 100;

export function readParts(line: Line, notes: Notes, kinds: Kinds, words: readonly PartWord[]): void {
  const heads = line.where((i) => partAt(line, i) !== undefined);
  for (const i of heads.slice(0, MOST_HEADS)) if (!line.at(i)?.used) readPart(i, line, notes, kinds, words);
  const lift = words.find(({ id }) => id === 'lift');
  if (lift) readLooseLift(line, notes, kinds, lift);
}

const partAt = (line: Line, i: number): { readonly part: PartWord; readonly word: string } | undefined => {
  const found = line.means(i, 'part');
  if (!found) return undefined;
  const needs = found.part.needs_amount?.includes(line.at(i)?.phrase ?? '');
  return needs && amountsBeside(line, i, found.part, i).length === 0 ? undefined : found;
};

function readPart(i: number, line: Line, notes: Notes, kinds: Kinds, words: readonly PartWord[]): void {
  const found = partAt(line, i);
  const item = line.at(i);
  if (!found || !item) return;
  const { part } = found;
  if (isRefused(line, i, notes, part) || isAskedFor(line, i, notes, part)) return;
  const amounts = amountsBeside(line, i, part);
  const axle = axleOf(line, i, amounts);
  const flavour = flavourOf(line, i, part);
  const own = [i, ...amounts.map((each) => each.i), ...axle.words, ...flavour.words];
  const count = countBefore(line, Math.min(...own));
  line.use(...own, count?.i);
  const spans = own.map((j) => line.at(j) ?? item);
  const where = { start: Math.min(...spans.map(({ start }) => start)), end: Math.max(...spans.map(({ end }) => end)) };
  notes.plannedParts.set(part.id, part.says);
  const said: Said = {
    part,
    phrase: item.phrase,
    amounts,
    where,
    flavour: flavour.words.map((j) => line.at(j)?.phrase ?? ''),
    ...(count && { count: count.value }),
  };
  const there = part.where === undefined || kinds.fitted(part.where);
  if (!there && !part.elsewhere && !part.by_axle) {
    notes.missed.push({ ...where, why: `there are none on a front of that kind`, known: part.says });
    return;
  }
  if (!part.by_axle) {
    const other = otherAxle(line, i, part);
    if (other) {
      for (const caution of part.other_axle?.mind ?? []) notes.cautions.add(caution);
      notes.missed.push({
        ...where,
        why: part.other_axle?.why ?? `${part.says} go in at the ${part.at}, and ${other} was said`,
        known: part.says,
      });
      return;
    }
    if (!there && part.elsewhere) return putPart(said, { ...part.elsewhere, at: part.at as PlaceInput }, notes, kinds);
    const at = part.at === 'all' && axle.at?.length === 1 ? axle.at[0] : part.at;
    return putPart(said, { kind: part.kind as string, ...(at && { at }) }, notes, kinds);
  }
  const axles: readonly Axle[] =
    axle.at ?? (part.both?.includes(item.phrase) || !part.only_unless_said ? ['front', 'rear'] : [part.only_unless_said]);
  if (axle.at === undefined && axles.length === 2 && part.id === 'lift' && amounts.length > 0)
    notes.assume('which axle is lifted was not said: both by that much', true, 'both axles lifted alike');
  if (
    axle.at === undefined &&
    part.only_unless_said &&
    axles.length === 1 &&
    part.id === 'front-bumper' &&
    !/front|bull|winch|roo|brush|stubby|hybrid/.test(item.phrase)
  )
    notes.assume('which bumper was not said: taken as the front one', true, 'the front bumper');
  for (const at of axles) {
    const { kind, says, amount } = ofClass(part.by_axle[at], kinds);
    const own = amounts.filter((each) => each.at === undefined || each.at === at);
    const place = part.id === 'front-bumper' ? {} : { at };
    const flavours = words.find((other) => other.kind === kind && other.flavours)?.flavours;
    putPart(
      { ...said, weak: axle.at === undefined, ...(flavours && { flavours }), amounts: own.length > 0 ? own : amounts },
      { kind, says, ...place, ...(amount && { amount }) },
      notes,
      kinds,
    );
  }
}

/** What the class has at that axle: springs of their own where its front has no coil-overs. */
const ofClass = (axle: NonNullable<PartWord['by_axle']>['front'], kinds: Kinds) =>
  axle.where !== undefined && axle.elsewhere && !kinds.fitted(axle.where) ? axle.elsewhere : axle;

/** `level rear`: the axle right beside a part that goes in at the other one only. */
function otherAxle(line: Line, i: number, part: PartWord): Axle | undefined {
  if (part.at !== 'front' && part.at !== 'rear') return undefined;
  for (const j of [i + 1, i - 1]) {
    const axle = line.means(j, 'axle')?.at;
    const beyond = line.at(j + (j - i));
    const ends = beyond === undefined || line.isParting(j + (j - i)) || line.isIdle(j + (j - i));
    if (axle !== undefined && axle !== 'both' && axle !== part.at && ends && !line.means(j, 'part')) return axle;
  }
  return undefined;
}

/** `what lift do I need`, `do I need a diff drop`: it is asked for, so none is planned. */
function isAskedFor(line: Line, i: number, notes: Notes, part: PartWord): boolean {
  const item = line.at(i);
  const asking = neededBefore(line, i, notes) ?? whichBefore(line, i, part);
  if (!item || !asking) return false;
  line.use(i, ...asking);
  notes.pieces.push({
    start: Math.min(item.start, ...asking.map((j) => line.at(j)?.start ?? item.start)),
    end: item.end,
    as: 'state',
    says: `what ${part.says} it takes is asked`,
  });
  notes.assume(`no ${part.says} was counted, since it is asked what it takes`, true, `no ${part.says}`);
  return true;
}

function whichBefore(line: Line, i: number, part: PartWord): readonly number[] | undefined {
  const asked = [i - 1, i - 2].find((j) => line.at(j)?.used === false && line.means(j, 'asked') && (j === i - 1 || line.isIdle(i - 1)));
  return asked === undefined || amountsBeside(line, i, part).length > 0 ? undefined : [asked];
}

/** Behind these stands what it would be needed for. */
const NEEDED_FOR = new Set(['for', 'with', 'w', 'on', 'to', 'if', 'when', 'at']);

/** The words that ask whether the part is needed, and what stands between; `UCAs and a diff drop` are asked for both. */
function neededBefore(line: Line, i: number, { needed }: Notes): readonly number[] | undefined {
  const between: number[] = [];
  for (let j = i - 1; j >= 0 && j >= i - FURTHEST; j--) {
    const { phrase = '' } = line.at(j) ?? {};
    if (line.means(j, 'needed') || needed.has(j)) {
      needed.add(i);
      return line.at(j)?.used ? between : [j, ...between];
    }
    if (line.amount(j)) between.push(j);
    else if (NEEDED_FOR.has(phrase) || !(line.isIdle(j) || line.means(j, 'axle') || line.means(j, 'flavour') || isComma(line, j)))
      return undefined;
  }
  return undefined;
}

const isComma = (line: Line, j: number): boolean => {
  const token = line.at(j)?.token;
  return token?.is === 'mark' && token.mark === ',';
};

/** `no lift`, `stock bumper`, `winch removed`: said so, and nothing is planned. */
function isRefused(line: Line, i: number, notes: Notes, part: PartWord): boolean {
  const refusal = refusalOf(line, i, notes.refused);
  const item = line.at(i);
  if (!item || !refusal) return false;
  const axle = axleOf(line, i, []);
  line.use(i, ...refusal.items, ...axle.words);
  notes.refused.add(i);
  if (refusal.says === 'no' && axle.at === undefined && !refusal.items.some((k) => item && line.at(k)?.token.is === 'amount'))
    notes.refusedParts.set(part.id, item);
  const said = [i, ...refusal.items].map((k) => line.at(k) ?? item);
  const where = { start: Math.min(...said.map(({ start }) => start)), end: Math.max(...said.map(({ end }) => end)) };
  const at = axle.at?.length === 1 ? axle.at[0] : undefined;
  notes.pieces.push({
    ...where,
    as: 'state',
    says: refusal.says === 'no' ? `no ${at ? `${at} ` : ''}${part.says}` : `${part.says} as it came`,
  });
  if (refusal.says === 'no' && part.by_axle)
    for (const axleOut of at ? [at] : []) notes.without.add(`${part.by_axle[axleOut].kind} ${axleOut}`);
  return true;
}

/** Lengths with an axle and no part: `3 in front, 2 in rear` is a lift. */
function readLooseLift(line: Line, notes: Notes, kinds: Kinds, part: PartWord): void {
  const lifted = notes.pieces.some(({ says }) => says.startsWith('front coil-overs') || says.startsWith('rear springs'));
  const loose = line.where((i) => {
    const amount = line.amount(i);
    return amount !== undefined && isLiftLike(amount, lifted) && besideAxle(line, i) !== undefined;
  });
  if (!part.by_axle) return;
  for (const i of loose) {
    const axle = besideAxle(line, i);
    const item = line.at(i);
    const amount = line.amount(i);
    if (!axle || !item || !amount) continue;
    line.use(i, axle.word);
    notes.assume('a length beside an axle was taken as a lift', true, 'lengths as lift');
    const { kind, says } = ofClass(part.by_axle[axle.at], kinds);
    putPart(
      { part, phrase: 'lift', amounts: [{ i, amount, dimension: 'length' }], where: item, flavour: [] },
      { kind, says, at: axle.at },
      notes,
      kinds,
    );
  }
}

/** Half an inch to eight, or as much in millimetres; without a unit only where a lift was named. */
function isLiftLike({ value, unit, signed }: Amount, lifted: boolean): boolean {
  if (signed || (!unit && !lifted)) return false;
  return unit?.symbol === 'mm' ? value >= 12 && value <= 200 : (!unit || unit.symbol === 'in') && value >= 0.5 && value <= 8;
}

function besideAxle(line: Line, i: number): { readonly at: Axle; readonly word: number } | undefined {
  for (const step of [1, -1] as const) {
    const j = line.beside(i, step, 2);
    const axle = j !== undefined && line.at(j)?.used === false ? line.means(j, 'axle') : undefined;
    if (j !== undefined && axle && axle.at !== 'both') return { at: axle.at, word: j };
  }
  return undefined;
}
