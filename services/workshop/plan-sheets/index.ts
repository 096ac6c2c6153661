/** A plan in the forms people take with them. */
import type { Plan } from '../plan/plan.ts';
import { planMarkdown } from './markdown.ts';
import { planCsv } from './rows.ts';
import { planWorkbook } from './workbook.ts';

export const SHEET_FORMS = ['markdown', 'csv', 'xlsx'] as const;
export type SheetForm = (typeof SHEET_FORMS)[number];

export async function planSheet(plan: Plan, form: SheetForm): Promise<Uint8Array> {
  if (form === 'xlsx') return planWorkbook(plan);
  return new TextEncoder().encode(form === 'csv' ? planCsv(plan) : planMarkdown(plan));
}
