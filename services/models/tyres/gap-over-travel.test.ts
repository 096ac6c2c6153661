import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leastOverTravel, PRESSED_SHARE, pressedWithin, travelToHard } from './gap-over-travel.ts';

const deg = Math.PI / 180;

describe('the least gap over travel, from the one at ride height', () => {
  it.each([
    [30 * deg, 0.005],
    [90 * deg, -0.03],
    [0, 0.04],
  ])('the worked values, φ %f', (rise, least) => {
    expect(leastOverTravel({ gap: 0.04, rise, up: 0.07, down: 0.08 })).toBeCloseTo(least, 9);
  });

  it('is never more than a circle that is really moved past a point leaves', () => {
    const length = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        length(0.3, 0.5),
        length(0.01, 0.2),
        length(-80, 89),
        length(0, 0.2),
        length(0, 0.2),
        (radius, gap, degrees, up, down) => {
          const rise = degrees * deg;
          const [x, z] = [(radius + gap) * Math.cos(rise), (radius + gap) * Math.sin(rise)];
          const steps = Array.from({ length: 201 }, (_, i) => -down + ((up + down) * i) / 200);
          const real = Math.min(...steps.map((at) => Math.hypot(x, z - at) - radius));
          expect(leastOverTravel({ gap, rise, up, down })).toBeLessThanOrEqual(real + 1e-9);
        },
      ),
    );
  });

  it('never gains by travel', () => {
    for (const rise of [-60, 0, 45])
      expect(leastOverTravel({ gap: 0.03, rise: rise * deg, up: 0.05, down: 0.05 })).toBeLessThanOrEqual(0.03);
  });
});

describe('travel to hard on the stop', () => {
  it('is its gap and the share of its rubber that can be pressed, at the wheel', () => {
    const stop = { gap: 0.03, freeHeight: 0.06, ratio: 1.6 };
    expect(travelToHard(stop)).toBeCloseTo(1.6 * (0.03 + PRESSED_SHARE.value * 0.06), 12);
    expect(pressedWithin(stop)).toBeCloseTo(1.6 * PRESSED_SHARE.plusMinus * 0.06, 12);
  });
});
