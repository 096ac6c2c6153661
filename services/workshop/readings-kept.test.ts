/** For how long a reading counts, and what is asked where it no longer does. */
import { describe, expect, it } from 'vitest';
import type { PartInput, VehicleReading } from '../vehicle/index.ts';
import { answer, faults, findingsOf } from './testing.ts';

const tyres = (designation: string): PartInput => ({
  from: 'inline',
  kind: 'tyre',
  id: 'trail-tyres',
  at: 'all',
  replaces: 'fitted',
  attributes: { designation },
});
const small = [tyres('265/70R17 115S')];
const large = [tyres('37x12.50R17LT 124Q D')];
const gauged = (taken?: readonly PartInput[]): VehicleReading => ({
  quantity: 'tyre_gap_after',
  of: 'cab-mounts',
  value: '25 mm ± 3',
  ...(taken && { with: taken }),
});
const check = (parts: readonly PartInput[], measured: readonly VehicleReading[]) =>
  answer({ vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll', measured }, parts });

describe('a reading with the planned parts on', () => {
  it('counts with those parts, by whatever name they go and whatever is read of them', () => {
    const renamed = { ...(small[0] as PartInput), id: 'other-name', measured: { overall_diameter: '803 mm ± 2' } };
    for (const taken of [undefined, small, [renamed]]) {
      const [finding] = findingsOf(check(small, [gauged(taken)]), 'cab-mount-gap');
      expect(finding).toMatchObject({ verdict: 'clear', margin: { value: 13 } });
      expect(finding?.numbers[0]?.origin).toBe('measured');
    }
  });

  it('says nothing of larger tyres, is told to be dropped with the reason, and is asked for again', () => {
    const given = check(large, [gauged(small)]);
    const [finding] = findingsOf(given, 'cab-mount-gap');
    expect(finding?.verdict).not.toBe('clear');
    expect(finding?.numbers[0]?.origin).toBe('computed');
    expect(given.assumptions).toContainEqual(
      expect.stringMatching(/25 mm ± 3 was taken with other parts \(`trail-tyres`\).*read it again/),
    );
  });

  it('is not touched by parts that it does not hang on', () => {
    const mast: PartInput = { from: 'catalogue', part: 'fairmere-mast' };
    expect(findingsOf(check([...small, mast], [gauged(small)]), 'cab-mount-gap')[0]?.numbers[0]?.origin).toBe('measured');
  });

  it('is kept through work that does not move it, though where the part is nobody knows', () => {
    const build = {
      vehicle: {
        from: 'catalogue' as const,
        vehicle: 'merrowdale-ghyll',
        measured: [{ quantity: 'tyre_gap_after', of: 'bumper-corners', value: '25 mm ± 3' }],
      },
      parts: [
        { from: 'inline' as const, kind: 'coilover_spacer', at: 'front' as const, attributes: { thickness: '15 mm' } },
        { from: 'catalogue' as const, part: 'thwaitesgill-prow', replaces: 'front-bumper' },
      ],
    };
    const given = answer(build);
    expect(findingsOf(given, 'bumper-corner-gap')[0]?.verdict).toBe('clear');
    expect(given.work.steps.map(({ work }) => work)).toContain('align-wheels');
    const open = given.after_work.remaining.filter(({ id }) => id.startsWith('bumper-corner-gap'));
    expect(open).toEqual([]);
    const without = answer({ ...build, vehicle: { ...build.vehicle, measured: [] } });
    expect(findingsOf(without, 'bumper-corner-gap')[0]).toMatchObject({
      verdict: 'unknown',
      missing: [expect.stringMatching(/^tyre_gap_/), expect.anything()],
    });
  });
});

describe('a reading of what a tyre can touch', () => {
  it('names the part: a corner has a dozen of them', () => {
    const [fault] = faults({ vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll', measured: [{ ...gauged(), of: 'front-left' }] } });
    expect(fault).toMatchObject({ pointer: '/vehicle/measured/0/of', code: 'OF_UNCLEAR', help: expect.stringContaining('`cab-mounts`') });
  });
});

describe('what is missing', () => {
  const lift: PartInput = { from: 'inline', kind: 'front_coilover', id: 'lift', at: 'front', attributes: { height_added: '2.5 in' } };
  const given = answer({ vehicle: { from: 'inline', class: 'midsize_independent_front' }, parts: [lift] });

  it('names the figures of which any one would do, the maker’s first, and nothing else', () => {
    const [finding] = findingsOf(given, 'cab-mount-gap');
    expect(finding?.says).toMatch(/any one of these: droop added of .*, or length fully out of /);
    expect(finding?.any_of).toEqual([['suspension_lift.droop_added(lift)', 'front_coilover.extended_length(lift)']]);
    expect(finding?.missing).toEqual(finding?.any_of?.flat());
  });

  it('is cured by either of them', () => {
    for (const attributes of [{ droop_added: '22 mm' }, { extended_length: '590 mm' }]) {
      const cured = answer({
        vehicle: { from: 'inline', class: 'midsize_independent_front' },
        parts: [{ ...lift, attributes: { height_added: '2.5 in', ...attributes } }],
      });
      expect(findingsOf(cured, 'cab-mount-gap')[0]?.verdict).not.toBe('unknown');
    }
  });
});

describe('what the planned parts do not touch', () => {
  it('is as before though their mass moves its last digits', () => {
    const blocks: PartInput = { from: 'inline', kind: 'body_lift', attributes: { height: '25 mm', mass: '8 kg' } };
    const given = answer({ vehicle: { from: 'inline', class: 'midsize_independent_front' }, parts: [blocks] });
    for (const rule of ['hose-bracket-gap', 'upper-arm-gap', 'cab-mount-gap'])
      for (const finding of findingsOf(given, rule)) expect([rule, finding.as_before]).toEqual([rule, true]);
    for (const finding of findingsOf(given, 'top-liner-gap')) expect(finding.as_before).toBe(false);
  });
});

describe('words beside numbers', () => {
  it('have the side they turn to, and the units asked for', () => {
    const build = {
      vehicle: { from: 'catalogue' as const, vehicle: 'merrowdale-ghyll' },
      parts: [{ from: 'inline' as const, kind: 'coilover_spacer', at: 'front' as const, attributes: { thickness: '15 mm' } }],
      units: 'us' as const,
    };
    const text = JSON.stringify(
      answer(build).findings.map(({ says, basis, numbers }) => [says, basis.map(({ note }) => note), numbers.map(({ title }) => title)]),
    );
    expect(text).toMatch(/the front stands [\d.]+ in higher than before/);
    expect(text).not.toMatch(/negative: lower|\d mm\b|is is /);
  });
});
