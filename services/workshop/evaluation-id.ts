import type { Evaluation } from '../engine/evaluate.ts';
import type { VehicleWorld } from '../vehicle/world.ts';

/** Names a finding: the rule and what it is about. Stays the same while work is done. */
export const evaluationId = ({ rule, subjects }: Evaluation, world: VehicleWorld): string =>
  [rule.id, ...subjects.map((subject) => world.idOf(subject))].join(':');
