import { type FormulaAsk, formula } from '../../engine/formula.ts';
import type { Provider } from '../../engine/values.ts';
import { AXLES, axleOf, CORNERS, subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { shownBy } from './instruments.ts';
import { structureOf } from './structure.ts';

/** How high it stands, how far its tyres stand out and what its speedometer shows: what laws limit. */
export function heightProviders(world: VehicleWorld): Provider[] {
  const { fitted, planned } = structureOf(world);
  const AXLE_SUBJECTS = AXLES.map(subjectOf);
  const BUMPERS = new Map([
    [subjectOf('front'), 'front_bumper'],
    [subjectOf('rear'), 'rear_bumper'],
  ]);
  const half = <N>(ask: FormulaAsk<N>, terms: readonly N[]): N => ask.times(ask.of(1 / 2), ask.sum(terms));
  const bodyLift = <N>(ask: FormulaAsk<N>): N => ask.minus(ask.value('body_lift_total'), ask.value('body_lift_fitted'));
  /** What the planned springs and tyres raise the chassis by, over an axle and midway. */
  const raise = <N>(ask: FormulaAsk<N>, axle: number): N =>
    ask.sum([ask.value('ride_height_change', axle), ask.value('raised_by_tyres', axle)]);
  const midway = <N>(ask: FormulaAsk<N>): N =>
    half(
      ask,
      AXLE_SUBJECTS.map((axle) => raise(ask, axle)),
    );
  /** A bumper that takes the place of another has its edge elsewhere. */
  const edge = <N>(ask: FormulaAsk<N>, axle: number): N[] => {
    const kind = BUMPERS.get(axle) ?? '';
    const before = fitted(kind, subjectOf('vehicle'));
    return planned(kind, subjectOf('vehicle'))
      .filter((bumper) => !before.includes(bumper))
      .map(({ subject }) => ask.value('bumper.edge_raised', subject));
  };

  return [
    {
      provides: 'raised_by_tyres',
      model: 'mean growth of the radius of its two tyres',
      ...formula((ask, axle) =>
        half(
          ask,
          CORNERS.filter((corner) => subjectOf(axleOf(corner) ?? 'front') === axle).map((corner) =>
            ask.value('tyre_radius_growth', subjectOf(corner)),
          ),
        ),
      ),
    },
    {
      provides: 'raised_by_suspension',
      model: 'before and by the planned parts',
      ...formula((ask, axle) => ask.sum([ask.value('raised_before', axle), ask.value('ride_height_change', axle)])),
    },
    {
      provides: 'raised_in_all',
      model: 'suspension, tyres and body lift together',
      ...formula((ask, axle) =>
        ask.sum([ask.value('raised_by_suspension', axle), ask.value('raised_by_tyres', axle), ask.value('body_lift_total')]),
      ),
    },
    {
      provides: 'bumper_height_after',
      model: 'height as it stands, springs and tyres, and the edge of a bumper that takes its place',
      ...formula((ask, axle) => ask.sum([ask.value('bumper_height', axle), raise(ask, axle), ...edge(ask, axle)])),
    },
    {
      provides: 'frame_height_after',
      model: 'height as it stands, springs and tyres, midway',
      ...formula((ask) => ask.sum([ask.value('frame_height'), midway(ask)])),
    },
    {
      provides: 'body_height_after',
      model: 'height as it stands, springs, tyres and body lift',
      ...formula((ask) => ask.sum([ask.value('body_height'), midway(ask), bodyLift(ask)])),
    },
    {
      provides: 'floor_over_frame_after',
      model: 'as it stands, and what the body is lifted by since',
      ...formula((ask) => ask.sum([ask.value('floor_over_frame'), bodyLift(ask)])),
    },
    {
      provides: 'largest_designated_diameter',
      model: 'the fitted tyre stands for what its maker designates',
      ...formula((ask) => {
        const [tyre] = fitted('tyre', subjectOf('rear'));
        return tyre ? ask.value('tyre.overall_diameter', tyre.subject) : ask.unknown('no tyre is known');
      }),
    },
    {
      provides: 'tyre_over_designated',
      model: 'difference of the diameters',
      ...formula((ask, axle) => {
        const [tyre] = planned('tyre', axle);
        if (!tyre) return ask.unknown('no tyre is known there');
        return ask.minus(ask.value('tyre.overall_diameter', tyre.subject), ask.value('largest_designated_diameter'));
      }),
    },
    {
      provides: 'wing_width_added',
      model: 'planned flares, or those of this job if wider',
      ...formula((ask, corner) => {
        const flares = planned('wing_flare', corner).map(({ subject }) => ask.value('wing_flare.width', subject));
        return ask.most(ask.value('wing_widened', world.step(corner, 'axle')), ...flares);
      }),
    },
    {
      provides: 'tyre_stands_out',
      model: 'outward shift and half of the growth in width, less what it is inside and what the wing has gained',
      ...formula((ask, corner) => {
        const out = ask.sum([ask.value('wheel_outward_shift', corner), ask.times(ask.of(1 / 2), ask.value('tyre_width_growth', corner))]);
        return ask.minus(out, ask.sum([ask.value('tyre_inside_wing', corner), ask.value('wing_width_added', corner)]));
      }),
    },
    {
      provides: 'speedometer_shows_too_much',
      model: 'shown over true speed by the ratio of the diameters, and of the gears where they feed it',
      source: 'un-r39',
      ...formula((ask) => {
        const shown = shownBy(ask, ask.of(1));
        return ask.minus(shown, ask.of(1));
      }),
    },
  ];
}
