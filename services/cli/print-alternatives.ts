/** Other ways to cure a finding, each with what it costs elsewhere. */
import type { AnswerAlternative } from '../workshop/answer.ts';

const MOST_CHANGES = 5;

/** One text for each; the caller wraps it. */
export function alternativeTexts(alternatives: readonly AnswerAlternative[]): string[] {
  return alternatives.map(({ title, clears, irreversible, breaks, lowers, changes, notes }) => {
    const cost = [
      ...breaks.map(({ title: what, before, after }) => `“${what}” goes from ${before} to ${after}`),
      ...lowers.map(({ title: what, margin_before: was, margin_after: is }) => `“${what}” keeps ${is?.value} of ${was?.value} ${is?.unit}`),
      ...changes.slice(0, MOST_CHANGES).map(changeText),
      ...notes.slice(0, 1),
    ];
    const verdict = clears ? 'clears it' : 'helps, and is not enough by itself';
    return `or: ${title}: ${verdict}${irreversible ? '; cannot be undone' : ''}${cost.length > 0 ? `. It costs: ${cost.join('; ')}` : ''}`;
  });
}

const changeText = ({ title, subject, before, after, unit }: AnswerAlternative['changes'][number]): string =>
  `${title.replace(/^./, (c) => c.toLowerCase())}${subject ? ` [${subject}]` : ''} ${before} to ${after}${unit === '1' ? '' : ` ${unit}`}`;
