/** Reads tyres and wheels: sizes, what is on it now and what is wanted, offset and backspacing in every way they are written. */
import { parseDesignation } from '../models/tyres/designation.ts';
import { overallDiameter } from '../models/tyres/dimensions.ts';
import type { PartInput, PlaceInput } from '../vehicle/index.ts';
import type { Line } from './items.ts';
import { refusalOf } from './read-refusals.ts';
import type { Notes, Stock } from './reading.ts';
import type { Amount, Token } from './tokens.ts';

/** `front` or `rear` said right beside an item. */
export function axleBeside(line: Line, i: number): { readonly at: 'front' | 'rear'; readonly word: number } | undefined {
  const found = ([1, -1] as const).flatMap((step) => {
    const j = line.beside(i, step, 1);
    const axle = j === undefined || line.at(j)?.used ? undefined : line.means(j, 'axle');
    return j !== undefined && axle && axle.at !== 'both' && !line.means(j, 'part') ? [{ at: axle.at, word: j }] : [];
  });
  // `front 33s rear 35s`: between two, the word before is its own where the row of them begins with an axle.
  return found.length === 2 && axleLeads(line, i) ? found[1] : found[0];
}

/** Whether in `front 2 in rear 1 in` and the like the axles stand before what is said of them. */
export function axleLeads(line: Line, i: number): boolean {
  let leads = false;
  for (let j = i - 1, wants: 'axle' | 'size' = 'axle'; j >= 0 && !line.isParting(j); j--) {
    if (line.isIdle(j)) continue;
    const is = line.at(j)?.token.is ?? 'mark';
    const axle = line.means(j, 'axle') !== undefined && line.means(j, 'part') === undefined;
    if (wants === 'axle' ? !axle : !SIZES.has(is)) break;
    leads = wants === 'axle';
    wants = wants === 'axle' ? 'size' : 'axle';
  }
  return leads;
}

const SIZES: ReadonlySet<string> = new Set(['tyre', 'tyre-open', 'inches', 'wheel', 'amount']);

/** An amount as a check takes it: `2.5 in`, `2.5 in ± 0.5 in`. */
export const written = ({ value, plusMinus }: Amount, unit: string): string =>
  `${tidyNumber(value)} ${unit}${plusMinus > 0 ? ` ± ${tidyNumber(plusMinus)} ${unit}` : ''}`;

export const tidyNumber = (x: number): string => String(Math.round(x * 1000) / 1000);

const UNWANTED =
  /\b(?:from|currently|current|now|stock|factory|oem|existing|instead of|rather than|replacing|replaced|replace|swap|swapping|swapped|trade|trading|traded|change|changing|ditch|ditching|sell|selling|original|came with|have|has|running)(?: (?:out|off|in|the|my|our|his|her|these|those|old|worn))*$/;
const WANTED = /\b(?:to|want|wanting|into|->|going to|for)$/;

interface TyreRead {
  readonly i: number;
  readonly size?: string;
  readonly inches?: number;
  readonly at: PlaceInput;
  readonly now: boolean;
}

