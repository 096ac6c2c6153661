/** Readings as people write them: codes off the part, words for places and parts, and what they are told where they are not taken. */
import { describe, expect, it } from 'vitest';
import { loadLibrary, readRuleFiles } from '../engine/index.ts';
import { Texts } from '../engine/values.ts';
import { RULES_FOLDER } from '../paths.ts';
import { assemble, saidKey } from './assembly.ts';
import { type CheckRequest, createWorld, PLACE_LEVELS, type VehicleReading } from './index.ts';

const { library } = loadLibrary(readRuleFiles(RULES_FOLDER), PLACE_LEVELS);
const NO_CATALOGUE = { vehicles: new Map(), parts: new Map(), hash: '' };

const FITTED = [
  { from: 'inline', id: 'own-tyres', kind: 'tyre', at: 'all' },
  { from: 'inline', id: 'own-wheels', kind: 'wheel', at: 'all', attributes: { rim_width: '7.75 in ± 0' } },
] as const;
const request = (measured: readonly VehicleReading[], fitted: object = FITTED): CheckRequest => ({
  vehicle: { from: 'inline', class: 'midsize_independent_front', fitted: fitted as never, measured },
});
const assembled = (reading: VehicleReading) => assemble(request([reading]), NO_CATALOGUE, library);

/** By subject id, what was read, SI. */
function read(name: string, reading: VehicleReading): Record<string, number> {
  const found = assembled(reading);
  if (!found.ok) throw new Error(JSON.stringify(found.faults));
  const { parts, said } = found.assembly;
  const places = ['vehicle', 'front', 'rear', 'front-left', 'front-right', 'rear-left', 'rear-right'];
  const all = [...places.map((id, subject) => ({ id, subject })), ...parts];
  return Object.fromEntries(
    all.flatMap(({ id, subject }) => {
      const one = said.get(saidKey(name, [subject]))?.find(({ rank }) => rank === 'measured');
      return one ? [[id, one.value]] : [];
    }),
  );
}
function faultOf(reading: VehicleReading) {
  const found = assembled(reading);
  if (found.ok) throw new Error('it was taken');
  return found.faults[0];
}

const KMH = 1 / 3.6;

describe('a code that stands on the part', () => {
  // Speed symbols and load indices: UN R30, annexes; offsets as stamped.
  it.each([
    ['speed_capability', 'Q', 160 * KMH],
    ['speed_capability', 't', 190 * KMH],
    ['speed_capability', '121/118S', 180 * KMH],
    ['speed_capability', '100 mph', 44.704],
    ['load_capacity', 121, 1450],
    ['load_capacity', '112', 1120],
    ['load_capacity', '121/118Q', 1450],
    ['load_capacity', '1450 kg', 1450],
    ['load_index', 121, 121],
  ])('%s of a tyre: %s', (quantity, value, si) => {
    expect(read(`tyre.${quantity}`, { quantity, of: 'own-tyres', value })['own-tyres@rear-left']).toBeCloseTo(si, 9);
  });

  it.each([
    ['ET30', 0.03],
    ['ET+30', 0.03],
    ['ET-12', -0.012],
    ['et −12 mm', -0.012],
    ['ET 30 ± 1', 0.03],
  ])('offset of a wheel: %s', (value, si) => {
    expect(read('wheel.offset', { quantity: 'wheel.offset', of: 'own-wheels@rear-left', value })).toEqual({
      'own-wheels@rear-left': expect.closeTo(si, 12),
    });
  });

  it.each([
    ['speed_capability', 'Z', 'NOT_A_QUANTITY', /km\/h or mph, or the speed symbol .* `Q`\. How it is read: read the letter/],
    ['speed_capability', 15, 'UNIT_MISSING', /"15 km\/h", or the speed symbol/],
    ['load_capacity', '100 T', 'VALUE_OUT_OF_RANGE', /at most 5/],
    ['load_capacity', '300', 'UNIT_MISSING', /kg.*lb.*, or the load index .* `121`/],
    ['section_width', 'Q', 'NOT_A_QUANTITY', /: mm, cm, m, in or ft/],
  ])('%s is not %s', (quantity, value, code, help) => {
    expect(faultOf({ quantity, of: 'own-tyres', value })).toMatchObject({
      pointer: '/vehicle/measured/0/value',
      code,
      help: expect.stringMatching(help),
    });
  });
});

