export type * from './answer.ts';
export { type Checked, type Checker, createChecker, type WhatIfChecked } from './checker.ts';
export { loadRules, RulesFaulty } from './load-rules.ts';
export type { Plan } from './plan/plan.ts';
export type { PlanRequest } from './plan/request.ts';
export { planSheet, SHEET_FORMS, type SheetForm } from './plan-sheets/index.ts';
export type { Planned } from './planner.ts';
export { prose } from './show.ts';
export type { WhatIf } from './what-if-answer.ts';
