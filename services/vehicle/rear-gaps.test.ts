/** Gaps of a rear tyre on a vehicle: sides, readings, what is missing, what cures. */
import { describe, expect, it } from 'vitest';
import { Texts } from '../engine/values.ts';
import { leanArm } from '../models/suspension/body-lean.ts';
import { checker, demoCatalogue } from '../workshop/testing.ts';
import { assemble } from './assembly.ts';
import type { CheckRequest, PartInput, VehicleReading } from './request.ts';
import { createWorld } from './world.ts';

function worldOf(
  {
    measured = [],
    parts = [],
    fitted = [],
    values = {},
  }: Partial<Record<'measured' | 'parts' | 'fitted', readonly object[]>> & { values?: object },
  of = 'midsize_independent_front',
) {
  const vehicle = { from: 'inline', class: of, measured: measured as VehicleReading[], fitted: fitted as PartInput[], values };
  const made = assemble({ vehicle, parts: parts as PartInput[] } as CheckRequest, demoCatalogue, checker.library);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  const world = createWorld(made.assembly, checker.library, new Texts());
  const subject = (id: string): number => made.assembly.parts.find((part) => part.id === id)?.subject as number;
  const of_ = (name: string, id: string): number => world.values.read(world.values.slot(name, [subject(id)]));
  return {
    of: of_,
    text: (name: string, id: string) => world.values.textOf(of_(name, id)),
    missing: (name: string, id: string) =>
      world.values.missingOf(world.values.slot(name, [subject(id)])).map((slot) => world.values.node(slot).name),
    has: (id: string) => subject(id) !== undefined,
  };
}

const EXACT = [
  { quantity: 'overall_diameter', of: 'factory-tyres', value: '776 mm ± 0' },
  { quantity: 'section_width', of: 'factory-tyres', value: '272 mm ± 0' },
];
const tyre = (diameter: number, width: number, more = {}) => ({
  from: 'inline',
  kind: 'tyre',
  at: 'all',
  id: 'new',
  replaces: 'fitted',
  attributes: { overall_diameter: `${diameter} mm ± 0`, section_width: `${width} mm ± 0` },
  ...more,
});
const read = (quantity: string, of: string, value: string) => ({ quantity, of, value });
const LEFT = '@rear-left';
const RIGHT = '@rear-right';

