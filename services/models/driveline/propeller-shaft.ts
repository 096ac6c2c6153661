/**
 * A propeller shaft whose lower end falls straight down: how far its slip joint is pulled out, and how much steeper it runs.
 *
 *   length after = √((L·cos a)² + (L·sin a + h)²); pull-out = that − L; slope after = atan((L·sin a + h) / (L·cos a))
 *
 * L: length between the joints, m; a: slope from level, falling towards the axle, rad; h: fall of the axle, m. Pythagoras. That the
 * axle also swings fore and aft on its springs is left out; whoever uses it adds a tolerance for that.
 * Worked: L 0.4 m, level, h 0.3 m → 0.1 m pulled out (3, 4, 5), 36.87° steeper.
 */
export interface Shaft {
  readonly length: number;
  readonly slope: number;
}

const across = ({ length, slope }: Shaft): number => length * Math.cos(slope);
const down = ({ length, slope }: Shaft, fall: number): number => length * Math.sin(slope) + fall;

/** m; negative where the shaft is pushed together. */
export const pullOut = (shaft: Shaft, fall: number): number => Math.hypot(across(shaft), down(shaft, fall)) - shaft.length;

/** rad. */
export const slopeChange = (shaft: Shaft, fall: number): number => Math.atan2(down(shaft, fall), across(shaft)) - shaft.slope;
