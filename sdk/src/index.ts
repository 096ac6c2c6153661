export {
  type Answer,
  type CallOptions,
  type CataloguePart,
  type CatalogueVehicle,
  type CheckRequest,
  createFettle,
  type Fettle,
  type FettleOptions,
  type Finding,
  type ListOptions,
  type Step,
} from './client.ts';
export { FettleProblem, FettleUnreachable } from './problem.ts';
export * from './quantities.ts';
export type { RetryOptions } from './retry.ts';
export type { components, paths } from './schema.ts';
