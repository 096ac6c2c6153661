export { type Assembled, type Assembly, assemble, type Catalogue } from './assembly.ts';
export { attributesOf, isKind } from './library-view.ts';
export { PLACE_LEVELS } from './places.ts';
export type * from './request.ts';
export { createWorld, type VehicleWorld } from './world.ts';
