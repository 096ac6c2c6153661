/**
 * What tyres carry: load index, speed symbol, load at a pressure, and the derating of passenger tyres on trucks.
 *
 *   load at pressure    Q = Qref · (P / Pref)^n, n = 0.8 (attributed to ETRTO: P = Pref·(Q/Qref)^1.25; second-hand),
 *                       n = 0.7 for light-truck tyres (from memory; load tables of flotation sizes and of LT235/85R16, second-hand,
 *                       lie up to 8 % above it, and up to 17 % where single flotation sizes are kinked; none that was read lies below it by
 *                       more than its own rounding, so that the law is the safe side: the lower load, and the higher pressure for a load)
 *                       n = 0.5 for passenger tyres marked P (from memory; one value of P265/70R17 second-hand agrees)
 *   passenger tyre on a truck or multipurpose vehicle: rating ÷ 1.10 (49 CFR 571.120 S5.1.2; seen)
 *
 * Masses in kg, pressures in Pa, speeds in m/s. Worked: half of the rated load at 250 kPa, n 0.8 → 105.1 kPa; 1120 kg ÷ 1.10 →
 * 1018.2 kg. The power law holds from 100 kPa to the rated pressure; above it a tyre carries no more than its rating.
 */
import { found, type Outcome, refused } from '../result.ts';
import type { Designation } from './designation.ts';

/**
 * Load index → kg, from index 60 (ISO 4000-1 and UN R30 annex 4: 80 to 130 seen in three tables that agree, 71 to 79 second-hand, the
 * rest from memory; the series repeats tenfold every 80 indices, which the tests hold it to).
 */
const FIRST_INDEX = 60;
const LOADS = [
  250, 257, 265, 272, 280, 290, 300, 307, 315, 325, 335, 345, 355, 365, 375, 387, 400, 412, 425, 437, 450, 462, 475, 487, 500, 515, 530,
  545, 560, 580, 600, 615, 630, 650, 670, 690, 710, 730, 750, 775, 800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030, 1060, 1090, 1120,
  1150, 1180, 1215, 1250, 1285, 1320, 1360, 1400, 1450, 1500, 1550, 1600, 1650, 1700, 1750, 1800, 1850, 1900, 1950, 2000, 2060, 2120, 2180,
  2240, 2300, 2360, 2430, 2500, 2575, 2650, 2725, 2800, 2900, 3000, 3075, 3150, 3250, 3350,
] as const;

export function loadOfIndex(index: number): Outcome<number> {
  const load = Number.isInteger(index) ? LOADS[index - FIRST_INDEX] : undefined;
  return load === undefined
    ? refused(`load index ${index} is not between ${FIRST_INDEX} and ${FIRST_INDEX + LOADS.length - 1}`)
    : found(load);
}

/** Speed symbol → km/h (F to V seen, W and Y second-hand, B to E from memory). Z only says above 240. */
const SPEEDS: ReadonlyMap<string, number> = new Map(
  Object.entries({
    B: 50,
    C: 60,
    D: 65,
    E: 70,
    F: 80,
    G: 90,
    J: 100,
    K: 110,
    L: 120,
    M: 130,
    N: 140,
    P: 150,
    Q: 160,
    R: 170,
    S: 180,
    T: 190,
    U: 200,
    H: 210,
    V: 240,
    W: 270,
    Y: 300,
  }),
);
const KILOMETRE_AN_HOUR = 1 / 3.6;

export function speedOfSymbol(symbol: string): Outcome<number> {
  const speed = SPEEDS.get(symbol.toUpperCase());
  return speed === undefined ? refused(`\`${symbol}\` is no speed symbol`) : found(speed * KILOMETRE_AN_HOUR);
}

const KILOPASCAL = 1000;
/** Pressure at which the rating holds, by load range (C and E second-hand, the others from memory; the sidewall states it). */
const RANGE_PRESSURES: ReadonlyMap<string, number> = new Map(Object.entries({ B: 240, C: 350, D: 450, E: 550, F: 650, G: 760 }));
/**
 * Light-truck tyres wider than 295 mm have the pressure of the range below (second-hand: a load table
 * and two pages that agree with it; F from memory).
 */
const WIDE_RANGE_PRESSURES: ReadonlyMap<string, number> = new Map(Object.entries({ C: 240, D: 350, E: 450, F: 550 }));
const WIDE = 0.296;
/** Passenger tyres: 36 and 42 psi by the European standard, 35 and 41 psi for those marked P (second-hand). */
const PASSENGER_PRESSURES = { european: { standard: 250, extra: 290 }, american: { standard: 240, extra: 280 } } as const;

