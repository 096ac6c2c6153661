/** Reads what is carried: masses with a place or a word for a load beside them, people, and the speed it is driven at. */
import type { Line } from './items.ts';
import type { Place, Words } from './lexicon.ts';
import { tidyNumber, written } from './read-sizes.ts';
import type { Notes } from './reading.ts';
import { countBefore, dimensionOf } from './said-beside.ts';
import type { Amount } from './tokens.ts';

export function readLoads(line: Line, notes: Notes, words: Words): void {
  for (const i of line.where((j) => isLoad(line, j))) readLoad(i, line, notes, words);
}

function isLoad(line: Line, i: number): boolean {
  const amount = line.amount(i);
  if (!amount || dimensionOf(amount) !== 'mass' || amount.value <= 0) return false;
  const [before, after] = [line.beside(i, -1, 2), line.beside(i, 1, 3)];
  const said = (j: number | undefined): boolean =>
    j !== undefined && (line.means(j, 'load') !== undefined || line.means(j, 'place') !== undefined);
  const isPart = (j: number | undefined): boolean => j !== undefined && line.means(j, 'part')?.part.takes?.mass !== undefined;
  if (overComma(line, i) !== undefined) return true;
  if (isPart(before) && !said(after)) return false;
  // `100 lb on the roof rack` lies on it, `100 lb roof rack` is one.
  if (isPart(after)) return after !== undefined && line.means(after, 'place') !== undefined && after > i + 1;
  return said(after) || (said(before) && !isPart(before));
}

/** `kayak on the roof, 25 kg`: what the mass is of stands before a comma, with where it lies. */
function overComma(line: Line, i: number): number | undefined {
  const mark = line.at(i - 1)?.token;
  if (mark?.is !== 'mark' || mark.mark !== ',') return undefined;
  const place = i - 2;
  const what = line.beside(place, -1, 3);
  return line.means(place, 'place') && !line.at(place)?.used && what !== undefined && line.means(what, 'load') ? place : undefined;
}

function readLoad(i: number, line: Line, notes: Notes, words: Words): void {
  const amount = line.amount(i);
  const item = line.at(i);
  if (!amount || !item) return;
  const used = [i];
  let place: Place | undefined;
  for (let j = i + 1; j <= i + 7 && j < line.items.length && !line.isParting(j); j++) {
    const found = line.means(j, 'place');
    if (line.means(j, 'load')) used.push(j);
    else if (found) {
      place = found.place;
      used.push(j);
      break;
    } else if (!line.isIdle(j)) break;
  }
  let before = line.beside(i, -1, 2) ?? overComma(line, i);
  if (before !== undefined && line.means(before, 'load') && !line.at(before)?.used) {
    used.push(before);
    before = line.beside(before, -1, 1);
  }
  const found = before === undefined || line.at(before)?.used ? undefined : line.means(before, 'place');
  if (!place && found && before !== undefined) {
    place = found.place;
    used.push(before);
  }
  const count = countBefore(line, Math.min(...used));
  line.use(...used, count?.i);
  if (count && !line.means(i + 1, 'load') && !isEach(line, i))
    notes.assume(`${count.value} of them: the mass was taken as that of each`, true, 'the mass of each');
  const items = used.map((j) => line.at(j) ?? item);
  const where = { start: Math.min(...items.map(({ start }) => start)), end: Math.max(...items.map(({ end }) => end)) };
  if (!place) notes.assume('where the load lies was not said: in the bed', true, 'load in the bed');
  putLoad(times(amount, count?.value ?? 1), where, place ?? (words.places.bed as Place), notes);
}

const times = (amount: Amount, count: number): Amount => ({ ...amount, value: amount.value * count, plusMinus: amount.plusMinus * count });

/** `20 kg each`. */
const isEach = (line: Line, i: number): boolean => ['each', 'apiece'].includes(line.at(i + 1)?.phrase ?? '');

function putLoad(amount: Amount, where: { start: number; end: number }, place: Place, notes: Notes): void {
  const { name, kind, behind_front_axle, behind_rear_axle } = place;
  const mass = written(amount, amount.unit?.symbol ?? 'kg');
  const said = { ...(behind_front_axle && { behind_front_axle }), ...(behind_rear_axle && { behind_rear_axle }) };
  const distance = (behind_rear_axle ?? behind_front_axle ?? '').replace(' ±', ', give or take');
  notes.assume(`${name}: its middle ${distance} behind the ${behind_rear_axle ? 'rear' : 'front'} axle`, false);
  const puts = kind
    ? { parts: [{ from: 'inline' as const, kind, name: capital(name), attributes: { mass, ...said } }] }
    : { items: [{ name, mass, ...said }] };
  notes.pieces.push({ ...where, as: 'load', says: `${mass} ${name}`, puts });
}

