/** Every class gives a first answer from nearly nothing, says nothing of what it does not have, and each reading narrows it. */
import { describe, expect, it } from 'vitest';
import type { VehicleReading } from '../vehicle/index.ts';
import { lowerFirst } from './describe.ts';
import { answer, checker, demoBuild, findingsOf } from './testing.ts';

const classes = [...checker.library.classes.keys()];
const undrawn = classes.filter((id) => !checker.library.classes.get(id)?.fitted.some(({ kind }) => kind === 'double_wishbone'));
const bareOf = (of: string, measured: readonly VehicleReading[] = [], parts: readonly object[] = []) =>
  answer({ vehicle: { from: 'inline', class: of, measured }, parts: parts as never });

const STORIES =
  /^Too close to call(, (likely met|likely not met|as likely met as not))?\. At the worse end of the tolerances: .+ At the better end (it is met|it does not apply).+ (It rests on defaults of the class; )?([Tt]his reading|[Tt]hese (two|three) readings|[Nn]o reading settles it)/;

describe('classes', () => {
  it('are six at least, four of them without a drawn front', () => {
    expect(classes.length).toBeGreaterThanOrEqual(6);
    expect(undrawn.length).toBeGreaterThanOrEqual(4);
  });
});

describe.each(classes)('%s', (id) => {
  const given = bareOf(id);

  it('as it leaves the factory is in no conflict, and what nobody has read is the ways of the hoses alone', () => {
    expect(given.findings.filter(({ verdict }) => verdict === 'conflict').map(({ id: of }) => of)).toEqual([]);
    const unknown = given.findings.filter(({ verdict }) => verdict === 'unknown').map(({ rule }) => rule);
    expect(new Set(unknown)).toEqual(new Set(['brake-hose-reach', 'brake-hose-too-long']));
    expect(given.findings.length).toBeGreaterThan(40);
  });

  it('never gives a bare default as an answer: what rests on one has a band', () => {
    const onDefaults = given.findings.filter(({ rule }) => /-gap$|^axle-rating|^gross-mass|^roll-over|^brake-torque/.test(rule));
    expect(onDefaults.length).toBeGreaterThan(10);
    for (const { id: of, margin } of onDefaults) expect([of, (margin?.plus_minus ?? 0) > 0]).toEqual([of, true]);
  });

  it('too close to call tells both stories, and the readings that decide or that none does', () => {
    const close = given.findings.filter(({ verdict }) => verdict === 'close');
    expect(close.length).toBeGreaterThan(10);
    for (const { id: of, says, margin, settled_by } of close) {
      expect([of, says]).toEqual([of, expect.stringMatching(STORIES)]);
      expect([of, (margin?.low ?? 0) <= 0 && (margin?.high ?? 1) >= 0]).toEqual([of, true]);
      expect([of, settled_by?.readings.length !== 0 || / no reading settles it: /i.test(says)]).toEqual([of, true]);
      for (const { title } of settled_by?.readings ?? []) expect([of, says]).toEqual([of, expect.stringContaining(lowerFirst(title))]);
    }
  });

  it('tells of a place by up or down, ahead or behind, never by a sign', () => {
    for (const { says } of given.findings) expect(says).not.toMatch(/-\d[\d.]* mm (above|behind|ahead|up|down)/);
  });

  it('is narrowed by a reading of a gap', () => {
    const [before] = findingsOf(given, 'bumper-corner-gap');
    const [after] = findingsOf(bareOf(id, [{ quantity: 'tyre_gap', of: 'bumper-corners', value: '50 mm ± 4' }]), 'bumper-corner-gap');
    expect(after?.margin?.plus_minus).toBeLessThan((before?.margin?.plus_minus ?? 0) / 2);
    expect(after?.verdict).toBe('clear');
  });
});

describe.each(undrawn)('%s, whose front is not drawn', (id) => {
  it('has no finding on a wishbone, and loads, tyres, wheels, brakes and gaps all the same', () => {
    const { findings } = bareOf(id);
    const rules = new Set(findings.map(({ rule }) => rule));
    for (const { id: rule, binders } of checker.library.rules.values())
      if (binders.some(({ selector }) => selector.kind === 'double_wishbone')) expect([rule, rules.has(rule)]).toEqual([rule, false]);
    for (const rule of [
      'axle-rating-front',
      'tyre-load',
      'wheel-load',
      'speedometer-not-under',
      'brake-torque-front',
      'top-liner-gap',
      'roll-over',
    ])
      expect([rule, rules.has(rule)]).toEqual([rule, true]);
  });

  it('knows a gap by the difference from what is there: a larger tyre takes what its radius and shoulder take', () => {
    const gap = { quantity: 'tyre_gap', of: 'top-liners', value: '60 mm ± 2' };
    const angle = { quantity: 'contact_angle', of: 'top-liners', value: '0 deg ± 0' };
    const tyre = (diameter: string) => [
      {
        from: 'inline',
        kind: 'tyre',
        at: 'all',
        replaces: 'fitted',
        attributes: { overall_diameter: diameter, section_width: '270 mm ± 0' },
      },
    ];
    const gapWith = (diameter: string): number => {
      const [finding] = findingsOf(bareOf(id, [gap, angle], tyre(diameter)), 'top-liner-gap');
      return Number(finding?.numbers.find(({ name }) => name.startsWith('tyre_gap_after'))?.value);
    };
    expect(gapWith('820 mm ± 0') - gapWith('860 mm ± 0')).toBeCloseTo(20, 0);
  });

  it('settles ride height alone by a reading at ride height: bump stays open until it is read', () => {
    const ride = { quantity: 'tyre_gap_at_ride', of: 'top-liners', value: '70 mm ± 3' };
    const [open] = findingsOf(bareOf(id, [ride]), 'top-liner-gap');
    expect(open?.verdict).toBe('close');
    const [touching] = findingsOf(bareOf(id, [{ ...ride, value: '2 mm ± 1' }]), 'top-liner-gap');
    expect(touching?.verdict).toBe('conflict');
    const behind = { quantity: 'contact_rise', of: 'top-liners', value: '0 deg ± 2' };
    const [settled] = findingsOf(bareOf(id, [ride, behind]), 'top-liner-gap');
    // A liner goes on above the wheel, wherever it is nearest standing.
    expect(settled?.verdict).toBe('close');
    const [bump] = findingsOf(bareOf(id, [ride, { quantity: 'tyre_gap', of: 'top-liners', value: '30 mm ± 4' }]), 'top-liner-gap');
    expect(bump?.verdict).toBe('clear');
  });
});

describe('demo builds of other classes', () => {
  it('are answered, with what was gauged as read', () => {
    const wagon = answer(demoBuild('wagon'));
    expect(findingsOf(wagon, 'cab-mount-gap')[0]?.verdict).toBe('clear');
    expect(findingsOf(wagon, 'top-liner-gap')[0]?.verdict).toBe('close');
    expect(answer(demoBuild('carrier')).measuring.groups.length).toBeGreaterThan(0);
  });
});
