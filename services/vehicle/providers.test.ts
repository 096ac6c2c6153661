/** Each provider on one vehicle through the whole graph, against sums done by hand; the front geometry has published values of its own. */
import { describe, expect, it } from 'vitest';
import { loadLibrary, readRuleFiles } from '../engine/index.ts';
import { Texts } from '../engine/values.ts';
import { RULES_FOLDER } from '../paths.ts';
import { assemble } from './assembly.ts';
import { type CheckRequest, PLACE_LEVELS } from './index.ts';
import { PLACES } from './places.ts';
import { createWorld } from './world.ts';

const REQUEST: CheckRequest = {
  vehicle: {
    from: 'inline',
    class: 'midsize_independent_front',
    values: {
      wheelbase: '3200 mm ± 0',
      kerb_axle_mass: { front: '1100 kg ± 0', rear: '900 kg ± 0' },
      axle_rating: { front: '1300 kg ± 0', rear: '1500 kg ± 0' },
      gross_mass_rating: '2600 kg ± 0',
      spring_wheel_rate: { front: '30 N/mm ± 0', rear: '60 N/mm ± 0' },
      speedometer_over_reading: '4 % ± 0 %',
    },
    fitted: [
      {
        from: 'inline',
        id: 'old-tyres',
        kind: 'tyre',
        at: 'all',
        attributes: { designation: '265/65R17 112T', overall_diameter: '776 mm', section_width: '271 mm', mass: '15 kg ± 0' },
      },
      {
        from: 'inline',
        id: 'old-wheels',
        kind: 'wheel',
        at: 'all',
        attributes: { offset: '25 mm ± 0', rim_width: '7.5 in ± 0', mass: '11 kg ± 0' },
      },
      { from: 'inline', id: 'hoses', kind: 'brake_hose', at: 'front' },
      { from: 'inline', id: 'shaft', kind: 'steering_shaft' },
    ],
    measured: [{ quantity: 'hose_route', of: 'hoses', value: '412 mm ± 0' }],
  },
  parts: [
    {
      from: 'inline',
      id: 'tyres',
      kind: 'tyre',
      at: 'all',
      replaces: 'old-tyres',
      attributes: { designation: 'LT265/70R17 121/118S E', overall_diameter: '830 mm ± 0', section_width: '315 mm', mass: '20 kg ± 0' },
    },
    {
      from: 'inline',
      id: 'wheels',
      kind: 'wheel',
      at: 'all',
      replaces: 'old-wheels',
      attributes: { backspacing: '130 mm ± 0', rim_width: '9 in ± 0', mass: '11 kg ± 0' },
    },
    { from: 'inline', id: 'spacers', kind: 'wheel_spacer', at: 'front', attributes: { thickness: '20 mm ± 0', mass: '0 kg ± 0' } },
    {
      from: 'inline',
      id: 'coilovers',
      kind: 'front_coilover',
      at: 'front',
      attributes: { droop_added: '22 mm ± 0', rated_extra_mass: '45 kg ± 0', mass: '10 kg ± 0' },
    },
    { from: 'inline', id: 'winch', kind: 'winch', attributes: { mass: '40 kg ± 0', behind_front_axle: '-800 mm ± 0' } },
    { from: 'inline', id: 'lift', kind: 'body_lift', attributes: { height: '25 mm ± 0', mass: '0 kg ± 0' } },
  ],
  load: { items: [{ name: 'bags', mass: '100 kg ± 0', behind_front_axle: '2400 mm ± 0' }] },
};

const { library } = loadLibrary(readRuleFiles(RULES_FOLDER), PLACE_LEVELS);
const assembled = assemble(REQUEST, { vehicles: new Map(), parts: new Map(), hash: 'none' }, library);
if (!assembled.ok) throw new Error(JSON.stringify(assembled.faults, null, 1));
const world = createWorld(assembled.assembly, library, new Texts());

const slotOf = (name: string, of?: string): number => {
  const part = assembled.ok ? assembled.assembly.parts.find(({ id }) => id === of) : undefined;
  return world.values.slot(name, of === undefined ? [] : [part?.subject ?? PLACES.indexOf(of as never)]);
};

