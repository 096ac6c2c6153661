/**
 * The longest way a brake hose has to reach, from a string laid along its route.
 *
 *   route ≤ measured + max(0, droop added)
 *
 * measured: length of the string at full droop and the worst lock, as the vehicle stands; free length: exposed hose between the
 * fittings (49 CFR 571.106 S4; seen). Parts that let the wheel droop further move the hose's lower end by at most that much: going
 * the old way and then straight on is one way there, so the shortest is no longer (triangle inequality). The bound is proven for
 * a lower end that moves no further than the wheel's centre; less droop is not counted as a gain. It cannot prove that a hose is
 * clear of what it might rub on. Metres. Worked: 410 mm measured, 25 mm more droop → at most 435 mm.
 */
import type { Arithmetic } from '../../units/index.ts';

export const longestRoute = <N>(numbers: Arithmetic<N>, measured: N, droopAdded: N): N =>
  numbers.sum([measured, numbers.most(numbers.of(0), droopAdded)]);
