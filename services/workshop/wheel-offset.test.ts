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
