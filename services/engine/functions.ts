/** The functions of one number, by the dimension each takes and gives. */
import { ANGLE, type Dimension, NONE, root } from '../units/index.ts';
import type { Function1 } from './tree.ts';

export const FUNCTIONS: Readonly<Record<Function1, { readonly takes?: Dimension; gives(a: Dimension): Dimension | undefined }>> = {
  abs: { gives: (a) => a },
  sqrt: { gives: root },
  sin: { takes: ANGLE, gives: () => NONE },
  cos: { takes: ANGLE, gives: () => NONE },
  tan: { takes: ANGLE, gives: () => NONE },
  asin: { takes: NONE, gives: () => ANGLE },
  acos: { takes: NONE, gives: () => ANGLE },
  atan: { takes: NONE, gives: () => ANGLE },
};
