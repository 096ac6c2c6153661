/** Reads how the truck stands: gaps that were measured, what was cut already, what is as it came, its gears. */
import type { PartInput, VehicleReading } from '../vehicle/index.ts';
import type { Line } from './items.ts';
import type { Words } from './lexicon.ts';
import { tidyNumber, written } from './read-sizes.ts';
import type { Notes } from './reading.ts';
import { dimensionOf } from './said-beside.ts';
import type { Amount } from './tokens.ts';

const SPAN = 6;

/** `24 mm gap at the cab mount`, `cab mount clearance is 24mm`: the gap as it stands. */
export function readGaps(line: Line, notes: Notes, words: Words): void {
  for (const i of line.where((j) => line.means(j, 'obstacle') !== undefined)) {
    const obstacle = line.means(i, 'obstacle');
    const gap = near(line, i, (j) => line.means(j, 'gap') !== undefined);
    const length = near(line, i, (j) => isLength(line.amount(j)));
    const amount = length === undefined ? undefined : line.amount(length);
    const item = line.at(i);
    if (!obstacle || gap === undefined || length === undefined || !amount || !item) continue;
    line.use(i, gap, length);
    const { says } = words.states.obstacles[obstacle.id] as Words['states']['obstacles'][string];
    const value = written(amount, amount.unit?.symbol ?? 'mm');
    notes.pieces.push({
      ...spanOf(line, [i, gap, length]),
      as: 'measured',
      says: `gap from tyre to ${says} ${value}, as it stands`,
      puts: { measured: [{ quantity: 'tyre_gap', of: obstacle.id, value, note: 'as the question says' }] },
    });
  }
}

const isLength = (amount: Amount | undefined): boolean => amount !== undefined && dimensionOf(amount) === 'length' && amount.value >= 0;

function near(line: Line, i: number, test: (j: number) => boolean): number | undefined {
  for (let distance = 1; distance <= SPAN; distance++)
    for (const step of [1, -1] as const) {
      const j = i + step * distance;
      if (line.at(j)?.used === false && test(j) && !partedBetween(line, Math.min(i, j), Math.max(i, j))) return j;
    }
  return undefined;
}

const partedBetween = (line: Line, from: number, to: number): boolean => {
  for (let j = from + 1; j < to; j++) if (line.isParting(j)) return true;
  return false;
};

function spanOf(line: Line, at: readonly number[]): { readonly start: number; readonly end: number } {
  const items = at.map((i) => line.at(i)).filter((item) => item !== undefined);
  return { start: Math.min(...items.map(({ start }) => start)), end: Math.max(...items.map(({ end }) => end)) };
}

/** `trimmed liners`, `cab mount chop`, `cab mounts cut 15 mm`. */
export function readCuts(line: Line, notes: Notes, words: Words): void {
  for (const i of line.where((j) => line.means(j, 'obstacle') !== undefined)) {
    const obstacle = line.means(i, 'obstacle');
    const item = line.at(i);
    if (!obstacle || !item) continue;
    const { says, also = [], cut_words = [] } = words.states.obstacles[obstacle.id] as Words['states']['obstacles'][string];
    const done = [doneBefore(line, i), line.beside(i, 1, 2), i + 1].find(
      (j) => j !== undefined && !line.at(j)?.used && line.means(j, 'done'),
    );
    const off = removalBeside(line, i);
    const cut = done !== undefined || off !== undefined || cut_words.includes(item.phrase);
    if (!cut) continue;
    const length = near(
      line,
      i,
      (j) => isLength(line.amount(j)) && (line.amount(j)?.unit?.symbol !== 'in' || (line.amount(j)?.value ?? 9) <= 1),
    );
    const amount = length === undefined ? undefined : line.amount(length);
    line.use(i, done, amount ? length : undefined);
    const where = spanOf(line, [i, ...(done === undefined ? [] : [done]), ...(amount && length !== undefined ? [length] : [])]);
    if (!amount) {
      notes.assume(
        `how far the ${says} was cut back was not said, so it counts as uncut; a gap measured there would tell`,
        true,
        `${says} counted as uncut`,
      );
      notes.pieces.push({ ...where, as: 'state', says: `${says} cut back, by how much was not said` });
      continue;
    }
    const value = written(amount, amount.unit?.symbol ?? 'mm');
    const measured = [obstacle.id, ...also].map((of) => ({ quantity: 'cut_back', of, value, note: 'as the question says' }));
    notes.pieces.push({ ...where, as: 'state', says: `${says} cut back by ${value}`, puts: { measured } });
  }
}

