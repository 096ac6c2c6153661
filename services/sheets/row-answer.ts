/** The cells that an answer comes to, and what a fault comes to. */
import type { Answer, Finding } from '../workshop/answer.ts';
import { counts } from '../workshop/verdicts.ts';
import { OURS } from './headings.ts';
import type { RowFault } from './row-request.ts';
import type { AddedCell } from './table.ts';

const VERDICTS = ['conflict', 'unknown', 'close', 'clear'];
const HAZARDS = ['safety', 'damage', 'legal', 'comfort'];

/**
 * The finding that the verdict hangs on: of the worst verdict, one that has a margin before one that is a matter of yes or no, then
 * the gravest hazard, then the one whose margin is the least beside
 * its own band, since millimetres and kilograms have no order of their own.
 */
export function controllingOf({ findings, verdict }: Answer): Finding | undefined {
  const inBands = ({ margin }: Finding): number => {
    if (!margin) return Number.NEGATIVE_INFINITY;
    const band = margin.low !== null && margin.high !== null ? (margin.high - margin.low) / 2 : 0;
    return margin.value / Math.max(band, Math.abs(margin.value) * 1e-3, 1e-9);
  };
  return findings
    .filter((finding) => finding.verdict === verdict && counts(finding))
    .map((finding) => ({
      finding,
      order: [VERDICTS.indexOf(finding.verdict), finding.margin ? 0 : 1, HAZARDS.indexOf(finding.hazard), inBands(finding)] as const,
    }))
    .reduce<{ finding: Finding; order: readonly number[] } | undefined>(
      (least, one) => (!least || before(one.order, least.order) ? one : least),
      undefined,
    )?.finding;
}

function before(a: readonly number[], b: readonly number[]): boolean {
  for (const [i, x] of a.entries()) if (x !== b[i]) return x < (b[i] as number);
  return false;
}

/** What is missing, in the words of whoever must bring it. */
export function needsOf(answer: Answer): string {
  const { measure, findings } = answer;
  const controlling = controllingOf(answer)?.id ?? '';
  // What lets something unknown be told goes before what only narrows a band.
  const unknown = new Set(findings.flatMap((finding) => (finding.verdict === 'unknown' && counts(finding) ? [finding.id] : [])));
  const first =
    measure.find((one) => unknown.has(controlling) && one.findings.includes(controlling)) ??
    measure.find((one) => one.findings.some((id) => unknown.has(id))) ??
    measure[0];
  if (first) return `NEEDS: ${lowered(whose(first))}`;
  const open = findings.find((finding) => finding.verdict === 'unknown' && counts(finding));
  return `NEEDS: ${open ? open.says : 'what the answer lists'}`;
}

const whose = ({ title, subject }: { readonly title: string; readonly subject: string }): string =>
  subject === 'the vehicle' ? title : `${subject}: ${lowered(title)}`;

const lowered = (text: string): string => text.replace(/^\p{Lu}(?=\p{Ll}|\s)/u, (letter) => letter.toLowerCase());

export const hasUnknown = ({ findings }: Answer): boolean => findings.some((finding) => finding.verdict === 'unknown' && counts(finding));

/** While something is missing only the least is known: work that nobody can tell yet is not none. */
export function hoursOf(answer: Answer): { readonly low: number; readonly likely: number | string; readonly high: number | string } {
  const { low, likely, high } = answer.work.hours;
  return hasUnknown(answer) ? { low, likely: needsOf(answer), high: needsOf(answer) } : { low, likely, high };
}

