/** Which vehicle is asked about: one of the catalogue by a name that may be misspelt, or a class. */
import { editDistance } from '../engine/diagnostics.ts';
import type { Item } from './items.ts';

/** An entry of the catalogue that a name may stand for. */
export interface NamedVehicle {
  readonly id: string;
  readonly name: string;
  readonly maker?: string;
  readonly class?: string;
}

/** A run of words that nothing else explains, and where it stands. */
export interface Run {
  readonly words: readonly { readonly word: string; readonly start: number; readonly end: number }[];
}

const MOST_RUNS = 6;
const LONGEST_RUN = 8;

/** Words that may be a vehicle's name: those nobody knows, side by side, years left out. */
export function unknownRuns(items: readonly Item[]): Run[] {
  const runs: { word: string; start: number; end: number }[][] = [[]];
  for (const { token, meanings, start, end } of items) {
    if (token.is === 'word' && meanings.length === 0) runs.at(-1)?.push({ word: token.word, start, end });
    else if (!(token.is === 'year') && !(token.is === 'mark' && token.mark === '-')) runs.push([]);
  }
  return runs
    .filter((run) => run.some(({ word }) => word.length >= 3))
    .slice(0, MOST_RUNS)
    .map((words) => ({ words: words.slice(0, LONGEST_RUN) }));
}

export const textOf = ({ words }: Run): string => words.map(({ word }) => word).join(' ');

export interface Settled {
  readonly vehicle: NamedVehicle;
  readonly start: number;
  readonly end: number;
  /** Starts of the words that name it. */
  readonly taken: readonly number[];
  /** It was not spelt so. */
  readonly misspelt: boolean;
}

export type Named =
  | { readonly is: 'one'; readonly settled: Settled }
  | { readonly is: 'several'; readonly names: readonly string[]; readonly taken: readonly number[] }
  | undefined;

const ENOUGH = 0.45;

/** The vehicle whose words the run's are most like; several that are as like are none, and a word that only describes names none. */
export function settleVehicle(
  runs: readonly Run[],
  found: (run: Run) => readonly NamedVehicle[],
  describing: ReadonlySet<string> = new Set(),
): Named {
  const scored = runs
    .flatMap((run) => found(run).map((vehicle) => ({ run, ...scoreOf(run, vehicle, describing) })))
    .filter(({ score }) => score > 0);
  scored.sort((a, b) => b.score - a.score || (a.vehicle.id < b.vehicle.id ? -1 : 1));
  const [best] = scored;
  if (!best) return undefined;
  const rivals = scored.filter(
    ({ score, vehicle, run }) => run === best.run && vehicle.id !== best.vehicle.id && score > best.score - 1e-9,
  );
  if (rivals.length > 0)
    return { is: 'several', names: [best, ...rivals].slice(0, 4).map(({ vehicle }) => vehicle.name), taken: best.taken };
  const words = best.run.words.filter(({ start }) => best.taken.includes(start));
  return {
    is: 'one',
    settled: {
      vehicle: best.vehicle,
      start: Math.min(...words.map(({ start }) => start)),
      end: Math.max(...words.map(({ end }) => end)),
      taken: best.taken,
      misspelt: best.misspelt,
    },
  };
}

function scoreOf(
  run: Run,
  vehicle: NamedVehicle,
  describing: ReadonlySet<string>,
): { vehicle: NamedVehicle; score: number; taken: readonly number[]; misspelt: boolean } {
  const known = `${vehicle.name} ${vehicle.maker ?? ''} ${vehicle.id}`
    .normalize('NFKC')
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter(Boolean);
  const taken: number[] = [];
  let score = 0;
  let misspelt = false;
  let names = false;
  for (const { word, start } of run.words) {
    const best = Math.max(0, ...known.map((name) => likeness(word, name)));
    if (best < ENOUGH || (word.length < 3 && best < 1)) continue;
    taken.push(start);
    score += best;
    misspelt ||= best < 1;
    names ||= !describing.has(word);
  }
  return { vehicle, score: names ? score : 0, taken, misspelt };
}

/** As like as a word of seven letters with one wrong in its middle. */
const ONE_OFF = 0.55;

/** Share of trigrams two words have in common, as PostgreSQL's `similarity` counts it (pg_trgm: two spaces before, one behind); a short word has few, so one letter off is enough. */
export function likeness(a: string, b: string): number {
  if (a === b) return 1;
  if (a.length >= 4 && editDistance(a, b) === 1) return ONE_OFF;
  const [left, right] = [trigrams(a), trigrams(b)];
  const common = [...left].filter((each) => right.has(each)).length;
  return common / (left.size + right.size - common);
}

function trigrams(word: string): ReadonlySet<string> {
  const padded = `  ${word} `;
  return new Set(Array.from({ length: padded.length - 2 }, (_, i) => padded.slice(i, i + 3)));
}
