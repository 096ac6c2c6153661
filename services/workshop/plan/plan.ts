/** A plan as it leaves the service. */
import type { Answer } from '../answer.ts';
import type { AsBuilt } from './as-built.ts';
import type { Calendar } from './calendar.ts';
import type { Variation } from './compare.ts';
import type { Contacts } from './contacts.ts';
import type { Estimate } from './estimate.ts';
import type { HandOverSheet } from './hand-over.ts';
import type { InspectionFinding } from './inspect.ts';
import type { Risks } from './risk.ts';
import type { Stages } from './stages.ts';

export interface TimeSpread {
  readonly expected: number;
  readonly deviation: number;
  /** One in ten stays below, one in ten goes beyond. */
  readonly independent: { readonly low: number; readonly high: number };
  readonly together: { readonly low: number; readonly high: number };
  readonly unit: 'h';
}

export interface PlanTime {
  readonly method: string;
  readonly sure: TimeSpread;
  readonly if_needed: TimeSpread;
  /** Hours of sure work by the first skill it names; set-ups apart. */
  readonly by_skill: readonly (TimeSpread & { readonly skill: string })[];
}

export interface Plan {
  /** The answer to a check of this state; `check.work` is what remains to be done, in order. */
  readonly check: Answer;
  readonly done: readonly { readonly step: string; readonly title: string; readonly as_built: boolean }[];
  readonly not_planned: readonly { readonly part: string; readonly name: string; readonly why: string }[];
  readonly time: PlanTime;
  readonly calendar: Calendar;
  readonly estimate: Estimate | null;
  readonly risks: Risks;
  readonly inspection: readonly InspectionFinding[];
  readonly contacts: Contacts;
  readonly as_built: readonly AsBuilt[];
  readonly variation: Variation | null;
  readonly stages: Stages | null;
  readonly hand_over: HandOverSheet;
}
