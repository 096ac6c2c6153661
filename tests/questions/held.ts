/** The held questions, read, and how a reading is held against what was expected. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';
import { loadLexicon } from '../../services/questions/lexicon.ts';
import { type Question, readQuestion } from '../../services/questions/read.ts';
import { checker, demoCatalogue } from '../../services/workshop/testing.ts';
import { flatBuild } from './flat-build.ts';

export interface Held {
  readonly ask: string;
  readonly vehicle?: string;
  readonly reads: readonly string[];
  readonly names?: readonly string[];
  readonly missed?: readonly string[];
  readonly verdict?: string;
}

const folder = fileURLToPath(new URL('.', import.meta.url));
export const held: readonly Held[] = readdirSync(folder)
  .filter((name) => name.endsWith('.yaml'))
  .sort()
  .flatMap((name) => parse(readFileSync(`${folder}${name}`, 'utf8')) as Held[]);

export const lexicon = loadLexicon();
const vehicles = [...demoCatalogue.vehicles.values()];

/** Reads as the service does, with every vehicle of the demo catalogue as one that may be meant. */
export const read = (text: string): Question => readQuestion({ text, found: () => vehicles }, lexicon, checker.library);

export interface Compared {
  readonly expected: string;
  readonly got: string;
}

const lines = (texts: readonly string[]): string => [...texts].sort().join(' | ');

/** The whole reading: build, vehicle, names left out, what was not understood. A driver alone is nobody said. */
export function compare({ ask, vehicle = 'none', reads, names = [], missed = [] }: Held): Compared {
  const question = read(ask);
  const { build, reading } = question;
  const asked = build?.vehicle.from === 'catalogue' ? build.vehicle.vehicle : question.vehicle === 'class' ? 'class' : 'none';
  const flat = flatBuild(build).filter((line) => line !== '1 aboard' || reads.includes('1 aboard'));
  return {
    expected: [vehicle, lines(reads), lines(names), lines(missed)].join(' # '),
    got: [asked, lines(flat), lines(reading.names_ignored), lines(reading.not_understood.map(({ text }) => text))].join(' # '),
  };
}