describe('a value that cannot be read', () => {
  it.each(['touches', 'rubs', '0', 0])('`%s` for a gap: the help says how contact is written', (value) => {
    const { how } = library.quantities.get('tyre_gap')?.measure ?? {};
    expect(how).toMatch(/negative gap, such as -3 mm/);
    const help = faultOf({ quantity: 'tyre_gap', of: 'cab-mounts@front-left', value })?.help;
    expect(help).toContain(how);
    expect(help).toContain('negative where they touch');
  });

  it('past a limit is told it in inches too', () =>
    expect(faultOf({ quantity: 'tyre_gap', of: 'cab-mounts', value: '24 in' })).toMatchObject({
      code: 'VALUE_OUT_OF_RANGE',
      help: 'it is at most 400 mm (15.75 in)',
    }));
  it.each([
    ['toe_change', 'read `toe_gained_up`, `toe_gained_down`'],
    ['shaft_angle_at_ride', 'shaft_slope_at_ride'],
  ])('of %s, which is worked out, is told what to read', (quantity, help) =>
    expect(faultOf({ quantity, of: 'front', value: '2 deg ± 1' })).toMatchObject({
      code: 'QUANTITY_UNKNOWN',
      help: expect.stringContaining(help),
    }),
  );
  it.each([
    ['Gap to the tyre, as it stands', 'tyre_gap'],
    ['overall diameter', 'overall_diameter'],
  ])('of what was named by its title, %s, is told its name', (title, name) =>
    expect(faultOf({ quantity: title, of: 'cab-mounts', value: '24 mm' })).toMatchObject({
      code: 'QUANTITY_UNKNOWN',
      help: expect.stringContaining(`\`${name}\``),
    }),
  );
  it('of a part that has no such attribute is told what that part has, and which kinds have it', () => {
    const fault = faultOf({ quantity: 'height_added', of: 'own-wheels', value: '20 mm' });
    expect(fault).toMatchObject({ code: 'QUANTITY_UNKNOWN', message: '`own-wheels`, of the kind `wheel`, has no `height_added`' });
    expect(fault?.help).toMatch(/^it has .*`offset` .*`height_added` is said of a `front_coilover`/);
  });
  it('of no part there is told so, and of no quantity', () =>
    expect(faultOf({ quantity: 'height_added', of: 'lift', value: '20 mm' })).toMatchObject({
      code: 'OF_UNKNOWN',
      message: 'no part here is called `lift`',
    }));
  it('of a truth is told what one looks like', () =>
    expect(faultOf({ quantity: 'clears_calipers', of: 'own-wheels', value: 'sure' })?.help).toMatch(/^write `true` or `false`/));
});

