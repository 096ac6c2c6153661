/** What is said of a class with next to nothing given is true of every such truck: nothing it may not have, nothing narrower than there is. */
import { describe, expect, it } from 'vitest';
import { answer, checker, findingsOf } from './testing.ts';

type Plain = Readonly<Record<string, unknown>>;
const classes = [...checker.library.classes.keys()];
const part = (kind: string, attributes: Plain = {}, more: Plain = {}) => ({ from: 'inline', kind, attributes, ...more });
const tyres = (designation: string) => part('tyre', { designation }, { at: 'all', replaces: 'fitted' });
const of = (id: string, parts: readonly Plain[], more: Plain = {}, measured: readonly Plain[] = []) =>
  answer({ vehicle: { from: 'inline', class: id, measured }, parts, ...more } as never);
const verdictsOf = (given: ReturnType<typeof answer>, rule: string) => [...new Set(findingsOf(given, rule).map(({ verdict }) => verdict))];
const askedFor = (given: ReturnType<typeof answer>) => given.measure.map(({ quantity }) => quantity);

describe('tyres that nobody has weighed', () => {
  const forties = of('van', [tyres('40x15.50R20LT 128Q E')], { values: 'all' });
  const mass = (id: string) => forties.values[`part.mass(${id})`] as { value: number; plus_minus: number };

  it('weigh what their size does: forties far more than what a van came with', () => {
    const [old, large] = [mass('factory-tyres@front-left'), mass('tyre@front-left')];
    expect(old.value - old.plus_minus).toBeLessThan(17);
    expect(old.value + old.plus_minus).toBeGreaterThan(17);
    expect(large.value).toBeGreaterThan(1.8 * old.value);
    expect(large.value + large.plus_minus).toBeGreaterThan(48);
  });

  it('are not borne by the steering until they are weighed, and what one set is off by does not cancel that of the other', () => {
    const [finding] = findingsOf(forties, 'steering-load');
    expect(finding?.verdict).toBe('close');
    const growth = forties.values['wheel_mass_growth(front-left)'] as { plus_minus: number };
    expect(growth.plus_minus).toBeGreaterThan(0.9 * (mass('factory-tyres@front-left').plus_minus + mass('tyre@front-left').plus_minus));
    expect(askedFor(forties)).toContain('part.mass');
  });

  it('hang on no spring: a truck stands on them as high as before', () => {
    const drop = forties.values['ride_height_drop(front)'] as { value: number; plus_minus?: number };
    expect([drop.value, drop.plus_minus ?? 0]).toEqual([0, 0]);
    expect((forties.values['axle_load_change(front)'] as { value: number }).value).toBeGreaterThan(20);
  });
});

describe('what a truck of a class may not have', () => {
  const lift = part('body_lift', { height: '50 mm' });
  const framed = classes.filter((id) => checker.library.classes.get(id)?.positions.some(({ kind }) => kind === 'fan_shroud'));

  it.each(framed)('%s: no fan in a shroud and no lever is taken as there over a body lift; whoever looks is told', (id) => {
    const given = of(id, [lift], { most_readings: 200 });
    for (const rule of ['fan-shroud-clearance', 'shift-linkage-slack'])
      expect([rule, verdictsOf(given, rule)]).toEqual([rule, ['unknown']]);
    expect(askedFor(given)).toEqual(expect.arrayContaining(['fan_shroud.turned_by_engine', 'shift_linkage.moves_by_lever']));
  });

  it('is a conflict where it is there, and does not apply where it is not', () => {
    const seen = (value: string) => [
      { quantity: 'turned_by_engine', of: 'factory-shroud', value },
      { quantity: 'moves_by_lever', of: 'factory-levers', value },
    ];
    const there = of('solid_axle_short', [lift], { most_readings: 0 }, seen('yes'));
    const not = of('solid_axle_short', [lift], { most_readings: 0 }, seen('no'));
    for (const rule of ['fan-shroud-clearance', 'shift-linkage-slack'])
      expect([rule, verdictsOf(there, rule), verdictsOf(not, rule)]).toEqual([rule, ['conflict'], []]);
  });
});

describe('what a speedometer shows', () => {
  it('is too close to call as it stands, and it is read', () => {
    const given = of('van', []);
    expect(verdictsOf(given, 'speedometer-not-under')).toEqual(['close']);
    expect(askedFor(given)).toContain('speedometer_over_reading');
  });

  it('is no conflict with somewhat larger tyres, which one that shows much too much makes up for', () =>
    expect(verdictsOf(of('solid_axle_long', [tyres('35x12.50R17LT 121Q E')], { most_readings: 0 }), 'speedometer-not-under')).toEqual([
      'close',
    ]));

  it('is one where no speedometer that the law lets shows as much too much as the tyres take', () =>
    expect(verdictsOf(of('van', [tyres('40x15.50R20LT 128Q E')], { most_readings: 0 }), 'speedometer-not-under')).toEqual(['conflict']));
});

describe('a steel bumper that nobody has named', () => {
  const given = of('van', [part('front_bumper', { steel: true }, { replaces: 'fitted' }), part('winch')], {
    values: 'all',
    most_readings: 200,
  });

  it('stands at a gap that is not known, and that is gauged', () => {
    expect(verdictsOf(given, 'steel-bumper-gap')).toEqual(['unknown']);
    expect(askedFor(given)).toContain('bumper.gap_to_body');
  });

  it('weighs what plate and tube weigh', () => {
    const bumper = given.values['part.mass(front_bumper)'] as { value: number; plus_minus: number };
    expect([bumper.value - bumper.plus_minus <= 35, bumper.value + bumper.plus_minus >= 85]).toEqual([true, true]);
    expect(verdictsOf(given, 'axle-rating-front')).toEqual(['close']);
  });
});

describe('rims of a class', () => {
  it('are those it came on until somebody says otherwise, and other tyres are held against all that such trucks have', () => {
    const own = of('solid_axle_long', [], { most_readings: 0 });
    expect([verdictsOf(own, 'tyre-fits-rim'), verdictsOf(own, 'tyre-suits-rim-width')]).toEqual([[], []]);
    const other = of('solid_axle_long', [tyres('LT285/70R17 121/118Q E')], { most_readings: 0 });
    expect([verdictsOf(other, 'tyre-fits-rim'), verdictsOf(other, 'tyre-suits-rim-width')]).toEqual([['close'], ['close']]);
    const stamped = of('solid_axle_long', [tyres('LT285/70R17 121/118Q E')], { most_readings: 0 }, [
      { quantity: 'rim_diameter', of: 'factory-wheels', value: '17 in ± 0' },
      { quantity: 'rim_width', of: 'factory-wheels', value: '8.5 in ± 0' },
    ]);
    expect([verdictsOf(stamped, 'tyre-fits-rim'), verdictsOf(stamped, 'tyre-suits-rim-width')]).toEqual([['clear'], ['clear']]);
  });
});
