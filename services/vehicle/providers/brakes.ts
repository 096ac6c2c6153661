import { type FormulaAsk, formula } from '../../engine/formula.ts';
import type { Ask, Provider } from '../../engine/values.ts';
import { longestRoute } from '../../models/brakes/hose-reach.ts';
import { torqueGrowth } from '../../models/brakes/torque-arm.ts';
import { crossedFall } from '../../models/suspension/beam-axle.ts';
import { subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf, sum } from './structure.ts';

const LOCKS = ['hose_route_left_lock', 'hose_route_right_lock'];

/** How far inboard of the middle of its wheel a hose ends, at the caliper or beside it, and by how much that differs (common practice, no source). */
const HOSE_END = { inboard: 0.18, within: 0.08 };

export function brakeProviders(world: VehicleWorld): Provider[] {
  const { fitted, planned } = structureOf(world);
  const droop = <N>(ask: FormulaAsk<N>, parts: ReturnType<typeof fitted>): N =>
    ask.sum(parts.map((part) => ask.value('suspension_lift.droop_added', part.subject)));
  /** A live axle hangs as low as its dampers let it, and never higher than it stands. */
  const rearDroop = (ask: Ask, axle: number): readonly number[] => {
    const longer = sum(planned('rear_dampers', axle).map(({ subject }) => ask.value('rear_dampers.longer_out', subject)));
    const dampers = longer + ask.value('rear_droop_gained');
    const rise = ask.value('ride_height_change', axle);
    return [...(dampers > 0 ? [dampers] : []), ...(rise > 0 ? [rise - ask.value('rear_damper_droop_left')] : [])];
  };
  /** A string is laid along the way of the hose that is there; the one that replaces it goes the same way. */
  const before = (hose: number): number | undefined => world.partOf(hose)?.replaces[0]?.subject;
  const laid = (ask: Ask, hose: number): number => {
    const [own, old] = [ask.value('hose_route', hose), before(hose)];
    return Number.isNaN(own) && old !== undefined ? ask.value('hose_route', old) : own;
  };
  const stringLaid = <N>(ask: FormulaAsk<N>, hose: number): string | undefined => {
    const old = before(hose);
    return ask.text('brake_hose.string_laid', hose) ?? (old === undefined ? undefined : ask.text('brake_hose.string_laid', old));
  };
  const radius = <N>(ask: FormulaAsk<N>, tyres: ReturnType<typeof fitted>): N =>
    tyres[0] ? ask.times(ask.of(1 / 2), ask.value('tyre.overall_diameter', tyres[0].subject)) : ask.unknown('no tyre is known there');

  const longer = formula((ask, hose) => ask.most(...LOCKS.map((lock) => ask.value(lock, hose))));

  return [
    {
      provides: 'hose_route',
      model: 'the longer of the ways at both locks',
      range: longer.range,
      compute: (ask, hose) => {
        const unread = LOCKS.filter((lock) => Number.isNaN(ask.value(lock, hose)));
        // With neither read it is the way itself that is missing, not each lock.
        ask.lacks(unread.length === LOCKS.length ? [] : unread.map((name) => ({ name, subject: hose as number })));
        return unread.length > 0 ? ask.unknown('no string was laid along it at each lock') : longer.compute(ask, hose);
      },
    },
    {
      provides: 'droop_added',
      model: 'where the wheel hangs, before and after; without a drawing what the suspension’s makers state',
      compute: (ask, axle) => {
        // A longer coil-over, a spacer above it or work on the dampers: geometry has them all, where it is known.
        const drawn = axle === subjectOf('front') ? ask.value('full_droop_fitted', axle) - ask.value('full_droop', axle) : Number.NaN;
        if (!Number.isNaN(drawn)) return drawn;
        const springs = droop(ask, planned('suspension_lift', axle)) - droop(ask, fitted('suspension_lift', axle));
        return axle === subjectOf('rear') ? Math.max(springs, ...rearDroop(ask, axle)) : springs;
      },
    },
    {
      provides: 'brake_hose.end_at',
      model: 'beside its wheel',
      ...formula((ask) => {
        ask.within(ask.of(HOSE_END.within));
        return ask.minus(ask.times(ask.of(1 / 2), ask.value('wheel_track')), ask.of(HOSE_END.inboard));
      }),
    },
    {
      provides: 'hose_crossed_added',
      model:
        'a beam between a solid stop and the other side’s damper fully out; half of it either way where nobody says how the string was laid',
      ...formula((ask, hose) => {
        const axle = world.step(hose, 'axle');
        if (planned('live_axle', axle).length === 0) return ask.of(0);
        const laid = stringLaid(ask, hose);
        const added = ask.most(ask.of(0), ask.value('droop_added', axle));
        const there = [ask.value('bump_travel_left', axle), ask.value('droop_travel_left', axle)];
        const fall = crossedFall(
          ask,
          {
            at: ask.value('brake_hose.end_at', hose),
            stopAt: ask.value('axle_stop_at', axle),
            damperAt: ask.value('axle_damper_at', axle),
          },
          laid === 'crossed' ? added : ask.sum([...there, added]),
        );
        if (laid !== undefined) return fall;
        const half = ask.times(ask.of(1 / 2), fall);
        ask.within(half);
        return half;
      }),
    },
    {
      provides: 'hose_route_max',
      model: 'measured route, the droop added (triangle inequality), and what a tilted axle takes',
      ...formula((ask, hose) => {
        const [own, old] = [ask.value('hose_route', hose), before(hose)];
        const measured = old !== undefined && !ask.isKnown(own) ? ask.value('hose_route', old) : own;
        return ask.sum([
          longestRoute(ask, measured, ask.value('droop_added', world.step(hose, 'axle'))),
          ask.value('hose_crossed_added', hose),
        ]);
      }),
    },
    {
      provides: 'hose_route_followed',
      model: 'measured route, and how much further apart geometry has the fittings; never less than the straight line',
      compute: (ask, hose) => {
        const axle = world.step(hose, 'axle');
        const span = ask.value('hose_span', axle);
        return Math.max(span, laid(ask, hose) + span - ask.value('hose_span_fitted', axle));
      },
    },
    {
      provides: 'hose_way_laid',
      model: 'whether a string was laid along it',
      compute: (ask, hose) => Number(!Number.isNaN(laid(ask, hose))),
    },
    {
      provides: 'torque_arm_growth',
      model: 'axle load times tyre radius, against the rated axle load at the radius of the fitted tyres',
      ...formula((ask, axle) =>
        torqueGrowth(
          ask,
          { load: ask.value('axle_rating', axle), radius: radius(ask, fitted('tyre', axle)) },
          { load: ask.value('axle_load', axle), radius: radius(ask, planned('tyre', axle)) },
        ),
      ),
    },
  ];
}
