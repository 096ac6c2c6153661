/** A gap at ride height to what lies round the tyre, and to what does not: by hand from the formulas of `models/tyres/gap-over-travel.ts`. */
import { describe, expect, it } from 'vitest';
import { assemble, type CheckRequest, createWorld, type VehicleReading } from '../vehicle/index.ts';
import { liesRoundTyre } from '../vehicle/library-view.ts';
import { passedBounds } from './contradictions.ts';
import { evaluateRule, makeRuleSet } from './rule-set.ts';
import { answer, checker, demoCatalogue, findingsOf } from './testing.ts';

const rules = makeRuleSet(checker.library);
const said = (quantity: string, of: string, value: string): VehicleReading => ({ quantity, of, value });

function look(of: string, rule: string, measured: readonly VehicleReading[]) {
  const corner = [
    said('contact_angle', of, '0 deg ± 5'),
    said('stop_gap', 'front', '72 mm ± 3'),
    said('stop_free_height', 'front', '55 mm ± 3'),
    said('hub_to_frame', 'front', '240 mm ± 3'),
    said('hub_to_frame_hanging', 'front', '330 mm ± 3'),
  ];
  const request: CheckRequest = { vehicle: { from: 'inline', class: 'solid_axle_short', measured: [...corner, ...measured] } };
  const made = assemble(request, demoCatalogue, checker.library);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  const world = createWorld(made.assembly, checker.library, rules.texts);
  const compiled = rules.compiled.find(({ rule: { id } }) => id === rule);
  const found = compiled && evaluateRule(compiled, world).find(({ subjects }) => subjects.some((one) => world.partOf(one)?.group === of));
  const subject = found?.subjects.find((each) => world.partOf(each)?.group === of) as number;
  const band = (name: string, at: number) => world.bands.of(world.values.slot(name, [at]));
  const axle = world.step(subject, 'axle');
  const up = band('bump_travel_left', axle).nominal + band('crossed_travel_added', axle).nominal;
  return { verdict: found?.verdict, gap: band('tyre_gap', subject), up };
}

const behind = (of: string, gap: number) => [said('tyre_gap_at_ride', of, `${gap} mm ± 4`), said('contact_rise', of, '0 deg ± 5')];

describe('a gap read at ride height straight behind the wheel', () => {
  it('leaves bump open of a liner, which goes on above the wheel, and settles it of a mount, which does not', () => {
    for (const gap of [80, 120]) expect(look('rear-liners', 'liner-gap', behind('rear-liners', gap)).verdict).toBe('close');
    const { gap, up } = look('rear-liners', 'liner-gap', behind('rear-liners', 120));
    expect(gap.low).toBeLessThanOrEqual(0.12 - up + 1e-9);
    expect(gap.high).toBeCloseTo(0.124, 2);
    expect(look('cab-mounts', 'cab-mount-gap', behind('cab-mounts', 120)).verdict).toBe('clear');
  });

  it('is clear of a liner further away than the wheel can move', () => {
    // Crossed up, with all tolerances at their worst, that is some 300 mm.
    expect(look('rear-liners', 'liner-gap', behind('rear-liners', 360)).verdict).toBe('clear');
  });

  it('is of something round the tyre by what its kind says, of its own or from above', () => {
    const round = ['liner_rear', 'liner_top', 'wing_lip', 'rear_arch', 'mud_flap', 'own_obstacle'];
    expect(round.filter((kind) => !liesRoundTyre(checker.library, kind))).toEqual([]);
    expect(['cab_mount', 'frame_rail', 'coil_beside_tyre'].filter((kind) => liesRoundTyre(checker.library, kind))).toEqual([]);
  });
});

describe('a gap that was gauged over the whole travel, said to be more than travel leaves of the one at ride height', () => {
  const of = 'top-liners';
  const truck = (gap: string, more: readonly VehicleReading[] = []): CheckRequest => ({
    vehicle: {
      from: 'inline',
      class: 'solid_axle_short',
      measured: [
        said('tyre_gap_at_ride', of, '150 mm ± 4'),
        said('contact_rise', of, '90 deg ± 5'),
        said('stop_gap', 'front', '72 mm ± 3'),
        said('stop_free_height', 'front', '55 mm ± 3'),
        said('tyre_gap', of, gap),
        ...more,
      ],
    },
  });

  it('contradicts the readings of stop and gap, which are all named, and settles nothing', () => {
    const given = answer(truck('140 mm ± 5'));
    const [liner] = given.findings.filter(({ rule }) => rule === 'top-liner-gap');
    expect(liner?.verdict).toBe('close');
    for (const name of ['tyre_gap', 'tyre_gap_at_ride', 'contact_rise', 'stop_gap', 'stop_free_height'])
      expect([name, liner?.contested?.some((id) => id.startsWith(`${name}(`))]).toEqual([name, true]);
    const [against] = findingsOf(given, 'statements-agree');
    expect(against?.says).toMatch(
      /140.mm .* is never above what travel can leave of the gap to the tyre, [\d.]+.mm at most, as computed of .*gap to the bump stop of the front axle, 72.mm/,
    );
  });

  it('stands where it is within what they leave', () => {
    expect(findingsOf(answer(truck('50 mm ± 5')), 'statements-agree')).toEqual([]);
  });

  it('contradicts at the rear too, where the class has only what nobody reads', () => {
    const arch = 'own-arch';
    const measured = [
      said('tyre_gap_at_ride', arch, '190 mm ± 4'),
      said('contact_rise', arch, '90 deg ± 5'),
      { quantity: 'rear_stop_gap', value: '80 mm ± 3' },
      said('stop_free_height', 'rear', '60 mm ± 3'),
      said('tyre_gap', arch, '170 mm ± 4'),
    ];
    const fitted = [{ from: 'inline', id: arch, kind: 'rear_arch', at: 'rear' }] as const;
    const passed = (readings: readonly VehicleReading[]) => {
      const request: CheckRequest = { vehicle: { from: 'inline', class: 'solid_axle_long', fitted, measured: readings } };
      const made = assemble(request, demoCatalogue, checker.library);
      if (!made.ok) throw new Error(JSON.stringify(made.faults));
      return passedBounds(createWorld(made.assembly, checker.library, rules.texts)).length;
    };
    expect(passed(measured)).toBe(2);
    // Without the stop's readings it is the class that would contradict, which says nothing of this truck.
    expect(passed(measured.filter(({ quantity }) => !quantity.includes('stop')))).toBe(0);
  });
});
