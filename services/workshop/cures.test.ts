/** What else would cure a finding, and what each cure costs elsewhere. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { CheckRequest, PartInput } from '../vehicle/index.ts';
import type { AnswerAlternative, Finding } from './answer.ts';
import { answer, findingsOf } from './testing.ts';

const part = (kind: string, attributes: Record<string, string>, more = {}) =>
  ({ from: 'inline', kind, at: 'all', replaces: 'fitted', attributes, ...more }) as PartInput;
/** Large tyres on a class, with the gaps gauged so that they are surely too near. */
const build: CheckRequest = {
  vehicle: {
    from: 'inline',
    class: 'midsize_independent_front',
    values: { wheel_track: '1570 mm ± 5', wheelbase: '3200 mm ± 0' },
    measured: [
      { quantity: 'tyre_gap', of: 'cab-mounts', value: '20 mm ± 1' },
      { quantity: 'bush_give', of: 'front', value: '3 mm ± 0.5' },
      { quantity: 'lock_angle', of: 'front-left', value: '36 deg ± 0.5' },
      { quantity: 'lock_angle', of: 'front-right', value: '36 deg ± 0.5' },
    ],
  },
  parts: [part('tyre', { designation: '285/70R17 117T', overall_diameter: '830 mm ± 0', section_width: '292 mm ± 0' }, { id: 'big' })],
  use: { jurisdictions: ['au-vsb-14'] },
};

let finding: Finding;
let plain: Finding;
let knuckle: Finding;
let of: (work: string) => AnswerAlternative | undefined;
beforeAll(() => {
  const given = answer({ ...build, alternatives: true });
  [finding] = findingsOf(given, 'cab-mount-gap') as [Finding];
  [knuckle] = findingsOf(given, 'knuckle-gap') as [Finding];
  [plain] = findingsOf(answer(build), 'cab-mount-gap') as [Finding];
  of = (work) => finding.alternatives?.find((one) => one.work === work);
}, 300_000);

const ofKnuckle = (work: string) => knuckle.alternatives?.find((one) => one.work === work);
const changeOf = (alternative: AnswerAlternative | undefined, name: string) =>
  alternative?.changes.filter((change) => change.name === name) ?? [];

describe('alternatives of a finding', () => {
  it('are told where they are asked for, those that clear it first', () => {
    expect(plain.verdict).toBe('conflict');
    expect(plain.alternatives).toBeUndefined();
    const clears = finding.alternatives?.map((one) => one.clears) ?? [];
    expect(clears).toEqual([...clears].sort((a, b) => Number(b) - Number(a)));
    expect(clears.length).toBeGreaterThan(3);
  });

  it('are enough by what they say, and no more than is needed', () => {
    const narrower = ofKnuckle('choose-narrower-tyres');
    expect(narrower?.clears).toBe(true);
    expect(narrower?.margin?.low).toBeGreaterThanOrEqual(0);
    const [tyre] = build.parts as [PartInput & { attributes: Record<string, string> }];
    const verdictWith = (less: number) => {
      const attributes = { ...tyre.attributes, section_width: `${292 - less} mm ± 0` };
      return findingsOf(answer({ ...build, parts: [{ ...tyre, attributes } as PartInput] }), 'knuckle-gap')[0]?.verdict;
    };
    const least = narrower?.amounts.amount?.value as number;
    expect(verdictWith(least)).toBe('clear');
    expect(verdictWith(least - 2)).not.toBe('clear');
  });

  it('say what stops cost: the turning circle, worked by hand', () => {
    const lock = of('take-back-lock');
    const [circle] = changeOf(lock, 'turning_circle');
    expect(circle?.unit).toBe('m');
    const [less, offset] = [
      lock?.amounts.angle?.value ?? 0,
      (changeOf(ofKnuckle('move-wheels-out'), 'steering_axis_offset')[0]?.before ?? 0) / 1000,
    ];
    // Wheelbase 3.2 m, track 1.57 m, lock 36°, tyre 292 mm wide: the outer steering axis is √(L² + (L/tan δ + t)²) from the middle of the turn.
    const by = (lockAngle: number): number =>
      2 * (Math.hypot(3.2, 3.2 / Math.tan((lockAngle * Math.PI) / 180) + 1.57 - 2 * offset) + offset) + 0.292;
    expect(circle?.before).toBeCloseTo(by(36), 2);
    expect(circle?.after).toBeCloseTo(by(36 - less), 2);
    expect(by(36 - less) - by(36)).toBeGreaterThan(0.1);
  });

  it('name each work once, and of an axle that does not steer no caster', () => {
    for (const { alternatives = [] } of [finding, knuckle]) {
      const works = alternatives.map(({ work }) => work);
      expect(works).toEqual([...new Set(works)]);
      const ofRear = alternatives
        .flatMap(({ changes }) => changes)
        .filter(({ id }) => id.endsWith('(rear)'))
        .map(({ name }) => name);
      for (const name of ['steering_axis_offset', 'caster_at_ride', 'wheel_forward']) expect(ofRear).not.toContain(name);
    }
  });

  it('say what a smaller or narrower tyre costs: load', () => {
    const smaller = of('choose-smaller-tyres');
    const share = (smaller?.amounts.amount?.value ?? 0) / 830;
    const [load] = changeOf(smaller, 'tyre_rating');
    expect((load?.after ?? 0) / (load?.before ?? 1)).toBeCloseTo(1 - 2.4 * share, 2);
  });

  it('say what wheels further in or out cost: track, its law, the bearings, scrub', () => {
    const moved = ofKnuckle('move-wheels-out');
    expect(moved?.clears).toBe(true);
    expect(moved?.breaks.map(({ rule }) => rule)).toContain('legal-track-front');
    const names = moved?.changes.map(({ name }) => name);
    expect(names).toEqual(expect.arrayContaining(['track_change', 'bearing_moment_growth', 'steering_axis_offset']));
  });

  it('say what more caster costs: the wheel goes forward, and the liner ahead of it loses what the mount behind gains', () => {
    const caster = of('set-more-caster');
    expect(changeOf(caster, 'wheel_forward')[0]?.after).toBeGreaterThan(2);
    const ahead = [...(caster?.breaks ?? []), ...(caster?.lowers ?? [])].filter(
      ({ rule }) => rule === 'liner-gap' || rule === 'bumper-corner-gap',
    );
    expect(ahead.length).toBeGreaterThan(0);
    for (const { margin_before: was, margin_after: is } of ahead) expect(is?.value ?? 0).toBeLessThan(was?.value ?? 0);
  });

  it('include what the rule itself asks for, and say what cannot be undone', () => {
    const trim = of('trim-cab-mount');
    expect(trim?.irreversible).toBe(true);
    expect(trim?.notes.length).toBeGreaterThan(0);
  });
});
