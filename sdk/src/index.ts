export { type CellBuild, type CellPlace, cellUrl } from './cell-url.ts';
export type * from './client.ts';
export { createFettle } from './client.ts';
export { FettleProblem, FettleUnreachable } from './problem.ts';
export * from './quantities.ts';
export type { RetryOptions } from './retry.ts';
export type { components, paths } from './schema.ts';
