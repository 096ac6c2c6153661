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
    expect(found('floor_gap >= 110 mm').says).toMatch(
      /^Too close to call, likely not met\. At the worse end .+ At the better end .+ this reading decides: gap at the floor/,
    );
    expect(found('floor_gap >= 90 mm').says).toMatch(/^Too close to call, likely met\./);
  });

  it('says no more of it once the reading is taken', () => {
    const { says, on_defaults } = found('floor_gap + roof_gap >= 200 mm', { floor_gap: '100 mm ± 30 mm' });
    expect([says, on_defaults]).toEqual(['there is no room', undefined]);
  });

  it('is not said of one that is clear', () => expect(found('floor_gap >= 20 mm').on_defaults).toBeUndefined());
});
