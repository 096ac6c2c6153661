/**
 * What the alignment is set to: the maker's values where they are stated, else those of the drawn front where they are known
 * finely enough to set by, else the maker's sheet, with the reason.
 */

import { NONE } from '../../units/index.ts';
import { subjectOf } from '../../vehicle/places.ts';
import { signatureOf, type VehicleWorld } from '../../vehicle/world.ts';
import type { Amount } from '../answer.ts';
import { type System, show } from '../show.ts';
import { toleranceOf } from '../values-out.ts';

export interface AlignmentTarget {
  readonly angle: 'camber' | 'caster' | 'toe';
  readonly axle: 'front';
  readonly title: string;
  /** Each wheel's; of toe both together. null: it is read from the maker's sheet. */
  readonly target: Amount | null;
  readonly from: 'stated' | 'computed' | 'maker';
  /** What the drawing gives with the work done, cams as far as they go. */
  readonly expected: Amount | null;
  /** Between left and right; common practice. */
  readonly sides_within: Amount | null;
  readonly says: string;
}

interface Angle {
  readonly angle: AlignmentTarget['angle'];
  readonly title: string;
  readonly stated: string;
  readonly computed: string;
  /** Both wheels together. */
  readonly times: 1 | 2;
  /** A target known no finer than that cannot be set by; half of the range that makers mostly give, in degrees (common practice). */
  readonly finest: number;
  readonly sides: number | undefined;
}

const DEGREE = Math.PI / 180;
const ANGLES: readonly Angle[] = [
  { angle: 'camber', title: 'Camber, each wheel', stated: 'maker_camber', computed: 'camber_at_ride', times: 1, finest: 0.75, sides: 0.5 },
  { angle: 'caster', title: 'Caster, each wheel', stated: 'maker_caster', computed: 'caster_at_ride', times: 1, finest: 0.75, sides: 0.5 },
  {
    angle: 'toe',
    title: 'Toe, both wheels together',
    stated: 'maker_toe',
    computed: 'design_toe',
    times: 2,
    finest: 0.2,
    sides: undefined,
  },
];

export const alignmentOf = (world: VehicleWorld, system: System): AlignmentTarget[] =>
  ANGLES.map((angle) => targetOf(angle, world, system));

function targetOf({ angle, title, stated, computed, times, finest, sides }: Angle, world: VehicleWorld, system: System): AlignmentTarget {
  const [maker, drawn] = [read(stated, 1, world), read(computed, times, world)];
  const shown = show('deg', dimensionOf(stated, world), system);
  const amount = (of: Read | undefined): Amount | null => (of ? shown.amount(of.value, of.plusMinus) : null);
  const common = {
    angle,
    axle: 'front' as const,
    title,
    expected: amount(drawn),
    sides_within: sides === undefined ? null : shown.amount(sides * DEGREE),
  };
  if (maker) return { ...common, target: amount(maker), from: 'stated', says: againstMaker(maker, drawn) };
  if (drawn && drawn.plusMinus <= finest * DEGREE)
    return { ...common, target: amount(drawn), from: 'computed', says: 'of the drawn front at its new height, cams as far as they go' };
  const why = drawn
    ? `its drawing has it to ${shown.text(drawn.plusMinus, 'up')} either way only, and ${shown.text(finest * DEGREE)} is what it is set to`
    : 'its front is not drawn';
  return { ...common, target: null, from: 'maker', says: `from the maker’s sheet: ${why}; send it as \`${stated}\`` };
}

function againstMaker(maker: Read, drawn: Read | undefined): string {
  const apart = drawn && Math.abs(maker.value - drawn.value) - maker.plusMinus - drawn.plusMinus;
  return apart !== undefined && apart > 0
    ? 'as the maker states; at its new height the cams do not reach it by what is drawn'
    : 'as the maker states, at its new height';
}

interface Read {
  readonly value: number;
  readonly plusMinus: number;
}

function read(name: string, times: number, world: VehicleWorld): Read | undefined {
  const slot = world.values.slot(name, [subjectOf('front')]);
  const value = world.values.read(slot);
  if (Number.isNaN(value)) return undefined;
  const band = toleranceOf(slot, world);
  return { value: times * value, plusMinus: Number.isFinite(band) ? times * band : 0 };
}

function dimensionOf(name: string, world: VehicleWorld) {
  const type = signatureOf(world.library, name)?.type;
  return type?.is === 'number' ? type.dimension : NONE;
}