const capital = (text: string): string => text.replace(/^./, (letter) => letter.toUpperCase());

const MOST_PEOPLE = 20;

/** `2 people`, `driver and 3 passengers`, `family of 4`, `2 up`, `just me`. */
export function readPeople(line: Line, text: string, notes: Notes): void {
  let people = 0;
  let driver = false;
  let counted = false;
  let span: { start: number; end: number } | undefined;
  const cover = (items: readonly number[]): void => {
    line.use(...items);
    for (const item of items.map((j) => line.at(j)))
      if (item) span = { start: Math.min(span?.start ?? item.start, item.start), end: Math.max(span?.end ?? item.end, item.end) };
  };
  for (const i of line.where((j) => line.means(j, 'people') !== undefined)) {
    const { how } = line.means(i, 'people') as { how: string };
    // There is one wife; a number beside her is of who comes next: `the wife and three kids`.
    const numbered = how === 'one' ? undefined : numberBeside(line, i, how === 'family' ? [1, -1] : [-1, 1]);
    if (how === 'alone' || how === 'two') {
      people += how === 'alone' ? 1 : 2;
      cover([i]);
    } else if (numbered) {
      people += numbered.value;
      if (how === 'beside-driver') driver = true;
      else counted = true;
      cover([i, numbered.i]);
    } else if (how === 'one') {
      people += 1;
      driver = true;
      cover([i]);
    }
  }
  for (const match of [...text.matchAll(/(?<![\p{L}\d])([1-7]|three|four|five|six|seven) ?-?up(?![\p{L}\d])/gu)].slice(0, 1)) {
    const at = line.items.findIndex(({ start, used }) => start === match.index && !used);
    if (at < 0) continue;
    people += line.means(at, 'number')?.value ?? Number(match[1]);
    cover([at]);
  }
  // `me + 3`, `driver + 4`: one of them drives.
  for (const match of [...text.matchAll(/(?<!\p{L})(?:me|driver|myself) ?(?:\+|and|plus) ?([1-7])(?![\p{L}\d."'])/gu)].slice(0, 1)) {
    const at = line.items.findIndex(({ start, end, used }) => !used && end === match.index + match[0].length && start > match.index);
    if (at < 0) continue;
    people += Number(match[1]);
    driver = true;
    cover([at]);
  }
  if (!span || people < 1 || people > MOST_PEOPLE) return;
  // Adults and people have the driver among them; a wife, kids and passengers sit beside one.
  const besides = driver && !counted;
  const all = people + (besides ? 1 : 0);
  if (besides) notes.assume('the driver was counted beside those named', false);
  notes.pieces.push({ ...span, as: 'people', says: `${all} aboard`, puts: { occupants: all } });
}

function numberBeside(line: Line, i: number, steps: readonly (1 | -1)[]): { readonly i: number; readonly value: number } | undefined {
  for (const step of steps) {
    const j = line.beside(i, step, 1);
    if (j === undefined || line.at(j)?.used) continue;
    const amount = line.amount(j);
    if (amount && !amount.unit && !amount.signed && Number.isInteger(amount.value) && amount.value >= 1 && amount.value <= 12)
      return { i: j, value: amount.value };
    const word = line.means(j, 'number');
    if (word) return { i: j, value: word.value };
  }
  return undefined;
}

export function readSpeed(line: Line, notes: Notes): void {
  for (const i of line.where((j) => ['mph', 'km/h'].includes(line.amount(j)?.unit?.symbol ?? ''))) {
    const amount = line.amount(i);
    const item = line.at(i);
    if (!amount || !item || amount.value <= 0 || notes.has('speed')) continue;
    line.use(i);
    const speed = `${tidyNumber(amount.value)} ${amount.unit?.symbol}`;
    notes.pieces.push({ start: item.start, end: item.end, as: 'speed', says: `driven at up to ${speed}`, puts: { topSpeed: speed } });
  }
}
