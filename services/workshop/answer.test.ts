/** What an answer is made of, on a small vehicle. */
import { describe, expect, it } from 'vitest';
import { checkSmall, ROOF, SHAFT, type SmallRule, shaft, smallLibrary } from './testing-small.ts';

const work = (id: string, more: string): Record<string, string> => ({
  [`works/${id}.yaml`]: `id: ${id}\ntitle: ${id}\ntakes: {}\nhours: { low: 1 h, likely: 1 h, high: 1 h }\n${more}\nbasis: [{ kind: common-practice }]\n`,
});

describe('findings', () => {
  it('of one verdict go by what they endanger, then by how far they are from met', () => {
    const short = (id: string, hazard: string, by: string): SmallRule => ({ id, hazard, body: `require: "floor_gap >= 100 mm + ${by}"` });
    const rules = [
      short('a-comfort', 'comfort', '50 mm'),
      short('b-damage', 'damage', '10 mm'),
      short('c-damage', 'damage', '90 mm'),
      short('d-legal', 'legal', '10 mm'),
      short('e-safety', 'safety', '1 mm'),
      short('f-clear', 'safety', '-1 mm'),
    ];
    const { findings } = checkSmall(smallLibrary(rules), { fitted: [shaft('28 mm')] });
    expect(findings.map(({ rule }) => rule)).toEqual(['e-safety', 'd-legal', 'c-damage', 'b-damage', 'a-comfort', 'f-clear']);
  });
});

describe('with the work done', () => {
  it('a position that nothing fills is still not known', () => {
    const given = checkSmall(smallLibrary([ROOF]), { values: { roof_gap: '-40 mm ± 0' } });
    expect(given.after_work.cleared).toEqual(['roof']);
    expect(given.after_work.verdict).toBe('unknown');
    expect(given.after_work.remaining.map(({ id, verdict }) => [id, verdict])).toEqual([['position-filled:shaft:vehicle', 'unknown']]);
  });
});

describe('the order of work', () => {
  const asking = (id: string, ...works: readonly string[]): SmallRule => ({
    id,
    body: 'require: "floor_gap >= 200 mm"',
    work: works.map((name) => `- ${name}: {}`).join('\n'),
  });
  const steps = (rules: readonly SmallRule[], ...works: readonly Record<string, string>[]) =>
    checkSmall(smallLibrary(rules, Object.assign({}, ...works)), { fitted: [shaft('28 mm')] }).work.steps;

  it('is as works say of each other, whatever order they are asked for in', () => {
    const found = steps(
      [asking('all', 'paint', 'weld', 'cut')],
      work('paint', 'after: [weld]'),
      work('weld', 'after: [cut]'),
      work('cut', ''),
    );
    expect(found.map((step) => step.work)).toEqual(['cut', 'weld', 'paint']);
    expect(found.map(({ after }) => after)).toEqual([
      [],
      [{ step: 'cut', why: 'this order saves doing it twice' }],
      [{ step: 'weld', why: 'this order saves doing it twice' }],
    ]);
  });

  it('puts what a work brings with it behind that work, once', () => {
    const found = steps(
      [asking('one', 'paint', 'cut'), asking('two', 'weld')],
      work('paint', ''),
      work('cut', 'then: [paint]'),
      work('weld', 'then: [paint]'),
    );
    expect(found.map((step) => step.work)).toEqual(['cut', 'weld', 'paint']);
    expect(found[2]?.because).toEqual(['one', 'cut', 'weld']);
  });
});

describe('a reading', () => {
  it('without a tolerance has the usual accuracy of its tool; what is stated is as exact as it says', () => {
    const engagement = (value: object) => {
      const fitted = [{ from: 'inline', kind: 'shaft', ...value } as const];
      return checkSmall(smallLibrary([SHAFT]), { fitted }).values['shaft.engagement(shaft)'];
    };
    expect(engagement({ measured: { engagement: '50 mm' } })).toMatchObject({ value: 50, plus_minus: 2 });
    expect(engagement({ measured: { engagement: '50 mm ± 0.5' } })).toMatchObject({ value: 50, plus_minus: 0.5 });
    expect(engagement({ attributes: { engagement: '50 mm' } })).not.toHaveProperty('plus_minus');
  });
});