/** `delete the sway bar`, `abs removed`: no check covers it, and it is told with what to mind. */
export function readTakenOff(line: Line, notes: Notes): void {
  for (const i of line.where((j) => line.means(j, 'safety') !== undefined)) {
    const part = line.means(i, 'safety');
    const off = removalBeside(line, i) ?? absenceBefore(line, i);
    if (!part || off === undefined) continue;
    line.use(i, off);
    for (const caution of part.mind) notes.cautions.add(caution);
    notes.missed.push({ ...spanOf(line, [i, off]), why: `driving without ${part.says} is not checked`, known: part.says });
  }
}

/** `no sway bar`, `without abs`, but not `no brake issues`. */
function absenceBefore(line: Line, i: number): number | undefined {
  const j = [i - 1, i - 2].find((k) => line.means(k, 'not') && (k === i - 1 || line.isIdle(i - 1)));
  return j === undefined || line.means(i + 1, 'denied') || line.at(j)?.used ? undefined : j;
}

/** `delete the sway bar`, `mud flaps gone`. */
const removalBeside = (line: Line, i: number): number | undefined =>
  [line.beside(i, -1, 2), line.beside(i, 1, 1)].find(
    (j) => j !== undefined && !line.at(j)?.used && line.means(j, 'removing') !== undefined,
  );

/** `trimmed 10 mm off the liners`: lengths and words that say nothing may stand between. */
function doneBefore(line: Line, i: number): number | undefined {
  for (let j = i - 1; j >= i - SPAN; j--) {
    if (line.at(j)?.used === false && line.means(j, 'done')) return j;
    if (line.isParting(j) || !(line.isIdle(j) || isLength(line.amount(j)) || j === i - 1)) return undefined;
  }
  return undefined;
}

/** `stock height`, `all stock`, `not trimmed`: nothing is planned there. */
export function readStock(line: Line, notes: Notes): void {
  for (const i of line.where((j) => line.means(j, 'stock') !== undefined || line.means(j, 'not-done') !== undefined)) {
    const item = line.at(i);
    if (!item) continue;
    const after = line.beside(i, 1, 0);
    const noun = after !== undefined && line.at(after)?.used === false && line.means(after, 'stock-noun') ? after : undefined;
    line.use(i, noun);
    const what = noun === undefined ? 'otherwise' : line.at(noun)?.phrase;
    if (line.means(i, 'stock') && /^(?:otherwise|everything|truck|setup|wheel|rim|offset)$/.test(what ?? '')) notes.keeps.add('wheel');
    const says = line.means(i, 'not-done') ? 'nothing cut' : `${what} as it came`;
    notes.pieces.push({ ...spanOf(line, [i, ...(noun === undefined ? [] : [noun])]), as: 'state', says });
  }
}

const isRatio = (amount: Amount | undefined): amount is Amount =>
  amount !== undefined && !amount.unit && !amount.signed && amount.value >= 2.5 && amount.value <= 7.5 && amount.decimals >= 1;

/** Ratios of gear sets are told to two decimals, and tags are rounded: 4.10 and 4.11 are one. */
const RATIO_TOLERANCE = 0.02;

