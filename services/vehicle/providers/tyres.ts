import { type FormulaAsk, formula } from '../../engine/formula.ts';
import type { Ask, Provider } from '../../engine/values.ts';
import type { Outcome } from '../../models/result.ts';
import { type Designation, parseDesignation } from '../../models/tyres/designation.ts';
import { approvedRims, type Dimensioned, overallDiameter, rimDiameter, sectionWidth } from '../../models/tyres/dimensions.ts';
import { deratedOnTruck, greatestPressure, loadOfIndex, pressureForLoad, ratedPressure, speedOfSymbol } from '../../models/tyres/load.ts';
import { subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { type Structure, structureOf } from './structure.ts';

export function tyreProviders(world: VehicleWorld): Provider[] {
  const structure = structureOf(world);
  const { fitted, planned } = structure;

  const parsed = new Map<string, Outcome<Designation>>();
  const designation = <N>(ask: FormulaAsk<N>, tyre: number): Designation | undefined => {
    const typed = ask.text('tyre.designation', tyre);
    if (typed === undefined) return undefined;
    const outcome = parsed.get(typed) ?? parseDesignation(typed);
    parsed.set(typed, outcome);
    return settled(outcome, ask);
  };
  const fromSize = <T>(
    provides: string,
    model: string,
    source: string,
    read: (size: Designation, ask: Ask, tyre: number) => T | undefined,
    give: (value: T, ask: Ask, tyre: number) => number,
  ): Provider => ({
    provides,
    model,
    source,
    compute: (ask, tyre) => {
      const size = designation(ask, tyre);
      const value = size && read(size, ask, tyre);
      return value === undefined ? Number.NaN : give(value, ask, tyre);
    },
  });
  const asIs = (value: number): number => value;
  /** Tyres at a corner before and after; a corner has one. */
  const growth =
    (name: string) =>
    <N>(ask: FormulaAsk<N>, corner: number): N => {
      const [before, after] = [fitted('tyre', corner)[0], planned('tyre', corner)[0]];
      if (!before || !after) return ask.unknown('no tyre is known there');
      return before === after ? ask.of(0) : ask.minus(ask.value(name, after.subject), ask.value(name, before.subject));
    };

  return [
    fromSize(
      'tyre.overall_diameter',
      'overall diameter from the designation, less the tread worn off',
      'un-r30',
      (size, ask, tyre) => asWorn(settled(overallDiameter(size), ask), ask.value('tyre.tread_worn', tyre)),
      middle,
    ),
    fromSize(
      'tyre.section_width',
      'section width from the designation, on its rim',
      'un-r30',
      (size, ask, tyre) => settled(sectionWidth(size, rimWidthAt(world, structure, ask, tyre)), ask),
      middle,
    ),
    fromSize(
      'tyre.narrowest_rim',
      'rims about the measuring rim; from memory',
      'etrto',
      (size, ask) => settled(approvedRims(size), ask)?.narrowest,
      middle,
    ),
    fromSize(
      'tyre.widest_rim',
      'rims about the measuring rim; from memory',
      'etrto',
      (size, ask) => settled(approvedRims(size), ask)?.widest,
      middle,
    ),
    fromSize(
      'tyre.rim_diameter',
      'rim diameter from the designation',
      'un-r30',
      (size, ask) => (size.rim === undefined ? missing(ask, 'the size states no rim') : rimDiameter(size.rim)),
      asIs,
    ),
    fromSize(
      'tyre.load_index',
      'load index from the designation',
      'un-r30',
      (size, ask) => size.loadIndex ?? missing(ask, 'the designation states no load index'),
      asIs,
    ),
    fromSize(
      'tyre.speed_capability',
      'speed symbol from the designation',
      'un-r30',
      (size, ask) =>
        size.speedSymbol === undefined
          ? missing(ask, 'the designation states no speed symbol')
          : settled(speedOfSymbol(size.speedSymbol), ask),
      asIs,
    ),
    fromSize(
      'tyre.reference_pressure',
      'pressure of the rating, by load range',
      'un-r30',
      (size, ask) => settled(ratedPressure(size), ask),
      asIs,
    ),
    fromSize(
      'tyre.greatest_pressure',
      'what sidewalls of that kind say; from memory',
      'etrto',
      (size, ask) => settled(greatestPressure(size), ask),
      middle,
    ),
    {
      provides: 'tyre.load_capacity',
      model: 'load of the load index',
      source: 'iso-4000-1',
      compute: (ask, tyre) => {
        const index = ask.value('tyre.load_index', tyre);
        return Number.isNaN(index) ? index : (settled(loadOfIndex(Math.round(index)), ask) ?? Number.NaN);
      },
    },
    {
      provides: 'mounted_as_built',
      model: 'tyre and wheel of the class, as the class has them',
      compute: (_, tyre) => {
        const own = (subject: number, names: readonly string[]): boolean => names.every((name) => isOfClass(world, name, subject));
        const wheel = planned('wheel', world.placeOf(tyre))[0];
        const fitted = world.partOf(tyre)?.state === 'fitted' && wheel?.state === 'fitted';
        return Number(fitted && own(tyre, TYRE_SIZE) && own(wheel.subject, WHEEL_SIZE));
      },
    },
    {
      provides: 'tyre_rating',
      model: 'rated load; a passenger tyre derated on a truck',
      source: 'cfr-571-120',
      compute: (ask, tyre) => {
        const load = ask.value('tyre.load_capacity', tyre);
        const size = designation(ask, tyre);
        return size?.service === 'passenger' ? deratedOnTruck(load) : size ? load : Number.NaN;
      },
    },
    {
      provides: 'pressure_needed',
      model: 'load and pressure by their power law',
      source: 'iso-4000-1',
      ...formula((ask, tyre) => {
        const [rated, pressure] = [ask.value('tyre_rating', tyre), ask.value('tyre.reference_pressure', tyre)];
        const load = ask.value('tyre_load', world.step(tyre, 'corner'));
        const size = designation(ask, tyre);
        const needed = (most: number, at: number, on: number): number =>
          size ? pressureForLoad({ load: most, pressure: at }, on, size) : Number.NaN;
        return ask.model(needed, [rated, 'falls'], [pressure, 'rises'], [load, 'rises']);
      }),
    },
    {
      provides: 'tyre_radius_growth',
      model: 'half of the difference of the overall diameters',
      ...formula((ask, corner) => ask.times(ask.of(1 / 2), growth('tyre.overall_diameter')(ask, corner))),
    },
    {
      provides: 'tyre_size_growth',
      model: 'planned over fitted diameter at the rear',
      ...formula((ask) => {
        const diameter = (tyres: typeof fitted) => {
          const [tyre] = tyres('tyre', subjectOf('rear'));
          return tyre ? ask.value('tyre.overall_diameter', tyre.subject) : ask.unknown('no tyre is known there');
        };
        return fitted('tyre', subjectOf('rear'))[0] === planned('tyre', subjectOf('rear'))[0]
          ? ask.of(0)
          : ask.minus(ask.over(diameter(planned), diameter(fitted)), ask.of(1));
      }),
    },
    {
      provides: 'spare_carriers',
      model: 'those among the planned parts',
      compute: () => planned('spare_carrier', subjectOf('vehicle')).length,
    },
    {
      provides: 'wheel_mass_growth',
      model: 'tyre, wheel and spacer, planned less fitted',
      ...formula((ask, corner) => {
        const on = (parts: typeof fitted) => ['tyre', 'wheel', 'wheel_spacer'].flatMap((kind) => parts(kind, corner));
        const [before, after] = [on(fitted), on(planned)];
        const mass = (these: typeof before, those: typeof before) =>
          ask.sum(these.filter((part) => !those.includes(part)).map(({ subject }) => ask.value('part.mass', subject)));
        return ask.minus(mass(after, before), mass(before, after));
      }),
    },
    { provides: 'tyre_width_growth', model: 'difference of the section widths', ...formula(growth('tyre.section_width')) },
  ];
}

const TYRE_SIZE = ['tyre.designation', 'tyre.rim_diameter', 'tyre.narrowest_rim', 'tyre.widest_rim'];
const WHEEL_SIZE = ['wheel.rim_diameter', 'wheel.rim_width'];

/** Whether the class alone has said something of it, if anybody. */
const isOfClass = ({ values }: VehicleWorld, name: string, subject: number): boolean =>
  values.node(values.slot(name, [subject])).candidates.every(({ rank }) => rank === 'class-default');

/** The value of an outcome, or its reason recorded. */
export function settled<T>(outcome: Outcome<T>, ask: Pick<FormulaAsk<unknown>, 'unknown'>): T | undefined {
  return outcome.ok ? outcome.value : missing(ask, outcome.reason);
}

function missing(ask: Pick<FormulaAsk<unknown>, 'unknown'>, reason: string): undefined {
  ask.unknown(reason);
  return undefined;
}

/** The middle of what a standard allows, within half of its width. Tyres of one make and size are off alike. */
function middle({ least, most }: Pick<Dimensioned, 'least' | 'most'>, ask: Ask, tyre: number): number {
  ask.within((most - least) / 2, { name: 'tyre.designation', subject: tyre });
  return (most + least) / 2;
}

const asWorn = (size: Dimensioned | undefined, worn: number): Dimensioned | undefined =>
  size && { nominal: size.nominal - 2 * worn, least: size.least - 2 * worn, most: size.most - 2 * worn };

/** Width of the rim the tyre is on; the standard's own rim if it is not known. */
function rimWidthAt(world: VehicleWorld, { fitted, planned }: Structure, ask: Ask, tyre: number): number | undefined {
  const part = world.partOf(tyre);
  const wheels = part?.state === 'fitted' && world.assembly.removed.has(part) ? fitted : planned;
  const wheel = wheels('wheel', world.placeOf(tyre))[0];
  const width = wheel ? ask.value('wheel.rim_width', wheel.subject) : Number.NaN;
  return Number.isNaN(width) ? undefined : width;
}
