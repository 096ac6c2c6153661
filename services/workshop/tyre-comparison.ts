/** One tyre beside another: what going from the first to the second changes. Pure. */
import type { Library } from '../engine/tree.ts';
import { shownSpeed } from '../models/instruments/speedometer.ts';
import type { Designation } from '../models/tyres/designation.ts';
import { type Dimensioned, rollingCircumference } from '../models/tyres/dimensions.ts';
import { deratedOnTruck, loadOfIndex, speedOfSymbol } from '../models/tyres/load.ts';
import { NUMBERS } from '../units/index.ts';
import type { Amount } from './answer.ts';
import { type System, shownAs } from './show.ts';
import { onTruck, type TyreAsked, type TyreFacts, tyreFacts, tyreSizes } from './tyre-facts.ts';

/** Second less first; between what the standards leave open of both. */
export interface Difference {
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly unit: string;
}

export interface TyreComparison {
  readonly from: TyreFacts;
  readonly to: TyreFacts;
  /** null where one of the two does not say. */
  readonly differences: {
    readonly overall_diameter: Difference | null;
    readonly overall_diameter_share: Amount | null;
    readonly section_width: Difference | null;
    /** Under the axle and above the tyre: half of the diameter's. */
    readonly ground_clearance: Difference | null;
    /** Taken of a gap ahead of, behind and above the tyre, and of one beside each sidewall, on a rim of the same offset. */
    readonly gap_round_the_tread: Difference | null;
    readonly gap_beside: Difference | null;
    readonly revolutions: Amount | null;
    readonly rated_load: Amount | null;
    readonly rated_load_on_truck: Amount | null;
    readonly speed: Amount | null;
    readonly same_rim: boolean | null;
  };
  /** What a speedometer shows that was right on the first tyre. */
  readonly speedometer: { readonly at: Amount; readonly shows: Amount; readonly odometer: Amount } | null;
  /** The axle ratio is worth that many times what it was, and this many times as much gives the engine speed back. */
  readonly gearing: { readonly effective: number; readonly to_match: number } | null;
  readonly says: readonly string[];
}

export function compareTyres(
  [from, to]: readonly [Designation, Designation],
  asked: TyreAsked,
  library: Library,
  system: System,
): TyreComparison {
  const show = shownAs(system);
  const { measuredDiameter: _, measuredWidth: __, ...shared } = asked;
  const [before, after] = [tyreSizes(from, shared), tyreSizes(to, asked)];
  const diameters = before.diameter.ok && after.diameter.ok ? ([before.diameter.value, after.diameter.value] as const) : undefined;
  const widths = before.width.ok && after.width.ok ? ([before.width.value, after.width.value] as const) : undefined;
  const loads = numbers(from, to, ({ loadIndex }) => (loadIndex === undefined ? undefined : valueIn(loadOfIndex(loadIndex))));
  const speeds = numbers(from, to, ({ speedSymbol }) => (speedSymbol === undefined ? undefined : valueIn(speedOfSymbol(speedSymbol))));
  const growth = diameters && diameters[1].nominal / diameters[0].nominal;
  const sameRim = from.rim === undefined || to.rim === undefined ? null : from.rim === to.rim;
  const facts = [tyreFacts(from, shared, library, system), tyreFacts(to, asked, library, system)] as const;
  return {
    from: facts[0],
    to: facts[1],
    differences: {
      overall_diameter: diameters ? difference(diameters, 1, show) : null,
      overall_diameter_share: growth === undefined ? null : show.share(growth - 1),
      section_width: widths ? difference(widths, 1, show) : null,
      ground_clearance: diameters ? difference(diameters, 0.5, show) : null,
      gap_round_the_tread: diameters ? difference(diameters, -0.5, show) : null,
      gap_beside: widths ? difference(widths, -0.5, show) : null,
      revolutions: diameters ? lessTurns(diameters, show) : null,
      rated_load: loads ? show('kg').amount(loads[1] - loads[0]) : null,
      rated_load_on_truck: loads ? show('kg').amount(onTruck(to, loads[1]) - onTruck(from, loads[0])) : null,
      speed: speeds ? show('km/h').amount(speeds[1] - speeds[0]) : null,
      same_rim: sameRim,
    },
    speedometer: diameters ? speedometer(diameters, show, system) : null,
    gearing: growth === undefined ? null : { effective: round4(1 / growth), to_match: round4(growth) },
    says: told({ from, to, growth, sameRim, loads, speeds }, show),
  };
}