const G = 9.80665;
/** Name, whose it is, value in SI, and how it comes about. */
const BY_HAND: readonly (readonly [name: string, of: string | undefined, value: number])[] = [
  // 100 kg at 2400 of 3200 mm: 25 and 75 kg. The winch, 800 mm ahead: 40 × 1.25 and −10 kg. Tyres: 2 × 5 kg an axle. Coil-overs: 10 kg.
  ['axle_load_as_fitted', 'front', 1125],
  ['axle_load_as_fitted', 'rear', 975],
  ['axle_load_change', 'front', 70],
  ['axle_load_change', 'rear', 0],
  // Of them the springs carry no tyres.
  ['sprung_load_change', 'front', 60],
  ['sprung_load_change', 'rear', -10],
  ['axle_load', 'front', 1195],
  ['gross_mass', undefined, 2170],
  ['mass_added', undefined, 70],
  ['payload_left', undefined, 430],
  ['part.behind_front_axle', 'tyres@rear-left', 3.2],
  ['part.behind_front_axle', 'tyres@front-left', 0],
  ['tyre_load', 'front-left', 597.5],
  ['load_drop', 'front', (25 * G) / 60_000],
  ['ride_height_drop', 'front', ((60 - 45) * G) / 60_000],
  // Load index 112 is 1120 kg; a passenger tyre carries 1/1.10 of it on a truck. Index 121 is 1450 kg, and a truck tyre's.
  ['tyre.load_index', 'old-tyres@front-left', 112],
  ['tyre.load_capacity', 'old-tyres@front-left', 1120],
  ['tyre_rating', 'old-tyres@front-left', 1120 / 1.1],
  ['tyre_rating', 'tyres@front-left', 1450],
  ['tyre.rim_diameter', 'tyres@front-left', 0.432],
  ['tyre.speed_capability', 'old-tyres@front-left', 190 / 3.6],
  ['tyre.reference_pressure', 'tyres@front-left', 550e3],
  ['pressure_needed', 'tyres@front-left', 550e3 * (597.5 / 1450) ** (1 / 0.7)],
  ['tyre_radius_growth', 'front-left', 0.027],
  ['tyre_width_growth', 'front-left', 0.044],
  // Offset 130 − (228.6 + 25.4)/2 = 3 mm; out by 25 − 3 mm, and by the spacer of 20 mm at the front.
  ['wheel.offset', 'wheels@front-left', 0.003],
  ['backspacing_of', 'old-wheels@front-left', (7.5 * 0.0254 + 0.0254) / 2 + 0.025],
  ['wheel_outward_shift', 'front-left', 0.042],
  ['wheel_outward_shift', 'rear-left', 0.022],
  ['track_change', 'front', 0.084],
  ['droop_added', 'front', 0.022],
  ['hose_route_max', 'hoses@front-left', 0.412 + 0.022],
  ['torque_arm_growth', 'front', (1195 * 830) / (1300 * 776) - 1],
  ['frame_shift', 'shaft', 0.025],
  ['body_lift_total', undefined, 0.025],
  ['body_lift_fitted', undefined, 0],
  ['speedometer_calibrated_diameter', undefined, 0.776],
  ['driven_tyre_diameter', undefined, 0.83],
  ['indicated_speed_at_50', undefined, ((50 / 3.6) * 1.04 * 776) / 830],
];

describe('by hand', () => {
  it.each(BY_HAND)('%s of %s', (name, of, value) => {
    const found = world.values.read(slotOf(name, of));
    expect(Math.abs(found - value)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(value)));
  });

  it('the sides of an axle may differ by 4 % of half its load (common practice, no source)', () => {
    const { low, high } = world.bands.of(slotOf('tyre_load', 'front-left'));
    expect([low, high]).toEqual([597.5 * 0.96, 597.5 * 1.04].map((x) => expect.closeTo(x, 9)));
  });
});

