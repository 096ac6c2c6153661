export type * from './answer.ts';
export { type Checked, type Checker, createChecker } from './checker.ts';
