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
