import { describe, expect, it } from 'vitest';
import type { CheckRequest, PartInput, VehicleReading } from '../vehicle/index.ts';
import { createChecker } from './index.ts';
import { SHAFT, type SmallRule, shaft, smallLibrary } from './testing-small.ts';

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

describe('a reading on which nothing rests is listed too, with the reason', () => {
  const WHEEL = `id: wheel
title: Wheel
is: part
fits: vehicle
one_per_place: yes
frame: chassis
attributes:
  rim_width: { title: Rim width, unit: in, meaning: between the flanges }
  offset: { title: Offset, unit: mm, meaning: of the face, also_said_as: backspacing }
  backspacing: { title: Backspacing, unit: in, meaning: from the face inward }
`;
  const library = smallLibrary([...RULES, SHAFT, { id: 'offset', body: 'for: { wheel: wheel }\nrequire: "wheel.offset >= 0 mm"' }], {
    ...FILES,
    'kinds/wheel.yaml': WHEEL,
  });
  const fitted = [
    { ...shaft('30 mm ± 1'), id: 'shaft' },
    { from: 'inline', kind: 'wheel', id: 'wheels', attributes: { rim_width: '7.75 in ± 0' } },
  ] as const;
  function remarks(measured: readonly VehicleReading[], parts: readonly PartInput[] = []) {
    const asked: CheckRequest = { vehicle: { from: 'inline', class: 'small', fitted, measured }, parts };
    const checked = createChecker(library).check(asked, { vehicles: new Map(), parts: new Map(), hash: 'small' });
    if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
    return checked.answer.measuring.taken.map(({ quantity, settled, open, remark }) => [quantity, settled.length + open.length, remark]);
  }

  it('where no finding asks for it', () =>
    expect(remarks([{ quantity: 'splined', of: 'shaft', value: 'yes' }, read('side_gap', '10 mm')])).toEqual([
      ['shaft.splined', 0, 'no finding of this check rests on it'],
      ['side_gap', 1, undefined],
    ]));

  it('where a later one counts, and whether both can be true', () => {
    const dated = (value: string, date: string) => ({ ...read('side_gap', value), date });
    expect(remarks([dated('24 mm ± 3', '2026-10-03'), dated('60 mm ± 3', '2026-10-04')])).toEqual([
      [
        'side_gap',
        0,
        'a later reading counts: 60 mm ± 3 mm, of 2026-10-04. They lie further apart than both tolerances: if nothing was changed between them, read it again',
      ],
      ['side_gap', 1, undefined],
    ]);
    expect(remarks([dated('60 mm ± 3', '2026-10-04'), dated('62 mm ± 3', '2026-10-03')])[1]?.[2]).toBe(
      'a later reading counts: 60 mm ± 3 mm, of 2026-10-04',
    );
  });

  it('where another without a date counts as little as it', () =>
    expect(remarks([read('side_gap', '24 mm ± 3'), read('side_gap', '60 mm ± 3')])[1]?.[2]).toBe(
      'another reading counts: 24 mm ± 3 mm. Both cannot be true: read it again',
    ));

  it('where it is of what comes off', () => {
    const measured = [{ quantity: 'engagement', of: 'shaft', value: '28 mm ± 1' }];
    const [[, , alone]] = remarks(measured) as [[string, number, string | undefined]];
    const [[, , replaced]] = remarks(measured, [{ ...shaft('40 mm ± 1'), id: 'new', replaces: 'shaft' }]) as [[string, number, string]];
    expect([alone, replaced]).toEqual([undefined, 'it is of the vehicle as it stands, and no finding of the planned parts rests on it']);
  });

  it('where what rests on it stands as before', () =>
    expect(remarks([read('side_gap', '10 mm')], [{ from: 'inline', kind: 'winch', attributes: {} }])).toEqual([
      ['side_gap', 0, 'what rests on it stands as before: the planned parts change nothing of it'],
    ]));

  it('where the same was read otherwise too: backspacing beside an offset, and not beside none', () => {
    const backspacing = { quantity: 'backspacing', of: 'wheels', value: '5.5 in ± 0' };
    expect(remarks([backspacing])).toEqual([['wheel.backspacing', 1, undefined]]);
    expect(remarks([backspacing, { quantity: 'offset', of: 'wheels', value: '28 mm ± 1' }])).toEqual([
      ['wheel.backspacing', 0, 'offset was read too, and counts before it'],
      ['wheel.offset', 0, undefined],
    ]);
  });
});