/** Tyres before wheels: a rim said in a wheel's size completes a tyre's. */
export function readTyres(line: Line, text: string, notes: Notes, stock: Stock): void {
  const found = tyresIn(line, text, notes, stock);
  const wanted = found.filter(({ now }) => !now);
  for (const { i, size, inches } of found.filter(({ now }) => now)) {
    const item = line.at(i);
    line.use(i);
    if (!item) continue;
    if (size === undefined) {
      notes.pieces.push({ ...span(item), as: 'state', says: `on it now: tyres ${tidyNumber(inches as number)} in tall` });
      continue;
    }
    const fitted: PartInput = {
      from: 'inline',
      id: stock.tyreId,
      kind: 'tyre',
      name: 'Tyres on it now',
      at: 'all',
      attributes: { designation: size },
    };
    notes.pieces.push({ ...span(item), as: 'tyre', says: `on it now: tyres ${size}`, puts: { fitted: [fitted] } });
  }
  const places = new Set<PlaceInput>();
  for (const tyre of wanted) {
    const refusal = refusalOf(line, tyre.i, notes.refused);
    const spare = spareBeside(line, tyre.i);
    line.use(tyre.i);
    if (spare !== undefined) {
      line.use(spare);
      const [from, to] = [line.at(tyre.i), line.at(spare)];
      if (from && to) notes.missed.push({ start: Math.min(from.start, to.start), end: Math.max(from.end, to.end), why: SPARE });
      continue;
    }
    if (refusal?.says === 'no') {
      const item = line.at(tyre.i);
      line.use(...refusal.items);
      notes.refused.add(tyre.i);
      if (item) notes.pieces.push({ ...span(item), as: 'state', says: 'a size that is not wanted' });
      continue;
    }
    if (tyre.inches !== undefined && wanted.some((other) => isNickname(tyre.inches as number, other))) continue;
    const item = line.at(tyre.i);
    if (!item) continue;
    if (places.has(tyre.at) || places.has('all')) {
      notes.missed.push({ ...span(item), why: 'a second size was asked about; one is answered at a time', known: 'another tyre size' });
      continue;
    }
    places.add(tyre.at);
    putTyre(tyre, item, notes);
  }
  if (places.has('front') && places.has('rear')) notes.assume('front and rear axle were taken to be driven', true, 'both axles driven');
}

const SPARE = 'the size of a spare is not what stands on the road';

/** `two 33 inch spares`. */
const spareBeside = (line: Line, i: number): number | undefined =>
  [i + 1, i - 1].find((j) => line.at(j)?.used === false && line.means(j, 'spare') && !line.means(j - 1, 'not'));

/** `33s (255/85R16)`: the round figure of a size that is said too. */
const NICKNAME_WITHIN = 0.75;

function isNickname(inches: number, { size }: TyreRead): boolean {
  const read = size === undefined ? undefined : parseDesignation(size);
  const diameter = read?.ok ? overallDiameter(read.value) : undefined;
  return diameter?.ok === true && Math.abs(diameter.value.nominal / 0.0254 - inches) <= NICKNAME_WITHIN;
}

const span = ({ start, end }: { start: number; end: number }): { start: number; end: number } => ({ start, end });

function tyresIn(line: Line, text: string, notes: Notes, stock: Stock): TyreRead[] {
  const rim = rimSaid(line);
  const sizes = line.items.filter(({ token }, i) => isSize(token) && (token.is !== 'inches' || tyreInches(line, i))).length;
  return line.items.flatMap((item, i): TyreRead[] => {
    const { token } = item;
    if (item.used) return [];
    const placed = axleBeside(line, i);
    const common = { i, at: placed?.at ?? ('all' as const), now: sizes > 1 && isSize(token) && isNow(line, i, text) };
    if (token.is === 'tyre-refused') {
      notes.missed.push({ ...span(item), why: token.why.replaceAll('`', ''), known: 'a tyre size that does not exist' });
      line.use(i);
    }
    if (token.is === 'tyre') {
      line.use(placed?.word);
      return [{ ...common, size: token.designation.text }];
    }
    if (token.is === 'tyre-open') {
      line.use(placed?.word, rim?.word);
      if (rim === undefined)
        notes.assume(
          `the tyre's rim was not said: taken as ${tidyNumber(stock.rimDiameter)} in, as the wheels on it`,
          true,
          `rim ${tidyNumber(stock.rimDiameter)} in`,
        );
      return [{ ...common, size: token.size(rim?.value ?? stock.rimDiameter) }];
    }
    const inches = tyreInches(line, i);
    if (inches === undefined) return [];
    line.use(placed?.word, inches.word);
    return [{ ...common, inches: inches.value }];
  });
}

