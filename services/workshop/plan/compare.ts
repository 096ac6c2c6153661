/** What changed between two plans of one job: a variation, with its price. */
import { Decimal } from './decimal.ts';
import type { Estimate } from './estimate.ts';

export interface Variation {
  readonly note: string | null;
  readonly added: readonly string[];
  readonly dropped: readonly string[];
  /** Steps of both with other amounts. */
  readonly changed: readonly string[];
  readonly hours: { readonly before: number; readonly after: number; readonly unit: 'h' };
  /** null without an estimate. */
  readonly price: { readonly before: string; readonly after: string; readonly difference: string; readonly currency: string } | null;
  /** The customer is asked before any of it is done. */
  readonly approval: string;
}

export interface Compared {
  readonly steps: readonly { readonly id: string; readonly amounts: unknown; readonly contingent: boolean }[];
  readonly hours: number;
  readonly estimate: Estimate | null;
}

export function variationOf(before: Compared, after: Compared, note: string | undefined): Variation {
  const sure = ({ steps }: Compared): Map<string, string> =>
    new Map(steps.filter(({ contingent }) => !contingent).map(({ id, amounts }) => [id, JSON.stringify(amounts)]));
  const [then, now] = [sure(before), sure(after)];
  const totals = [before.estimate?.totals.total, after.estimate?.totals.total].map((total) =>
    total === undefined ? undefined : Decimal.parse(total),
  );
  const [was, is] = totals;
  const limit = after.estimate?.approval_above;
  return {
    note: note ?? null,
    added: [...now.keys()].filter((id) => !then.has(id)),
    dropped: [...then.keys()].filter((id) => !now.has(id)),
    changed: [...now].filter(([id, amounts]) => then.has(id) && then.get(id) !== amounts).map(([id]) => id),
    hours: { before: before.hours, after: after.hours, unit: 'h' },
    price:
      was && is
        ? { before: was.toString(), after: is.toString(), difference: is.minus(was).toString(), currency: after.estimate?.currency ?? '' }
        : null,
    approval:
      was && is && limit !== undefined && limit !== null && is.minus(was).compare(Decimal.parse(limit) as Decimal) <= 0
        ? `within the ${limit} that was agreed beforehand`
        : 'the customer agrees to it before it is done',
  };
}