describe('gaps of a rear tyre', () => {
  const stock = worldOf({ measured: EXACT });

  it('are as the class has them as built, and unchanged where nothing is planned', () => {
    for (const [id, gap] of [
      ['rear-arches', 0.051],
      ['inner-wings', 0.039],
      ['spring-clamps', 0.054],
    ] as const) {
      expect(stock.of('tyre_gap', `${id}${LEFT}`), id).toBeCloseTo(gap, 3);
      expect(stock.of('tyre_gap_change', `${id}${LEFT}`), id).toBeCloseTo(0, 9);
    }
  });

  it('beside the spring’s clamp lose half of what a tyre is wider and gain what the wheel goes out', () => {
    // On the axle all is at rest: −(300 − 272)/2 = −14 mm; a spacer of 20 mm gives 20 back.
    const wider = worldOf({ measured: EXACT, parts: [tyre(776, 300)] });
    expect(wider.of('tyre_gap_change', `spring-clamps${LEFT}`)).toBeCloseTo(-0.014, 9);
    const spaced = worldOf({
      measured: EXACT,
      parts: [tyre(776, 300), { from: 'inline', kind: 'wheel_spacer', at: 'rear', attributes: { thickness: '20 mm ± 0' } }],
    });
    expect(spaced.of('tyre_gap_change', `spring-clamps${LEFT}`)).toBeCloseTo(0.006, 9);
    expect(spaced.of('gap_gained_by_wheel_out', `spring-clamps${LEFT}`)).toBeCloseTo(1, 6);
    expect(spaced.text('contact_posture', `spring-clamps${LEFT}`)).toBe('in every posture alike');
    expect(spaced.text('contact_on', `spring-clamps${LEFT}`)).toBe('inner sidewall');
  });

  it('under the arch say that they are least crossed up, and what is left level and with one wheel up', () => {
    const at = `rear-arches${LEFT}`;
    expect(stock.text('contact_posture', at)).toContain('crossed up, this wheel up');
    expect(stock.of('tyre_gap_level', at)).toBeGreaterThan(stock.of('tyre_gap_one_wheel', at));
    expect(stock.of('tyre_gap_one_wheel', at)).toBeGreaterThan(stock.of('tyre_gap_after', at));
    // A wheel 785 − 470 mm outboard of its stop goes up more than the stop is put off.
    expect(stock.of('gap_gained_by_stop', at)).toBeGreaterThan(1);
    expect(stock.of('contact_travel', at)).toBeGreaterThan(0.115);
  });

  it('on both sides are alike, but for an axle off centre or a thing on one side only', () => {
    for (const id of ['inner-wings', 'rear-frame-rails'])
      expect(stock.of('tyre_gap', `${id}${RIGHT}`)).toBe(stock.of('tyre_gap', `${id}${LEFT}`));
    const off = worldOf({ measured: [...EXACT, read('axle_off_centre', 'rear', '8 mm ± 0')] });
    expect(off.of('tyre_gap', `inner-wings${LEFT}`)).toBeGreaterThan(stock.of('tyre_gap', `inner-wings${LEFT}`) + 0.004);
    expect(off.of('tyre_gap', `inner-wings${RIGHT}`)).toBeLessThan(stock.of('tyre_gap', `inner-wings${RIGHT}`) - 0.004);
    expect(off.of('tyre_gap', `spring-clamps${RIGHT}`)).toBe(stock.of('tyre_gap', `spring-clamps${RIGHT}`));
    const one = worldOf({ measured: [...EXACT, read('tyre_gap', `rear-arches${LEFT}`, '20 mm ± 2')] });
    expect([one.of('tyre_gap', `rear-arches${LEFT}`), one.of('tyre_gap', `rear-arches${RIGHT}`)]).toEqual([0.02, expect.closeTo(0.051, 3)]);
  });

  it('take a gap gauged at the stop as it is read', () => {
    const read_ = worldOf({ measured: [...EXACT, read('gap_at_bump', 'rear-arches', '31 mm ± 3')] });
    expect(read_.of('tyre_gap', `rear-arches${LEFT}`)).toBe(0.031);
  });

  it('with a tyre that contains the other are never more, at either side', () => {
    const larger = worldOf({ measured: EXACT, parts: [tyre(812, 290)] });
    for (const id of [
      'rear-arches',
      'inner-wings',
      'rear-wing-lips',
      'rear-leaves',
      'spring-clamps',
      'rear-damper-sides',
      'rear-frame-rails',
    ])
      for (const side of [LEFT, RIGHT])
        expect(larger.of('tyre_gap_after', `${id}${side}`), id).toBeLessThan(stock.of('tyre_gap_after', `${id}${side}`));
  });

  it('let down lose the bulge below the hub: something beside the wall, nothing above the tyre', () => {
    const [bulge, clamps] = [stock.of('aired_down_loss', `spring-clamps${LEFT}`), `rear-arches${LEFT}`];
    expect(bulge).toBeGreaterThan(0);
    expect(bulge).toBeLessThan(0.02);
    expect(stock.of('aired_down_loss', clamps)).toBe(0);
    const softer = worldOf({
      measured: [...EXACT, read('off_road_pressure', 'rear', '105 kPa ± 0'), read('tyre_pressure', 'rear', '300 kPa ± 0')],
    });
    expect(softer.of('aired_down_loss', `spring-clamps${LEFT}`)).toBeGreaterThan(bulge);
  });

  it('of worn tyres are larger by the tread that is gone, and a new tyre then takes that much more', () => {
    const size = (worn: string) => [
      { from: 'inline', id: 'factory-tyres', kind: 'tyre', at: 'all', attributes: { designation: '265/65R17 112T', tread_worn: worn } },
    ];
    const parts = [tyre(790, 276)];
    const [fresh, worn] = [worldOf({ fitted: size('0 mm'), parts }), worldOf({ fitted: size('6 mm'), parts })];
    expect(
      fresh.of('tyre.overall_diameter', `factory-tyres${LEFT}`) - worn.of('tyre.overall_diameter', `factory-tyres${LEFT}`),
    ).toBeCloseTo(0.012, 9);
    for (const [id, gone] of [
      [`rear-arches${LEFT}`, 0.006],
      ['cab-mounts@front-left', 0.006],
      [`spring-clamps${LEFT}`, 0],
    ] as const)
      expect(fresh.of('tyre_gap_change', id) - worn.of('tyre_gap_change', id), id).toBeCloseTo(gone, 3);
  });

  it('are swept with the leaves where a block stands them, and with nothing else of the axle moved', () => {
    const sprung = (block: string) =>
      worldOf({
        measured: EXACT,
        parts: [
          tyre(800, 272),
          {
            from: 'inline',
            kind: 'rear_spring',
            at: 'rear',
            attributes: { height_added: '60 mm ± 0', droop_added: '0 mm ± 0', rated_extra_mass: '0 kg ± 0', block_height: block },
          },
        ],
      });
    const [pack, block] = [sprung('0 mm'), sprung('60 mm')];
    expect(Math.abs(block.of('tyre_gap_after', `rear-leaves${LEFT}`) - pack.of('tyre_gap_after', `rear-leaves${LEFT}`))).toBeGreaterThan(
      0.001,
    );
    expect(block.of('tyre_gap_after', `spring-clamps${LEFT}`)).toBeCloseTo(pack.of('tyre_gap_after', `spring-clamps${LEFT}`), 9);
  });

  it('ask for what is missing', () => {
    const bare = worldOf({ parts: [tyre(800, 280, { attributes: { section_width: '280 mm' } })] });
    expect(bare.of('tyre_gap_after', `rear-arches${LEFT}`)).toBeNaN();
    expect(bare.missing('tyre_gap_after', `rear-arches${LEFT}`)).toContain('tyre.designation');
  });
});

