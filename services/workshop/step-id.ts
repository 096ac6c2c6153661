import type { VehicleWorld } from '../vehicle/world.ts';
import type { AskedWork } from './asked-work.ts';

/** The step's id, which is its work and what it is done to. */
export const stepId = ({ work, subjects }: AskedWork, world: VehicleWorld): string =>
  [work.id, ...subjects.map((subject) => world.idOf(subject))].join(':');