/** Pressure the load index holds at. A light-truck or commercial tyre without its load range does not say. */
export function ratedPressure(tyre: Designation): Outcome<number> {
  const { service, serviceUnclear, pMetric, width = 0, loadRange = '', extraLoad, text } = tyre;
  if (serviceUnclear)
    return refused(
      `two load indices, a load range or a wall of 85 % belong to a light-truck or commercial tyre, and \`${text}\` says neither: LT or C? Read the sidewall, and the pressure beside its maximum load`,
    );
  const wide = service === 'light-truck' && width > WIDE;
  const ofRange = (wide ? WIDE_RANGE_PRESSURES : RANGE_PRESSURES).get(loadRange);
  if (ofRange !== undefined) return found(ofRange * KILOPASCAL);
  if (service === 'passenger')
    return found(PASSENGER_PRESSURES[pMetric ? 'american' : 'european'][extraLoad ? 'extra' : 'standard'] * KILOPASCAL);
  return refused(`\`${text}\` does not state its load range: read the pressure beside the maximum load on the sidewall`);
}

/** Cold pressures sidewalls state as the most, as half of their range allows for: passenger tyres say 300, 340 or 350 kPa, extra load the latter (from memory). */
const PASSENGER_MOST = { standard: { least: 300, most: 350 }, extra: { least: 340, most: 350 } } as const;
/** A light-truck or commercial tyre states none but that of its rating; some makers allow 70 kPa more at speed (from memory). */
const BEYOND_RATED = { least: 0, most: 70 } as const;

/** Greatest cold pressure, between what sidewalls of that kind say; Pa. */
export function greatestPressure(tyre: Designation): Outcome<{ readonly least: number; readonly most: number }> {
  if (isTakenForPassenger(tyre))
    return refused(`\`${tyre.text}\` says neither P, LT nor C, nor a load index: read MAX PRESSURE on the sidewall`);
  if (tyre.service === 'passenger') {
    const { least, most } = PASSENGER_MOST[tyre.extraLoad ? 'extra' : 'standard'];
    return found({ least: least * KILOPASCAL, most: most * KILOPASCAL });
  }
  const rated = ratedPressure(tyre);
  if (!rated.ok) return rated;
  return found({ least: rated.value + BEYOND_RATED.least * KILOPASCAL, most: rated.value + BEYOND_RATED.most * KILOPASCAL });
}

/** A bare metric size is made for passenger cars and for light trucks alike; which, only its markings say. */
export const isTakenForPassenger = ({ form, service, pMetric, loadIndex }: Designation): boolean =>
  form === 'metric' && service === 'passenger' && !pMetric && loadIndex === undefined;

export interface Rating {
  readonly load: number;
  readonly pressure: number;
}

/** What decides how load follows pressure. */
export type LoadClass = Pick<Designation, 'service' | 'pMetric'>;

const EXPONENTS: Readonly<Record<Designation['service'], number>> = { passenger: 0.8, 'light-truck': 0.7, commercial: 0.8 };
const P_METRIC_EXPONENT = 0.5;
const exponentOf = ({ service, pMetric }: LoadClass): number => (pMetric ? P_METRIC_EXPONENT : EXPONENTS[service]);
export const LEAST_ROAD_PRESSURE = 100 * KILOPASCAL;

/** Load a tyre carries at a pressure, never above its rating. Below 100 kPa the relation does not hold. */
export function loadAtPressure(rating: Rating, pressure: number, tyre: LoadClass): Outcome<number> {
  if (!(pressure >= LEAST_ROAD_PRESSURE)) return refused('below 100 kPa no load is stated for road use');
  if (!(rating.load > 0 && rating.pressure > 0)) return refused('a rating is a load and a pressure above zero');
  return found(rating.load * Math.min(1, (pressure / rating.pressure) ** exponentOf(tyre)));
}

/** How far load tables lie off the law, as shares of it. */
export interface LoadSpread {
  readonly under: number;
  readonly over: number;
}

const NO_SPREAD: LoadSpread = { under: 0, over: 0 };
/** Of a law that was held against no table of loads but single values. */
const EITHER_WAY: LoadSpread = { under: 0.05, over: 0.05 };

/** Below the rated pressure: tables of light-truck sizes only ever above the law, those of flotation sizes, which are kinked, the most (second-hand). */
export function loadSpread({ form, service }: Pick<Designation, 'form' | 'service'>, rating: Rating, pressure: number): LoadSpread {
  if (pressure >= rating.pressure) return NO_SPREAD;
  if (form === 'flotation' || form === 'plain') return { under: 0, over: 0.18 };
  return service === 'light-truck' ? { under: 0, over: 0.05 } : EITHER_WAY;
}

/** The pressure a load asks for, by the same law; never under 100 kPa, below which it does not hold. Above the rating's own it means: too much. */
export const pressureForLoad = (rating: Rating, load: number, tyre: LoadClass): number =>
  Math.max(LEAST_ROAD_PRESSURE, rating.pressure * (Math.max(0, load) / rating.load) ** (1 / exponentOf(tyre)));

export const PASSENGER_ON_TRUCK = 1.1;

/** Rating of a passenger tyre on a truck, bus or multipurpose vehicle. */
export const deratedOnTruck = (load: number): number => load / PASSENGER_ON_TRUCK;
