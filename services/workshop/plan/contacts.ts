/** What a customer says they can live with: recorded where it hurts nobody, refused where it may. */
import type { Verdict } from '../answer.ts';
import type { Grouped } from '../findings.ts';
import type { Signed } from './request.ts';

export interface Contact {
  readonly finding: string;
  readonly title: string;
  readonly says: string;
  readonly by: string;
  readonly date: string;
  readonly note: string | null;
}

export interface Refused {
  readonly finding: string;
  readonly why: string;
  readonly by: string;
  readonly date: string;
}

export interface Contacts {
  readonly accepted: readonly Contact[];
  readonly refused: readonly Refused[];
}

export interface Judged {
  readonly contacts: Contacts;
  /** Ids of the evaluations that ask for no work. */
  readonly evaluations: ReadonlySet<string>;
}

interface Known {
  readonly group: Grouped;
  readonly says: string;
  readonly ids: readonly string[];
}

/** `findings` by their id, and by that of each evaluation they join. */
export function judgeContacts(given: readonly (Signed & { readonly finding: string })[], findings: ReadonlyMap<string, Known>): Judged {
  const accepted: Contact[] = [];
  const refused: Refused[] = [];
  const evaluations = new Set<string>();
  for (const { finding, by, date, note } of given) {
    const known = findings.get(finding);
    const why = known ? refusal(known.group) : 'there is no such finding that is not clear';
    if (!known || why !== undefined) {
      refused.push({ finding, why: why ?? '', by, date });
      continue;
    }
    accepted.push({ finding, title: known.group.evaluations[0].rule.title, says: known.says, by, date, note: note ?? null });
    for (const id of known.ids) evaluations.add(id);
  }
  return { contacts: { accepted, refused }, evaluations };
}

const OPEN: readonly Verdict[] = ['conflict', 'close'];

function refusal({ evaluations, verdict }: Grouped): string | undefined {
  const { hazard } = evaluations[0].rule;
  if (verdict === 'unknown') return 'nobody knows yet what would be accepted: it is measured first';
  if (!OPEN.includes(verdict)) return 'it is met as it stands';
  if (hazard === 'safety') return 'it can hurt people: it is put right, or the parts are not fitted';
  if (hazard === 'legal') return 'it is not the customer’s to accept: local law decides, and the shop answers for what it hands over';
  return undefined;
}