/** `3.73 to 4.56`, `4.56 gears`, `regear to 4.88`. */
export function readGears(line: Line, notes: Notes): void {
  const ratios = line.where((i) => isRatio(line.amount(i)));
  const change = ratios.find((i) => isRatio(line.amount(i + 2)) && line.at(i + 1)?.phrase === 'to');
  const word = line.where((i) => line.means(i, 'gears') !== undefined)[0];
  const alone = ratios.find((i) => line.amount(i)?.gears);
  const at = change ?? (word === undefined ? alone : ratios.find((i) => Math.abs(i - word) <= 3));
  if (at === undefined) return;
  const [from, to] = change === undefined ? [undefined, line.amount(at)] : [line.amount(change), line.amount(change + 2)];
  if (!to) return;
  const used =
    change === undefined
      ? [at, word]
      : [change, change + 1, change + 2, word !== undefined && Math.abs(word - change) <= 4 ? word : undefined];
  line.use(...used);
  const planned = from !== undefined || (word !== undefined && REGEAR.test(line.at(word)?.phrase ?? ''));
  const says = from ? `axle ratio ${tidyNumber(from.value)} to ${tidyNumber(to.value)}` : `axle ratio ${tidyNumber(to.value)}`;
  notes.pieces.push({
    ...spanOf(
      line,
      used.filter((i) => i !== undefined),
    ),
    as: 'gears',
    says,
    puts: { measured: gearsAsReadings(from?.value, to.value), ...(planned && { parts: [gearSets(to.value)] }) },
  });
  if (from) notes.assume(`the engine turns ${tidyNumber(Math.round((to.value / from.value - 1) * 1000) / 10)} % more at a speed`, false);
  if (!planned) notes.assume('the gears were taken to be in it already', true, 'geared so already');
  if (!from) notes.assume('the axle ratio it came with was not said: what is usual of its class was taken', true, 'gears now not said');
  notes.assume('both axles were taken to be geared alike', true, 'both axles geared alike');
}

const REGEAR = /^re ?gear/;

/** The work of it is that of a part: what it leaves is said as what the axles have then. */
const gearSets = (ratio: number): PartInput => ({
  from: 'inline',
  kind: 'axle_gears',
  name: `Gear sets ${tidyNumber(ratio)}`,
  attributes: { ratio: `${tidyNumber(ratio)} ± ${RATIO_TOLERANCE}` },
});

function gearsAsReadings(from: number | undefined, to: number): VehicleReading[] {
  const note = 'as the question plans it';
  const value = `${tidyNumber(to)} ± ${RATIO_TOLERANCE}`;
  const gain = from === undefined ? undefined : Math.round((to / from - 1) * 1000) / 10;
  return [
    ...(['front', 'rear'] as const).map((of) => ({ quantity: 'axle_ratio', of, value, note })),
    ...(gain === undefined ? [] : [{ quantity: 'axle_ratio_gain', value: `${gain} %`, note }]),
  ];
}

/** `will the speedometer be off`, `is it over gvwr`: the rules that answer it. */
export function readTopics(line: Line, notes: Notes): void {
  for (const i of line.where((j) => line.means(j, 'topic') !== undefined)) {
    for (const rule of line.means(i, 'topic')?.rules ?? []) notes.asked.add(rule);
    line.use(i);
    notes.pieces.push({ ...spanOf(line, [i]), as: 'state', says: `${line.at(i)?.phrase} is asked about` });
  }
}

/** `is it legal in Ohio`: the law packs of the places named. */
export function readLaw(line: Line, notes: Notes): void {
  for (const i of line.where((j) => line.means(j, 'law') !== undefined)) {
    line.use(i);
    notes.asksLaw = true;
  }
  for (const i of line.where((j) => line.means(j, 'law-place') !== undefined)) {
    const place = line.means(i, 'law-place');
    if (!place) continue;
    line.use(i);
    notes.pieces.push({
      ...spanOf(line, [i]),
      as: 'law',
      says: `held against the law pack ${place.id}`,
      puts: { jurisdictions: [place.id] },
    });
  }
}