/** In the order of `OURS`. No cell is left empty where something is not known. */
export function answerCells(answer: Answer): AddedCell[] {
  const controlling = controllingOf(answer);
  const margin = controlling?.margin;
  const unknown = hasUnknown(answer);
  const hours = hoursOf(answer);
  const conflicts = answer.findings.filter(({ verdict }) => verdict === 'conflict');
  const [next] = answer.measure;
  return [
    answer.verdict,
    controlling ? `${controlling.title} (${controlling.subject})` : 'nothing is changed by the parts',
    controlling ? (margin ? margin.value : needless(controlling.verdict === 'unknown', answer)) : null,
    margin ? (margin.plus_minus ?? 0) : null,
    margin ? margin.unit : null,
    hours.low,
    hours.likely,
    hours.high,
    ...[...ADDED].map((id) => valueById(answer, id)),
    conflicts.length === 0 ? (unknown ? 'none found so far' : 'none') : listed(conflicts.map(({ title }) => title)),
    next ? `${whose(next)} (${next.tool === 'none' ? 'no tool' : next.tool})` : 'nothing',
    null,
    answer.checked.as_before > 0 ? `${answer.checked.as_before} more open, as the vehicle stands already` : null,
  ];
}

/** The cells of a row that was checked, with what is to be known of this row behind what is so of every row like it. */
export const remarkedCells = (cells: readonly AddedCell[], remarks: readonly RowFault[]): AddedCell[] => {
  const all = [...remarks.map(({ message }) => message), ...cells.slice(REMARKS).filter((cell) => cell !== null)];
  return [...cells.slice(0, REMARKS), all.length === 0 ? null : all.join('; ').slice(0, MOST_TOLD)];
};

export const ADDED = ['axle_load_change(front)', 'axle_load_change(rear)', 'current_added'] as const;

const needless = (unknown: boolean, answer: Answer): string => (unknown ? needsOf(answer) : 'yes or no');

/** A value by its id; what it needs where it is not known. */
export function valueById({ values }: Answer, id: string): number | string {
  const found = values[id];
  if (typeof found?.value === 'number') return found.value;
  const missing = (at: string, seen = new Set<string>()): string | undefined => {
    const value = values[at];
    if (!value || value.value !== null || seen.has(at)) return undefined;
    seen.add(at);
    return value.from.map((from) => missing(from, seen)).find((deeper) => deeper !== undefined) ?? at;
  };
  const deepest = values[missing(id) ?? ''];
  return deepest ? `NEEDS: ${lowered(deepest.title)}${deepest.subject === 'vehicle' ? '' : ` of ${deepest.subject}`}` : `NEEDS: ${id}`;
}

const MOST_LISTED = 30;

const listed = (titles: readonly string[]): string => {
  const each = [...new Set(titles)];
  const more = each.length - MOST_LISTED;
  return `${titles.length}: ${each.slice(0, MOST_LISTED).join('; ')}${more > 0 ? `; and ${more} more` : ''}`;
};

const empty = (columns: number): null[] => Array.from({ length: columns }, () => null);
const [COLUMNS, FAULT, REMARKS] = [OURS.length, OURS.indexOf('row fault'), OURS.indexOf('remarks')];
const MOST_TOLD = 2000;

/** Of a row that could not be checked: the verdict says so, and the last cell why. */
export const faultCells = (faults: readonly RowFault[], elsewhere?: string): AddedCell[] => [
  'not checked',
  ...empty(FAULT - 1),
  faults.length > 0
    ? faults
        .map(({ column, message, help }) => `${column === undefined ? '' : `${column}: `}${message}; ${help}`)
        .join(' | ')
        .slice(0, MOST_TOLD)
    : (elsewhere ?? 'the row could not be checked'),
  ...empty(COLUMNS - FAULT - 1),
];

/** Of a row that is none: nothing is wrong with it. */
export const leftAloneCells = ([fault]: readonly RowFault[]): AddedCell[] => [
  'left alone',
  fault?.message ?? 'taken for no build',
  ...empty(COLUMNS - 2),
];

/** Of a further row of a build: its figures stand in the build's first row, so that a column can be summed. */
export const furtherCells = (verdict: string, first: number): AddedCell[] => [verdict, `with row ${first}`, ...empty(COLUMNS - 2)];
