/** Puts a part that was read into the build: what its amounts and flavours fill, and what is assumed where nothing is said. */
import { findUnit, fromUnit, toUnit } from '../units/index.ts';
import type { PartInput, PlaceInput, ValueInput } from '../vehicle/index.ts';
import type { PartWord } from './lexicon.ts';
import { tidyNumber, written } from './read-sizes.ts';
import type { Notes } from './reading.ts';
import type { Beside } from './said-beside.ts';
import type { Amount } from './tokens.ts';

/** Attributes of each kind with their ranges in SI: what is said beyond them is refused here, and told. */
export interface Kinds {
  has(kind: string, attribute: string): boolean;
  /** Whether the class of the vehicle has one. */
  fitted(kind: string): boolean;
  range(kind: string, attribute: string): { readonly atLeast?: number; readonly atMost?: number; readonly unit?: string } | undefined;
}

export interface Said {
  readonly part: PartWord;
  readonly phrase: string;
  readonly amounts: readonly Beside[];
  readonly where: { readonly start: number; readonly end: number };
  readonly flavour: readonly string[];
  /** How many were said. */
  readonly count?: number;
  /** Put at an axle that was not said. */
  readonly weak?: boolean;
  /** Of the kind at that axle, where the word stands for both. */
  readonly flavours?: PartWord['flavours'];
}

export interface As {
  readonly kind: string;
  readonly says?: string;
  readonly at?: PlaceInput;
  /** Attribute that takes the length, where it is not the part's own. */
  readonly amount?: string | undefined;
}

export function putPart(said: Said, as: As, notes: Notes, kinds: Kinds): void {
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
  const input = {
    from: 'inline' as const,
    kind: as.kind,
    name: capital(part.name ?? as.says ?? part.says) + (told.length > 0 ? ` ${told.join(' ')}` : ''),
    ...(as.at && { at: as.at }),
    ...(part.replaces && { replaces: part.replaces }),
    ...(Object.keys(attributes).length > 0 && { attributes }),
  };
  const needed = as.amount ?? part.takes?.length ?? part.takes?.force;
  if (needed !== undefined) notes.needs.push({ kind: as.kind, ...(as.at && { at: as.at }), attribute: needed, says: as.says ?? part.says });
  if (part.ambiguous?.includes(said.phrase)) notes.assume(`“${said.phrase}” was taken for ${part.says}`, true);
  if (said.count !== undefined && !as.at) {
    tellCount(said, said.count, where, input, as, label, notes);
    return;
  }
  if (part.mind) notes.assume(part.mind.says, true, part.mind.brief);
  if (said.weak) notes.weak.add(input);
  notes.pieces.push({ ...where, as: 'part', says: label, puts: { parts: [input] } });
}

/** Of these there may be several at one place. */
export const MANY: ReadonlySet<string> = new Set(['fridge', 'second_battery', 'light_bar', 'roof_cargo', 'water_tank']);

/** Each of several is put in; of what there is one of the rest is told. */
function tellCount(
  { part }: Said,
  count: number,
  where: Said['where'],
  input: PartInput & { readonly from: 'inline' },
  as: As,
  label: string,
  notes: Notes,
): void {
  const many = MANY.has(as.kind);
  const all = Array.from({ length: many ? count : 1 }, (_, i) => (i === 0 ? input : { ...input, name: `${input.name} ${i + 1}` }));
  notes.pieces.push({ ...where, as: 'part', says: many ? `${count} times ${label}` : label, puts: { parts: all } });
  if (!many)
    notes.missed.push({ ...where, why: `${count} of them: one is counted; give what all of them weigh as a load`, known: part.says });
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
