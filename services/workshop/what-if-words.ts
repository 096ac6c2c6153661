/** A what-if in a sentence: stretches by their verdict, what the stated work makes of them, and what is not counted. */
import type { Verdict } from './answer.ts';
import type { AfterWorkAt, Band, WhatIf, WhatIfValue } from './what-if-answer.ts';

const WORDS: Readonly<Record<Verdict, string>> = { conflict: 'conflict', unknown: 'not known', close: 'too close to call', clear: 'clear' };

const text = ({ value, unit }: WhatIfValue): string => (unit === undefined || unit === '1' ? `${value}` : `${value} ${unit}`);

type Worded = Band & { readonly after_work?: readonly AfterWorkAt[] };

/** The verdict of a stretch, and what the stated work makes of it where that is otherwise. */
function worded({ verdict, from, after_work = [] }: Worded): string {
  const [first, last] = [after_work[0], after_work.at(-1)];
  if (!first || !last || after_work.every((after) => after.verdict === verdict)) return WORDS[verdict];
  const at = (after: AfterWorkAt): string => `${WORDS[after.verdict]} at ${text({ ...from, value: after.value })}`;
  const after = first.verdict === last.verdict ? WORDS[first.verdict] : `${at(first)}, ${at(last)},`;
  return `${WORDS[verdict]} (${after} after the stated work)`;
}

export function summaryOf(bands: readonly Worded[], each: boolean): string {
  if (each) return `${bands.map((band) => `${text(band.from)} ${worded(band)}`).join(', ')}.`;
  const [first, ...others] = bands;
  if (!first) return 'nothing was checked.';
  if (others.length === 0) return `${worded(first)} all the way from ${text(first.from)} to ${text(first.to)}.`;
  const told = bands.map((band, i) => {
    if (i === bands.length - 1) return `${worded(band)} beyond`;
    return i === 0 ? `${worded(band)} up to ${text(band.to)}` : `${worded(band)} to ${text(band.to)}`;
  });
  return `${told.join(', ')}.`;
}

const isAlike = (a: readonly Band[], b: readonly Band[]): boolean =>
  a.length === b.length && a.every(({ verdict, from }, i) => verdict === b[i]?.verdict && from.value === b[i]?.from.value);

/** Each sort by itself, where that is not what the whole is already. */
export function sortsText(sorts: WhatIf['sorts'], whole: readonly Band[], each: boolean): string {
  if (sorts.every(({ bands }) => isAlike(bands, whole))) return '';
  return ` By itself: ${sorts.map((sort) => sortText(sort, each)).join('; ')}.`;
}

function sortText({ sort, bands }: WhatIf['sorts'][number], each: boolean): string {
  const name = sort.replaceAll('_', ' ');
  const [first] = bands;
  if (!each && first?.verdict === 'clear') return `${name} clear up to ${text(first.to)}`;
  return `${name} ${summaryOf(bands, each).slice(0, -1)}`;
}

export function asBeforeText(count: number): string {
  if (count === 0) return '';
  return ` ${count} more ${count === 1 ? 'is' : 'are'} open as before and not counted: the planned parts do not change ${count === 1 ? 'it' : 'them'}.`;
}
