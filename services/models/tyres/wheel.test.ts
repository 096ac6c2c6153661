import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between } from '../../units/testing.ts';
import { backspacingOf, offsetOf } from './wheel.ts';

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
