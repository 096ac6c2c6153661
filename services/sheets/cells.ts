/** One value of an answer as a plain text, for a formula that fetches it: a number, a word, or what is missing. Never empty. */
import type { Answer } from '../workshop/answer.ts';
import { ADDED, controllingOf, hasUnknown, hoursOf, needsOf, valueById } from './row-answer.ts';

const ofMargin =
  (give: (margin: NonNullable<NonNullable<ReturnType<typeof controllingOf>>['margin']>) => string | number) => (answer: Answer) => {
    const controlling = controllingOf(answer);
    if (!controlling) return 'nothing';
    if (controlling.margin) return give(controlling.margin);
    return answer.verdict === 'unknown' ? needsOf(answer) : 'yes or no';
  };

const CELLS: Readonly<Record<string, { readonly says: string; readonly give: (answer: Answer) => string | number }>> = {
  verdict: {
    says: 'conflict, close, clear, or what is missing',
    give: (answer) => (answer.verdict === 'unknown' ? needsOf(answer) : answer.verdict),
  },
  item: { says: 'the finding that the verdict hangs on', give: (answer) => controllingOf(answer)?.title ?? 'nothing' },
  margin: { says: 'its margin, negative fails', give: ofMargin(({ value }) => value) },
  'margin-tolerance': { says: 'how far the further end of its band is from it', give: ofMargin(({ plus_minus }) => plus_minus ?? 0) },
  'margin-unit': { says: 'the unit of both', give: ofMargin(({ unit }) => unit) },
  hours: { says: 'hours of work, likely', give: (answer) => hoursOf(answer).likely },
  'hours-low': { says: 'at least, of the work that is known', give: (answer) => hoursOf(answer).low },
  'hours-high': { says: 'at most', give: (answer) => hoursOf(answer).high },
  'mass-front': { says: 'what the parts bring to the front axle, kg or lb', give: (answer) => valueById(answer, ADDED[0]) },
  'mass-rear': { says: 'what the parts bring to the rear axle, kg or lb', give: (answer) => valueById(answer, ADDED[1]) },
  amps: { says: 'what the electric parts draw, all at work', give: (answer) => valueById(answer, ADDED[2]) },
  conflicts: {
    says: 'how many conflicts there are',
    give: (answer) => {
      const n = answer.findings.filter(({ verdict }) => verdict === 'conflict').length;
      return n === 0 && hasUnknown(answer) ? needsOf(answer) : n;
    },
  },
  measure: { says: 'what to measure next', give: ({ measure: [next] }) => (next ? `${next.title}: ${next.subject}` : 'nothing') },
};

export const CELL_NAMES = Object.keys(CELLS) as [string, ...string[]];
/** Columns of an answered sheet, whose names are taken too. */
const COLUMN_NAMES: Readonly<Record<string, string>> = {
  'controlling-item': 'item',
  'margin-±': 'margin-tolerance',
  'hours-likely': 'hours',
  'added-mass-front': 'mass-front',
  'added-mass-rear': 'mass-rear',
  'current-added': 'amps',
  'next-measurement': 'measure',
};

/** The cell of that name, or of the name its column has in a sheet. */
export function cellNamed(name: string): string | undefined {
  const plain = name
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, '-');
  const cell = COLUMN_NAMES[plain] ?? plain;
  return CELL_NAMES.includes(cell) ? cell : undefined;
}

export const cellDocs = (): string =>
  Object.entries(CELLS)
    .map(([name, { says }]) => `\`${name}\` (${says})`)
    .join(', ');

/** The cell of that name, as it goes over the wire; a point in numbers, no unit. */
export const cellText = (name: string, answer: Answer): string => String(CELLS[name]?.give(answer) ?? '') || 'nothing';
