/**
 * What a person reads at one corner, entered alone on a class that nobody has drawn there: exactly those readings give the answers,
 * by sums done by hand (the formulas and where they hold stand in `models/tyres/gap-change.ts` and `gap-over-travel.ts`).
 */
import { describe, expect, it } from 'vitest';
import type { Evaluation } from '../engine/evaluate.ts';
import { assemble, type CheckRequest, createWorld, type VehicleReading } from '../vehicle/index.ts';
import { evaluateRule, makeRuleSet } from './rule-set.ts';
import { checker, demoCatalogue } from './testing.ts';

const rules = makeRuleSet(checker.library);
const classes = [...checker.library.classes.keys()];
const undrawn = classes.filter((id) => !checker.library.classes.get(id)?.fitted.some(({ kind }) => kind === 'double_wishbone'));

const said = (quantity: string, of: string, value: string): VehicleReading => ({ quantity, of, value });
const mm = (si: number | undefined): number => 1000 * (si ?? Number.NaN);

/** One rule asked of a class with those readings, on the first of its tuples that is about `of`. */
function asked(
  id: string,
  rule: string,
  of: string,
  measured: readonly VehicleReading[],
  more: Partial<CheckRequest['vehicle']> = {},
  parts: readonly object[] = [],
) {
  const request = { vehicle: { from: 'inline', class: id, measured, ...more }, parts } as unknown as CheckRequest;
  const made = assemble(request, demoCatalogue, checker.library);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  const world = createWorld(made.assembly, checker.library, rules.texts);
  const compiled = rules.compiled.find(({ rule: { id: name } }) => name === rule);
  const found =
    compiled && evaluateRule(compiled, world).find(({ subjects }) => subjects.some((subject) => world.partOf(subject)?.group === of));
  if (!found) throw new Error(`${rule} was not asked of ${of}`);
  const subject = found.subjects.find((each) => world.partOf(each)?.group === of) as number;
  const value = (name: string, at: number = subject): number => world.values.read(world.values.slot(name, [at]));
  const band = (name: string, at: number = subject) => world.bands.of(world.values.slot(name, [at]));
  return { verdict: found.verdict as Evaluation['verdict'], controlling: found.controlling, value, band, world };
}

describe.each(undrawn)('a front corner of %s', (id) => {
  const liner = 'top-liners';
  const tyres = [said('overall_diameter', 'factory-tyres', '780 mm ± 2'), said('section_width', 'factory-tyres', '270 mm ± 2')];
  const heights = [said('hub_to_frame', 'front', '300 mm ± 3'), said('hub_to_arch', 'front', '520 mm ± 3')];
  const lock = [said('lock_angle', 'front-left', '34 deg ± 1'), said('lock_angle', 'front-right', '34 deg ± 1')];
  const atRide = (gap: number): VehicleReading[] => [
    said('tyre_gap_at_ride', liner, `${gap} mm ± 3`),
    said('contact_angle', liner, '0 deg ± 0'),
  ];
  const stop = [said('stop_gap', 'front', '50 mm ± 2'), said('stop_free_height', 'front', '40 mm ± 2')];
  const atRideHeight = (gap: number) => [...tyres, ...heights, ...lock, ...atRide(gap), ...stop];
  const atBump = (gap: number) => said('tyre_gap', liner, `${gap} mm ± 4`);
  const larger = (diameter: number) => [
    {
      from: 'inline',
      kind: 'tyre',
      at: 'all',
      replaces: 'fitted',
      attributes: { overall_diameter: `${diameter} mm ± 0`, section_width: '270 mm ± 0' },
    },
  ];

  it('read at ride height alone settles ride height alone: bump stays open, however wide the gap stands', () => {
    for (const gap of [60, 90]) expect([gap, asked(id, 'top-liner-gap', liner, atRideHeight(gap)).verdict]).toEqual([gap, 'close']);
    expect(asked(id, 'top-liner-gap', liner, atRideHeight(0)).verdict).toBe('conflict');
  });

  it('with the tightest gap at bump and lock as well is settled, either way, with a larger tyre too', () => {
    const wide = asked(id, 'top-liner-gap', liner, [...atRideHeight(90), atBump(70)]);
    expect(wide.verdict).toBe('clear');
    const grown = asked(id, 'top-liner-gap', liner, [...atRideHeight(90), atBump(70)], {}, larger(820));
    // On the flat of the tread half of what the diameter grows by comes off: (820 − 780)/2 of 70 mm, ± 4 of the gap and ± 1 of the radius.
    expect(mm(grown.value('tyre_gap_after'))).toBeCloseTo(50, 6);
    const { low, high } = grown.band('tyre_gap_after');
    expect([mm(low), mm(high)]).toEqual([expect.closeTo(45, 1), expect.closeTo(55, 1)]);
    expect(asked(id, 'top-liner-gap', liner, [...atRideHeight(90), atBump(20)], {}, larger(860)).verdict).toBe('conflict');
  });

  it('straight above the tyre has what the stop leaves, by hand', () => {
    const above = [...atRideHeight(200), said('contact_rise', liner, '90 deg ± 0')];
    const { value, world } = asked(id, 'top-liner-gap', liner, above);
    const front = world.assembly.parts.find(({ group }) => group === liner)?.subject as number;
    const axle = world.step(front, 'axle');
    const travel = value('stop_wheel_ratio', axle) * (50 + 0.5 * 40) + mm(value('crossed_travel_added', axle));
    expect(mm(value('tyre_gap'))).toBeCloseTo(200 - travel, 6);
  });
});

