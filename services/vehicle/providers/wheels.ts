import { type FormulaAsk, formula } from '../../engine/formula.ts';
import type { Provider } from '../../engine/values.ts';
import { backspacingOf, offsetOf, outwardShiftIn } from '../../models/tyres/wheel.ts';
import type { Part } from '../assembly.ts';
import { axleOf, CORNERS, subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf } from './structure.ts';

const BACKSPACING = 'backspacing and offset by the rim width';

export function wheelProviders(world: VehicleWorld): Provider[] {
  const { fitted, planned } = structureOf(world);
  const wheelSet = <N>(ask: FormulaAsk<N>, wheel: Part, spacers: readonly Part[]) => ({
    offset: ask.value('wheel.offset', wheel.subject),
    spacer: ask.sum(spacers.map((spacer) => ask.value('wheel_spacer.thickness', spacer.subject))),
  });

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
        const chosen = ask.value('wheel_moved_out', corner);
        if (before === after && spacersAfter.length === 0 && spacersBefore.length === 0) return chosen;
        return ask.sum([chosen, outwardShiftIn(ask, wheelSet(ask, before, spacersBefore), wheelSet(ask, after, spacersAfter))]);
      }),
    },
    {
      provides: 'caliper_gap_left',
      model: 'the gap of the dry fit, as long as the wheel is the one that was fitted',
      compute: (ask, corner) =>
        ask.value('wheel_chosen_anew', corner) === 1
          ? ask.unknown('another wheel has been chosen since the dry fit: fit that one dry')
          : ask.value('caliper_gap', corner),
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
