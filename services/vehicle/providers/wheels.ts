import type { Ask, Provider } from '../../engine/values.ts';
import { backspacingOf, offsetOf, outwardShift } from '../../models/tyres/wheel.ts';
import type { Part } from '../assembly.ts';
import { axleOf, CORNERS, subjectOf } from '../places.ts';
import type { VehicleWorld } from '../world.ts';
import { structureOf, sum } from './structure.ts';

const BACKSPACING = 'backspacing and offset by the rim width';

export function wheelProviders(world: VehicleWorld): Provider[] {
  const { fitted, planned } = structureOf(world);
  const wheelSet = (ask: Ask, wheel: Part, spacers: readonly Part[]) => ({
    offset: ask.value('wheel.offset', wheel.subject),
    spacer: sum(spacers.map((spacer) => ask.value('wheel_spacer.thickness', spacer.subject))),
  });

  return [
    {
      provides: 'wheel.offset',
      model: BACKSPACING,
      compute: (ask, wheel) =>
        known(ask, 'wheel.backspacing', wheel)
          ? offsetOf(ask.value('wheel.rim_width', wheel), ask.value('wheel.backspacing', wheel))
          : ask.unknown('neither offset nor backspacing is given'),
    },
    {
      provides: 'backspacing_of',
      model: BACKSPACING,
      compute: (ask, wheel) => backspacingOf(ask.value('wheel.rim_width', wheel), ask.value('wheel.offset', wheel)),
    },
    {
      provides: 'wheel_outward_shift',
      model: 'difference of offset and spacers',
      compute: (ask, corner) => {
        const [before, after] = [fitted('wheel', corner)[0], planned('wheel', corner)[0]];
        if (!before || !after) return ask.unknown('no wheel is known there');
        const [spacersBefore, spacersAfter] = [fitted('wheel_spacer', corner), planned('wheel_spacer', corner)];
        const chosen = ask.value('wheel_moved_out', corner);
        if (before === after && spacersAfter.length === 0 && spacersBefore.length === 0) return chosen;
        return chosen + outwardShift(wheelSet(ask, before, spacersBefore), wheelSet(ask, after, spacersAfter));
      },
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
      compute: (ask, axle) =>
        sum(
          CORNERS.filter((corner) => axleOf(corner) && subjectOf(axleOf(corner) ?? 'front') === axle).map((corner) =>
            ask.value('wheel_outward_shift', subjectOf(corner)),
          ),
        ),
    },
  ];
}

const known = (ask: Ask, name: string, subject: number): boolean => !Number.isNaN(ask.value(name, subject));
