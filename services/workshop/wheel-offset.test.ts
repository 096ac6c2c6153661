/** The offset that is asked for is the least that does: by hand, from what was fitted and what is borne. */
import { describe, expect, it } from 'vitest';
import { answer, findingsOf } from './testing.ts';

const wheel = (id: string, offset: string, more: object = {}) => ({
  ...{ from: 'inline' as const, id, kind: 'wheel', at: 'all' as const },
  ...{ attributes: { rim_diameter: '17 in', rim_width: '7.5 in', offset }, ...more },
});
const planned = (offset: string) =>
  answer({
    vehicle: { from: 'inline', class: 'solid_axle_short', fitted: [wheel('factory-wheels', '25 mm ± 1')] },
    parts: [wheel('wide', offset, { replaces: 'factory-wheels' })],
    most_readings: 0,
  } as never);
const verdict = (offset: string) => findingsOf(planned(offset), 'wheel-outward-shift')[0]?.verdict;

describe('an offset that stands too far out', () => {
  // 25 ± 1 mm fitted and 30 mm borne: −5 ± 1 mm, surely enough from −4 mm on.
  it('asks for the least that is surely enough, which is clear when it is chosen, and one less is not', () => {
    const [step] = planned('-12 mm').work.steps.filter(({ work }) => work === 'choose-wheel-offset');
    expect(step?.amounts.offset).toMatchObject({ value: -4, unit: 'mm' });
    expect([verdict('-4 mm'), verdict('-5 mm')]).toEqual(['clear', 'close']);
  });
});

describe('an offset that was stated and a backspacing that was read', () => {
  const read = (backspacing: string) =>
    answer({
      vehicle: {
        from: 'inline',
        class: 'solid_axle_short',
        fitted: [wheel('factory-wheels', '25 mm ± 1')],
        measured: [{ quantity: 'wheel.backspacing', of: 'factory-wheels', value: backspacing }],
      },
      parts: [wheel('wide', '0 mm', { replaces: 'fitted' })],
    } as never);
  const told = (given: ReturnType<typeof read>) => findingsOf(given, 'statements-agree').map(({ says }) => says);

  // Half of 7.5 in and a flange of half an inch is 4.25 in: 3.5 in is 0.75 in less, an offset of -19 mm; 25 mm would be 5.23 in.
  it('contradict each other where they are not of one wheel, both told as offset, and the reading is asked for again first', () => {
    const given = read('3.5 in ± 0.08');
    const says = told(given);
    expect(says.length).toBeGreaterThan(0);
    for (const one of says)
      expect(one).toMatch(/: -19\.1 mm \(from backspacing, measured, ± 2 mm\) against 25 mm \(stated, ± 1 mm\); one of the two is wrong/);
    expect(given.measure[0]).toMatchObject({
      quantity: 'wheel.backspacing',
      why: expect.stringMatching(/^-19\.1 mm \(from backspacing, measured, .+\) against 25 mm \(stated, .+\): both cannot be true$/),
    });
  });

  it('agree where they are of one', () => {
    expect(told(read('5.23 in ± 0.08'))).toEqual([]);
  });
});
