/**
 * What a winch or a bumper weighs that nobody has weighed: ranges from memory of what is sold (common practice, no source), kg.
 *
 *   winch   m = μ·F, F the rated pull in N, above zero; μ 0.55 to 1.05 kg/kN, with its rope, of steel or synthetic line
 *
 * Worked: 42.3 kN (9500 lbf) → 33.8 ± 10.6 kg. Not for capstans, hydraulic winches or below 10 kN.
 */

export interface MassRange {
  readonly middle: number;
  readonly plusMinus: number;
}

/** kg/N. */
export const WINCH_MASS_BY_PULL: MassRange = { middle: 0.8e-3, plusMinus: 0.25e-3 };

/**
 * By end, and by what it is of: plate or tube; a cover or bar of something lighter, as trucks leave the factory with; and one that is to be
 * put on, of which nobody has said what it is of.
 */
export const BUMPER_MASS: Readonly<Record<'front' | 'rear', Readonly<Record<'steel' | 'lighter' | 'unsaid', MassRange>>>> = {
  front: {
    steel: { middle: 60, plusMinus: 28 },
    lighter: { middle: 22, plusMinus: 14 },
    unsaid: { middle: 48, plusMinus: 40 },
  },
  rear: {
    steel: { middle: 52, plusMinus: 27 },
    lighter: { middle: 22, plusMinus: 14 },
    unsaid: { middle: 44, plusMinus: 36 },
  },
};
