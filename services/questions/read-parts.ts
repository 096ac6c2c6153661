/** Reads parts: each word for one, with the amounts, the axle and the flavour said beside it. */
import { findUnit, fromUnit, toUnit } from '../units/index.ts';
import type { PartInput, PlaceInput, ValueInput } from '../vehicle/index.ts';
import type { Line } from './items.ts';
import type { PartWord } from './lexicon.ts';
import { refusalOf } from './read-refusals.ts';
import { axleLeads, tidyNumber, written } from './read-sizes.ts';
import type { Notes } from './reading.ts';
import type { Amount } from './tokens.ts';

/** Attributes of each kind with their ranges in SI: what is said beyond them is refused here, and told. */
export interface Kinds {
  has(kind: string, attribute: string): boolean;
  /** Whether the class of the vehicle has one. */
  fitted(kind: string): boolean;
  range(kind: string, attribute: string): { readonly atLeast?: number; readonly atMost?: number; readonly unit?: string } | undefined;
}

/** Nobody asks about more parts at once; the rest of a paste is told as not understood. */
const MOST_HEADS = 100;

type Axle = 'front' | 'rear';

/** An amount in the line, and the axle that is said with it. */
interface Beside {
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
  line.use(i, ...amounts.map((each) => each.i), ...axle.words, ...flavour.words);
  const spans = [item, ...[...amounts.map((each) => each.i), ...axle.words, ...flavour.words].map((j) => line.at(j) ?? item)];
  const where = { start: Math.min(...spans.map(({ start }) => start)), end: Math.max(...spans.map(({ end }) => end)) };
  notes.plannedParts.set(part.id, part.says);
  const said: Said = { part, phrase: item.phrase, amounts, where, flavour: flavour.words.map((j) => line.at(j)?.phrase ?? '') };
  const there = part.where === undefined || kinds.fitted(part.where);
  if (!there && !part.elsewhere && !part.by_axle) {
    notes.missed.push({ ...where, why: `there are none on a front of that kind`, known: part.says });
    return;
  }
  if (!part.by_axle) {
    const other = otherAxle(line, i, part);
    if (other) {
      notes.missed.push({ ...where, why: `${part.says} go in at the ${part.at}, and ${other} was said`, known: part.says });
      return;
    }
    if (!there && part.elsewhere) return put(said, { ...part.elsewhere, at: part.at as PlaceInput }, notes, kinds);
    const at = part.at === 'all' && axle.at?.length === 1 ? axle.at[0] : part.at;
    return put(said, { kind: part.kind as string, ...(at && { at }) }, notes, kinds);
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
    put(
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

/** `what lift do I need`: it is asked for, so none is planned. */
function isAskedFor(line: Line, i: number, notes: Notes, part: PartWord): boolean {
  const item = line.at(i);
  const asked = [i - 1, i - 2].find((j) => line.at(j)?.used === false && line.means(j, 'asked') && (j === i - 1 || line.isIdle(i - 1)));
  if (!item || asked === undefined || amountsBeside(line, i, part).length > 0) return false;
  line.use(i, asked);
  notes.pieces.push({
    start: line.at(asked)?.start ?? item.start,
    end: item.end,
    as: 'state',
    says: `what ${part.says} it takes is asked`,
  });
  notes.assume(`no ${part.says} was counted, since it is asked what it takes`, true, `no ${part.says}`);
  return true;
}

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

/**
 * Amounts of a kind the part takes: those before it, up to the part or size before; only where there are none, those behind it. Of
 * lengths all are taken where each comes with an axle (`2.5 front 1.5 rear lift`), else the nearest.
 */
function amountsBeside(line: Line, i: number, part: PartWord, peek?: number): Beside[] {
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

const FURTHEST = 8;

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

function axleOf(line: Line, i: number, amounts: readonly Beside[]): { readonly at?: readonly Axle[]; readonly words: readonly number[] } {
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

function flavourOf(line: Line, i: number, part: PartWord): { readonly words: readonly number[] } {
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

interface Said {
  readonly part: PartWord;
  readonly phrase: string;
  readonly amounts: readonly Beside[];
  readonly where: { readonly start: number; readonly end: number };
  readonly flavour: readonly string[];
  /** Put at an axle that was not said. */
  readonly weak?: boolean;
  /** Of the kind at that axle, where the word stands for both. */
  readonly flavours?: PartWord['flavours'];
}

interface As {
  readonly kind: string;
  readonly says?: string;
  readonly at?: PlaceInput;
  /** Attribute that takes the length, where it is not the part's own. */
  readonly amount?: string | undefined;
}

function put(said: Said, as: As, notes: Notes, kinds: Kinds): void {
  const { part, where } = said;
  const attributes: Record<string, ValueInput> = {};
  const told: string[] = [];
  for (const each of said.amounts) {
    const read = attributeOf(each, said, as, notes);
    if (!read) continue;
    const wrong = outOfRange(as.kind, read.attribute, each.amount, read.unit, kinds);
    if (wrong !== undefined) {
      notes.missed.push({ ...where, why: `${written(each.amount, read.unit)} of ${as.says ?? part.says} is ${wrong}`, known: part.says });
      return;
    }
    if (read.attribute !== 'name') attributes[read.attribute] = read.value;
    told.push(read.says);
  }
  addFlavours(said, attributes, notes);
  addMass(said, attributes, notes);
  addAssumed(said, as, attributes, notes, kinds);
  const label = [as.says ?? part.says, ...told].join(' ');
  const input: PartInput = {
    from: 'inline',
    kind: as.kind,
    name: capital(part.name ?? as.says ?? part.says) + (told.length > 0 ? ` ${told.join(' ')}` : ''),
    ...(as.at && { at: as.at }),
    ...(part.replaces && { replaces: part.replaces }),
    ...(Object.keys(attributes).length > 0 && { attributes }),
  };
  const needed = as.amount ?? part.takes?.length ?? part.takes?.force;
  if (needed !== undefined) notes.needs.push({ kind: as.kind, ...(as.at && { at: as.at }), attribute: needed, says: as.says ?? part.says });
  if (part.ambiguous?.includes(said.phrase)) notes.assume(`“${said.phrase}” was taken for ${part.says}`, true);
  if (part.mind) notes.assume(part.mind.says, true, part.mind.brief);
  if (said.weak) notes.weak.add(input);
  notes.pieces.push({ ...where, as: 'part', says: label, puts: { parts: [input] } });
}

const capital = (text: string): string => text.replace(/^./, (letter) => letter.toUpperCase());

interface ReadAmount {
  readonly attribute: string;
  readonly value: string;
  readonly unit: string;
  readonly says: string;
}

function attributeOf({ amount, dimension }: Beside, { part, phrase }: Said, as: As, notes: Notes): ReadAmount | undefined {
  const attribute = dimension === 'length' ? (as.amount ?? part.takes?.length) : part.takes?.[dimension === 'bare' ? 'length' : dimension];
  if (attribute === undefined) return undefined;
  if (dimension === 'force' && !amount.unit && part.bare) {
    const pounds = amount.value < 1000 ? amount.value * 1000 : amount.value;
    notes.assume(`${part.bare.why}: ${tidyNumber(pounds)} lbf`, false);
    return { attribute, value: `${tidyNumber(pounds)} lbf`, unit: 'lbf', says: `${tidyNumber(pounds)} lb` };
  }
  if (dimension === 'volume' && attribute === 'mass') {
    const kg = fromUnit(amount.value, amount.unit ?? (findUnit('L') as never)) * 1000;
    return { attribute, value: `${tidyNumber(Math.round(kg))} kg ± 2 kg`, unit: 'kg', says: written(amount, amount.unit?.symbol ?? 'L') };
  }
  const unit = unitFor(amount, attribute, notes);
  if (part.lever && part.lift_words?.some((word) => word === phrase) && attribute === 'thickness')
    return levered(amount, unit, part.lever, notes);
  return { attribute, value: written(amount, unit), unit, says: written(amount, unit) };
}

const LONGEST_INCHES = 12;

/** A bare length is in inches where it is small, and in millimetres where it is not. */
function unitFor(amount: Amount, attribute: string, notes: Notes): string {
  if (amount.unit) return attribute === 'line_pull' && amount.unit.symbol === 'lb' ? 'lbf' : amount.unit.symbol;
  const unit = amount.value <= LONGEST_INCHES ? 'in' : 'mm';
  notes.assume(
    `${tidyNumber(amount.value)} without a unit was taken as ${unit === 'in' ? 'inches' : 'millimetres'}`,
    true,
    `${tidyNumber(amount.value)} as ${unit}`,
  );
  return unit;
}

/** What the wheel gains, put back to the thickness of the spacer that gives it. */
function levered(amount: Amount, unit: string, { low, high, why }: NonNullable<PartWord['lever']>, notes: Notes): ReadAmount {
  const [thin, thick] = [(amount.value - amount.plusMinus) / high, (amount.value + amount.plusMinus) / low];
  const thickness = { ...amount, value: (thin + thick) / 2, plusMinus: (thick - thin) / 2 };
  notes.assume(`${written(amount, unit)} was taken as what the wheel gains: ${why}`, true, 'the lift is at the wheel');
  return { attribute: 'thickness', value: written(thickness, unit), unit, says: `for ${written(amount, unit)}` };
}

function outOfRange(kind: string, attribute: string, amount: Amount, unit: string, kinds: Kinds): string | undefined {
  const range = kinds.range(kind, attribute);
  const as = findUnit(unit);
  if (!range || !as || attribute === 'thickness') return undefined;
  const si = fromUnit(amount.value, as);
  const limit = (x: number): string => `${tidyNumber(Math.round(toUnit(x, as) * 100) / 100)} ${unit}`;
  if (range.atMost !== undefined && si > range.atMost) return `more than there is: at most ${limit(range.atMost)} is taken`;
  return range.atLeast !== undefined && si < range.atLeast ? `less than there is: at least ${limit(range.atLeast)} is taken` : undefined;
}

function addFlavours(
  { part, flavour, phrase, flavours = part.flavours }: Said,
  attributes: Record<string, ValueInput>,
  notes: Notes,
): void {
  for (const { words, attributes: more, why } of flavours ?? []) {
    if (![...flavour, phrase].some((word) => words.includes(word))) continue;
    for (const [name, value] of Object.entries(more)) {
      if (name in attributes) continue;
      attributes[name] = value;
      if (why && name === 'mass')
        notes.assume(`${why}; ${String(value)} was taken`, true, `${part.says} ${String(value).replace(/ (\S+) ± (\S+)$/, '±$2 $1')}`);
    }
  }
}

/** What a battery weighs, from its charge. */
function addMass({ part, phrase, amounts }: Said, attributes: Record<string, ValueInput>, notes: Notes): void {
  const charge = amounts.find(({ dimension }) => dimension === 'charge');
  const per = part.mass_of?.find(({ words }) => words.includes(phrase));
  if (!charge || !per || 'mass' in attributes) return;
  const [low, high] = [charge.amount.value * per.low, charge.amount.value * per.high];
  attributes.mass = `${tidyNumber((low + high) / 2)} kg ± ${tidyNumber((high - low) / 2)} kg`;
  notes.assume(`${per.why}; ${attributes.mass} was taken`, false);
}

function addAssumed({ part }: Said, as: As, attributes: Record<string, ValueInput>, notes: Notes, kinds: Kinds): void {
  for (const [name, { share_of, low, high, why }] of Object.entries(part.assume ?? {})) {
    const whole = attributes[share_of];
    const read = typeof whole === 'string' ? /^(-?[\d.]+) (\S+)/.exec(whole) : null;
    if (!read || name in attributes || !kinds.has(as.kind, name)) continue;
    const value = Number(read[1]);
    attributes[name] = `${tidyNumber((value * (low + high)) / 2)} ${read[2]} ± ${tidyNumber((value * (high - low)) / 2)} ${read[2]}`;
    notes.assume(`${why} (not said)`, true, 'droop: none to all of the lift');
  }
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
    put(
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
