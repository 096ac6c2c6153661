/**
 * Where something is that a tyre can touch, as a person gives it: points, runs of straight pieces, flat patches, and what
 * they are fixed to. Read with a tape from the hub, or taken from a drawing.
 */
import { coordinatesOf } from '../engine/dictionary-file.ts';
import type { Shape } from '../engine/tree.ts';
import { LENGTH, parseQuantity } from '../units/index.ts';
import type { Faults } from './faults.ts';
import type { ShapeInput } from './request.ts';

export const SHAPE_FRAMES = ['chassis', 'body', 'knuckle', 'upper_arm', 'lower_arm', 'coil_over', 'anti_roll_bar'] as const;
export type ShapeFrame = (typeof SHAPE_FRAMES)[number];

/** What there is at every wheel, and a tape at the hub can be related to: the arms and the bar stand elsewhere at ride height than as drawn. */
export const FROM_HUB: readonly ShapeFrame[] = ['chassis', 'body', 'knuckle'];

/** What a careful person gets with a tape and a square, where nothing is said. */
const USUAL = '10 mm';
/** No part of a wheel's surroundings is further from where it is measured. */
const FURTHEST = 4;
const POINT = 'write x, y, z with one unit, such as "-445, 600, 410 mm"';

/** Points in metres; undefined where none are given, or where they are in fault. */
export function readPlacedShape({ on, from = 'drawing', radius, plus_minus, lines = [], patches = [] }: ShapeInput, faults: Faults) {
  if (lines.length + patches.length === 0) return undefined;
  if (from === 'hub' && on !== undefined && !FROM_HUB.includes(on))
    faults
      .in('from')
      .add(
        'SHAPE_FROM_WRONG',
        `what is on \`${on}\` stands elsewhere at ride height than it is drawn`,
        'give its points `from: drawing`, or gauge the gap itself as `tyre_gap`',
      );
  const length = (key: 'radius' | 'plus_minus', text: string): number => {
    const parsed = parseQuantity(text, LENGTH);
    if (parsed.ok && parsed.measure.value >= 0 && parsed.measure.value < FURTHEST) return parsed.measure.value;
    const at = faults.in(key);
    if (parsed.ok) at.add('SHAPE_WRONG', `\`${text}\` is no ${key === 'radius' ? 'radius' : 'tolerance'} here`, 'write such as `10 mm`');
    else at.add('SHAPE_WRONG', parsed.fault.message, parsed.fault.help);
    return 0;
  };
  const shape: Shape = {
    radius: radius === undefined ? 0 : length('radius', radius),
    plusMinus: length('plus_minus', plus_minus ?? USUAL),
    lines: lines.map((line, i) => runOf(line, faults.in('lines', i))),
    patches: patches.map((patch, i) => patchOf(patch, faults.in('patches', i))),
    from,
    stated: true,
  };
  return shape;
}

type Run = Shape['lines'][number];

const runOf = (texts: readonly string[], faults: Faults): Run => texts.map((text, i) => pointOf(text, faults.in(i)));

function patchOf(texts: readonly string[], faults: Faults): Run {
  if (texts.length !== 3 && texts.length !== 4)
    faults.add('SHAPE_WRONG', `a patch has three or four corners, not ${texts.length}`, 'split it into triangles');
  return runOf(texts, faults);
}

function pointOf(text: string, faults: Faults): Run[number] {
  const read = (coordinatesOf('', text) ?? []).map(([, each]) => parseQuantity(each, LENGTH));
  const [x, y, z] = read.map((parsed) => (parsed.ok ? parsed.measure.value : Number.NaN));
  if (x === undefined || y === undefined || z === undefined || Number.isNaN(x + y + z)) {
    faults.add('POINT_WRONG', `\`${text}\` is not a point`, POINT);
    return [0, 0, 0];
  }
  if (read.some((parsed) => parsed.ok && parsed.measure.plusMinus > 0))
    faults.add('POINT_WRONG', `\`${text}\` has a tolerance of its own`, 'say it once for all points, as `plus_minus` of the shape');
  if (Math.hypot(x, y, z) > FURTHEST)
    faults.add('POINT_WRONG', `\`${text}\` is ${Math.hypot(x, y, z).toFixed(0)} m away`, 'check its unit: a tyre does not reach there');
  return [x, y, z];
}
