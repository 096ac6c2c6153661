/**
 * Cable and fuse of a circuit of direct current: the fuse protects the cable, the cable brings the voltage.
 *
 * Symbols: I current drawn [A]; F rating of the fuse [A]; Z current a cable bears for good [A]; S cross-section [m^2];
 * L length from source to consumer, there alone [m]; rho resistivity of copper [ohm m]; dU drop of voltage [V].
 * Equations: I / 0.8 <= F <= Z(S); dU = 2 rho L I / S.
 * Assumptions: one copper conductor in air, insulation for 105 degC, through an engine bay at 50 degC; the way back is as long
 * and as thick (a frame is thicker). Lasting current: a motor that pulls for minutes heats its cable less.
 * Validity: AWG 18 to 4/0. Metric sizes bear what the next smaller AWG bears.
 * Sources: Z: ABYC E-11, table of currents for single conductors, 105 degC, inside of engine spaces (second-hand: a dealer's
 * copy; 33 CFR 183.425 has tables like it). rho: K = 10.75 circular-mil ohm per foot of the same text (second-hand). Fuse no
 * larger than Z: the same text; ISO 10133 clause 8 asks alike (memory). Load of 80 % at most: common practice of fuse makers
 * (memory). Ratings of fuses: ISO 8820-3 and -5 (memory).
 * Worked value: 10 A over 21 ft there and back, 10 % of 12 V: AWG 16 (a chandler's catalogue, page 53).
 */

export interface CableSize {
  /** `AWG 8` */
  readonly gauge: string;
  /** [m^2] */
  readonly area: number;
  /** The metric size that is bought in its place. [m^2] */
  readonly metric: number;
  /** [A] */
  readonly bears: number;
}

const MM2 = 1e-6;
/** 10.75 ohm circular mil / ft, in ohm metres: a circular mil is 5.067e-10 m^2. */
const COPPER = (10.75 * 5.067075e-10) / 0.3048;
const MOST_LOAD = 0.8;
/** Of the voltage, there and back: what must work loses no more. ABYC E-11 (second-hand). */
export const MOST_DROP = 0.03;
const INSIDE_ENGINE_SPACE = 0.85;

/** Gauge, mm², the next metric size, amperes outside of engine spaces. */
const TABLE: readonly (readonly [string, number, number, number])[] = [
  ['AWG 18', 0.823, 1, 20],
  ['AWG 16', 1.31, 1.5, 25],
  ['AWG 14', 2.08, 2.5, 35],
  ['AWG 12', 3.31, 4, 45],
  ['AWG 10', 5.26, 6, 60],
  ['AWG 8', 8.37, 10, 80],
  ['AWG 6', 13.3, 16, 120],
  ['AWG 4', 21.15, 25, 160],
  ['AWG 2', 33.6, 35, 210],
  ['AWG 1', 42.4, 50, 245],
  ['AWG 1/0', 53.5, 70, 285],
  ['AWG 2/0', 67.4, 70, 330],
  ['AWG 3/0', 85.0, 95, 385],
  ['AWG 4/0', 107.2, 120, 445],
];
export const CABLES: readonly CableSize[] = TABLE.map(([gauge, area, metric, outside]) => ({
  gauge,
  area: area * MM2,
  metric: metric * MM2,
  bears: outside * INSIDE_ENGINE_SPACE,
}));

/** [A] */
export const FUSES: readonly number[] = [
  1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500,
];

/** What a cable of that cross-section bears for good; undefined where it is thinner than any of the table. */
export const bornBy = (area: number): number | undefined => CABLES.findLast((cable) => cable.area <= area * (1 + 1e-9))?.bears;

/** The smallest fuse that the current does not tire. */
export const fuseFor = (current: number): number | undefined => FUSES.find((rating) => rating >= (current / MOST_LOAD) * (1 - 1e-12));

/** Volts lost there and back. */
export const voltageDrop = (current: number, length: number, area: number): number => (2 * COPPER * length * current) / area;

/** The thinnest cable that bears the fuse and loses no more than that; without a length, that bears the fuse. */
export const cableFor = (fuse: number, current: number, length: number | undefined, mostDrop: number): CableSize | undefined =>
  CABLES.find(({ area, bears }) => bears >= fuse && (length === undefined || voltageDrop(current, length, area) <= mostDrop));