describe.each(classes)('a brake hose of %s', (id) => {
  const of = 'factory-front-hoses';
  const three = (route: number) => [
    said('free_length', of, '460 mm ± 3'),
    said('string_laid', of, 'crossed'),
    said('hose_route', of, `${route - 8} mm ± 3`),
    said('hose_route_left_lock', of, `${route} mm ± 3`),
    said('hose_route_right_lock', of, `${route - 4} mm ± 3`),
  ];
  const string = (route: number) => three(route).filter(({ quantity }) => quantity !== 'hose_route');

  it('is told by its length and the string along its way at each lock, with 25 mm of slack', () => {
    expect(asked(id, 'brake-hose-reach', of, []).verdict).toBe('unknown');
    expect(asked(id, 'brake-hose-reach', of, string(425)).verdict).toBe('clear');
    expect(mm(asked(id, 'brake-hose-reach', of, string(425)).controlling?.margin)).toBeCloseTo(460 - 425 - 25, 6);
    expect(asked(id, 'brake-hose-reach', of, string(448)).verdict).toBe('conflict');
    expect(asked(id, 'brake-hose-reach', of, string(435)).verdict).toBe('close');
  });
});

describe.each(classes)('a rear leaf corner of %s, at something nobody has drawn', (id) => {
  const arch = 'own-arch';
  const fitted = [{ from: 'inline', id: arch, kind: 'rear_arch', at: 'rear' }] as never;
  const stop = [said('rear_stop_gap', 'vehicle', '70 mm ± 3'), said('stop_free_height', 'rear', '50 mm ± 3')];
  const height = [said('hub_to_frame', 'rear', '250 mm ± 3'), said('hub_to_frame_hanging', 'rear', '340 mm ± 3')];
  const ride = (gap: number, rise: number) => [
    said('tyre_gap_at_ride', arch, `${gap} mm ± 4`),
    said('contact_rise', arch, `${rise} deg ± 5`),
  ];
  const five = (gap: number, rise = 90) => [...stop, ...height, ...ride(gap, rise)];
  const reading = (measured: readonly VehicleReading[]) => asked(id, 'rear-arch-gap', arch, measured, { fitted });

  it('is settled by its five, and by what is read at ride height alone not', () => {
    expect(reading([said('tyre_gap_at_ride', arch, '150 mm ± 4')]).verdict).toBe('close');
    expect(reading(five(420)).verdict).toBe('clear');
    expect(reading(five(60)).verdict).toBe('conflict');
  });

  it('has over its travel, by hand, what the stop leaves and the tilt adds', () => {
    const { value, world } = reading(five(420));
    const axle = world.step(world.assembly.parts.find(({ group }) => group === arch)?.subject as number, 'axle');
    const travel = value('stop_wheel_ratio', axle) * (70 + 0.5 * 50) + mm(value('crossed_travel_added', axle));
    expect(mm(value('tyre_gap'))).toBeCloseTo(420 - travel, 6);
    const behind = reading(five(60, 0));
    // An arch goes on above the wheel: between none of the travel and all of it.
    expect(mm(behind.value('tyre_gap'))).toBeCloseTo(60 - travel / 2, 6);
  });
});