const isSize = ({ is }: Token): boolean => is === 'tyre' || is === 'tyre-open' || is === 'inches';

/** `33s`, `33 inch tires`, `tires 33"`. */
function tyreInches(line: Line, i: number): { readonly value: number; readonly word?: number } | undefined {
  const token = line.at(i)?.token;
  if (token?.is === 'inches') return token.value >= 27 && token.value <= 46 ? { value: token.value } : undefined;
  if (token?.is !== 'amount') return undefined;
  const { value, unit, signed } = token.amount;
  if (signed || (unit && unit.symbol !== 'in') || value < 27 || value > 46) return undefined;
  const word = [line.beside(i, 1), line.beside(i, -1)].find((j) => j !== undefined && line.means(j, 'tyre'));
  if (word !== undefined) return { value, word };
  return unit ? { value } : undefined;
}

/** The rim that wheels are said to have: `17x8.5`, `17s`, `17 inch rims`. */
function rimSaid(line: Line): { readonly value: number; readonly word?: number } | undefined {
  for (const [i, { token }] of line.items.entries()) {
    if (token.is === 'wheel') return { value: token.diameter };
    if (token.is === 'inches' && token.value >= 14 && token.value <= 24) return { value: token.value };
    const diameter = wheelInches(line, i);
    if (diameter !== undefined) return { value: diameter };
    const before = line.at(i - 1)?.token;
    if (token.is === 'amount' && before?.is === 'tyre-open' && rimLike(token.amount)) return { value: token.amount.value, word: i };
  }
  return undefined;
}

const rimLike = ({ value, unit, signed }: Amount): boolean => !signed && value >= 14 && value <= 24 && (!unit || unit.symbol === 'in');

const wheelInches = (line: Line, i: number): number | undefined => {
  const { amount } = { amount: line.amount(i) };
  if (!amount || !rimLike(amount)) return undefined;
  const beside = [line.beside(i, 1), line.beside(i, -1)];
  return beside.some((j) => j !== undefined && line.means(j, 'wheel')) ? amount.value : undefined;
};

/** Whether a size is that of the tyres on it now: `from 265/65R17 to …`, `… instead of 265/65R17`, `stock 265/65R17`. */
function isNow(line: Line, i: number, text: string): boolean {
  const item = line.at(i);
  if (!item) return false;
  const before = text.slice(Math.max(0, item.start - 24), item.start).trimEnd();
  const after = text.slice(item.end, item.end + 16).trimStart();
  if (WANTED.test(before)) return false;
  if (UNWANTED.test(before)) return true;
  const next = line.items[i + 2]?.token;
  return (
    (/^(?:to|->|=>)\b/.test(after) && (next?.is === 'tyre' || next?.is === 'tyre-open')) || /^(?:now|currently|stock|factory)\b/.test(after)
  );
}

/** How wide tyres of that height are sold, inches: from 35 in on up to 13.5 (common practice, no source). */
const widthsOf = (height: number): readonly [number, number] => (height < 34.5 ? [10.5, 12.5] : [10.5, 13.5]);

function putTyre({ size, inches, at }: TyreRead, item: { start: number; end: number }, notes: Notes): void {
  const common = { from: 'inline', kind: 'tyre', at, replaces: 'fitted' } as const;
  const where = at === 'all' ? '' : `, ${at}`;
  if (size !== undefined) {
    const part: PartInput = { ...common, name: `Tyres ${size}`, attributes: { designation: size } };
    notes.pieces.push({ ...span(item), as: 'tyre', says: `tyres ${size}${where}`, puts: { parts: [part] } });
    return;
  }
  const diameter = tidyNumber(inches as number);
  const [narrowest, widest] = widthsOf(inches as number);
  const wide = `${narrowest} to ${widest} in wide`;
  notes.assume(`only the height of the tyres was said: ${diameter} in is taken to half an inch, and ${wide}`, true, `tyres ${wide}`);
  const part: PartInput = {
    ...common,
    name: `Tyres of ${diameter} in`,
    attributes: {
      overall_diameter: `${diameter} in ± 0.5 in`,
      section_width: `${(narrowest + widest) / 2} in ± ${(widest - narrowest) / 2} in`,
    },
  };
  notes.pieces.push({ ...span(item), as: 'tyre', says: `tyres ${diameter} in tall${where}`, puts: { parts: [part] } });
}

