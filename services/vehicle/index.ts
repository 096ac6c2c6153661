export { type Assembled, type Assembly, type Catalogue, assemble } from './assembly.ts';
export { PLACE_LEVELS } from './places.ts';
export type * from './request.ts';
export { type VehicleWorld, createWorld } from './world.ts';
