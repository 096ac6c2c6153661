import { type FormulaAsk, formula } from '../../engine/formula.ts';
import type { Ask, Provider } from '../../engine/values.ts';
import { turningCircle } from '../../models/suspension/turning-circle.ts';
import { backspacingOf, offsetOf, outwardShiftIn } from '../../models/tyres/wheel.ts';
import { type Part, saidKey } from '../assembly.ts';
import { axleOf, CORNERS, subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf } from './structure.ts';
import { settled } from './tyres.ts';

const FRONT_CORNERS = (['front-left', 'front-right'] as const).map(subjectOf);

const BACKSPACING = 'backspacing and offset by the rim width';

export function wheelProviders(world: VehicleWorld): Provider[] {
  const { fitted, planned } = structureOf(world);
  const wheelSet = <N>(ask: FormulaAsk<N>, wheel: Part, spacers: readonly Part[]) => ({
    offset: ask.value('wheel.offset', wheel.subject),
    spacer: ask.sum(spacers.map((spacer) => ask.value('wheel_spacer.thickness', spacer.subject))),
  });

  const said = (name: string, subject: number): boolean => world.assembly.said.has(saidKey(name, [subject]));
  /** Round the brake and beside it, whichever is less; only where wheel and brake are both stated. */
  const envelopeGap = (ask: Ask, corner: number): number => {
    const [wheel, hub] = [planned('wheel', corner)[0], planned('hub', corner)[0]];
    const stated = wheel && hub && said('wheel.inner_diameter', wheel.subject) && said('hub.brake_envelope', hub.subject);
    if (!stated) return ask.unknown('the bare wheel has not been fitted dry, and wheel and brake are not drawn');
    const round = (ask.value('wheel.inner_diameter', wheel.subject) - ask.value('hub.brake_envelope', hub.subject)) / 2;
    if (!said('wheel.spoke_depth', wheel.subject) || !said('hub.brake_face', hub.subject)) return round;
    const spacers = planned('wheel_spacer', corner).map(({ subject }) => ask.value('wheel_spacer.thickness', subject));
    const room = ask.value('wheel.spoke_depth', wheel.subject) + spacers.reduce((sum, x) => sum + x, 0);
    return Math.min(round, room - ask.value('hub.brake_face', hub.subject));
  };

  return [
    {
      provides: 'wheel.offset',
      model: BACKSPACING,
      ...formula((ask, wheel) => {
        const backspacing = ask.value('wheel.backspacing', wheel);
        if (!ask.isKnown(backspacing)) return ask.unknown('neither offset nor backspacing is given');
        return ask.model(offsetOf, [ask.value('wheel.rim_width', wheel), 'falls'], [backspacing, 'rises']);
      }),
    },
    {
      provides: 'backspacing_of',
      model: BACKSPACING,
      ...formula((ask, wheel) =>
        ask.model(backspacingOf, [ask.value('wheel.rim_width', wheel), 'rises'], [ask.value('wheel.offset', wheel), 'rises']),
      ),
    },
    {
      provides: 'wheel_outward_shift',
      model: 'difference of offset and spacers',
      ...formula((ask, corner) => {
        const [before, after] = [fitted('wheel', corner)[0], planned('wheel', corner)[0]];
        if (!before || !after) return ask.unknown('no wheel is known there');
        const [spacersBefore, spacersAfter] = [fitted('wheel_spacer', corner), planned('wheel_spacer', corner)];
        const chosen = ask.sum([ask.value('wheel_moved_out', corner), ask.value('wheels_shifted', world.step(corner, 'axle'))]);
        if (before === after && spacersAfter.length === 0 && spacersBefore.length === 0) return chosen;
        return ask.sum([chosen, outwardShiftIn(ask, wheelSet(ask, before, spacersBefore), wheelSet(ask, after, spacersAfter))]);
      }),
    },
    {
      provides: 'caliper_gap_left',
      model: 'the gap of the dry fit, or room in the wheel less the brake, as long as the wheel is the one that was meant',
      compute: (ask, corner) => {
        if (ask.value('wheel_chosen_anew', corner) === 1)
          return ask.unknown('another wheel has been chosen since the dry fit: fit that one dry');
        const fittedDry = ask.value('caliper_gap', corner);
        return Number.isNaN(fittedDry) ? envelopeGap(ask, corner) : fittedDry;
      },
    },
    {
      provides: 'wheel_spacer.stud_engagement',
      model: 'studs of the hub less spacer and wheel, where the nuts reach through',
      compute: (ask, spacer) => {
        const [wheel, hub] = ['wheel', 'hub'].map((kind) => planned(kind, world.placeOf(spacer))[0]);
        const stated = wheel && hub && said('wheel_spacer.own_studs', spacer) && ask.value('wheel_spacer.own_studs', spacer) === 0;
        if (!stated) return ask.unknown('the turns of a nut have not been counted');
        const through = ask.value('wheel_spacer.thickness', spacer) + ask.value('wheel.pad_thickness', wheel.subject);
        return ask.value('hub.stud_length', hub.subject) - through;
      },
    },
    {
      provides: 'turning_circle',
      model: 'wheelbase and lock, by Ackermann, to the outside of the outer tyre',
      compute: (ask) => {
        const front = subjectOf('front');
        const tyre = planned('tyre', front)[0] ?? planned('tyre', subjectOf('front-left'))[0];
        const locks = FRONT_CORNERS.map((corner) => ask.value('lock_angle', corner));
        const innerAngle = Math.min(...locks) - ask.value('lock_reduced', front);
        const [wheelbase, track] = [ask.value('wheelbase'), ask.value('wheel_track') + ask.value('track_change', front)];
        // Where no front is drawn, the tyres are taken to stand on their steering axes.
        const offset = ask.value('steering_axis_offset', front);
        const outside = Number.isNaN(offset) ? 0 : offset;
        const tyreWidth = tyre ? ask.value('tyre.section_width', tyre.subject) : Number.NaN;
        if (Number.isNaN(innerAngle + wheelbase + track + tyreWidth)) return Number.NaN;
        return settled(turningCircle({ wheelbase, kingpins: track - 2 * outside, outside, innerAngle, tyreWidth }), ask) ?? Number.NaN;
      },
    },
    {
      provides: 'track_change',
      model: 'outward shift of both wheels',
      ...formula((ask, axle) =>
        ask.sum(
          CORNERS.filter((corner) => axleOf(corner) && subjectOf(axleOf(corner) ?? 'front') === axle).map((corner) =>
            ask.value('wheel_outward_shift', subjectOf(corner)),
          ),
        ),
      ),
    },
  ];
}