/** How a wheel goes on its hub: `6x139.7`, `106.1 bore`. */
interface HubFit {
  readonly bolts?: number;
  readonly circle?: string;
  readonly bore?: string;
  readonly items: readonly number[];
}

/** Said once for all wheels, wherever it stands. */
function hubFitOf(line: Line): HubFit {
  const [at] = line.where((i) => line.at(i)?.token.is === 'bolts');
  const token = at === undefined ? undefined : line.at(at)?.token;
  const bored = line
    .where((i) => line.means(i, 'bore') !== undefined)
    .flatMap((word) => [boreBeside(line, word)].filter((one) => one !== undefined))[0];
  return {
    ...(token?.is === 'bolts' && { bolts: token.bolts }),
    ...(token?.is === 'bolts' && token.circle !== undefined && { circle: `${tidyNumber(token.circle)} mm` }),
    ...(bored && { bore: bored.bore }),
    items: [...(at === undefined ? [] : [at]), ...(bored?.items ?? [])],
  };
}

function boreBeside(line: Line, word: number): { readonly bore: string; readonly items: readonly number[] } | undefined {
  for (const step of [1, -1] as const) {
    const i = line.beside(word, step, 2);
    const amount = i === undefined ? undefined : line.amount(i);
    if (i !== undefined && amount && (!amount.unit || amount.unit.symbol === 'mm') && amount.value >= 40 && amount.value <= 300)
      return { bore: `${tidyNumber(amount.value)} mm`, items: [word, i] };
  }
  return undefined;
}

interface Setting {
  readonly offset?: { readonly value: string; readonly says: string };
  readonly backspacing?: string;
  readonly items: readonly number[];
}

export function readWheels(line: Line, notes: Notes, stock: Stock): void {
  const sizes = line.where((i) => line.at(i)?.token.is === 'wheel');
  const places = new Set<PlaceInput>();
  let fit: HubFit = { items: [] };
  for (const i of sizes) {
    const item = line.at(i);
    const token = item?.token;
    if (!item || token?.is !== 'wheel') continue;
    line.use(i);
    const placed = axleBeside(line, i);
    const setting = settingOf(line, i);
    line.use(...setting.items, placed?.word);
    const at = placed?.at ?? 'all';
    if (places.has(at) || places.has('all')) {
      notes.missed.push({ ...span(item), why: 'a second wheel was asked about; one is answered at a time', known: 'another wheel' });
      continue;
    }
    places.add(at);
    const ends = [item, ...setting.items.map((j) => line.at(j) ?? item)];
    const hub = hubFitOf(line);
    line.use(...hub.items);
    fit = hub.items.length > 0 ? hub : fit;
    putWheel({ diameter: token.diameter, width: `${tidyNumber(token.width)} in`, setting, at, fit }, joined(ends), notes);
  }
  if (sizes.length === 0) readWheelsBySetting(line, notes, stock);
}

const joined = (items: readonly { start: number; end: number }[]): { start: number; end: number } => ({
  start: Math.min(...items.map(({ start }) => start)),
  end: Math.max(...items.map(({ end }) => end)),
});

