/** What must be confirmed, verified and done by somebody qualified. */
import { slotOf } from '../../engine/bind.ts';
import type { VehicleWorld } from '../../vehicle/world.ts';
import type { AnswerValue } from '../answer.ts';
import type { System } from '../show.ts';
import { stepId } from '../step-id.ts';
import { titleOf } from '../steps.ts';
import { textIn } from '../texts.ts';
import { answerValue } from '../values-out.ts';
import type { Operation, OrderedJob } from './operations.ts';

export interface Risks {
  /** What cannot be undone, before anything is cut: confirmed one by one, in this order. */
  readonly confirm_first: readonly {
    readonly step: string;
    readonly title: string;
    readonly contingent: boolean;
    readonly confirm: readonly string[];
  }[];
  readonly safety: readonly {
    readonly step: string;
    readonly title: string;
    readonly check: string;
    readonly accept: string;
    readonly who: readonly string[];
    readonly predicted: readonly AnswerValue[];
  }[];
  readonly restricted: readonly { readonly skill: string; readonly who: string; readonly steps: readonly string[] }[];
  readonly single_use: readonly { readonly step: string; readonly what: string; readonly torque: string | null }[];
  /** Torqued with the vehicle standing on its wheels. */
  readonly at_ride_height: readonly { readonly step: string; readonly what: string }[];
}

export function risksOf({ operations, visits, undecided }: OrderedJob, world: VehicleWorld, after: VehicleWorld, system: System): Risks {
  const all = [...new Set([...operations, ...visits.flatMap((visit) => visit.operations)])];
  const id = ({ step }: Operation): string => stepId(step.asked, world);
  const told = ({ step }: Operation) => ({ step: stepId(step.asked, world), title: titleOf(step.asked, world, system) });
  const skills = new Map<string, Operation[]>();
  for (const operation of all)
    for (const skill of operation.step.asked.work.skills)
      if (world.library.skills.get(skill)?.restricted) skills.set(skill, [...(skills.get(skill) ?? []), operation]);
  const fasteners = all.flatMap((operation) =>
    operation.step.asked.work.planning.fasteners.map((fastener) => ({ operation, ...fastener })),
  );
  return {
    confirm_first: all
      .filter(({ step }) => step.asked.work.irreversible)
      .map((operation) => ({
        ...told(operation),
        contingent: operation.step.contingent,
        confirm: [
          ...operation.step.asked.work.prerequisites.map((text) => textIn(text, system)),
          ...(undecided.get(operation.key) ?? []).map(
            ({ step }) =>
              `decided first, and this sized again if it is done: ${titleOf(step.asked, world, system)} (\`${stepId(step.asked, world)}\`)`,
          ),
          'where it goes and how far, marked on the vehicle and agreed with whoever signs for it',
        ],
      })),
    safety: all
      .filter(({ step }) => step.asked.work.planning.safetyCritical)
      .flatMap((operation) => safetyOf(operation, told(operation), world, after, system)),
    restricted: [...skills].map(([skill, steps]) => ({ skill, who: world.library.skills.get(skill)?.who ?? skill, steps: steps.map(id) })),
    single_use: fasteners
      .filter(({ singleUse }) => singleUse)
      .map(({ operation, what, torque }) => ({ step: id(operation), what, torque: torque ?? null })),
    at_ride_height: fasteners.filter(({ atRideHeight }) => atRideHeight).map(({ operation, what }) => ({ step: id(operation), what })),
  };
}

function safetyOf(
  { step: { asked } }: Operation,
  told: { step: string; title: string },
  world: VehicleWorld,
  after: VehicleWorld,
  system: System,
): Risks['safety'] {
  const { verify, skills } = asked.work;
  if (!verify) return [];
  const who = skills.flatMap((skill) =>
    world.library.skills.get(skill)?.restricted ? [world.library.skills.get(skill)?.who ?? skill] : [],
  );
  const predicted = verify.reads.map((leaf) => answerValue(slotOf(leaf, asked.subjects, after), after, system));
  return [{ ...told, check: textIn(verify.check, system), accept: textIn(verify.accept, system), who, predicted }];
}
