import { describe, expect, it } from 'vitest';
import type { Answer } from './index.ts';
import { checkSmall, ROOF, SHAFT, type SmallRule, shaft, smallLibrary } from './testing-small.ts';

const step = ({ work }: Answer, name: string) => work.steps.find((given) => given.work === name);

describe('work asked for again', () => {
  it('is done for good once a close finding has become a conflict through other work', () => {
    // 28 − 25 = 3 ± 5 mm is close; with the body 40 mm up it is 37 mm short, 42 mm at the worse end.
    const given = checkSmall(smallLibrary([ROOF, SHAFT]), { values: { roof_gap: '-40 mm ± 0' }, fitted: [shaft('28 mm ± 5')] });
    expect(step(given, 'extend-shaft')).toMatchObject({ contingent: false, amounts: { amount: { value: 42, nominal: 37 } } });
    expect(given.after_work).toMatchObject({ verdict: 'clear', rounds: 2 });
  });

  it('is asked for again where other work of the same round outweighed it, and amounts add up', () => {
    // 10 − 25 = −15 mm at first; the body goes up 40 mm in the same round that adds them.
    const given = checkSmall(smallLibrary([ROOF, SHAFT]), { values: { roof_gap: '-40 mm ± 0' }, fitted: [shaft('10 mm ± 0')] });
    expect(step(given, 'extend-shaft')).toMatchObject({ contingent: false, amounts: { amount: { value: 55, nominal: 55 } } });
    expect(given.after_work).toMatchObject({ verdict: 'clear', rounds: 2 });
  });

  it('is not asked for again where doing it does not help', () => {
    const idle: SmallRule = { id: 'idle', body: 'require: "floor_gap >= 200 mm"', work: '- trim-floor: { amount: 200 mm - floor_gap }' };
    const given = checkSmall(smallLibrary([idle]), { fitted: [shaft('28 mm')] });
    expect(step(given, 'trim-floor')?.amounts).toMatchObject({ amount: { value: 100 } });
    expect(given.after_work).toMatchObject({ verdict: 'conflict', rounds: 1 });
  });

  it('adds nothing up that was not done', () => {
    const near: SmallRule = {
      id: 'near',
      body: 'require: "floor_gap + trimmed >= 100 mm"',
      work: '- trim-floor: { amount: 100 mm - floor_gap - trimmed }',
    };
    const given = checkSmall(smallLibrary([ROOF, near]), {
      values: { roof_gap: '-40 mm ± 0', floor_gap: '101 mm ± 3' },
      fitted: [shaft('28 mm')],
    });
    expect(step(given, 'trim-floor')).toMatchObject({ contingent: true, amounts: { amount: { value: 2 } } });
  });
});

describe('work that may come to nothing', () => {
  /** 10 mm come off the floor for good; what is beyond is for a raised body. */
  const both: SmallRule = {
    id: 'both',
    body: 'require: "floor_gap + trimmed + raised >= 100 mm"',
    work: '- trim-floor: { amount: "min(10 mm - trimmed, 100 mm - floor_gap - trimmed - raised)" }\n- raise-body: { height: "90 mm - floor_gap - raised" }',
  };
  const of = (floor: string) => checkSmall(smallLibrary([both, SHAFT]), { values: { floor_gap: floor }, fitted: [shaft('28 mm ± 0')] });

  it('is contingent though a conflict asks for it, with what it would ask for in its turn', () => {
    // 11 ± 4 mm short: the floor gives 10, and 1 ± 4 mm are left; raised by the 5 of the worse end the shaft is 2 mm short.
    const given = of('89 mm ± 4');
    expect(step(given, 'trim-floor')).toMatchObject({ contingent: false, amounts: { amount: { value: 10 } } });
    expect(step(given, 'raise-body')).toMatchObject({ contingent: true, amounts: { height: { value: 5 } } });
    expect(step(given, 'extend-shaft')).toMatchObject({ contingent: true, amounts: { amount: { value: 2 } }, because: ['raise-body'] });
    expect(given.after_work).toMatchObject({ verdict: 'close', broken: [] });
  });

  it('is sure where the better end asks for it too', () => {
    const given = of('80 mm ± 4');
    expect(step(given, 'raise-body')).toMatchObject({ contingent: false, amounts: { height: { value: 14 } } });
    expect(step(given, 'extend-shaft')?.contingent).toBe(false);
    expect(given.after_work.verdict).toBe('clear');
  });
});

describe('a value that work sets', () => {
  const short: SmallRule = {
    id: 'short',
    body: 'for: { shaft: shaft }\nrequire: "shaft.engagement >= 25 mm"',
    work: '- new-shaft: { shaft: shaft, length: 25 mm }',
  };
  const long: SmallRule = { id: 'long', body: 'for: { shaft: shaft }\nrequire: "shaft.engagement <= 28 mm"' };
  const fitting = (within: string) => ({
    'works/new-shaft.yaml': `id: new-shaft
title: "Fit {shaft} with {length: mm}"
takes: { shaft: { part: shaft }, length: { unit: mm } }
hours: { low: 1 h, likely: 1 h, high: 1 h }
effects: [{ set: shaft.engagement, to: length${within} }]
basis: [{ kind: common-practice }]
`,
  });
  const made = (within: string) => checkSmall(smallLibrary([short, long], fitting(within)), { fitted: [shaft('10 mm')] });

  it('is as exact as a reading of it, and enough is asked for all the same', () => {
    // A reading has 2 mm: 27 ± 2 mm is surely 25 mm, and may be more than 28 mm.
    const given = made('');
    expect(step(given, 'new-shaft')?.amounts).toEqual({ length: { value: 27, nominal: 25, unit: 'mm' } });
    expect(given.after_work.cleared).toEqual(['short:shaft']);
    expect(given.after_work.broken).toMatchObject([{ rule: 'long', margin: { value: 1, plus_minus: 2, low: -1, high: 3 } }]);
  });

  it('is as exact as the work says', () => {
    const given = made(', within: 0.5 mm');
    expect(step(given, 'new-shaft')?.amounts).toEqual({ length: { value: 25.5, nominal: 25, unit: 'mm' } });
    expect(given.after_work).toMatchObject({ verdict: 'clear', broken: [] });
  });

  it('alone can say how exactly: what is added is as exact as what it is added to', () => {
    const adding = {
      'works/raise-body.yaml': fitting('')
        ['works/new-shaft.yaml'].replaceAll('new-shaft', 'raise-body')
        .replace('set: shaft.engagement, to: length', 'add: length, to: shaft.engagement, within: 1 mm'),
    };
    expect(() => smallLibrary([], adding)).toThrow('what is added is as exact as what it is added to');
  });
});