/** Offset or backspacing alone, or a rim diameter alone: the rest is as the wheels on it. */
function readWheelsBySetting(line: Line, notes: Notes, stock: Stock): void {
  const inches = line.where((i) => {
    const token = line.at(i)?.token;
    return (token?.is === 'inches' && token.value >= 14 && token.value <= 24) || wheelInches(line, i) !== undefined;
  })[0];
  const asItCame = inches === undefined ? undefined : [inches - 1, inches - 2].find((j) => line.means(j, 'stock') && !line.at(j)?.used);
  if (inches !== undefined && asItCame !== undefined) {
    line.use(inches, asItCame);
    const ends = [asItCame, inches].map((j) => line.at(j) as { start: number; end: number });
    notes.pieces.push({ ...joined(ends), as: 'state', says: 'wheels as they came' });
    notes.keeps.add('wheel');
    return;
  }
  const from = inches ?? line.where((i) => line.means(i, 'offset') !== undefined || line.means(i, 'backspacing') !== undefined)[0];
  if (from === undefined) return;
  const setting = settingOf(line, from, inches === undefined);
  const token = inches === undefined ? undefined : line.at(inches)?.token;
  const diameter = token?.is === 'inches' ? token.value : token?.is === 'amount' ? token.amount.value : undefined;
  if (diameter === undefined && setting.items.length === 0) return;
  const items = [from, ...setting.items].map((i) => line.at(i) as { start: number; end: number });
  line.use(from, ...setting.items);
  notes.assume(
    `the wheels' width was not said: taken as ${stock.rimWidth.replace('±', 'give or take')}, as those on it`,
    true,
    'rim width as stock',
  );
  notes.standIns.add('rim_width(asked-wheel)');
  if (diameter === undefined) notes.standIns.add('rim_diameter(asked-wheel)');
  const fit = hubFitOf(line);
  line.use(...fit.items);
  putWheel({ diameter: diameter ?? stock.rimDiameter, width: stock.rimWidth, setting, at: 'all', fit }, joined(items), notes);
}

/** Offset and backspacing beside a wheel: named ones anywhere near, and a bare number with a sign right behind the size. */
function settingOf(line: Line, i: number, named = false): Setting {
  const used: number[] = [];
  let offset: Setting['offset'];
  let backspacing: string | undefined;
  const take = (word: number): void => {
    const is = line.means(word, 'offset') ? 'offset' : 'backspacing';
    const j = nearestNumber(line, word, is);
    const number = j === undefined ? undefined : settingNumber(line, j, is);
    if (j === undefined || number === undefined) return;
    const sign = is === 'offset' ? signBefore(line, j) : undefined;
    const read = is === 'offset' ? offsetOf(sign?.negative ? { ...number, value: -Math.abs(number.value) } : number) : undefined;
    // A second one that says otherwise is left, to be told.
    if (read && offset && read.value !== offset.value) return;
    if (sign) used.push(sign.i);
    if (is === 'offset') offset ??= read;
    else backspacing ??= backspacingOf(number);
    used.push(word, j);
  };
  for (let word = Math.max(0, i - 6); word <= i + 10 && word < line.items.length; word++)
    if (!line.at(word)?.used && (line.means(word, 'offset') || line.means(word, 'backspacing'))) take(word);
  if (!named && offset === undefined && backspacing === undefined) {
    for (let j = i + 1; j <= i + 4; j++) {
      const amount = line.amount(j);
      const sign = amount && signBefore(line, j);
      if (amount && isBareOffset(sign ? { ...amount, signed: true } : amount)) {
        offset = offsetOf(sign?.negative ? { ...amount, value: -Math.abs(amount.value) } : amount);
        used.push(j, ...(sign ? [sign.i] : []));
        break;
      }
      if (!line.isIdle(j) && !line.isParting(j) && !line.means(j, 'sign') && line.at(j)?.token.is !== 'bolts') break;
    }
  }
  return { ...(offset && { offset }), ...(backspacing !== undefined && { backspacing }), items: used };
}

/** `negative 18`, `neg 12`, `positive 25`: signs in words. */
function signBefore(line: Line, j: number): { readonly i: number; readonly negative: boolean } | undefined {
  const sign = line.means(j - 1, 'sign');
  return sign && !line.at(j - 1)?.used ? { i: j - 1, negative: sign.negative } : undefined;
}

