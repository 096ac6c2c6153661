import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between } from '../../units/testing.ts';
import { backspacingOf, offsetOf, outwardShift, sidewallShifts, trackChange } from './wheel.ts';

const sets = fc.record({ offset: between(-0.06, 0.06), spacer: between(0, 0.05), sectionWidth: between(0.2, 0.35) });

describe('offset and backspacing', () => {
  it('are each other turned round', () => {
    fc.assert(
      fc.property(
        between(0.12, 0.3),
        between(-0.06, 0.06),
        (width, offset) => void expect(offsetOf(width, backspacingOf(width, offset))).toBeCloseTo(offset, 12),
      ),
    );
  });
});

describe('where the sidewalls go', () => {
  it('by the shift, and half of the growth to each side', () => {
    const { inner, outer } = sidewallShifts(
      { offset: 0.025, spacer: 0, sectionWidth: 0.27 },
      { offset: 0, spacer: 0, sectionWidth: 0.3175 },
    );
    expect(inner).toBeCloseTo(0.00125, 9);
    expect(outer).toBeCloseTo(0.04875, 9);
  });
  it('apart by the growth of the width, around the shift of the centre plane, and back again', () => {
    fc.assert(
      fc.property(sets, sets, (from, to) => {
        const there = sidewallShifts(from, to);
        const back = sidewallShifts(to, from);
        expect(there.outer - there.inner).toBeCloseTo(to.sectionWidth - from.sectionWidth, 12);
        expect((there.outer + there.inner) / 2).toBeCloseTo(outwardShift(from, to), 12);
        expect([there.inner + back.inner, there.outer + back.outer]).toEqual([expect.closeTo(0, 12), expect.closeTo(0, 12)]);
      }),
    );
  });
  it('the track grows by both sides', () => expect(trackChange(0.03, 0.025)).toBeCloseTo(0.055, 12));
});
