export type * from './answer.ts';
export { type Checked, type Checker, createChecker, type WhatIfChecked } from './checker.ts';
export { loadRules, RulesFaulty } from './load-rules.ts';
export type { WhatIf } from './what-if-answer.ts';
