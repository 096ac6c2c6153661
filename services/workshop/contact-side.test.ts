/** On which side of the tyre something is: a sign that is mistaken turns what a wheel moved inboard takes into a gain. */
import { describe, expect, it } from 'vitest';
import { assemble, type CheckRequest, createWorld, type PartInput, type VehicleReading } from '../vehicle/index.ts';
import { contestedSlots } from './contradictions.ts';
import { makeRuleSet } from './rule-set.ts';
import { answer, checker, demoCatalogue, findingsOf } from './testing.ts';

const wheel = {
  from: 'inline',
  kind: 'wheel',
  id: 'inboard',
  at: 'all',
  replaces: 'fitted',
  attributes: { rim_diameter: '16 in', rim_width: '7.5 in', offset: '60 mm ± 0' },
};
const said = (quantity: string, value: string, of = 'front-coils'): VehicleReading => ({ quantity, of, value });
const build = (measured: readonly VehicleReading[]): CheckRequest => ({
  vehicle: { from: 'inline', class: 'solid_axle_short', measured },
  parts: [wheel] as PartInput[],
});

const { library, texts } = makeRuleSet(checker.library);
const isContested = (of: string, ...angles: readonly string[]): boolean => {
  const made = assemble(build(angles.map((value) => said('contact_angle', value, of))), demoCatalogue, library);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  const world = createWorld(made.assembly, library, texts);
  const part = made.assembly.parts.find(({ id }) => id === `${of}@front-left`);
  return contestedSlots(world).has(world.values.slot('contact_angle', [part?.subject as number]));
};

describe('where the tyre is nearest, read on the other side than all such parts are', { timeout: 60_000 }, () => {
  it('settles nothing, and says which sign is which side', () => {
    const given = answer(build([said('tyre_gap', '30 mm ± 3'), said('contact_angle', '34 deg ± 5')]));
    const [coil] = findingsOf(given, 'coil-gap');
    expect(coil?.verdict).toBe('close');
    expect(coil?.says).toContain('on the other side of the tyre');
    const [against] = findingsOf(given, 'statements-agree');
    expect(against?.says).toMatch(/34 deg \(measured.*against -75 deg \(kind, .*− for the inboard one/);
  });

  it('is doubted flat on the tread too, and read twice alike; the side it is on, and either side of what may be on both, count', () => {
    expect(isContested('front-coils', '0 deg ± 5')).toBe(true);
    expect(isContested('front-coils', '34 deg ± 5', '34 deg ± 5')).toBe(true);
    expect(isContested('front-coils', '-50 deg ± 5')).toBe(false);
    for (const angle of ['-20 deg ± 5', '34 deg ± 5']) expect(isContested('rear-liners', angle)).toBe(false);
  });

  it('is typical on one side alone of all that stands inboard of the tyre', () => {
    const inboard = ['coil_beside_tyre', 'frame_rail', 'radius_arm', 'leaf_spring_side', 'rear_damper_side', 'spring_clamp', 'inner_wing'];
    for (const kind of inboard) {
      const usual = library.kinds.get(kind)?.typical.get('contact_angle');
      expect([kind, (usual?.value ?? 0) + (usual?.plusMinus ?? 0) < 0]).toEqual([kind, true]);
    }
  });
});
