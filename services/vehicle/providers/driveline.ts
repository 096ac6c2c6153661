import { type FormulaAsk, formula } from '../../engine/formula.ts';
import type { Ask, Provider } from '../../engine/values.ts';
import {
  crawlRatio,
  crawlSpeed,
  criticalSpeed,
  gearedSpeed,
  matchingRatio,
  nearestRatio,
  SAFE_SHARE_OF_CRITICAL,
} from '../../models/driveline/gearing.ts';
import { bearingMoment, rotatingMass } from '../../models/loads/wheel-loads.ts';
import { OFF_ROAD_PRESSURES, offRoadPressure } from '../../models/tyres/condition.ts';
import { rollingCircumference, staticLoadedRadius } from '../../models/tyres/dimensions.ts';
import { CORNERS, subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf } from './structure.ts';
import { settled } from './tyres.ts';

const CRUISE = 100 / 3.6;
/** Of the pressures off the road, the one for rocks and mud. */
const OFF_ROAD_SHARE = OFF_ROAD_PRESSURES[1].share;

/** What other tyres do to engine, shafts, gears and bearings, and the pressure they are let down to. */
export function drivelineProviders(world: VehicleWorld): Provider[] {
  const { fitted, planned } = structureOf(world);
  const REAR = subjectOf('rear');
  const before = <N>(ask: FormulaAsk<N>): N => {
    const [tyre] = fitted('tyre', REAR);
    return tyre ? ask.value('tyre.overall_diameter', tyre.subject) : ask.unknown('no rear tyre is known');
  };
  const after = <N>(ask: FormulaAsk<N>): N => ask.value('driven_tyre_diameter');
  const geared = (speed: number, ratio: number, diameter: number): number => gearedSpeed(speed, rollingCircumference(diameter), ratio);
  const radius = <N>(ask: FormulaAsk<N>, tyres: typeof fitted, corner: number): N => {
    const [tyre] = tyres('tyre', corner);
    return tyre
      ? ask.times(ask.of(staticLoadedRadius(1).nominal), ask.value('tyre.overall_diameter', tyre.subject))
      : ask.unknown('no tyre is known there');
  };

  return [
    {
      provides: 'axle_ratio_wanted',
      model: 'ratio now, times new over old diameter: the engine turns as before',
      ...formula((ask) =>
        ask.model(matchingRatio, [ask.value('axle_ratio', REAR), 'rises'], [before(ask), 'falls'], [after(ask), 'rises']),
      ),
    },
    {
      provides: 'axle_ratio_nearest',
      model: 'the nearest of those that are cut',
      compute: (ask: Ask) => {
        const wanted = ask.value('axle_ratio_wanted');
        return Number.isNaN(wanted) ? wanted : (settled(nearestRatio(wanted), ask) ?? Number.NaN);
      },
    },
    {
      provides: 'engine_speed_at_cruise',
      model: 'speed over the rolling circumference, times axle and top gear',
      ...formula((ask) => {
        const ratio = ask.times(ask.value('axle_ratio', REAR), ask.value('top_gear_ratio'));
        return ask.model((r, d) => geared(CRUISE, r as number, d as number), [ratio, 'rises'], [after(ask), 'falls']);
      }),
    },
    {
      provides: 'crawl_ratio',
      model: 'first gear, low range and axle',
      ...formula((ask) =>
        ask.model(
          crawlRatio,
          [ask.value('first_gear_ratio'), 'rises'],
          [ask.value('low_range_ratio'), 'rises'],
          [ask.value('axle_ratio', REAR), 'rises'],
        ),
      ),
    },
    {
      provides: 'crawl_speed',
      model: 'idle speed over the crawl ratio',
      ...formula((ask) =>
        ask.model(
          (idle, diameter, crawl) => crawlSpeed(idle as number, rollingCircumference(diameter as number), crawl as number),
          [ask.value('idle_speed'), 'rises'],
          [after(ask), 'rises'],
          [ask.value('crawl_ratio'), 'falls'],
        ),
      ),
    },
    {
      provides: 'shaft_speed',
      model: 'speed over the rolling circumference, times the axle ratio',
      ...formula((ask) =>
        ask.model(geared, [ask.value('top_speed'), 'rises'], [ask.value('axle_ratio', REAR), 'rises'], [after(ask), 'falls']),
      ),
    },
    {
      provides: 'shaft_speed_allowed',
      model: 'three quarters of the speed at which a steel tube between its joints whips',
      compute: (ask, shaft) => {
        const [length, outer, wall] = ['length', 'tube_outer', 'tube_wall'].map((name) => ask.value(`propeller_shaft.${name}`, shaft));
        const tube = { length: length as number, outer: outer as number, inner: (outer as number) - 2 * (wall as number) };
        const critical = Number.isNaN(tube.length + tube.inner) ? undefined : settled(criticalSpeed(tube), ask);
        return critical === undefined ? Number.NaN : SAFE_SHARE_OF_CRITICAL * critical;
      },
    },
    {
      provides: 'rotating_mass_added',
      model: 'what the four wheels gain, and their turning on top of it',
      ...formula((ask) => rotatingMass(ask, ask.sum(CORNERS.map((corner) => ask.value('wheel_mass_growth', subjectOf(corner)))))),
    },
    {
      provides: 'bearing_moment_growth',
      model: 'load times arm, and a quarter of it sideways at the ground',
      ...formula((ask, corner) => {
        const arm = ask.value('wheel_bearing_arm', corner);
        const load = ask.value('tyre_load', corner);
        const was = bearingMoment(ask, { load, arm, radius: radius(ask, fitted, corner) });
        const moved = ask.sum([arm, ask.value('wheel_outward_shift', corner)]);
        return ask.minus(ask.over(bearingMoment(ask, { load, arm: moved, radius: radius(ask, planned, corner) }), was), ask.of(1));
      }),
    },
    {
      provides: 'off_road_pressure',
      model: 'two thirds of the road pressure, never below what holds the bead',
      ...formula((ask, axle) =>
        ask.model((road) => offRoadPressure(road as number, OFF_ROAD_SHARE), [ask.value('tyre_pressure', axle), 'rises']),
      ),
    },
  ];
}
