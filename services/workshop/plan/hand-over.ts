/** What goes with the vehicle when it leaves: its values as it then is, what was left, and when it is seen again. */
import type { HandOver as Section } from '../../engine/planning.ts';
import type { SubjectType } from '../../engine/tree.ts';
import { attributesOf } from '../../vehicle/library-view.ts';
import { AXLES, CORNERS, subjectOf } from '../../vehicle/places.ts';
import type { VehicleWorld } from '../../vehicle/world.ts';
import type { AnswerValue } from '../answer.ts';
import type { Job } from '../job.ts';
import type { System } from '../show.ts';
import { answerValue } from '../values-out.ts';
import { type AlignmentTarget, alignmentOf } from './alignment.ts';
import type { Calendar } from './calendar.ts';
import type { Contacts } from './contacts.ts';
import { insteadOf } from './estimate.ts';
import type { OrderedJob } from './operations.ts';
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
    parts_taken_off: [
      ...new Set([...assembly.removed].map(({ name, place }) => (place === 'vehicle' ? name : `${name} (${place.replace('-', ' ')})`))),
    ],
    cautions: [...new Set(cautions)].map((caution) => library.cautions.get(caution) ?? caution),
  };
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
