import { describe, expect, it } from 'vitest';
import { NUMBERS } from '../../units/index.ts';
import { centreHeight, stabilityFactor } from './stability.ts';

describe('static stability', () => {
  it('by hand: 100 kg on the roof raise 2000 kg by 60 mm', () => {
    const height = centreHeight(NUMBERS, [
      { mass: 2000, height: 0.7 },
      { mass: 100, height: 1.96 },
    ]);
    expect(height).toBeCloseTo(0.76, 12);
    expect(stabilityFactor(NUMBERS, 1.52, height)).toBeCloseTo(1, 12);
  });
  it('leaves one mass where it is', () => expect(centreHeight(NUMBERS, [{ mass: 1900, height: 0.69 }])).toBeCloseTo(0.69, 12));
});
