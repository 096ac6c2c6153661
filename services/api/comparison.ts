/** Two answers side by side: what a change fixed, broke, made better or worse. Pure. */
import type { Answer, Finding, Verdict } from '../workshop/index.ts';

export interface Turned {
  readonly rule: string;
  readonly title: string;
  readonly hazard: string;
  readonly before: Verdict | null;
  readonly after: Verdict | null;
  readonly margin_before: Finding['margin'];
  readonly margin_after: Finding['margin'];
  readonly says: string;
  readonly ids: { readonly before: string | null; readonly after: string | null };
}

export interface Turns {
  readonly fixed: readonly Turned[];
  readonly broken: readonly Turned[];
  readonly better: readonly Turned[];
  readonly worse: readonly Turned[];
  /** What is not known is not better than a conflict: it may still be one. */
  readonly no_longer_known: readonly Turned[];
  readonly unchanged: number;
}

interface Pair {
  readonly before?: Finding;
  readonly after?: Finding;
}

const RANK: Readonly<Record<Verdict, number>> = { conflict: 0, unknown: 1, close: 2, clear: 3 };
/** A rule that does not apply is as good as clear. */
const rankOf = (finding: Finding | undefined): number => (finding ? RANK[finding.verdict] : RANK.clear);

export function compareAnswers(before: Answer, after: Answer): Turns {
  const turns: { [K in Turn]: Turned[] } & { unchanged: number } = {
    fixed: [],
    broken: [],
    better: [],
    worse: [],
    no_longer_known: [],
    unchanged: 0,
  };
  for (const pair of pairs(before.findings, after.findings)) {
    const turn = turnOf(pair);
    if (turn === undefined) turns.unchanged++;
    else turns[turn].push(turned(pair));
  }
  return turns;
}

type Turn = 'fixed' | 'broken' | 'better' | 'worse' | 'no_longer_known';

function turnOf({ before, after }: Pair): Turn | undefined {
  if (after?.verdict === 'unknown' && before && before.verdict !== 'unknown') return 'no_longer_known';
  const [was, is] = [rankOf(before), rankOf(after)];
  if (was === RANK.clear || is === RANK.clear) return was === is ? undefined : is > was ? 'fixed' : 'broken';
  if (was !== is) return is > was ? 'better' : 'worse';
  const [low, high] = [before?.margin?.value, after?.margin?.value];
  if (low === undefined || high === undefined || low === high || before?.margin?.unit !== after?.margin?.unit) return undefined;
  return high > low ? 'better' : 'worse';
}

function turned({ before, after }: Pair): Turned {
  const { rule, title, hazard, says } = (after ?? before) as Finding;
  return {
    rule,
    title,
    hazard,
    before: before?.verdict ?? null,
    after: after?.verdict ?? null,
    margin_before: before?.margin ?? null,
    margin_after: after?.margin ?? null,
    says: after ? says : `This no longer applies. Before: ${says}`,
    ids: { before: before?.id ?? null, after: after?.id ?? null },
  };
}

/**
 * Findings of the same thing. A finding may stand for both sides of an axle, so what is paired is what its id joins: first by the same
 * parts, then by parts of the same kind at the same place, since a change often puts one part where another was.
 */
function pairs(before: readonly Finding[], after: readonly Finding[]): Pair[] {
  const found = new Map<string, Pair>();
  const note = (pair: Pair): void => void found.set(`${pair.before?.id} ${pair.after?.id}`, pair);
  const left = new Map(before.flatMap(joined).map((atom) => [atom.id, atom]));
  const unmatched = after.flatMap(joined).filter(({ id, finding }) => {
    const same = left.get(id);
    if (!same) return true;
    left.delete(id);
    note({ before: same.finding, after: finding });
    return false;
  });
  const byPlace = groupByPlace([...left.values()]);
  for (const { place, finding } of unmatched) {
    const match = byPlace.get(place)?.shift();
    note(match ? { before: match.finding, after: finding } : { after: finding });
  }
  for (const { finding } of [...byPlace.values()].flat()) note({ before: finding });
  return [...found.values()];
}

interface Atom {
  readonly id: string;
  /** The id with each part's own name replaced by its kind and place. */
  readonly place: string;
  readonly finding: Finding;
}

const joined = (finding: Finding): Atom[] =>
  finding.id.split('+').map((id) => ({ id, place: id.split(':').map(placeIn(finding)).join(':'), finding }));

const placeIn =
  ({ parts }: Finding) =>
  (step: string): string => {
    const part = parts.find(({ id }) => id === step);
    return part ? `${part.kind}@${part.at}` : step;
  };

function groupByPlace(atoms: readonly Atom[]): Map<string, Atom[]> {
  const groups = new Map<string, Atom[]>();
  for (const atom of atoms) groups.set(atom.place, [...(groups.get(atom.place) ?? []), atom]);
  return groups;
}
