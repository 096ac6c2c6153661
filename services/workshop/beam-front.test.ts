/** A beam front axle that is lifted: its springs are fitted, it is aligned, and what the lift does to caster, bars and shaft is found, or named as not known. */
import { describe, expect, it } from 'vitest';
import type { CheckRequest } from '../vehicle/index.ts';
import { checker, demoCatalogue } from './testing.ts';

const answer = (name: string, values: Record<string, string> = {}) => {
  const request = {
    vehicle: { from: 'inline', class: name, values },
    parts: [
      {
        from: 'inline',
        kind: 'front_spring',
        at: 'front',
        attributes: { height_added: '100 mm ± 0', droop_added: '100 mm', rated_extra_mass: '0 kg ± 0', mass: '0 kg ± 0' },
      },
    ],
    most_readings: 1,
  };
  const checked = checker.check(request as unknown as CheckRequest, demoCatalogue);
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
  const { findings, work } = checked.answer;
  const verdicts = new Map(findings.map(({ id, verdict }) => [id.split(':')[0] as string, verdict]));
  return { findings, works: work.steps.map((step) => step.work), verdicts, steps: work.steps };
};
const GEOMETRY = ['beam-caster', 'track-bar-centred', 'drag-link-slope', 'front-shaft-angle'];

describe('a lifted beam front axle', () => {
  it('has its springs in the job, is aligned, and names what is not known of it', () => {
    const { works, verdicts } = answer('solid_axle_long');
    for (const work of ['install-front-springs', 'align-wheels', 'torque-bushes', 'read-height', 'aim-headlamps', 'retorque-suspension'])
      expect(works, work).toContain(work);
    for (const id of GEOMETRY) expect([id, verdicts.get(id)]).toEqual([id, 'unknown']);
    expect(verdicts.get('aligned-after-lift-undrawn')).toBe('conflict');
    expect(['conflict', 'close']).toContain(verdicts.get('front-dampers-droop'));
  });

  it('is computed where its figures are given', () => {
    const { findings, verdicts, steps } = answer('solid_axle_long', {
      front_arms: 'radius_arms',
      control_arm_length: '900 mm ± 0',
      track_bar_length: '850 mm ± 0',
      track_bar_rise: '0 mm ± 0',
      drag_link_length: '900 mm ± 0',
      drag_link_rise: '100 mm ± 0',
      front_shaft_length: '700 mm ± 0',
      front_shaft_joint_angle: '5 deg ± 0',
      droop_travel_left: '90 mm ± 0',
    });
    // asin(100/900) = 6.38 deg; 850 - sqrt(850² - 100²) = 5.90 mm; asin(200/900) = 12.84 deg; 5 + asin(100/700) = 13.21 deg: by hand.
    const says = (id: string): string => findings.find((finding) => finding.id.startsWith(id))?.says ?? '';
    expect(says('beam-caster')).toMatch(/turns by 6\.38 deg/);
    expect(says('track-bar-centred')).toMatch(/5\.9 mm|6 mm/);
    expect(says('drag-link-slope')).toMatch(/slopes 12\.8/);
    expect(says('front-shaft-angle')).toMatch(/works at 13\.2/);
    for (const id of [...GEOMETRY, 'front-dampers-droop']) expect([id, verdicts.get(id)]).toEqual([id, 'conflict']);
    const amount = (work: string, name: string): unknown => steps.find((step) => step.work === work)?.amounts[name]?.value;
    expect(amount('correct-beam-caster', 'angle')).toBe(5);
    expect(amount('fit-adjustable-track-bar', 'amount')).toBe(6);
    expect(amount('fit-longer-dampers', 'amount')).toBe(70);
    const at = (work: string): number => steps.findIndex((step) => step.work === work);
    expect(at('correct-beam-caster')).toBeLessThan(at('align-wheels'));
    expect(at('correct-beam-caster')).toBeLessThan(at('relieve-front-shaft'));
  });

  it('on arms that nobody has looked at is no conflict of caster, and asks what they are', () => {
    const { findings } = answer('solid_axle_short', { control_arm_length: '580 mm ± 8' });
    const caster = findings.find(({ id }) => id.startsWith('beam-caster'));
    expect([caster?.verdict, caster?.missing?.[0]]).toEqual(['unknown', 'front_arms']);
  });

  it('on leaf springs, or a strut front, is not silent either', () => {
    for (const name of ['light_truck_solid_axles', 'van']) {
      const { works, verdicts } = answer(name);
      expect([name, verdicts.get('front-geometry-after-lift')]).toEqual([name, 'unknown']);
      expect(works).toContain('align-wheels');
    }
  });
});