type Show = ReturnType<typeof shownAs>;
type Pair = readonly [number, number];

const valueIn = <T>(outcome: { readonly ok: boolean; readonly value?: T }): T | undefined => (outcome.ok ? outcome.value : undefined);
const round4 = (x: number): number => Math.round(x * 10_000) / 10_000;

function numbers(from: Designation, to: Designation, of: (tyre: Designation) => number | undefined): Pair | undefined {
  const [a, b] = [of(from), of(to)];
  return a === undefined || b === undefined ? undefined : [a, b];
}

function difference([from, to]: readonly [Dimensioned, Dimensioned], share: number, show: Show): Difference {
  const { rounded, symbol } = show('mm');
  const ends = [share * (to.least - from.most), share * (to.most - from.least)];
  return {
    value: rounded(share * (to.nominal - from.nominal), 'nearest'),
    least: rounded(Math.min(...ends), 'down'),
    most: rounded(Math.max(...ends), 'up'),
    unit: symbol,
  };
}

function lessTurns([from, to]: readonly [Dimensioned, Dimensioned], show: Show): Amount {
  const [a, b] = [from, to].map(({ nominal }) => show.turns(rollingCircumference(nominal))) as [Amount, Amount];
  return { value: Math.round((b.value - a.value) * 10) / 10, unit: a.unit };
}

const MILE_AN_HOUR = 0.44704;

function speedometer([from, to]: readonly [Dimensioned, Dimensioned], show: Show, system: System): TyreComparison['speedometer'] {
  const at = system === 'us' ? 60 * MILE_AN_HOUR : 100 / 3.6;
  const shows = shownSpeed(NUMBERS, at, { overReading: 0, setDiameter: from.nominal, diameter: to.nominal, gearFactor: 1 });
  return { at: show('km/h').amount(at), shows: show('km/h').amount(shows), odometer: show.share(shows / at - 1) };
}

interface Told {
  readonly from: Designation;
  readonly to: Designation;
  readonly growth: number | undefined;
  readonly sameRim: boolean | null;
  readonly loads: Pair | undefined;
  readonly speeds: Pair | undefined;
}

/** Below that a difference is a tyre's own wear (common practice, no source). */
const NOTICED = 0.03;

function told({ from, to, growth, sameRim, loads, speeds }: Told, show: Show): string[] {
  const says: string[] = [];
  if (sameRim === false) says.push(`\`${to.text}\` needs another wheel: its rim is ${to.rim} in, that of \`${from.text}\` ${from.rim} in`);
  if (growth !== undefined && growth > 1)
    says.push(
      'the speedometer and odometer show less than is true, unless they are set anew; what there was of over-reading is taken off that',
    );
  if (growth !== undefined && Math.abs(growth - 1) > NOTICED)
    says.push('gears are worth less or more by the same share, and brakes work on a longer or shorter arm; all four tyres change together');
  if (loads && onTruck(to, loads[1]) < onTruck(from, loads[0]))
    says.push(`it is rated for less on a truck: ${show('kg').text(onTruck(from, loads[0]) - onTruck(to, loads[1]), 'up')} less a tyre`);
  if (loads && from.service === 'passenger' && to.service === 'light-truck')
    says.push(
      `a light-truck tyre asks for more pressure for the same load: \`${from.text}\` carries ${show('kg').text(deratedOnTruck(loads[0]), 'down')} on a truck`,
    );
  if (speeds && speeds[1] < speeds[0])
    says.push(`it is made for ${show('km/h').text(speeds[1])}, and the first for ${show('km/h').text(speeds[0])}`);
  return says;
}
