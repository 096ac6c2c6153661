import { describe, expect, it } from 'vitest';
import { judged } from './testing.ts';
import type { Ask } from './values.ts';

type Verdict = 'clear' | 'close' | 'conflict' | 'unknown';
const VERDICTS: readonly Verdict[] = ['clear', 'close', 'conflict', 'unknown'];

/** Against 100 mm: 20 mm to spare, 5 ± 10 mm, 20 mm short. */
const LENGTH = { clear: [0.12, 0.01], close: [0.105, 0.01], conflict: [0.08, 0.01], unknown: null } as const;
/** Against 100 mm as well, with other margins: 30 mm to spare, 8 ± 10 mm, 15 mm short. */
const STRETCH = { clear: [0.13, 0.01], close: [0.108, 0.01], conflict: [0.085, 0.01], unknown: null } as const;

describe('a verdict', () => {
  it.each(VERDICTS)('is %s by where its band lies', (verdict) => {
    expect(judged('h.length >= 100 mm', { 'hose.length': LENGTH[verdict] }).verdict).toBe(verdict);
  });

  it('on the line is met when it may be, and is not when it must be beyond', () => {
    expect(judged('h.length >= 100 mm', { 'hose.length': 0.1 }).verdict).toBe('clear');
    expect(judged('h.length > 100 mm', { 'hose.length': 0.1 }).verdict).toBe('conflict');
  });
});

describe('two requirements', () => {
  /** Rows: the first; columns: the second, in the order of VERDICTS. */
  const AND: Readonly<Record<Verdict, readonly Verdict[]>> = {
    clear: ['clear', 'close', 'conflict', 'unknown'],
    close: ['close', 'close', 'conflict', 'unknown'],
    conflict: ['conflict', 'conflict', 'conflict', 'conflict'],
    unknown: ['unknown', 'unknown', 'conflict', 'unknown'],
  };
  const OR: Readonly<Record<Verdict, readonly Verdict[]>> = {
    clear: ['clear', 'clear', 'clear', 'clear'],
    close: ['clear', 'close', 'close', 'unknown'],
    conflict: ['clear', 'close', 'conflict', 'unknown'],
    unknown: ['clear', 'unknown', 'unknown', 'unknown'],
  };
  const both = (how: string, a: Verdict, b: Verdict) =>
    judged(`h.length >= 100 mm ${how} h.stretch >= 100 mm`, { 'hose.length': LENGTH[a], 'hose.stretch': STRETCH[b] });

  it.each(VERDICTS)('the first %s: both must be met, or one', (first) => {
    expect(VERDICTS.map((second) => both('and', first, second).verdict)).toEqual(AND[first]);
    expect(VERDICTS.map((second) => both('or', first, second).verdict)).toEqual(OR[first]);
  });

  it('are controlled by the least margin of those that decide where both must be met, by the greatest where one must', () => {
    const margin = (how: string, a: Verdict, b: Verdict) => both(how, a, b).controlling?.margin;
    expect(margin('and', 'conflict', 'conflict')).toBeCloseTo(-0.02, 9);
    expect(margin('or', 'conflict', 'conflict')).toBeCloseTo(-0.015, 9);
    expect(margin('and', 'clear', 'close')).toBeCloseTo(0.008, 9);
    expect(margin('or', 'clear', 'close')).toBeCloseTo(0.02, 9);
  });
});