describe('something pointed out at a rear wheel', () => {
  it('is placed from the hub’s face, on one side only, and swept like the rest', () => {
    // Level with the hub, 0.2 m inboard of the face at 785 + 25: on the axle, 785 − 136 − 610 = 39 mm from the tyre.
    const shape = { from: 'hub', on: 'knuckle', lines: [['0, -200, 0 mm']] };
    const world = worldOf({ measured: EXACT, fitted: [{ from: 'inline', id: 'bracket', kind: 'own_obstacle', at: 'rear-left', shape }] });
    expect(world.of('tyre_gap', 'bracket')).toBeCloseTo(0.039, 6);
    expect([world.has('bracket@rear-right'), world.of('contact_steer', 'bracket')]).toEqual([false, 0]);
    const frame = worldOf({
      measured: EXACT,
      fitted: [
        {
          from: 'inline',
          id: 'tank',
          kind: 'own_obstacle',
          at: 'rear-right',
          shape: { from: 'hub', on: 'chassis', lines: [['0, -200, 200 mm']] },
        },
      ],
    });
    expect(frame.of('tyre_gap', 'tank')).toBeLessThan(0.039);
  });
});

describe('a rear corner that nobody has drawn', () => {
  const arch = [{ from: 'inline', id: 'own-arch', kind: 'rear_arch', at: 'rear' }];
  const id = `own-arch${LEFT}`;

  it('is not known before it is read', () => {
    const none = worldOf({ fitted: arch });
    expect(none.of('tyre_gap', id)).toBeNaN();
    expect(none.has(`rear-arches${LEFT}`)).toBe(false);
  });

  it('goes by five readings: travel to the stop, its height, travel to where it hangs, gap and direction', () => {
    const five = [
      { quantity: 'rear_stop_gap', value: '80 mm ± 0' },
      read('stop_free_height', 'rear', '60 mm ± 0'),
      read('hub_to_frame', 'rear', '300 mm ± 0'),
      read('hub_to_frame_hanging', 'rear', '390 mm ± 0'),
      read('tyre_gap_at_ride', 'own-arch', '190 mm ± 0'),
      read('contact_rise', 'own-arch', '90 deg ± 0'),
      { quantity: 'wheel_track', value: '1600 mm ± 0' },
      read('axle_stop_at', 'rear', '480 mm ± 0'),
      read('axle_damper_at', 'rear', '480 mm ± 0'),
    ];
    const world = worldOf({ fitted: arch, measured: five });
    // Up 80 + 60/2 = 110 mm level; crossed up (800 − 480)·(110 + 90)/960 = 66.7 mm more: 190 − 176.7.
    expect(world.of('tyre_gap', id)).toBeCloseTo(0.19 - 0.11 - 0.2 / 3, 6);
  });

  it('is left open in bump by a reading at ride height alone', () => {
    const world = worldOf({ fitted: arch, measured: [read('tyre_gap_at_ride', 'own-arch', '190 mm ± 0')] });
    expect(world.of('tyre_gap', id)).toBeLessThan(0.12);
    expect(worldOf({ fitted: arch, measured: [read('gap_at_bump', 'own-arch', '12 mm ± 1')] }).of('tyre_gap', id)).toBe(0.012);
  });
});

describe('the lean of the body', () => {
  it('is an arm about its mounts, worked by hand', () => {
    expect(leanArm([0, 0.8, 1], [0, 0, 1], 0.55)).toBeCloseTo(0.8, 12);
    expect(leanArm([0, 0.55, 0.95], [0, -1, 0], 0.55)).toBeCloseTo(0.4, 12);
    // Aslant: 0.6·0.8 + 0.8·0.3 = 0.72.
    expect(leanArm([0, 0.8, 0.85], [0, -0.8, 0.6], 0.55)).toBeCloseTo(0.72, 12);
  });

  it('takes of the gaps to what is on the body, front and rear, and of nothing else', () => {
    const lean = (value: string) => worldOf({ measured: [{ quantity: 'body_lean', value }] });
    const [none, some] = [lean('0 deg'), lean('1 deg')];
    for (const [id, arm] of [
      [`rear-arches${LEFT}`, 0.7],
      ['top-liners@front-left', 0.7],
      ['spring-clamps@rear-left', 0],
      ['cab-mounts@front-left', 0],
    ] as const) {
      const lost = some.of('running_loss', id) - none.of('running_loss', id);
      if (arm === 0) expect(lost, id).toBe(0);
      else expect(lost, id).toBeGreaterThan((arm * Math.PI) / 180 - 0.004);
    }
  });
});
