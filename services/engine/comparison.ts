/**
 * Comparisons with a minimum, a maximum or an absolute value for a whole side, split into comparisons without: each is
 * then smooth, its band has no kink inside, and a finding names the side that decides.
 */
import type { Span } from './source.ts';
import type { Num, Truth } from './tree.ts';

export function splitComparison(how: '>=' | '>', a: Num, b: Num, span: Span): Truth {
  const [left, right] = [bare(a), bare(b)];
  const each = (op: 'and' | 'or', args: readonly Num[], make: (arg: Num) => Truth): Truth => joined(op, args.map(make), span);
  if (left.op === 'min' || left.op === 'max')
    return each(left.op === 'min' ? 'and' : 'or', left.args, (arg) => splitComparison(how, arg, b, span));
  if (right.op === 'min' || right.op === 'max')
    return each(right.op === 'max' ? 'and' : 'or', right.args, (arg) => splitComparison(how, a, arg, span));
  if (left.op === 'abs') return each('or', bothSigns(left.a), (arg) => splitComparison(how, arg, b, span));
  if (right.op === 'abs') return each('and', bothSigns(right.a), (arg) => splitComparison(how, a, arg, span));
  return { op: 'compare', how, a, b, span, text: textOf(span) };
}

const bare = (num: Num): Num => (num.op === 'local' ? bare(num.a) : num);
const bothSigns = (a: Num): readonly Num[] => [a, { op: 'negate', a, dimension: a.dimension, span: a.span }];

/** `and` inside `and` is one `and`. */
export const joined = (op: 'and' | 'or', parts: readonly Truth[], span: Span): Truth => ({
  op,
  parts: parts.flatMap((part) => (part.op === op ? part.parts : [part])),
  span,
});

/** What the author wrote there, on one line. */
export const textOf = ({ source, start, end }: Span): string => source.text.slice(start, end).replace(/\s+/g, ' ').trim();