/** The number nearest to the word; of two as near the one behind `ET` and `offset`, else the one before. */
function nearestNumber(line: Line, word: number, is: 'offset' | 'backspacing'): number | undefined {
  const behindFirst = is === 'offset';
  const found = [behindSign(line, line.beside(word, 1, 1)), line.beside(word, -1, 1)].filter(
    (k): k is number => k !== undefined && settingNumber(line, k, is) !== undefined,
  );
  return found.sort((a, b) => Math.abs(a - word) - Math.abs(b - word) || (behindFirst ? b - a : a - b))[0];
}

/** `offset minus 10`: the number that a sign in words is of. */
const behindSign = (line: Line, k: number | undefined): number | undefined => (k !== undefined && line.means(k, 'sign') ? k + 1 : k);

const isBareOffset = ({ value, unit, signed }: Amount): boolean =>
  (!unit || unit.symbol === 'mm') && Math.abs(value) <= 110 && (signed || value === 0 || unit?.symbol === 'mm');

function settingNumber(line: Line, i: number, is: 'offset' | 'backspacing'): Amount | undefined {
  const said = line.means(i, 'number') ?? (line.at(i)?.phrase === 'zero' ? { value: 0 } : undefined);
  if (said && !line.at(i)?.used) return { value: said.value, plusMinus: 0, signed: false, decimals: 0 };
  const amount = line.amount(i);
  if (!amount) return undefined;
  const fits = is === 'offset' ? Math.abs(amount.value) <= 110 && (!amount.unit || amount.unit.symbol === 'mm') : isBackspacing(amount);
  return fits ? amount : undefined;
}

const isBackspacing = ({ value, unit }: Amount): boolean =>
  unit?.symbol === 'mm' ? value >= 60 && value <= 220 : value >= 2 && value <= 9;

function offsetOf(amount: Amount): Setting['offset'] {
  const value = tidyNumber(amount.value);
  return { value: `${value} mm`, says: `ET ${value}` };
}
const backspacingOf = (amount: Amount): string => written(amount, amount.unit?.symbol ?? 'in');

interface WheelRead {
  readonly diameter: number;
  readonly width: string;
  readonly setting: Setting;
  readonly at: PlaceInput;
  readonly fit: HubFit;
}

function putWheel({ diameter, width, setting, at, fit }: WheelRead, where: { start: number; end: number }, notes: Notes): void {
  const { offset, backspacing } = setting;
  const size = `${tidyNumber(diameter)}x${width.replace(/ in.*/, '')}`;
  const set = offset?.says ?? (backspacing === undefined ? undefined : `backspacing ${backspacing}`);
  const part: PartInput = {
    from: 'inline',
    kind: 'wheel',
    name: `Wheels ${size}${set ? ` ${set}` : ''}`,
    at,
    replaces: 'fitted',
    attributes: {
      rim_diameter: `${tidyNumber(diameter)} in`,
      rim_width: width,
      ...(offset && { offset: offset.value }),
      ...(backspacing !== undefined && { backspacing }),
      ...(fit.bolts !== undefined && { bolts: fit.bolts }),
      ...(fit.circle !== undefined && { bolt_circle: fit.circle }),
      ...(fit.bore !== undefined && { bore: fit.bore }),
    },
  };
  const bolts = fit.bolts === undefined ? '' : `, ${fit.bolts}${fit.circle === undefined ? ' bolts' : `x${fit.circle.replace(' mm', '')}`}`;
  const bore = fit.bore === undefined ? '' : `, bore ${fit.bore}`;
  const says = `wheels ${size}${set ? `, ${set}` : ', offset not said'}${bolts}${bore}${at === 'all' ? '' : `, ${at}`}`;
  notes.pieces.push({ ...where, as: 'wheel', says, puts: { parts: [part] } });
}
