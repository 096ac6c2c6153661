import { describe, expect, it } from 'vitest';
import { makeRuleSet } from '../workshop/rule-set.ts';
import { answer, checker, demoBuild, demoCatalogue, faults } from '../workshop/testing.ts';
import { assemble } from './assembly.ts';
import type { CheckRequest } from './index.ts';
import { subjectOf } from './places.ts';
import { createWorld } from './world.ts';

const { texts } = makeRuleSet(checker.library);
const FRONT = subjectOf('front');

interface Asked {
  readonly class?: string;
  readonly values?: Record<string, unknown>;
  readonly measured?: readonly unknown[];
  readonly parts?: readonly unknown[];
  readonly load?: object;
}

const THIRTY_THREES = {
  from: 'inline',
  kind: 'tyre',
  at: 'all',
  replaces: 'factory-tyres',
  attributes: { designation: '33x10.50R17LT 115Q' },
};
const LIFT = {
  from: 'inline',
  kind: 'front_coilover',
  at: 'front',
  attributes: { height_added: '60 mm ± 3', droop_added: '22 mm ± 2', collapsed_length: '430 mm ± 2' },
};

function worldOf({ class: of = 'midsize_independent_front', values, measured, load, parts = [THIRTY_THREES, LIFT] }: Asked) {
  const request = {
    vehicle: { from: 'inline', class: of, ...(values && { values }), ...(measured && { measured }) },
    parts,
    ...(load && { load }),
  } as unknown as CheckRequest;
  const assembled = assemble(request, demoCatalogue, checker.library);
  if (!assembled.ok) throw new Error(JSON.stringify(assembled.faults));
  const world = createWorld(assembled.assembly, checker.library, texts);
  const slot = (name: string, subject: number): number => world.values.slot(name, [subject]);
  const part = (id: string): number => {
    const found = world.present.find((each) => each.id === id);
    if (!found) throw new Error(`no ${id}`);
    return found.subject;
  };
  return {
    axle: (name: string) => world.values.read(slot(name, FRONT)),
    tolerance: (name: string) => world.values.toleranceOf(slot(name, FRONT)),
    reason: (name: string) => world.values.node(slot(name, FRONT)).reason,
    text: (name: string) => world.values.textOf(world.values.read(slot(name, FRONT))),
    textOf: (name: string, id: string) => world.values.textOf(world.values.read(slot(name, part(id)))),
    of: (name: string, id: string) => world.values.read(slot(name, part(id))),
    band: (name: string, id: string) => world.bands.of(slot(name, part(id))),
    bandOf: (name: string) => world.bands.of(slot(name, FRONT)),
    doubted: (name: string) => world.bands.of(slot(name, FRONT)).doubt.map((each) => world.values.node(each.slot).name),
  };
}

/** The class's point with one coordinate moved, as a person would state it. */
const moved = (name: string, [x, y, z]: readonly number[]) => ({ [name]: { front: `${x}, ${y}, ${z} mm` } });

interface Pair {
  readonly read: ReturnType<typeof worldOf>;
  readonly not: ReturnType<typeof worldOf>;
}

