export type * from './answer.ts';
export { type Checked, type Checker, createChecker } from './checker.ts';
export { RulesFaulty, loadRules } from './load-rules.ts';
