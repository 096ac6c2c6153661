/** Which findings the one who asked has to do with. */
import type { Finding, Verdict } from './answer.ts';

type Judged = Pick<Finding, 'verdict' | 'as_before'>;

/** It is told what it is: nothing is open of it. */
export const isSettled = (verdict: Verdict | 'not-applicable'): boolean => verdict === 'clear' || verdict === 'conflict';

/** What the planned parts leave as it was is no answer to whether they fit, unless it is settled already. */
export const counts = ({ verdict, as_before }: Judged): boolean => isSettled(verdict) || !as_before;

/** Something is to be done about it, be it to measure. */
export const isToDo = (finding: Judged): boolean => finding.verdict !== 'clear' && counts(finding);
