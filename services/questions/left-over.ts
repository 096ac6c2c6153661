/** What no reader of a question took. */
import type { Line } from './items.ts';
import type { Notes } from './reading.ts';
import { echoOf } from './tidy.ts';
import { MOST_TOKENS } from './tokens.ts';

/** What no reader took: names beside parts, things that are known and not checked, and what is not known at all. */
export function leftOver(line: Line, text: string, notes: Notes): { names: string[]; missed: { text: string; why: string }[] } {
  const names: string[] = [];
  const missed = notes.missed.map(({ start, end, why }) => ({ start, text: echoOf(text.slice(start, end)), why }));
  line.items.forEach((item, i) => {
    if (item.used) return;
    const { token } = item;
    const typed = text.slice(item.start, item.end);
    const beyond = line.means(i, 'beyond');
    if (isLoadedMass(line, i)) return;
    if (beyond) missed.push({ start: item.start, text: echoOf(typed), why: beyond.why });
    else if (line.means(i, 'drop')) missed.push({ start: item.start, text: echoOf(typed), why: 'lowering is not read' });
    else if (token.is === 'bolts' || line.means(i, 'bore'))
      missed.push({ start: item.start, text: echoOf(typed), why: 'of which wheels it is was not said' });
    else if (token.is === 'address')
      missed.push({ start: item.start, text: 'a link or mention', why: 'links, mentions and markup are not read' });
    else if (isSetOf(line, i)) return;
    else if (token.is === 'amount' || token.is === 'pair' || token.is === 'inches')
      missed.push({ start: item.start, text: echoOf(typed), why: 'it is not clear what the number is of' });
    else if (token.is === 'wheel' || token.is === 'tyre' || token.is === 'tyre-open')
      missed.push({ start: item.start, text: echoOf(typed), why: 'it is not clear what the size is of' });
    else if (line.means(i, 'load') && isCounted(line, i))
      missed.push({ start: item.start, text: echoOf(typed), why: 'what they weigh was not said' });
    else if (line.means(i, 'part'))
      missed.push({ start: item.start, text: echoOf(typed), why: 'no amount was said with it, or there is too much of it' });
    else if (token.is === 'word' && item.meanings.length === 0 && echoOf(typed) !== '') {
      if (LATIN.test(typed) && besidePart(line, i)) names.push(echoOf(typed));
      else missed.push({ start: item.start, text: echoOf(typed), why: UNKNOWN });
    }
  });
  return { names: unique(names), missed: [...unreadRest(line, text), ...joined(missed.sort((a, b) => a.start - b.start))] };
}

/** `fridge 70 lb loaded`: how much that is was said. */
function isLoadedMass(line: Line, i: number): boolean {
  const before = line.at(i - 1)?.token;
  return line.at(i)?.phrase === 'loaded' && before?.is === 'amount' && ['lb', 'kg'].includes(before.amount.unit?.symbol ?? '');
}

/** `4 wheels 17x9`, `5 285/70R17`: as many as there are. */
function isSetOf(line: Line, i: number): boolean {
  const token = line.at(i)?.token;
  const next = line.at(i + 1)?.token.is;
  const isOfWheels = line.means(i + 1, 'wheel') || line.means(i + 1, 'tyre') || next === 'tyre' || next === 'wheel';
  return (
    token?.is === 'amount' && !token.amount.unit && [4, 5].includes(token.amount.value) && isOfWheels !== undefined && isOfWheels !== false
  );
}

/** What is behind the most that is read of a paste. */
function unreadRest({ items }: Line, text: string): { text: string; why: string }[] {
  const end = items.at(-1)?.end ?? text.length;
  return text.length - end > 1 ? [{ text: 'the rest of a long text', why: `only the first ${MOST_TOKENS} words and signs are read` }] : [];
}

/** What stands beside a size in another alphabet is a word of another language, and no maker's name. */
const LATIN = /^[\p{Script=Latin}\p{N}\p{P}]+$/u;
const UNKNOWN = 'not known';
const MOST_MISSED = 40;

/** Words not known that stand together are one entry; of very many the first are named. */
function joined(missed: readonly { start: number; text: string; why: string }[]): { text: string; why: string }[] {
  const merged: { text: string; why: string; end: number }[] = [];
  for (const { start, text, why } of missed) {
    const last = merged.at(-1);
    if (last && why === UNKNOWN && last.why === UNKNOWN && start - last.end <= 1 && last.text.length + text.length < 38) {
      last.text = `${last.text} ${text}`;
      last.end = start + text.length;
    } else if (!merged.some((known) => known.text === text)) merged.push({ text, why, end: start + text.length });
  }
  const shown = merged.slice(0, MOST_MISSED).map(({ text, why }) => ({ text, why }));
  return merged.length > shown.length ? [...shown, { text: `and ${merged.length - shown.length} more`, why: UNKNOWN }] : shown;
}

/** `2 dirt bikes`: a load that is counted and not weighed. */
const isCounted = (line: Line, i: number): boolean => {
  const before = line.at(i - 1);
  return line.means(i - 1, 'number') !== undefined || (before?.token.is === 'amount' && !before.token.amount.unit);
};

const unique = (texts: readonly string[]): string[] => [...new Set(texts)].slice(0, MOST_MISSED);

/** A word nobody knows right beside a size or a part is a maker's or a line's name. */
function besidePart(line: Line, i: number): boolean {
  for (const step of [1, -1] as const) {
    for (let j = i + step, words = 0; words <= 2; j += step, words++) {
      const item = line.at(j);
      if (!item) break;
      const { token } = item;
      if (token.is === 'tyre' || token.is === 'wheel' || token.is === 'tyre-open' || token.is === 'inches') return true;
      if (item.used && line.means(j, 'part')) return true;
      if (line.means(j, 'tyre') || line.means(j, 'wheel')) return true;
      const passes =
        (token.is === 'word' && item.meanings.length === 0) ||
        line.means(j, 'flavour') ||
        line.means(j, 'axle') ||
        (token.is === 'amount' && item.used);
      if (!passes) break;
    }
  }
  return false;
}