describe('the front corner of a vehicle', () => {
  const asItIs = worldOf({});

  it('a hardpoint moved by 10 mm changes what rests on it and nothing else', () => {
    // Inner ball of the tie rod: it steers and says nothing of springs and stops.
    const steers = worldOf({ values: moved('tie_rod_inner', [142, 315, 271]) });
    expect(Math.abs(steers.axle('toe_change') - asItIs.axle('toe_change'))).toBeGreaterThan(1e-3);
    // Its ball's height also lifts a toed wheel by some tenths of a millimetre far from design height.
    for (const name of ['front_rise', 'droop_left', 'bump_stop_gap', 'full_droop', 'damper_left_at_stop'])
      expect(steers.axle(name), name).toBeCloseTo(asItIs.axle(name), 3);
    // Inner joint of the half-shaft: only the shaft knows it.
    const drives = worldOf({ values: moved('half_shaft_inner', [-18, 235, 402]) });
    expect(Math.abs(drives.axle('shaft_inner_left') - asItIs.axle('shaft_inner_left'))).toBeGreaterThan(1e-3);
    for (const name of ['toe_change', 'front_rise', 'hose_span', 'upper_joint_left', 'camber_change'])
      expect(drives.axle(name), name).toBeCloseTo(asItIs.axle(name), 12);
    expect(drives.of('tyre_gap_change', 'cab-mounts@front-left')).toBeCloseTo(asItIs.of('tyre_gap_change', 'cab-mounts@front-left'), 9);
    // Front bush of the upper arm: camber and caster, and with them the gaps.
    const leans = worldOf({ values: moved('upper_arm_front_bush', [140, 368, 668]) });
    for (const name of ['camber_change', 'caster_change', 'toe_change', 'cam_needed', 'upper_joint_left'])
      expect(Math.abs(leans.axle(name) - asItIs.axle(name)), name).toBeGreaterThan(1e-5);
    expect(leans.of('tyre_gap_change', 'cab-mounts@front-left')).not.toBeCloseTo(asItIs.of('tyre_gap_change', 'cab-mounts@front-left'), 5);
  });

  it.each([
    ['upper_ball_joint', '-15, -630, 655 mm', 'upper_ball_joint'],
    ['lower_ball_joint', '8, 728, 912 mm', 'lower_ball_joint'],
    ['tie_rod_outer', '130, -752, 243 mm', 'tie_rod_outer'],
  ])('a sign wrong in %s is a reason that names the point, never a number', (name, point, named) => {
    const world = worldOf({ values: { [name]: { front: point } } });
    for (const quantity of ['front_rise', 'camber_change', 'toe_change', 'full_droop']) {
      expect(world.axle(quantity), quantity).toBeNaN();
    }
    expect(world.axle('front_geometry')).toBeNaN();
    expect(world.reason('front_geometry')).toContain(named);
  });

  it('points that do not go together are told by name in the findings, and nothing is asked for that nobody can give', () => {
    for (const [values, named] of [
      [{ upper_ball_joint: { front: '-15, -630, 655 mm' } }, 'upper_ball_joint'],
      [{ coil_over_upper: { front: '0, 470, 135 mm' } }, 'coil_over_upper'],
    ] as const) {
      const { findings, measure } = answer({
        vehicle: { from: 'inline', class: 'midsize_independent_front', values },
        parts: [LIFT] as never,
        load: { occupants: 2 },
      });
      const droop = findings.find(({ rule }) => rule === 'droop-left');
      expect(droop?.verdict).toBe('unknown');
      expect(droop?.says).toContain(named);
      expect(measure.map(({ quantity }) => quantity)).not.toContain('front_geometry');
    }
    const turned = worldOf({ values: moved('tie_rod_inner', [-142, 315, 261]) });
    expect(turned.of('tyre_gap_change', 'cab-mounts@front-left')).toBeNaN();
    expect(turned.axle('droop_in_hand')).toBeNaN();
    expect(turned.reason('droop_in_hand')).toContain('tie_rod');
  });

  it('tells camber, caster, trail, where the steering axis meets the ground and the roll centre, as it stands and as planned', () => {
    const stock = worldOf({ parts: [] });
    // At design height: the class's own drawing, by an independent solver; the tyre stands a little higher than its design.
    expect(stock.axle('inclination_at_ride')).toBeCloseTo((12.5 * Math.PI) / 180, 1);
    expect(stock.axle('coil_over_motion_ratio')).toBeCloseTo(0.575, 2);
    expect(Math.abs(stock.axle('steering_axis_offset') - 0.025)).toBeLessThan(0.003);
    const out = worldOf({
      parts: [{ from: 'inline', kind: 'wheel', id: 'w', at: 'all', replaces: 'factory-wheels', attributes: { offset: '-5 mm' } }],
    });
    // The axis meets the ground as much further inboard of the tyre as the tyre stands further out.
    expect(out.axle('steering_axis_offset') - out.axle('steering_axis_offset_fitted')).toBeCloseTo(0.03, 3);
    expect(out.axle('mechanical_trail')).toBeCloseTo(out.axle('mechanical_trail_fitted'), 3);
    const lifted = worldOf({ parts: [LIFT] });
    expect(lifted.axle('roll_centre_height')).toBeGreaterThan(lifted.axle('roll_centre_height_fitted') + 0.03);
    expect(lifted.axle('caster_at_ride')).toBeLessThanOrEqual(lifted.axle('caster_at_ride_fitted') + 1e-9);
  });

  it('tells the gap to the largest tyre of the size beside that to the one that is planned', () => {
    const world = worldOf({ parts: [THIRTY_THREES, LIFT] });
    for (const id of ['cab-mounts', 'rear-liners', 'frame-rails']) {
      const [own, largest] = ['tyre_gap_after', 'tyre_gap_largest'].map((name) => world.of(name, `${id}@front-left`)) as [number, number];
      expect(largest, id).toBeLessThan(own);
      expect(own - largest, id).toBeLessThan(0.05);
    }
    const { findings } = answer(demoBuild('bold'));
    expect(findings.find(({ rule }) => rule === 'cab-mount-gap')?.says).toMatch(/mm with the largest tyre of this size/);
  });

  it('what is known of the whole pins the drawing down: bench-measured points leave less open than the class', () => {
    expect(asItIs.tolerance('toe_gained_up')).toBeGreaterThan(1e-3);
    const bench = worldOf({
      values: {
        ...moved('tie_rod_inner', [142, 315, 261]),
        ...moved('tie_rod_outer', [130, 752, 243]),
        ...moved('upper_ball_joint', [-15, 630, 655]),
        ...moved('lower_ball_joint', [8, 728, 212]),
      },
    });
    expect(bench.tolerance('toe_gained_up')).toBeLessThan(asItIs.tolerance('toe_gained_up'));
  });

  it('with the class and four readings the answer at the mount is the reading and what geometry takes of it', () => {
    const reading = (of: string, value: string) => ({ quantity: 'tyre_gap', of, value });
    const taped = worldOf({
      measured: [
        reading('cab-mounts@front-left', '44 mm ± 2'),
        reading('cab-mounts@front-right', '45 mm ± 2'),
        { quantity: 'lock_angle', of: 'front-left', value: '36.5 deg ± 0.5' },
        { quantity: 'lock_angle', of: 'front-right', value: '36.5 deg ± 0.5' },
      ],
    });
    const [before, change] = [taped.of('tyre_gap', 'cab-mounts@front-left'), taped.of('tyre_gap_change', 'cab-mounts@front-left')];
    expect(before).toBe(0.044);
    expect(taped.of('tyre_gap_after', 'cab-mounts@front-left')).toBeCloseTo(before + change, 12);
    const [rough, fine] = [asItIs.band('tyre_gap_after', 'cab-mounts@front-left'), taped.band('tyre_gap_after', 'cab-mounts@front-left')];
    expect(fine.high - fine.low).toBeLessThan(0.75 * (rough.high - rough.low));
    expect(fine.high - fine.low).toBeGreaterThan(0.01);
  });

  it('what is read standing is read of the empty truck: people and load come on top of it', () => {
    const aboard = (occupants: number, items: readonly object[] = []) => ({ occupants, items });
    const plough = [{ mass: '300 kg ± 0', behind_front_axle: '-800 mm ± 0' }];
    const gap = { quantity: 'bump_stop_gap', of: 'front', value: '45 mm ± 4' };
    const slope = { quantity: 'shaft_slope_at_ride', of: 'front', value: '4 deg ± 0.5' };
    const [empty, full, nosed] = [aboard(0), aboard(5), aboard(2, plough)].map((load) => ({
      read: worldOf({ parts: [], measured: [gap, slope], load }),
      not: worldOf({ parts: [], load }),
    })) as [Pair, Pair, Pair];
    expect(empty.read.axle('bump_stop_gap')).toBeCloseTo(0.045, 6);
    for (const name of ['bump_stop_gap', 'shaft_slope_at_ride', 'droop_left'])
      for (const laden of [full, nosed])
        expect(Math.abs(laden.read.axle(name) - empty.read.axle(name) - (laden.not.axle(name) - empty.not.axle(name))), name).toBeLessThan(
          2e-3,
        );
    expect(full.read.axle('bump_stop_gap')).toBeLessThan(0.035);
    expect(nosed.read.axle('bump_stop_gap')).toBeLessThan(0);
    expect(full.read.axle('shaft_slope_at_ride')).toBeLessThan(empty.read.axle('shaft_slope_at_ride') - 0.02);
    // As it stands it is told of unladen, whoever is to ride in it.
    for (const name of ['hub_to_arch', 'camber_lowered', 'bump_stop_gap_fitted'])
      expect(full.not.axle(name), name).toBeCloseTo(empty.not.axle(name), 6);
  });

  it('lifts of every kind leave what they leave undone', () => {
    const part = (kind: string, attributes: Record<string, string>) =>
      worldOf({ parts: [{ from: 'inline', kind, at: 'front', attributes }] });
    const stock = worldOf({ parts: [] });
    const change = (world: ReturnType<typeof worldOf>, name: string) => Math.round((world.axle(name) - stock.axle(name)) * 1e4) / 10;
    // A longer coil-over gives droop as far as it is longer, and bump travel for its height.
    const longer = worldOf({ parts: [LIFT] });
    // As stated, less what the units themselves weigh more.
    expect(change(longer, 'front_rise')).toBeGreaterThan(58);
    expect(change(longer, 'front_rise')).toBeLessThanOrEqual(60);
    expect(change(longer, 'full_droop')).toBeLessThan(-20);
    expect(change(longer, 'bump_stop_gap')).toBeCloseTo(60, -1);
    // A top spacer lowers the whole unit: droop and height alike, and the damper runs solid earlier.
    const top = part('coilover_spacer', { thickness: '25 mm ± 0.2' });
    expect(change(top, 'front_rise')).toBeGreaterThan(30);
    expect(Math.abs(change(top, 'droop_left'))).toBeLessThan(0.25 * change(top, 'front_rise'));
    expect(change(top, 'damper_left_at_stop')).toBeLessThan(-20);
    // A preload spacer lifts and gives no droop.
    const preload = part('preload_spacer', { thickness: '10 mm ± 0.2' });
    expect(change(preload, 'front_rise')).toBeGreaterThan(10);
    expect(Math.abs(change(preload, 'full_droop'))).toBeLessThan(1.5);
    expect(Math.abs(change(preload, 'droop_left') + change(preload, 'front_rise'))).toBeLessThan(1.5);
    // A bump-stop spacer only takes bump travel.
    const stop = part('bump_stop_spacer', { height: '15 mm ± 0.5' });
    expect(Math.abs(change(stop, 'front_rise'))).toBeLessThan(0.5);
    expect(change(stop, 'full_bump')).toBeLessThan(-10);
    expect(change(stop, 'damper_left_at_stop')).toBeGreaterThan(5);
    // A lowered differential straightens the shafts.
    const diff = part('differential_drop', { drop: '25 mm ± 0.5' });
    expect(Math.abs(change(diff, 'front_rise'))).toBeLessThan(0.5);
    expect(diff.axle('shaft_angle_at_ride')).not.toBeCloseTo(stock.axle('shaft_angle_at_ride'), 2);
  });

  const spacer = (thickness: number) => ({
    from: 'inline',
    kind: 'coilover_spacer',
    at: 'front',
    attributes: { thickness: `${thickness} mm ± 0.2` },
  });

  it('droop reaches hose and wire however it was gained, and no joint that binds on the way holds the wheel up', () => {
    const worlds = [0, 10, 20, 25, 40, 50].map((thickness) =>
      worldOf({
        parts: thickness > 0 ? [spacer(thickness)] : [],
        measured: [{ quantity: 'hose_route', of: 'factory-front-hoses', value: '396 mm ± 5' }],
      }),
    );
    for (const world of worlds) {
      expect(world.axle('droop_added')).toBeCloseTo(world.axle('full_droop_fitted') - world.axle('full_droop'), 12);
      expect(world.of('hose_route_max', 'factory-front-hoses@front-left')).toBeCloseTo(0.396 + world.axle('droop_added'), 12);
    }
    for (let i = 1; i < worlds.length; i++) {
      const [less, more] = [worlds[i - 1], worlds[i]] as [ReturnType<typeof worldOf>, ReturnType<typeof worldOf>];
      for (const name of ['full_droop', 'upper_joint_left', 'lower_joint_left', 'shaft_inner_left', 'damper_left_at_stop'])
        expect(more.axle(name), name).toBeLessThan(less.axle(name));
      expect(more.axle('droop_added')).toBeGreaterThan(less.axle('droop_added') + 0.005);
      // The bump stop is where it was: a damper that runs solid before it makes no gap larger.
      expect(more.axle('full_bump')).toBeCloseTo(less.axle('full_bump'), 3);
      expect(more.tolerance('full_droop')).toBeLessThan(0.03);
    }
    // A coil-over of which only the length is stated lets the wheel hang as far as that length does.
    const long = worldOf({
      parts: [{ ...LIFT, attributes: { height_added: '50 mm ± 3', extended_length: '585 mm ± 1' } }],
      measured: [{ quantity: 'hose_route', of: 'factory-front-hoses', value: '396 mm ± 5' }],
    });
    expect(long.axle('droop_added')).toBeGreaterThan(0.02);
    // What hangs nothing lower says exactly so.
    expect(worldOf({ parts: [THIRTY_THREES] }).axle('droop_added')).toBe(0);
  });

  const HANGING = ['full_droop', 'upper_joint_left', 'lower_joint_left', 'shaft_inner_left', 'shaft_outer_left', 'anti_roll_link_left'];
  const lift = (attributes: Record<string, string>) => [{ ...LIFT, attributes: { height_added: '60 mm', ...attributes } }];
  const thick = (kind: string, thickness: string) => [{ from: 'inline', kind, at: 'front', attributes: { thickness } }];
  it.each([
    ['how far a lift lets the wheel hang', 'droop_added', '32 mm ± 32', ['0 mm', '64 mm'], [...HANGING, 'droop_left', 'hose_span'], lift],
    ['how long it is', 'extended_length', '575 mm ± 12', ['563 mm', '587 mm'], HANGING, lift],
    ['how high it lifts', 'height_added', '50 mm ± 15', ['35 mm', '65 mm'], ['front_rise', 'bump_stop_gap', 'shaft_angle_at_ride'], lift],
    ['a spacer', 'thickness', '20 mm ± 10', ['10 mm', '30 mm'], ['front_rise', 'lower_joint_left', 'damper_left_at_stop'], undefined],
  ] as const)('%s is an input: its tolerance holds what either end of it comes to', (_, attribute, open, ends, names, made) => {
    const other = attribute === 'height_added' ? { droop_added: '20 mm' } : {};
    const with_ = (value: string, of?: string) =>
      worldOf({ ...(of && { class: of }), parts: made ? made({ ...other, [attribute]: value }) : thick('coilover_spacer', value) });
    for (const of of ['midsize_independent_front', 'fullsize_independent_front']) {
      const wide = with_(open, of);
      for (const name of names) {
        const { low, high } = wide.bandOf(name);
        expect(
          wide.doubted(name).some((doubted) => doubted.endsWith(`.${attribute}`)),
          `${of} ${name}`,
        ).toBe(true);
        for (const end of ends) {
          const pinned = with_(end, of).bandOf(name);
          // A drawing leaves a little more or less open from one place to the next.
          const share = 0.06 * (pinned.high - pinned.low);
          expect(low, `${of} ${name} at ${end}`).toBeLessThanOrEqual(pinned.low + share);
          expect(high, `${of} ${name} at ${end}`).toBeGreaterThanOrEqual(pinned.high - share);
        }
      }
    }
  });

  it('a reading is of the vehicle as it stands, and leaves what parts change of it to them', () => {
    const reading = { quantity: 'damper_left_at_stop', of: 'front', value: '20 mm ± 3' };
    const [taken, planned, plain] = [
      worldOf({ parts: [spacer(25)], measured: [reading] }),
      worldOf({ parts: [spacer(25)], measured: [{ ...reading, with: [spacer(25)] }] }),
      worldOf({ parts: [spacer(25)] }),
    ];
    expect(taken.axle('damper_left_at_stop_fitted')).toBeCloseTo(0.02, 12);
    expect(taken.axle('damper_left_at_stop')).toBeLessThan(0);
    expect(taken.axle('damper_left_at_stop')).toBeCloseTo(plain.axle('damper_left_at_stop'), 9);
    expect(planned.axle('damper_left_at_stop')).toBeCloseTo(0.02, 12);
    const asked = answer({
      vehicle: { from: 'inline', class: 'midsize_independent_front' },
      parts: [THIRTY_THREES, LIFT] as never,
      load: { occupants: 2 },
    }).measure.map(({ quantity }) => quantity);
    expect(asked.filter((name) => name.endsWith('_fitted'))).toContain('shaft_outer_left_fitted');
    for (const name of ['bump_stop_gap', 'damper_left_at_stop', 'spring_to_arm_gap', 'shaft_outer_left', 'droop_left', 'toe_change'])
      expect(asked, name).not.toContain(name);
  });

  it('what was uncertain before the parts is so after them', () => {
    const width = (plusMinus: string) => {
      const { low, high } = worldOf({
        parts: [spacer(25)],
        measured: [{ quantity: 'damper_left_at_stop', of: 'front', value: `20 mm ± ${plusMinus}` }],
      }).bandOf('damper_left_at_stop');
      return high - low;
    };
    expect(width('10') - width('1')).toBeCloseTo(0.018, 3);
    expect(width('50') - width('10')).toBeCloseTo(0.08, 3);
    // Without a reading, what the class leaves open.
    const { low, high } = worldOf({ parts: [spacer(25)] }).bandOf('damper_left_at_stop');
    expect(high - low).toBeGreaterThan(0.012);
  });

  it('names what ends the travel each way, and how much is in hand before the next', () => {
    const text = (world: ReturnType<typeof worldOf>, name: string) => world.text(name);
    const stock = worldOf({ parts: [] });
    expect([text(stock, 'droop_stop'), text(stock, 'bump_stop_first')]).toEqual(['the damper fully out', 'the bump stop']);
    expect(stock.axle('droop_in_hand')).toBeGreaterThan(0.01);
    expect(text(stock, 'bump_stop_next')).toBe('the damper fully in');
    // A thick spacer: a joint binds before the damper is out, and the damper is solid before the stop.
    const spaced = worldOf({ parts: [spacer(40)] });
    expect(text(spaced, 'droop_stop')).not.toBe('the damper fully out');
    expect(text(spaced, 'bump_stop_first')).toBe('the damper fully in');
  });

  it('preload takes from the spring what it closes to, and coils that may touch are never passed over', () => {
    const preload = (thickness: number) => ({
      from: 'inline',
      kind: 'preload_spacer',
      at: 'front',
      attributes: { thickness: `${thickness} mm ± 0.2` },
    });
    const stock = worldOf({ parts: [] }).axle('coil_bind_left');
    expect(stock).toBeGreaterThan(0.02);
    for (const thickness of [10, 20, 30])
      expect(worldOf({ parts: [preload(thickness)] }).axle('coil_bind_left')).toBeCloseTo(stock - thickness / 1000, 6);
    const unit = (attributes: Record<string, string>) => ({
      ...LIFT,
      attributes: { height_added: '25 mm', droop_added: '10 mm', collapsed_length: '430 mm', ...attributes },
    });
    // Another coil-over has coils of its own: where they touch must be stated.
    expect(worldOf({ parts: [unit({})] }).axle('coil_bind_left')).toBeNaN();
    const verdict = (parts: readonly unknown[]) =>
      answer({
        vehicle: { from: 'inline', class: 'midsize_independent_front' },
        parts: parts as never,
        load: { occupants: 2 },
      }).findings.find(({ rule }) => rule === 'coils-before-stop');
    expect(verdict([unit({})])?.verdict).toBe('unknown');
    const bound = verdict([unit({ coil_bind_length: '470 mm' }), preload(30)]);
    expect(bound?.verdict).toBe('conflict');
    expect(bound?.says).toContain('meets the coils of the spring first');
  });

  it('a brake hose of which no string was laid is held against the straight line and the smooth way; the string goes before both', () => {
    const build = (hose: string, measured: readonly unknown[] = []) =>
      answer({
        vehicle: { from: 'inline', class: 'midsize_independent_front', measured: measured as never },
        parts: [
          LIFT,
          {
            from: 'inline',
            kind: 'brake_hose',
            id: 'hoses',
            at: 'front',
            replaces: 'factory-front-hoses',
            attributes: { free_length: hose },
          },
        ] as never,
        load: { occupants: 2 },
      }).findings.filter(({ rule }) => ['hose-spans', 'hose-way', 'brake-hose-reach'].includes(rule));
    const verdicts = (found: ReturnType<typeof build>) => Object.fromEntries(found.map(({ rule, verdict }) => [rule, verdict]));
    expect(verdicts(build('330 mm ± 2'))).toEqual({ 'hose-spans': 'conflict', 'hose-way': 'conflict', 'brake-hose-reach': 'unknown' });
    // However long, geometry alone never calls it clear: the string stays unknown.
    expect(verdicts(build('700 mm ± 2'))).toEqual({ 'brake-hose-reach': 'unknown' });
    const laid = build('470 mm ± 2', [{ quantity: 'hose_route', of: 'factory-front-hoses', value: '400 mm ± 5' }]);
    expect(verdicts(laid)).toEqual({ 'brake-hose-reach': 'clear' });
    const world = worldOf({
      parts: [LIFT],
      measured: [{ quantity: 'hose_route', of: 'factory-front-hoses', value: '425 mm ± 5' }],
    });
    const hose = 'factory-front-hoses@front-left';
    expect(world.axle('hose_way')).toBeGreaterThan(world.axle('hose_span'));
    expect(world.of('hose_route_followed', hose)).toBeGreaterThan(world.axle('hose_span') - 1e-9);
    expect(world.of('hose_route_followed', hose)).toBeLessThanOrEqual(world.of('hose_route_max', hose) + 1e-9);
    expect(world.axle('hose_span_last_stop')).toBeGreaterThan(world.axle('hose_span_furthest') - 1e-9);
  });

  it('tells where on the tyre a contact is: at full lock a mount behind the wheel meets the tread, whatever the offset', () => {
    const stock = worldOf({ parts: [THIRTY_THREES] });
    const mount = 'cab-mounts@front-left';
    expect(stock.textOf('contact_on', mount)).toBe('tread');
    expect(stock.of('contact_steer', mount)).toBeGreaterThan((30 * Math.PI) / 180);
    expect(stock.of('contact_behind', mount)).toBeGreaterThan(0.4);
    expect(stock.textOf('contact_on', 'frame-rails@front-left')).toMatch(/inner (shoulder|sidewall)/);
    expect(stock.textOf('contact_on', 'top-liners@front-left')).toMatch(/tread|shoulder/);
  });

  it('a larger tyre that contains the smaller never gains a gap, and a trim gives just what it takes off', () => {
    const with_ = (designation: string) => worldOf({ parts: [{ ...THIRTY_THREES, attributes: { designation } }, LIFT] });
    const [small, large] = [with_('265/70R17 115S'), with_('285/75R17 121S')];
    for (const id of [
      'cab-mounts',
      'pinch-seams',
      'rear-liners',
      'top-liners',
      'front-liners',
      'wing-lips',
      'frame-rails',
      'anti-roll-bar-ends',
      'mud-flaps',
    ])
      expect(large.of('tyre_gap_after', `${id}@front-left`), id).toBeLessThan(small.of('tyre_gap_after', `${id}@front-left`));
    const bold = answer({ ...demoBuild('bold'), values: 'all' });
    const [finding] = bold.findings.filter(({ rule }) => rule === 'cab-mount-gap');
    expect(finding?.work[0]?.amounts['amount']?.nominal).toBeCloseTo(-(finding?.margin?.value ?? 0), 0);
    expect(bold.after_work.cleared).toContain('cab-mount-gap:cab-mounts@front-left');
  });

  const built = (parts: readonly unknown[], measured: readonly unknown[] = []) =>
    answer({
      vehicle: { from: 'inline', class: 'midsize_independent_front', measured: measured as never },
      parts: parts as never,
      load: { occupants: 2 },
    });

  it('asks for a cut as far as a bracket bears it where that may be enough, and tells what then stays open', () => {
    const coilOver = { ...LIFT, attributes: { ...LIFT.attributes, height_added: '65 mm ± 3', coil_bind_length: '425 mm' } };
    const { findings, after_work } = built(
      [{ ...THIRTY_THREES, attributes: { designation: '33x12.50R17LT 120Q' } }, coilOver],
      [{ quantity: 'tyre_gap', of: 'cab-mounts', value: '22 mm ± 2' }],
    );
    const mount = findings.find(({ rule }) => rule === 'cab-mount-gap');
    expect(mount?.margin?.low).toBeLessThan(-20);
    expect(mount?.work.map(({ work, amounts }) => [work, amounts['amount']?.value])).toContainEqual(['trim-cab-mount', 20]);
    expect(mount?.says).not.toContain('No work');
    expect(after_work.remaining.map(({ id }) => id).join()).toContain('cab-mount-gap');
  });

  it('one pair of upper arms does for caster, camber, stud and spring, and carries the joint in where it must', () => {
    const { findings, work } = built([
      { ...LIFT, attributes: { ...LIFT.attributes, height_added: '80 mm ± 3', droop_added: '30 mm ± 2' } },
    ]);
    const asking = findings.filter(({ work: asked }) => asked.some(({ work: id }) => id === 'fit-upper-arms')).map(({ rule }) => rule);
    expect(asking).toEqual(expect.arrayContaining(['alignment-in-range', 'spring-to-upper-arm']));
    const steps = work.steps.filter(({ work: id }) => /arms/.test(id));
    expect(steps).toHaveLength(1);
    const { back, out, clear } = steps[0]?.amounts ?? {};
    expect(back?.value).toBeGreaterThan(5);
    expect(out?.value).toBeLessThan(0);
    expect(clear?.value).toBeGreaterThan(0);
  });

  it('the shape of another maker’s arm is not known until it is stated or gauged', () => {
    const arms = (attributes: Record<string, string>) => ({
      from: 'inline',
      kind: 'upper_arms',
      id: 'arms',
      at: 'front',
      attributes: { ball_joint_back: '8 mm', ball_joint_out: '-4 mm', joint_swing_gained: '10 deg', ...attributes },
    });
    const gap = (parts: readonly unknown[], measured: readonly unknown[] = []) => worldOf({ parts, measured }).axle('spring_to_arm_gap');
    const unstated = worldOf({ parts: [LIFT, arms({})] });
    expect(unstated.axle('spring_to_arm_gap')).toBeNaN();
    expect(unstated.reason('spring_to_arm_gap')).toContain('spring_gap_gained');
    const [plain, more] = [gap([LIFT, arms({ spring_gap_gained: '0 mm' })]), gap([LIFT, arms({ spring_gap_gained: '12 mm' })])];
    expect(more - plain).toBeCloseTo(0.012, 9);
    const planned = [LIFT, arms({})];
    expect(gap(planned, [{ quantity: 'spring_to_arm_gap', of: 'front', value: '6 mm', with: planned }])).toBeCloseTo(0.006, 9);
  });

  it('a point that is none is a fault at its place', () => {
    const found = faults({
      vehicle: { from: 'inline', class: 'midsize_independent_front', values: { upper_ball_joint: { front: '12, 13 mm' } } },
    });
    expect(found).toEqual([
      expect.objectContaining({
        pointer: '/vehicle/values/upper_ball_joint/front',
        code: 'POINT_WRONG',
        help: expect.stringContaining('8, 728, 212 mm'),
      }),
    ]);
  });
});
