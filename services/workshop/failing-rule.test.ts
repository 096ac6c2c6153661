/** A stranger's rule that cannot be evaluated somewhere says so, and takes nothing else down. */
import { describe, expect, it } from 'vitest';
import type { Library, Num, Rule } from '../engine/tree.ts';
import { checkSmall, ROOF, type SmallRule, shaft, smallLibrary } from './testing-small.ts';

const LEAST = 'min(w.mass for w in winch)';
const BUILD = { values: { roof_gap: '-40 mm ± 0' }, fitted: [shaft('28 mm')] };
const probe = (more: Partial<SmallRule>): SmallRule => ({ id: 'probe', body: 'require: "roof_gap >= 0 mm"', ...more });

function findings(rules: readonly SmallRule[], change: (library: Library) => Library = (library) => library) {
  const { findings } = checkSmall(change(smallLibrary(rules)), BUILD);
  return new Map(findings.map((finding) => [finding.rule, finding]));
}

describe('a least of nothing', () => {
  it('is unknown where it is only told', () => {
    const body = `let: { least: "${LEAST}" }\nrequire: "roof_gap >= 0 mm"`;
    const found = findings([probe({ body, says: `{least: kg} and {${LEAST}: kg}` }), ROOF]);
    expect(found.get('probe')).toMatchObject({ verdict: 'conflict', says: 'an unknown amount and an unknown amount' });
    expect(found.get('probe')?.numbers).toContainEqual(expect.objectContaining({ name: 'least', value: null }));
    expect(found.get('roof')).toMatchObject({ verdict: 'conflict', work: [{ work: 'raise-body' }] });
  });

  it('leaves out work whose amount it would be', () => {
    const found = findings([probe({ work: `- raise-body: { height: "2 mm * ${LEAST} / 1 kg" }` }), ROOF]);
    expect(found.get('probe')).toMatchObject({ verdict: 'conflict', work: [] });
    expect(found.get('roof')).toMatchObject({ work: [{ work: 'raise-body', amounts: { height: { value: 40 } } }] });
  });

  it('changes nothing where an effect would set it', () => {
    const works = {
      'works/raise-body.yaml': `id: raise-body
title: "Raise the body by {height: mm}, {${LEAST}: kg}"
takes: { height: { unit: mm } }
hours: { low: 1 h, likely: 1 h, high: 1 h }
effects: [{ add: "height + 2 mm * ${LEAST} / 1 kg", to: raised }]
basis: [{ kind: common-practice }]
`,
    };
    const { after_work, work } = checkSmall(smallLibrary([ROOF], works), BUILD);
    expect(work.steps.map(({ title }) => title)).toEqual(['Raise the body by 40 mm, an unknown amount']);
    expect(after_work.verdict).toBe('conflict');
  });
});

describe('a rule with a fault that no check found', () => {
  const nowhere: Num = { op: 'leaf', leaf: 99, depth: 0 } as Num;
  const broken = (change: (rule: Rule) => Partial<Rule>) => (library: Library) => {
    const rule = library.rules.get('probe') as Rule;
    return { ...library, rules: new Map(library.rules).set('probe', { ...rule, ...change(rule) }) };
  };
  const cases: Readonly<Record<string, (rule: Rule) => Partial<Rule>>> = {
    'in what it requires': ({ require }) => ({ require: { ...require, a: nowhere } as never }),
    'in its wording': () => ({ says: [{ is: 'number', of: nowhere }] }),
    'in a let': () => ({ lets: new Map([['least', nowhere]]) }),
    'in what it ranges over': ({ scope }) => ({ scope: { ...scope, leaves: [{ ...scope.leaves[0], subjects: [undefined] } as never] } }),
  };

  it.each(Object.entries(cases))('%s says so, and the others are answered', (_, change) => {
    const found = findings([probe({}), ROOF], broken(change));
    expect(found.get('probe')?.verdict).toBe(change === cases['in a let'] || change === cases['in its wording'] ? 'conflict' : 'unknown');
    expect(found.get('probe')?.says).toMatch(/^This rule could not be (evaluated|told)/);
    expect(found.get('roof')).toMatchObject({ verdict: 'conflict', work: [{ work: 'raise-body' }] });
  });

  it('in an amount of work leaves that work out', () => {
    const asked = probe({ work: '- raise-body: { height: "-roof_gap" }' });
    const change = broken(({ work: [call] }) => ({
      work: [{ ...call, arguments: new Map([['height', { is: 'number', of: nowhere }]]) } as never],
    }));
    const found = findings([asked, ROOF], change);
    expect(found.get('probe')).toMatchObject({ verdict: 'conflict', work: [] });
    expect(found.get('roof')).toMatchObject({ work: [{ amounts: { height: { value: 40 } } }] });
  });
});
