/** What to measure next: what safety hangs on and is missing, then what else is missing or leaves a verdict open, the most telling first. */
import { asItStands } from '../vehicle/library-view.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { ToMeasure } from './answer.ts';
import { nameSubjects } from './describe.ts';
import { type Grouped, groupId } from './findings.ts';
import { type System, show } from './show.ts';
import { valueId } from './values-out.ts';

interface Wanted {
  readonly slots: Set<number>;
  /** How much of the doubt of open findings it causes, all told; a missing value counts whole. */
  weight: number;
  missing: boolean;
  /** A finding about safety cannot be told without it. */
  safety: boolean;
  readonly findings: Set<string>;
}

const LEAST_SHARE = 0.1;
const USUAL_MINUTES = 10;

export function toMeasure(groups: readonly Grouped[], world: VehicleWorld, system: System): ToMeasure[] {
  const wanted = new Map<string, Wanted>();
  const want = (slot: number, weight: number, { missing, safety }: Pick<Wanted, 'missing' | 'safety'>, finding: string): void => {
    const key = togetherness(slot, world);
    const entry = wanted.get(key) ?? { slots: new Set(), weight: 0, missing: false, safety: false, findings: new Set() };
    entry.slots.add(slot);
    entry.weight += weight;
    entry.missing ||= missing;
    entry.safety ||= safety;
    entry.findings.add(finding);
    wanted.set(key, entry);
  };
  for (const group of groups) {
    const id = groupId(group, world);
    for (const { rule, missing, controlling, reads } of group.evaluations) {
      const safety = rule.hazard === 'safety';
      if (group.verdict === 'unknown')
        for (const slot of missing) want(readable(slot, reads, world) ?? slot, 1, { missing: true, safety }, id);
      if (group.verdict === 'close')
        for (const { slot, share } of controlling?.doubt ?? []) {
          const read = share >= LEAST_SHARE ? readable(slot, reads, world) : undefined;
          if (read !== undefined) want(read, share, { missing: false, safety: false }, id);
        }
    }
  }
  const minutes = ({ slots }: Wanted): number => world.values.node(first(slots)).signature?.measure?.minutes ?? USUAL_MINUTES;
  return [...wanted.values()]
    .filter(({ slots }) => canBeGiven(first(slots), world))
    .sort((a, b) => Number(b.safety) - Number(a.safety) || b.weight / minutes(b) - a.weight / minutes(a) || first(a.slots) - first(b.slots))
    .map((entry) => describe(entry, world, system));
}

/**
 * The slot itself if a person can read it; else the nearest thing it goes into that one can, among what the finding rests
 * on; else what a part's plate or maker states.
 */
function readable(slot: number, reads: readonly number[], { library, values }: VehicleWorld): number | undefined {
  const below = values.below(reads);
  const seen = new Set([slot]);
  for (const at of seen) {
    const { name, signature } = values.node(at);
    // With the planned parts on it cannot be read before they are.
    if (signature?.measure && asItStands(library, name) === name) return at;
    for (const dependent of values.node(at).dependents) if (below.has(dependent)) seen.add(dependent);
  }
  return library.quantities.has(values.node(slot).name) ? undefined : slot;
}

/** What is only computed and nobody can read is not asked for: what is wrong with it stands in the finding. */
function canBeGiven(slot: number, { library, values }: VehicleWorld): boolean {
  const { name, signature } = values.node(slot);
  return signature !== undefined && (signature.measure !== undefined || library.quantities.get(name)?.comes !== 'computed');
}

/** Parts of one input are alike: what is read on one of them does for all. */
function togetherness(slot: number, world: VehicleWorld): string {
  const { name, subjects } = world.values.node(slot);
  return [name, ...subjects.map((subject) => world.partOf(subject)?.group ?? subject)].join('|');
}

const first = (slots: ReadonlySet<number>): number => [...slots][0] as number;

function describe({ slots, missing, findings }: Wanted, world: VehicleWorld, system: System): ToMeasure {
  const { signature, name } = world.values.node(first(slots));
  const subjects = [...slots].flatMap((slot) => world.values.node(slot).subjects);
  const measure = signature?.measure;
  const accuracy =
    measure?.accuracy !== undefined && signature?.type.is === 'number'
      ? show(signature.unit, signature.type.dimension, system).amount(measure.accuracy, 0, 'up')
      : undefined;
  return {
    ids: [...slots].map((slot) => valueId(slot, world)),
    quantity: name,
    title: signature?.title ?? name,
    subject: nameSubjects(subjects, world) || 'the vehicle',
    why: missing ? 'it is not known, and the verdict hangs on it' : 'its tolerance leaves the verdict open',
    findings: [...findings],
    how: measure?.how ?? 'state it: from the plate, the stamping, the maker or the handbook',
    tool: measure?.tool ?? 'none',
    ...(measure?.where && { where: measure.where }),
    ...(measure?.suspension && { suspension: measure.suspension }),
    ...(measure?.steering && { steering: measure.steering }),
    ...(accuracy && { accuracy }),
    ...(measure?.minutes !== undefined && { minutes: measure.minutes }),
    cautions: (measure?.cautions ?? []).map((caution) => world.library.cautions.get(caution) ?? caution),
  };
}
