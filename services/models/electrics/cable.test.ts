import { describe, expect, it } from 'vitest';
import { bornBy, CABLES, cableFor, FUSES, fuseFor, voltageDrop } from './cable.ts';

const FOOT = 0.3048;

describe('the fuse protects the cable', () => {
  it('each size bears what ABYC E-11 says for 105 degC inside of engine spaces, to the ampere (second-hand)', () => {
    const published = [17, 21, 30, 38, 51, 68, 102, 136, 178, 208, 242, 280, 327, 378];
    CABLES.forEach(({ bears }, i) => expect(Math.abs(bears - (published[i] as number))).toBeLessThanOrEqual(0.6));
  });

  it('each gauge has the cross-section of ASTM B258: 0.127 mm times 92 to the power of (36 - n) / 39', () => {
    const numbers = [18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3];
    CABLES.forEach(({ area }, i) => {
      const diameter = 0.127e-3 * 92 ** ((36 - (numbers[i] as number)) / 39);
      expect(area / ((Math.PI / 4) * diameter ** 2)).toBeCloseTo(1, 2);
    });
  });

  it('a metric size is never thinner than the gauge it is bought for', () => {
    for (const { area, metric } of CABLES) expect(metric).toBeGreaterThanOrEqual(area);
  });

  it('a bilge pump of 10 A, 21 ft there and back, 10 % of 12 V: AWG 16 (a chandler’s catalogue, page 53)', () => {
    expect(cableFor(0, 10, (21 / 2) * FOOT, 1.2)?.gauge).toBe('AWG 16');
  });

  it('copper is no worse than IEC 60028 has it at 20 degC, and no better than at 50', () => {
    const resistivity = voltageDrop(1, 1, 1) / 2;
    expect(resistivity).toBeGreaterThan(1.7241e-8);
    expect(resistivity).toBeLessThan(1.7241e-8 * (1 + 0.00393 * 30));
  });

  it('a fuse is loaded to 80 % at most, on the line included', () => {
    expect([fuseFor(8), fuseFor(8.01), fuseFor(16), fuseFor(401)]).toEqual([10, 15, 20, undefined]);
  });

  it('every fuse has its cable up to what the thickest bears, and what is thinner than all has no figure', () => {
    for (const fuse of FUSES) expect(cableFor(fuse, 0, undefined, 0) !== undefined).toBe(fuse <= 378.25);
    expect([bornBy(0.5e-6), bornBy(6e-6)]).toEqual([undefined, 51]);
  });
});