describe('backspacing that was read', () => {
  // By hand: 5.5 in - (7.75 in + two flanges of 0.5 in)/2 = 1.125 in.
  it('of a fitted wheel is its offset, by the rim', () => {
    const found = assembled({ quantity: 'backspacing', of: 'own-wheels', value: '5.5 in ± 0' });
    if (!found.ok) throw new Error(JSON.stringify(found.faults));
    const world = createWorld(found.assembly, library, new Texts());
    const [wheel] = found.assembly.parts.filter(({ group }) => group === 'own-wheels');
    const slot = world.values.slot('wheel.offset', [wheel?.subject ?? -1]);
    expect(world.values.read(slot)).toBeCloseTo(1.125 * 0.0254, 12);
  });

  it('wins over the offset of the class, and gives way to an offset that was read', () => {
    const fitted = [{ from: 'inline', id: 'factory-wheels', kind: 'wheel', at: 'all', attributes: { rim_width: '7.75 in ± 0' } }];
    const offset = (...more: VehicleReading[]): number => {
      const asked = request([{ quantity: 'backspacing', of: 'factory-wheels', value: '5.5 in ± 0' }, ...more], fitted);
      const found = assemble(asked, NO_CATALOGUE, library);
      if (!found.ok) throw new Error(JSON.stringify(found.faults));
      const world = createWorld(found.assembly, library, new Texts());
      const [wheel] = found.assembly.parts.filter(({ group }) => group === 'factory-wheels');
      return world.values.read(world.values.slot('wheel.offset', [wheel?.subject ?? -1]));
    };
    expect(offset()).toBeCloseTo(0.028575, 12);
    expect(offset({ quantity: 'offset', of: 'factory-wheels', value: 'ET25' })).toBeCloseTo(0.025, 12);
  });
});

describe('where a reading was taken', () => {
  it.each([
    ['axle_rating', '3100 lb', '`front`, `rear`; or `all`'],
    ['wheel_moved_out', '5 mm', '`front-left`, `front-right`, `rear-left`, `rear-right`; or `all`'],
    ['upper_arm_front_bush', '8, 400, 212 mm', '`front`, `rear`; or `all`'],
  ])('%s without a place is refused, with the places there are', (quantity, value, places) => {
    expect(faultOf({ quantity, value })).toMatchObject({
      pointer: '/vehicle/measured/0',
      code: 'OF_MISSING',
      help: expect.stringContaining(places),
    });
  });

  it.each(['front', 'front axle', 'the front axle', 'Front Axle'])('of an axle is taken as `%s`', (of) =>
    expect(read('axle_rating', { quantity: 'axle_rating', of, value: '3100 lb' })).toEqual({ front: expect.closeTo(1406.1, 1) }),
  );

  const MOUNT = 'Cab mount behind the wheel';
  it.each([
    [`${MOUNT} (front left and right)`, ['cab-mounts@front-left', 'cab-mounts@front-right']],
    [`${MOUNT} (front left)`, ['cab-mounts@front-left']],
    [`${MOUNT.toLowerCase()} (front right)`, ['cab-mounts@front-right']],
    [MOUNT, ['cab-mounts@front-left', 'cab-mounts@front-right']],
  ])('a part is taken as `%s`', (of, ids) =>
    expect(Object.keys(read('tyre_gap', { quantity: 'tyre_gap', of, value: '24 mm' }))).toEqual(ids),
  );

  it.each([
    ['cab-mounts@left', 'did you mean `cab-mounts@front-left`?'],
    ['cab-mount@left', 'did you mean `cab-mounts@front-left`?'],
    ['cab-mounts@rear-left', 'did you mean `cab-mounts@front-left`, `cab-mounts@front-right`?'],
    [`${MOUNT} (rear left)`, 'did you mean `cab-mounts@front-left`, `cab-mounts@front-right`?'],
    ['Cab mounts behind the wheel (front left)', 'did you mean `cab-mounts@front-left`, `cab-mounts@front-right`?'],
  ])('`%s` is refused: %s', (of, help) =>
    expect(faultOf({ quantity: 'tyre_gap', of, value: '24 mm' })).toMatchObject({ pointer: '/vehicle/measured/0/of', help }),
  );

  it('a name that two parts share is asked about', () => {
    const twins = ['a', 'b'].map((id) => ({ from: 'inline', id, kind: 'tyre', name: 'Old tyre', at: id === 'a' ? 'front' : 'rear' }));
    const found = assemble(request([{ quantity: 'mass', of: 'Old tyre', value: '20 kg' }], twins), NO_CATALOGUE, library);
    expect(found.ok ? [] : found.faults.map(({ code, help }) => [code, help])).toEqual([['OF_UNCLEAR', 'name one: `a`, `b`']]);
  });
});