describe('a guard', () => {
  const GUARDS = { yes: [0.02, 0.005], perhaps: [0.012, 0.005], 'perhaps not': [0.008, 0.005], no: [0.004, 0.002], unknown: null } as const;
  const guarded = (guard: keyof typeof GUARDS, verdict: Verdict) =>
    judged('h.length >= 100 mm', { gap: GUARDS[guard], 'hose.length': LENGTH[verdict] }, 'when: gap(h.corner) > 10 mm\n').verdict;
  const row = (guard: keyof typeof GUARDS) => VERDICTS.map((verdict) => guarded(guard, verdict));

  it('that holds leaves the verdict as it is', () => {
    expect(row('yes')).toEqual(VERDICTS);
  });

  it('that perhaps holds turns a conflict into a close call', () => {
    expect(row('perhaps')).toEqual(['clear', 'close', 'close', 'unknown']);
    expect(row('perhaps not')).toEqual(['clear', 'close', 'close', 'unknown']);
  });

  it('that does not hold makes the rule not apply, whatever is not known', () => {
    expect(row('no')).toEqual(Array(4).fill('not-applicable'));
  });

  it('that is not known leaves everything unknown', () => {
    expect(row('unknown')).toEqual(Array(4).fill('unknown'));
    const { missing } = judged('h.length >= 100 mm', { gap: null, 'hose.length': 0.2 }, 'when: gap(h.corner) > 10 mm\n');
    expect(missing).toHaveLength(1);
  });
});

describe('what is missing', () => {
  const when = 'when: gap(h.corner) > 0 mm or route(h) > 10 mm\n';
  const guarded = (gap: number | readonly [number, number]) =>
    judged('h.length >= 100 mm', { gap, route: null, 'hose.length': LENGTH.close }, when);

  it('is not hidden by a tolerance that reaches where the guard hangs on it: told, it would be missing all the same', () => {
    expect(guarded(0.02).verdict).toBe('close');
    for (const gap of [[0.01, 0.01], 0] as const) {
      const { verdict, missing } = guarded(gap);
      expect([verdict, missing.length]).toEqual(['unknown', 1]);
    }
  });
});

describe('how sure an end is', () => {
  const sure = (require: string, said: Parameters<typeof judged>[1]) => {
    const { controlling } = judged(require, said);
    return [controlling?.low, controlling?.high, controlling?.lowIs, controlling?.highIs];
  };

  it('is proved where everything the rule reads was given and stands in it once', () => {
    expect(sure('h.length - route(h) >= 0 mm', { 'hose.length': [0.5, 0.125], route: [0.25, 0.125] })).toEqual([
      0,
      0.5,
      'proven',
      'proven',
    ]);
    expect(sure('max(h.length, route(h)) >= 0.25 m ± 0.125 m', { 'hose.length': 0.5, route: [0.25, 0.125] })).toEqual([
      0.125,
      0.375,
      'proven',
      'proven',
    ]);
  });

  it('is proved of a computed value that has nothing open', () => {
    expect(sure('h.length >= route(h)', { 'hose.length': [0.5, 0.25], route: () => 0.25 })).toEqual([0, 0.5, 'proven', 'proven']);
  });

  it('is searched where a model stands in between that only gives a number', () => {
    expect(sure('h.length >= route(h)', { 'hose.length': [0.5, 0.25], route: (ask) => ask.value('gap'), gap: [0.25, 0.125] })).toEqual([
      -0.125,
      0.625,
      'searched',
      'searched',
    ]);
  });

  it('is proved where one value stands twice and the margin moves one way with it', () => {
    expect(sure('2 * h.length - h.length >= 0 mm', { 'hose.length': [0.5, 0.25] })).toEqual([0.25, 0.75, 'proven', 'proven']);
  });

  it('is searched where a model hides what it does between the ends', () => {
    const route = (ask: Ask): number => 0.25 + ask.value('gap') * (ask.value('gap') ** 2 - 1);
    expect(sure('h.length >= route(h)', { 'hose.length': 0.5, route, gap: [0, 1] }).slice(2)).toEqual(['searched', 'searched']);
  });

  it('is searched at an end that a model takes past what it can answer', () => {
    expect(sure('h.length >= route(h)', { 'hose.length': 0.5, route: (ask) => Math.sqrt(ask.value('gap')), gap: [0.25, 0.5] })).toEqual([
      Number.NEGATIVE_INFINITY,
      Number.POSITIVE_INFINITY,
      'searched',
      'searched',
    ]);
  });
});
