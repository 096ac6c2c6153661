import { describe, expect, it } from 'vitest';
import type { VehicleReading } from '../vehicle/index.ts';
import { createChecker } from './index.ts';
import { type SmallRule, smallLibrary } from './testing-small.ts';

const QUANTITIES = ['floor_gap', 'roof_gap', 'side_gap'].map(
  (name) =>
    `${name}: { title: ${name}, unit: mm, per: vehicle, meaning: room, comes: given, measure: { how: rule, tool: rule, accuracy: 2 mm } }`,
);
const FILES = {
  'quantities/all.yaml': `${QUANTITIES.join('\n')}\nraised: { title: Raised, unit: mm, per: vehicle, meaning: how far, comes: state, initially: 0 mm }\ntrimmed: { title: Trimmed, unit: mm, per: vehicle, meaning: how much, comes: state, initially: 0 mm }\n`,
  'classes/small.yaml': 'id: small\ntitle: Small\nvalues: { floor_gap: 100 mm ± 30, roof_gap: 50 mm ± 10 }\npositions: []\nfitted: []\n',
};
const rule = (id: string, require: string): SmallRule => ({ id, body: `require: "${require}"` });
const RULES = [
  rule('far', 'floor_gap >= 20 mm'),
  rule('near', 'floor_gap >= 90 mm'),
  rule('nearer', 'floor_gap >= 99 mm'),
  rule('short', 'floor_gap >= 120 mm'),
  rule('both', 'floor_gap + roof_gap >= 145 mm'),
  rule('beside', 'side_gap >= 0 mm'),
];

const read = (quantity: string, value: string): VehicleReading => ({ quantity, value });
function taken(...measured: VehicleReading[]) {
  const asked = { vehicle: { from: 'inline', class: 'small', measured } } as const;
  const checked = createChecker(smallLibrary(RULES, FILES)).check(asked, { vehicles: new Map(), parts: new Map(), hash: 'small' });
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
  return checked.answer.measuring.taken.map(({ quantity, settled, open }) => [quantity, settled, open]);
}

describe('a reading that was given', () => {
  it('settled what would be open without it, either way, and not what is clear without it too', () => {
    // By the class 100 ± 30: `near`, `nearer` and `short` are open, `far` is clear. Read 100 ± 2: 90 is met, 120 is not, 99 is open.
    expect(taken(read('floor_gap', '100 mm ± 2'))).toEqual([['floor_gap', ['short', 'near'], ['nearer', 'both']]]);
  });

  it('settled together with another what neither would have settled alone', () => {
    // 100 ± 1 + 50 ± 1 is 3 mm past 145 at worst, with either default it is not; 99 is met exactly on the line.
    expect(taken(read('floor_gap', '100 mm ± 1'), read('roof_gap', '50 mm ± 1'))).toEqual([
      ['floor_gap', ['short', 'nearer', 'both', 'near'], []],
      ['roof_gap', ['both'], []],
    ]);
  });

  it('of which nothing else is known settled what could not be told', () => {
    expect(taken(read('side_gap', '10 mm ± 1'))).toEqual([['side_gap', ['beside'], []]]);
  });

  it('leaves the answer as it is', () => {
    const twice = [0, 1].map(() => taken(read('floor_gap', '100 mm ± 1'), read('roof_gap', '50 mm ± 1')));
    expect(twice[0]).toEqual(twice[1]);
  });
});
