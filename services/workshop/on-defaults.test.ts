import { describe, expect, it } from 'vitest';
import { checkSmall, type SmallRule, shaft, smallLibrary } from './testing-small.ts';

const GAPS = `roof_gap: { title: Gap at the roof, unit: mm, per: vehicle, meaning: room above, comes: given, measure: { how: with a rule, tool: rule, accuracy: 2 mm } }
floor_gap: { title: Gap at the floor, unit: mm, per: vehicle, meaning: room beside, comes: given, measure: { how: with a rule, tool: rule, accuracy: 2 mm } }
raised: { title: Raised, unit: mm, per: vehicle, meaning: how far the body was raised, comes: state, initially: 0 mm }
trimmed: { title: Trimmed, unit: mm, per: vehicle, meaning: how much is off the floor, comes: state, initially: 0 mm }
`;
const CLASS =
  'id: small\ntitle: Small\nvalues: { floor_gap: 100 mm ± 30, roof_gap: 50 mm ± 10 }\npositions: [{ kind: shaft }]\nfitted: []\n';
const FILES = { 'quantities/all.yaml': GAPS, 'classes/small.yaml': CLASS };

const rule = (require: string): SmallRule => ({ id: 'room', body: `require: "${require}"`, says: 'there is no room' });
const found = (require: string, values: Readonly<Record<string, string>> = {}) => {
  const { findings } = checkSmall(smallLibrary([rule(require)], FILES), { values, fitted: [shaft('60 mm')] });
  const finding = findings.find(({ rule: of }) => of === 'room');
  if (!finding) throw new Error('the rule was not asked');
  return finding;
};

describe('a finding that rests on defaults of the class', () => {
  it('in conflict is likely, and names the readings that decide with their shares of the doubt', () => {
    const { verdict, says, on_defaults } = found('floor_gap + roof_gap >= 200 mm');
    expect(verdict).toBe('conflict');
    expect(says).toBe(
      'Likely: there is no room. It rests on defaults of the class; these two readings decide: gap at the floor of the vehicle (75 % of the doubt) and gap at the roof of the vehicle (25 % of the doubt)',
    );
    expect(on_defaults).toEqual({
      share: 1,
      decide: [
        { id: 'floor_gap', title: 'Gap at the floor', subject: 'the vehicle', share: 0.75 },
        { id: 'roof_gap', title: 'Gap at the roof', subject: 'the vehicle', share: 0.25 },
      ],
    });
  });

  it('close says which way it leans, beside both stories', () => {
    expect(found('floor_gap >= 115 mm').says).toMatch(
      /^Too close to call, likely not met\. At the worse end .+ At the better end .+ this reading decides: gap at the floor/,
    );
    expect(found('floor_gap >= 85 mm').says).toMatch(/^Too close to call, likely met\./);
    expect(found('floor_gap >= 99 mm').says).toMatch(/^Too close to call, as likely met as not\./);
  });

  it('close says how likely all that can be read settles it, and what that leaves', () => {
    const { settled_by } = found('floor_gap >= 110 mm');
    expect(settled_by?.leaves).toEqual({ value: 2, unit: 'mm' });
    expect(settled_by?.chance).toBeGreaterThan(0.8);
  });

  it('close when all is read says that no reading settles it, and what to do until it is seen', () => {
    const { says, settled_by } = found('floor_gap >= 99 mm', { floor_gap: '100 mm ± 2 mm' });
    expect(says).toMatch(
      /^Too close to call\. At the worse end .+ At the better end .+ No reading settles it: ± 2 mm is left; read as closely as its tool reads: gap at the floor of the vehicle; until it is fitted/,
    );
    expect(settled_by).toEqual({
      readings: [],
      leaves: { value: 2, unit: 'mm' },
      remains: [{ id: 'floor_gap', title: 'Gap at the floor', subject: 'the vehicle', share: 1, can_be_read: true }],
      chance: 0,
    });
  });

  it('names the other reading alone where one is taken, though little of the doubt is a default any more', () => {
    const { says } = found('floor_gap + roof_gap >= 150 mm', { roof_gap: '50 mm ± 2 mm' });
    expect(says).toContain('decides: gap at the floor');
    expect(says).not.toContain('at the roof of');
    const stated = found('floor_gap + roof_gap >= 150 mm', { roof_gap: '50 mm ± 2 mm', floor_gap: '100 mm ± 30 mm' });
    expect(stated.on_defaults).toBeUndefined();
    expect(stated.says).toMatch(/ This reading decides: gap at the floor of the vehicle/);
  });

  it('says no more of it once the reading is taken', () => {
    const { says, on_defaults } = found('floor_gap + roof_gap >= 200 mm', { floor_gap: '100 mm ± 30 mm' });
    expect([says, on_defaults]).toEqual(['there is no room', undefined]);
  });

  it('is not said of one that is clear', () => expect(found('floor_gap >= 20 mm').on_defaults).toBeUndefined());
});
