/** What goes with the vehicle when it leaves: its values as it then is, what was left, and when it is seen again. */
import type { HandOver as Section } from '../../engine/planning.ts';
import type { SubjectType } from '../../engine/tree.ts';
import type { Part } from '../../vehicle/assembly.ts';
import { attributesOf, exclusiveKind, isKind } from '../../vehicle/library-view.ts';
import { AXLES, CORNERS, covers, PLACES, subjectOf } from '../../vehicle/places.ts';
import type { VehicleWorld } from '../../vehicle/world.ts';
import type { AnswerValue } from '../answer.ts';
import type { Job } from '../job.ts';
import type { System } from '../show.ts';
import { wordsOf } from '../steps.ts';
import { answerValue } from '../values-out.ts';
import { type AlignmentTarget, alignmentOf } from './alignment.ts';
import type { Calendar } from './calendar.ts';
import type { Contacts } from './contacts.ts';
import { insteadOf } from './estimate.ts';
import type { Operation, OrderedJob } from './operations.ts';
import { type WiringMap, wiringOf } from './wiring.ts';

export interface HandOverSheet {
  readonly vehicle: string;
  readonly sections: readonly {
    readonly id: string;
    readonly title: string;
    readonly values: readonly AnswerValue[];
    /** What is written in by hand; nothing here computes it. */
    readonly by_hand: readonly string[];
  }[];
  readonly alignment: readonly AlignmentTarget[];
  readonly wiring: WiringMap;
  readonly known_contacts: Contacts['accepted'];
  /** Not clear with everything done, and not for the customer to accept. */
  readonly still_open: readonly { readonly id: string; readonly verdict: string; readonly says: string }[];
  readonly visits: Calendar['visits'];
  readonly parts_taken_off: readonly string[];
  readonly cautions: readonly string[];
}

const ALWAYS = ['loads', 'road_law', 'wheels'];

export function handOverOf(
  job: Job,
  ordered: OrderedJob,
  calendar: Calendar,
  contacts: Contacts,
  remaining: HandOverSheet['still_open'],
  system: System,
): HandOverSheet {
  const { worldAfter: world } = job;
  const { library, assembly } = world;
  const cautions = [
    ...ordered.operations.filter(({ step }) => !step.contingent).flatMap(({ step }) => step.asked.work.cautions),
    ...ALWAYS,
  ];
  const wiring = wiringOf(
    world,
    insteadOf(
      ordered.operations.filter(({ step }) => !step.contingent),
      world,
    ),
    system,
  );
  const accepted = new Set(contacts.accepted.flatMap(({ finding }) => [finding, ...finding.split('+')]));
  return {
    vehicle: assembly.name,
    sections: [...library.handOver.values()].map((section) => ({
      id: section.id,
      title: section.title,
      values: valuesOf(section, world, system),
      by_hand: section.by_hand,
    })),
    alignment: alignmentOf(world, system),
    wiring,
    known_contacts: contacts.accepted,
    still_open: remaining.filter(({ id }) => !id.split('+').every((each) => accepted.has(each))),
    visits: calendar.visits,
    parts_taken_off: partsTakenOff(
      ordered.operations.filter(({ step }) => !step.contingent),
      world,
      system,
    ),
    cautions: [...new Set(cautions)].map((caution) => library.cautions.get(caution) ?? caution),
  };
}

/** Parts the build says are replaced, and what the work says comes off; what is put back on is no part of it. */
function partsTakenOff(operations: readonly Operation[], world: VehicleWorld, system: System): string[] {
  const { parts, removed } = world.assembly;
  const known = new Set(removed);
  const words = new Set<string>();
  for (const { asked } of operations.map(({ step }) => step))
    for (const { kind, of, unlessKnown } of asked.work.takesOff) {
      const subject = of === undefined ? undefined : asked.subjects[of];
      const were = parts.filter((part) => part.state === 'fitted' && kind !== undefined && isThere(part, kind, subject, world));
      for (const part of were) known.add(part);
      if (were.length === 0 && unlessKnown) words.add(wordsOf(unlessKnown, asked, world, system));
    }
  const named = [...known].map(({ name, place }) => (place === 'vehicle' ? name : `${name} (${place.replace('-', ' ')})`));
  return [...new Set([...named, ...words])];
}

/** Whether a part is of the kind, at the subject, and of those of which a place holds one, where the subject is such a one. */
function isThere(part: Part, kind: string, subject: number | undefined, world: VehicleWorld): boolean {
  const { library } = world;
  if (!isKind(library, part.kind, kind)) return false;
  if (subject === undefined) return true;
  const other = world.partOf(subject);
  const place = other?.place ?? PLACES[subject] ?? 'vehicle';
  const rivals = !other || exclusiveKind(library, other.kind) === exclusiveKind(library, part.kind);
  return rivals && (covers(place, part.place) || covers(part.place, place));
}

function valuesOf({ quantities, ofFront, attributes }: Section, world: VehicleWorld, system: System): AnswerValue[] {
  const ofQuantities = quantities.flatMap((name) =>
    subjectsFor(world.library.quantities.get(name)?.per ?? [], world).map((subjects) => world.values.slot(name, subjects)),
  );
  const ofParts = world.present.flatMap(({ kind, subject }) => {
    const known = attributesOf(world.library, kind);
    return attributes.flatMap((name) => {
      const found = known.get(name);
      return found ? [world.values.slot(found.leaf, [subject])] : [];
    });
  });
  const front = ofFront.map((name) => world.values.slot(name, [subjectOf('front')]));
  return [...front, ...ofQuantities, ...ofParts].map((slot) => {
    world.values.read(slot);
    return answerValue(slot, world, system);
  });
}

/** What a quantity is asked of: one subject each; those of pairs are left to the findings. */
function subjectsFor(per: readonly SubjectType[], world: VehicleWorld): number[][] {
  const [of, more] = per;
  if (more) return [];
  if (!of || of.is === 'vehicle') return [[]];
  if (of.is === 'axle') return AXLES.map((axle) => [subjectOf(axle)]);
  if (of.is === 'corner') return CORNERS.map((corner) => [subjectOf(corner)]);
  return world.parts(of.kind).map((part) => [part]);
}
