/** What a fabricator asks of a whole vehicle, from request to answer. Trade facts are common practice, no source. */
import { describe, expect, it } from 'vitest';
import type { CheckRequest, PartInput } from '../vehicle/index.ts';
import { answer, findingsOf } from './testing.ts';

const CLASS = 'midsize_independent_front';
const withParts = (...parts: PartInput[]): CheckRequest => ({ vehicle: { from: 'inline', class: CLASS }, parts });
const verdictsOf = (request: CheckRequest, rule: string): string[] => findingsOf(answer(request), rule).map(({ verdict }) => verdict);

describe('rear lift', () => {
  const lift: PartInput = {
    from: 'inline',
    kind: 'rear_spring',
    at: 'rear',
    attributes: { height_added: '200 mm', droop_added: '200 mm', rated_extra_mass: '100 kg' },
  };
  const lifted = answer(withParts(lift));
  const verdictOf = (rule: string) => lifted.findings.filter((f) => f.rule === rule && !f.as_before).map(({ verdict }) => verdict);

  it('of 200 mm outreaches dampers, shaft joints, cable, breather and wires, and turns the headlamps', () => {
    for (const rule of ['rear-dampers-droop', 'propeller-shaft-angle', 'parking-cable-slack', 'axle-breather-slack', 'headlamps-aimed'])
      expect([rule, verdictOf(rule)]).toEqual([rule, ['conflict']]);
    expect(verdictOf('wheel-wire-slack')).toContain('conflict');
  });
  it('leaves unknown what nobody said of the hose, the valve and the U-bolts, and does not call it as before', () => {
    for (const rule of ['brake-hose-reach', 'load-sensing-valve', 'new-u-bolts'])
      expect([rule, verdictOf(rule)]).toEqual([rule, ['unknown']]);
  });
  it('does not conflict where there is none', () => {
    expect(answer(withParts()).findings.filter(({ verdict }) => verdict === 'conflict')).toEqual([]);
  });
});

const tyre = (designation: string, attributes = {}): PartInput => ({
  from: 'inline',
  kind: 'tyre',
  at: 'all',
  replaces: 'fitted',
  attributes: { designation, ...attributes },
});
const wheel = (rim_width: string, offset = '25 mm', attributes = {}): PartInput => ({
  from: 'inline',
  kind: 'wheel',
  at: 'all',
  replaces: 'fitted',
  attributes: { rim_diameter: '17 in', rim_width, offset, ...attributes },
});

describe('rim width', () => {
  it.each([
    ['33x12.50R17LT', '7.5 in', 'conflict'],
    ['33x12.50R17LT', '9 in', 'clear'],
    ['265/65R17 112T', '11 in', 'conflict'],
    ['265/65R17 112T', '8 in', 'clear'],
    ['265/65R17 112T', '4 in', 'conflict'],
  ])('%s on %s is %s', (size, width, verdict) => {
    expect(new Set(verdictsOf(withParts(tyre(size), wheel(width)), 'tyre-suits-rim-width'))).toEqual(new Set([verdict]));
  });
});

describe('ride height is bounded at both ends', () => {
  it('a lowered front is aligned anew', () => {
    const coils: PartInput = {
      from: 'inline',
      kind: 'front_coilover',
      at: 'front',
      attributes: { height_added: '-50 mm', droop_added: '0 mm', collapsed_length: '400 mm' },
    };
    expect(verdictsOf(withParts(coils), 'aligned-after-lift')).toEqual(['conflict']);
  });
  it('springs for a load that is not there stand high: 1400 kg on 2 · 50 N/mm', () => {
    const springs: PartInput = {
      from: 'inline',
      kind: 'rear_spring',
      at: 'rear',
      attributes: { height_added: '0 mm', droop_added: '0 mm', rated_extra_mass: '1400 kg', spring_rate: '50 N/mm', mass: '0 kg' },
    };
    const [high] = findingsOf(answer(withParts(springs)), 'ride-height-rear-high');
    expect(high?.verdict).toBe('conflict');
    expect(high?.margin?.value).toBeCloseTo(15 - (1400 * 9.80665) / 100, 0);
  });
  it('a mass far behind lifts the nose', () => {
    const carrier: PartInput = {
      from: 'inline',
      kind: 'spare_carrier',
      attributes: { mass: '300 kg', behind_front_axle: '4600 mm' },
    };
    expect(verdictsOf(withParts(carrier), 'ride-height-front-high')).toEqual(['conflict']);
    expect(verdictsOf(withParts(carrier), 'headlamps-aimed')).toEqual(['conflict']);
  });
});

