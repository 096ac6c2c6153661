export type * from './answer.ts';
export { type Checked, type Checker, createChecker } from './checker.ts';
export { loadRules, RulesFaulty } from './load-rules.ts';
