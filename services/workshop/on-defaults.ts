/**
 * Findings that rest on defaults of the class: they say what is likely, and which readings decide. A default is wide enough
 * to be true of any vehicle of its class, and says little of this one.
 */
import type { Evaluation } from '../engine/evaluate.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { OnDefaults } from './answer.ts';
import { joinWords, lowerFirst, nameSubjects } from './describe.ts';
import { valueId } from './values-out.ts';

/** What part of the doubt defaults must cause for a finding to rest on them. */
const RESTS = 0.5;

/** Readings are named until they cause this much of the doubt together, and no more than that many. */
const ENOUGH = 0.8;
const MOST_NAMED = 3;
const LEAST_NAMED = 0.05;

export function onDefaults(evaluation: Evaluation, world: VehicleWorld): OnDefaults | undefined {
  const { verdict, controlling, reads } = evaluation;
  if (verdict !== 'conflict' && verdict !== 'close') return undefined;
  const doubt = controlling?.doubt ?? [];
  const share = doubt.reduce((sum, { slot, share: part }) => sum + (isDefault(slot, world) ? part : 0), 0);
  if (share < RESTS) return undefined;
  const byReading = new Map<number, number>();
  for (const { slot, share: part } of doubt) {
    const read = readingOf(slot, reads, world);
    if (read !== undefined) byReading.set(read, (byReading.get(read) ?? 0) + part);
  }
  const ranked = [...byReading].sort(([a, x], [b, y]) => y - x || a - b).filter(([, part]) => part >= LEAST_NAMED);
  let told = 0;
  const decide = ranked.filter(([, part], i) => {
    const needed = i < MOST_NAMED && told < ENOUGH;
    told += part;
    return needed;
  });
  return { share: rounded(share), decide: decide.map(([slot, part]) => ({ ...named(slot, world), share: rounded(part) })) };
}

const rounded = (share: number): number => Math.round(share * 1000) / 1000;

function named(slot: number, world: VehicleWorld) {
  const { name, subjects, signature } = world.values.node(slot);
  // One input at both sides is read at both.
  const groups = new Set(subjects.map((subject) => world.partOf(subject)?.group));
  const alike = world.present.filter(({ group }) => groups.has(group)).map(({ subject }) => subject);
  return {
    id: valueId(slot, world),
    title: signature?.title ?? name,
    subject: nameSubjects([...subjects, ...alike], world) || 'the vehicle',
  };
}

const DEFAULTS: ReadonlySet<string> = new Set(['class-default', 'typical']);

/** A default itself, or a model's error that defaults of a drawing are folded into. */
function isDefault(slot: number, { values }: VehicleWorld): boolean {
  const { chosen, folded } = values.node(slot);
  if (chosen !== 'computed') return chosen !== undefined && DEFAULTS.has(chosen.rank);
  return values.givensOf([...folded], { folded: true }).some((given) => {
    const { chosen: stated } = values.node(given);
    return stated !== undefined && stated !== 'computed' && DEFAULTS.has(stated.rank) && stated.plusMinus > 0;
  });
}

/** The value itself if a person can read it, or the nearest that it goes into and that one can. */
function readingOf(slot: number, reads: readonly number[], { values }: VehicleWorld): number | undefined {
  const below = values.below(reads);
  const seen = new Set([slot]);
  for (const at of seen) {
    if (values.node(at).signature?.measure) return at;
    for (const dependent of values.node(at).dependents) if (below.has(dependent)) seen.add(dependent);
  }
  return undefined;
}

const COUNTED: Readonly<Record<number, string>> = { 1: 'this reading', 2: 'these two readings', 3: 'these three readings' };

/** What readings must cause of the doubt together to be said to decide. */
const DECIDES = 0.5;

/** In words; nothing where no reading is known that would help. */
export function decideText({ decide }: OnDefaults): string {
  if (decide.length === 0) return '';
  const readings = decide.map(
    ({ title, subject, share }) => `${lowerFirst(title)} of ${subject} (${Math.round(100 * share)} % of the doubt)`,
  );
  const s = decide.length === 1 ? 's' : '';
  const together = decide.reduce((sum, { share }) => sum + share, 0);
  const verb = together >= DECIDES ? `decide${s}` : `narrow${s} it, and none decides`;
  return `${COUNTED[decide.length]} ${verb}: ${joinWords(readings)}`;
}