describe('people and load sag the springs', () => {
  it('400 kg at 4.4 m behind the front axle take the rear down by 550 kg over 2 · 50 N/mm, 53.9 mm, and dazzle', () => {
    const request: CheckRequest = {
      ...withParts(),
      values: 'all',
      load: { items: [{ name: 'crate', mass: '400 kg', behind_front_axle: '4.4 m' }] },
    };
    const loaded = answer(request);
    expect(loaded.values['load_drop(rear)']?.value).toBeCloseTo(53.9, 0);
    expect(findingsOf(loaded, 'headlamps-loaded').map(({ verdict }) => verdict)).toEqual(['conflict']);
    expect(findingsOf(loaded, 'rear-stop-gap-loaded').map(({ verdict }) => verdict)).toEqual(['close']);
  });
});

describe('work has a ceiling', () => {
  const heavy = answer(withParts(tyre('40x13.50R17LT 121Q E'), { from: 'inline', kind: 'drawers', attributes: { mass: '2900 kg' } }));
  it('what goes beyond it is not asked for, and the finding says so', () => {
    const asked = heavy.work.steps.filter(({ contingent }) => !contingent).map(({ work }) => work);
    for (const work of ['uprate-brakes', 'trim-cab-mount', 'uprate-springs']) expect(asked).not.toContain(work);
    const [brakes] = findingsOf(heavy, 'brake-torque-rear');
    expect([brakes?.verdict, brakes?.work]).toEqual(['conflict', []]);
    expect(brakes?.says).toMatch(/No work that is stated here goes far enough/);
  });
  it('nothing raises the body beyond 75 mm', () => {
    const raised = heavy.work.steps.filter(({ work }) => work === 'fit-body-lift');
    expect(raised.every(({ amounts }) => Number(amounts['height']?.value) <= 75)).toBe(true);
  });
});

describe('what else a part brings', () => {
  it('a roof tent asks for the roof rating, and 90 psi is more than a passenger tyre bears', () => {
    const tent = answer({
      vehicle: { from: 'inline', class: CLASS, values: { tyre_pressure: { front: '90 psi', rear: '90 psi' } } },
      parts: [{ from: 'inline', kind: 'roof_tent', attributes: { mass: '500 kg' } }],
    });
    expect(findingsOf(tent, 'roof-rating').map(({ verdict }) => verdict)).toEqual(['unknown']);
    expect(findingsOf(tent, 'roll-over').map(({ verdict }) => verdict)).not.toContain('clear');
    expect(new Set(findingsOf(tent, 'tyre-overinflated').map(({ verdict }) => verdict))).toEqual(new Set(['conflict']));
  });
  it('a dry fit says nothing of another wheel that work chooses', () => {
    const far = answer({
      vehicle: {
        from: 'catalogue',
        vehicle: 'merrowdale-ghyll',
        measured: [{ quantity: 'caliper_gap', of: 'all', value: '9 mm ± 1' }],
      },
      parts: [wheel('8 in', '-40 mm', { load_rating: '1100 kg' })],
    });
    expect(new Set(findingsOf(far, 'caliper-gap').map(({ verdict }) => verdict))).toEqual(new Set(['clear']));
    expect(far.work.steps.map(({ work }) => work)).toContain('choose-wheel-offset');
    expect(far.after_work.remaining.filter(({ id }) => id.startsWith('caliper-gap')).map(({ verdict }) => verdict)).toContain('unknown');
  });
});

