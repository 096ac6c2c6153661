/**
 * How much more brake torque an axle needs for the same deceleration: torque = m·a·r, so the demand grows with the axle's
 * load and with the tyre's radius. Newton's second law; load transfer is left out, since its share is the same before and after.
 *
 * The maker's brakes are certified at the rated axle load on the tyres it came with: that is the demand to hold against.
 * 0 means as much; 0.1 means a tenth more. Loads in kg, radii in m, those before above zero. Worked: radius 390 → 420 mm and
 * 1300 → 1400 kg: 0.160.
 */
import type { Arithmetic } from '../../units/index.ts';

interface Armed<N> {
  readonly load: N;
  readonly radius: N;
}

export const torqueGrowth = <N>(numbers: Arithmetic<N>, before: Armed<N>, after: Armed<N>): N =>
  numbers.minus(numbers.over(numbers.times(after.load, after.radius), numbers.times(before.load, before.radius)), numbers.of(1));
