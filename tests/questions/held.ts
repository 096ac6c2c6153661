/** The held questions, read, and how a reading is held against what was expected. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';
import type { ShortVerdict } from '../../services/questions/index.ts';
import { loadLexicon } from '../../services/questions/lexicon.ts';
import { type Question, readQuestion } from '../../services/questions/read.ts';
import { checker, demoCatalogue, gaugedTruck } from '../../services/workshop/testing.ts';
import { flatBuild } from './flat-build.ts';

export interface Held {
  readonly ask: string;
  readonly vehicle?: string;
  readonly reads: readonly string[];
  readonly names?: readonly string[];
  readonly missed?: readonly string[];
  /** Asked of a truck that was gauged; else of what the text says. */
  readonly on?: 'measured';
  readonly verdict: ShortVerdict;
  /** Why somebody who builds trucks would say so. */
  readonly why: string;
}

const folder = fileURLToPath(new URL('.', import.meta.url));
const questionsIn = (name: string): Held[] => parse(readFileSync(`${folder}${name}`, 'utf8')) as Held[];
/** Never used to change the reader or its words. */
const UNSEEN = 'unseen.yaml';
export const unseen: readonly Held[] = questionsIn(UNSEEN);
export const held: readonly Held[] = readdirSync(folder)
  .filter((name) => name.endsWith('.yaml') && name !== UNSEEN)
  .sort()
  .flatMap(questionsIn);

export const lexicon = loadLexicon();
const vehicles = [...demoCatalogue.vehicles.values()];
const parts = [...demoCatalogue.parts.values()];
/** A truck of which everything the modest demo build had read is known. */
export const measured = gaugedTruck();

/** Reads as the service does, with everything of the demo catalogue as what may be meant. */
export const read = (text: string, on?: Held['on']): Question =>
  readQuestion({ text, found: () => vehicles, foundParts: () => parts, parts, ...(on && { vehicle: measured }) }, lexicon, checker.library);

export interface Compared {
  readonly expected: string;
  readonly got: string;
}

const lines = (texts: readonly string[]): string => [...texts].sort().join(' | ');

/** The whole reading: build, vehicle, names left out, what was not understood. A driver alone is nobody said. */
export function compare({ ask, on, vehicle = 'none', reads, names = [], missed = [] }: Held): Compared {
  const question = read(ask, on);
  const { build, reading } = question;
  const asked = on ? 'none' : build?.vehicle.from === 'catalogue' ? build.vehicle.vehicle : question.vehicle === 'class' ? 'class' : 'none';
  const flat = flatBuild(build, on ? measured : undefined).filter((line) => line !== '1 aboard' || reads.includes('1 aboard'));
  return {
    expected: [vehicle, lines(reads), lines(names), lines(missed)].join(' # '),
    got: [asked, lines(flat), lines(reading.names_ignored), lines(reading.not_understood.map(({ text }) => text))].join(' # '),
  };
}