describe('springs that come on', () => {
  /** The rear, of a truck with other springs there. */
  const rear = (attributes: Record<string, string>) => {
    const springs = {
      from: 'inline',
      id: 'springs',
      kind: 'rear_spring',
      at: 'rear',
      attributes: { rated_extra_mass: '1000 kg ± 0', mass: '0 kg ± 0', ...attributes },
    };
    const request = { vehicle: REQUEST.vehicle, parts: [springs], load: REQUEST.load } as unknown as CheckRequest;
    const made = assemble(request, { vehicles: new Map(), parts: new Map(), hash: 'none' }, library);
    if (!made.ok) throw new Error(JSON.stringify(made.faults));
    const { values } = createWorld(made.assembly, library, new Texts());
    const subject = PLACES.indexOf('rear');
    return Object.fromEntries(
      ['spring_wheel_rate_after', 'ride_height_drop', 'load_drop'].map((name) => [name, values.read(values.slot(name, [subject]))]),
    );
  };

  it('rise and drop by their own rate: 1000 kg and 75 kg over 2·120 N/mm', () => {
    const stated = rear({ spring_rate: '120 N/mm ± 0' });
    expect(stated.spring_wheel_rate_after).toBeCloseTo(120_000, 3);
    expect(stated.ride_height_drop).toBeCloseTo((-1000 * G) / 240_000, 9);
    expect(stated.load_drop).toBeCloseTo((75 * G) / 240_000, 9);
  });

  it('are taken as stiffer than those before, from alike to 2.2 times, where nobody says', () => {
    expect(rear({}).spring_wheel_rate_after).toBeCloseTo(1.6 * 60_000, 3);
    for (const kind of ['front_spring', 'rear_spring']) {
      const ratio = library.kinds.get(kind)?.typical.get('rate_ratio');
      expect([(ratio?.value ?? 0) - (ratio?.plusMinus ?? 0), (ratio?.value ?? 0) + (ratio?.plusMinus ?? 0)]).toEqual([1, 2.2]);
    }
  });
});

describe('a beam front axle on arms, 100 mm higher', () => {
  const lost = (said: Record<string, string>): number => {
    const springs = {
      from: 'inline',
      kind: 'front_spring',
      at: 'front',
      attributes: { height_added: '100 mm', rated_extra_mass: '0 kg', mass: '0 kg' },
    };
    const request = {
      vehicle: { from: 'inline', class: 'solid_axle_short', values: { control_arm_length: '580 mm', ...said } },
      parts: [springs],
    };
    const made = assemble(request as unknown as CheckRequest, { vehicles: new Map(), parts: new Map(), hash: 'none' }, library);
    if (!made.ok) throw new Error(JSON.stringify(made.faults));
    const { values } = createWorld(made.assembly, library, new Texts());
    return values.read(values.slot('beam_caster_lost', []));
  };

  it('turns by the swing of its radius arms', () => expect(lost({ front_arms: 'radius_arms' })).toBeCloseTo(Math.asin(100 / 580), 9));
  it('turns by what is read, of links and of any', () => {
    expect(lost({ front_arms: 'links' })).toBeNaN();
    expect(lost({})).toBeNaN();
    expect(lost({ front_arms: 'links', beam_caster_lost: '-0.6 deg' })).toBeCloseTo((-0.6 * Math.PI) / 180, 9);
  });
});

describe('a brake hose on a beam axle, crossed up', () => {
  // (105 + 110)/(440 + 470) = 0.2363; 620 - 470 = 150 mm further out than the dampers: 35.4 mm by hand.
  const FALL = (0.15 * 0.215) / 0.91;
  const added = (laid: Record<string, string>) => {
    const values = {
      bump_travel_left: { front: '105 mm' },
      droop_travel_left: { front: '110 mm' },
      axle_stop_at: { front: '440 mm' },
      axle_damper_at: { front: '470 mm' },
    };
    const hose = {
      from: 'inline',
      id: 'hoses',
      kind: 'brake_hose',
      at: 'front',
      attributes: { free_length: '445 mm', end_at: '620 mm', ...laid },
    };
    const vehicle = { from: 'inline', class: 'solid_axle_long', values, fitted: [hose] };
    const made = assemble(
      { vehicle, parts: [] } as unknown as CheckRequest,
      { vehicles: new Map(), parts: new Map(), hash: 'none' },
      library,
    );
    if (!made.ok) throw new Error(JSON.stringify(made.faults));
    const { values: all } = createWorld(made.assembly, library, new Texts());
    const subject = made.assembly.parts.find(({ id }) => id === 'hoses@front-left')?.subject ?? -1;
    const slot = all.slot('hose_crossed_added', [subject]);
    const value = all.read(slot);
    return { value, error: all.node(slot).modelError };
  };

  it('needs what the tilt takes, where its string was laid with the axle level', () => {
    expect(added({ string_laid: 'level' }).value).toBeCloseTo(FALL, 9);
  });
  it('needs nothing more, where it was laid crossed up', () => expect(added({ string_laid: 'crossed' }).value).toBe(0));
  it('may need all of it or nothing, where nobody says', () => {
    const { value, error } = added({});
    expect(value).toBeCloseTo(FALL / 2, 9);
    expect(Object.values(error).map((half) => Number(half.toFixed(9)))).toEqual(
      Object.values(error).map(() => Number((FALL / 2).toFixed(9))),
    );
  });
});
