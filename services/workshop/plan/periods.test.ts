/** From where to where set-ups stand, and which of them the sure work pays for. */
import { describe, expect, it } from 'vitest';
import { createChecker, type PlanRequest } from '../index.ts';
import { type SmallRule, smallLibrary } from '../testing-small.ts';

const work = (id: string, more: string): readonly [string, string] => [
  `works/${id}.yaml`,
  `id: ${id}\ntitle: ${id}\nhours: { low: 1 h, likely: 1 h, high: 1 h }\n${more}\nbasis: [{ kind: common-practice }]\n`,
];
const FILES = Object.fromEntries([
  ['setups.yaml', 'level: { title: Level, make: { low: 1 h, likely: 1 h, high: 1 h }, unmake: { low: 0 h, likely: 0 h, high: 0 h } }\n'],
  work('aim', 'setups: [level]\neffects: [{ set: aimed, to: "yes" }]'),
  work('lift-off', 'without: [level]\nafter: [{ works: [aim], otherwise: it is in the way }]\neffects: [{ set: lifted, to: "yes" }]'),
  work('look', 'setups: [level]\nafter: [{ works: [lift-off], otherwise: it moves }]\neffects: [{ set: looked, to: "yes" }]'),
  [
    'quantities/more.yaml',
    ['aimed', 'lifted', 'looked']
      .map((id) => `${id}: { title: ${id}, truth: yes, per: vehicle, meaning: whether it is, comes: state, initially: no }\n`)
      .join(''),
  ],
]);
const rule = (id: string, require: string, then: string): SmallRule => ({
  id,
  hazard: 'damage',
  body: `require: "${require}"`,
  work: `- ${then}`,
});
/** What bars the set-up is wanted for sure, or only perhaps: the gap is 100 mm, or it is not measured. */
const planOf = (liftWanted: string) => {
  const rules = [rule('a', 'aimed', 'aim'), rule('b', `lifted or ${liftWanted}`, 'lift-off'), rule('c', 'looked', 'look')];
  const planned = createChecker(smallLibrary(rules, FILES)).plan(
    { vehicle: { from: 'inline', class: 'small', values: { floor_gap: '100 mm ± 20' } } } as unknown as PlanRequest,
    { vehicles: new Map(), parts: new Map(), hash: 'small' },
  );
  if (!planned.ok) throw new Error(JSON.stringify(planned.faults));
  return planned.plan;
};

describe('a set-up that something between its operations bars', () => {
  it('is made twice where that is sure', () => {
    const { check, time } = planOf('floor_gap >= 300 mm');
    expect(check.work.steps.map(({ work: id, contingent }) => [id, contingent])).toEqual([
      ['aim', false],
      ['lift-off', false],
      ['look', false],
    ]);
    // Three hours of work, and level twice.
    expect([time.sure.expected, time.if_needed.expected]).toEqual([5, 0]);
  });
  it('is made once for the sure work where that may not be needed, and once more if it is', () => {
    const { check, time } = planOf('floor_gap >= 100 mm');
    expect(check.work.steps.map(({ work: id, contingent }) => [id, contingent])).toEqual([
      ['aim', false],
      ['lift-off', true],
      ['look', false],
    ]);
    expect([time.sure.expected, time.if_needed.expected]).toEqual([3, 2]);
    expect(check.work.setups).toHaveLength(2);
  });
});