describe('a reading taken with the planned parts on', () => {
  it('moves with the cut that is made since: 3 mm, less 12 asked for, and 13 cut', () => {
    const read = answer({
      vehicle: {
        from: 'catalogue',
        vehicle: 'merrowdale-ghyll',
        measured: [{ quantity: 'tyre_gap_after', of: 'cab-mounts', value: '3 mm ± 1' }],
      },
      parts: [{ from: 'catalogue', part: 'orrisbeck-trail-265', at: 'all', replaces: 'road-tyres' }],
    });
    expect(findingsOf(read, 'cab-mount-gap').map(({ verdict, as_before }) => [verdict, as_before])).toEqual([['conflict', false]]);
    expect(read.work.steps.filter(({ work, contingent }) => work === 'trim-cab-mount' && !contingent)).toHaveLength(2);
    expect(read.after_work.remaining.filter(({ id }) => id.startsWith('cab-mount-gap'))).toEqual([]);
  });
});

describe('a much larger tyre', () => {
  it('of 40 in asks for gears, a place for the spare, steering ends and a rear arch', () => {
    const forty = answer(withParts(tyre('40x13.50R17LT 121Q E', { mass: '55 kg' })));
    for (const rule of ['axle-ratio', 'spare-fits', 'steering-load', 'rear-arch-gap'])
      expect([rule, findingsOf(forty, rule).map(({ verdict }) => verdict)]).toEqual([rule, ['conflict']]);
    expect(forty.work.steps.map(({ work }) => work)).toEqual(expect.arrayContaining(['change-axle-ratio', 'relocate-spare']));
  });
  it('a hose far longer than its way is watched through its travel first', () => {
    const long = answer({
      vehicle: {
        from: 'catalogue',
        vehicle: 'merrowdale-ghyll',
        measured: [{ quantity: 'hose_route', of: 'front-hoses', value: '396 mm ± 5' }],
      },
      parts: [{ from: 'inline', kind: 'brake_hose', at: 'front', replaces: 'fitted', attributes: { free_length: '900 mm' } }],
    });
    expect(findingsOf(long, 'brake-hose-too-long').find(({ parts }) => parts[0]?.at?.startsWith('front'))?.verdict).toBe('unknown');
  });
});

describe('statements that contradict each other', () => {
  const gaps = (...values: readonly (readonly [of: string, value: string])[]) =>
    answer({
      vehicle: {
        from: 'catalogue',
        vehicle: 'merrowdale-ghyll',
        measured: values.map(([of, value]) => ({ quantity: 'tyre_gap', of, value })),
      },
      values: 'all',
    });
  const used = ({ values }: ReturnType<typeof gaps>) => values['tyre_gap(cab-mounts@front-left)']?.value;
  const disagreements = (given: ReturnType<typeof gaps>) => findingsOf(given, 'statements-agree').map(({ id, verdict }) => [id, verdict]);

  it('of two readings the one of the narrower place is used, in whatever order they stand', () => {
    const [one, other] = [
      gaps(['cab-mounts', '30 mm ± 5'], ['cab-mounts@front-left', '5 mm ± 3']),
      gaps(['cab-mounts@front-left', '5 mm ± 3'], ['cab-mounts', '30 mm ± 5']),
    ];
    expect([used(one), used(other)]).toEqual([5, 5]);
    expect(disagreements(one)).toEqual([['statements-agree:tyre_gap(cab-mounts@front-left)', 'close']]);
    expect(disagreements(other)).toEqual(disagreements(one));
    expect(one.findings.filter(({ contested }) => contested).map(({ verdict }) => verdict)).toEqual(['close']);
  });
  it('an index and a width that the designation does not have are told', () => {
    const stated = answer(withParts(tyre('265/70R17 115S', { load_index: 121, section_width: '400 mm' })));
    const ids = findingsOf(stated, 'statements-agree').map(({ id }) => id);
    expect(ids.some((id) => id.includes('load_index'))).toBe(true);
    expect(ids.some((id) => id.includes('section_width'))).toBe(true);
  });
});
