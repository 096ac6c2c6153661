/** Reads what else may cure findings: works with one amount, and what they are done to. */
import { parseQuantity } from '../units/index.ts';
import { type Report, suggest } from './diagnostics.ts';
import type { Cure, Kind, WorkParameter } from './tree.ts';
import type { Fields } from './yaml-reader.ts';

export function readCure(
  id: string,
  fields: Fields,
  works: ReadonlyMap<string, readonly WorkParameter[]>,
  kinds: ReadonlyMap<string, Kind>,
  report: Report,
): Cure | undefined {
  const [work, of, most] = (['work', 'for', 'most'] as const).map((key) =>
    fields.neededText(key, 'name a work, the kind it cures, and the furthest its amount goes'),
  );
  const [every, on] = [fields.text('every'), fields.oneOf('on', ['axle', 'corner', 'vehicle'])];
  const only = fields.oneOf('only', ['front', 'rear']);
  if (!work || !of || !most) return undefined;
  const takes = works.get(work.text);
  if (!takes) report.add('RULE_UNKNOWN_WORK', work.span, `there is no work \`${work.text}\``, suggest(work.text, works.keys()));
  for (const kind of [of, ...(every ? [every] : [])])
    if (!kinds.has(kind.text))
      report.add('RULE_UNKNOWN_NAME', kind.span, `there is no kind \`${kind.text}\``, suggest(kind.text, kinds.keys()));
  if ((every === undefined) === (on === undefined))
    report.add(
      'RULE_BAD_VALUE',
      fields.span,
      'a cure is done to one thing',
      'give `on: axle`, `on: corner`, `on: vehicle`, or `every` with a kind of part',
    );
  const amounts = takes?.filter(({ type }) => type.is === 'number') ?? [];
  const [amount] = amounts;
  if (!amount || amounts.length !== 1 || takes?.length !== (on === 'vehicle' ? 1 : 2) || amount.type.is !== 'number') {
    if (takes) report.add('RULE_TYPE', work.span, `\`${work.text}\` does not take one thing and one amount`, 'name a work that does');
    return undefined;
  }
  const parsed = parseQuantity(most.text, amount.type.dimension);
  if (!parsed.ok) report.add('RULE_BAD_VALUE', most.span, parsed.fault.message, parsed.fault.help);
  return parsed.ok && (every || on)
    ? {
        id,
        work: work.text,
        for: of.text,
        on: every ? { is: 'every', kind: every.text } : { is: on as 'axle' | 'corner' | 'vehicle' },
        ...(only && { only }),
        most: parsed.measure.value,
      }
    : undefined;
}
