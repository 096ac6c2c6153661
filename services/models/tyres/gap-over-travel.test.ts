import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leastAllRound, leastOverTravel, mostOverTravel, PRESSED_SHARE, pressedWithin, travelToHard } from './gap-over-travel.ts';

const deg = Math.PI / 180;

describe('the least gap over travel, from the one at ride height', () => {
  it.each([
    [30 * deg, 0, 0.005],
    [90 * deg, 0, -0.03],
    [0, 0, 0.04],
    [30 * deg, 60 * deg, 0.0225],
    [30 * deg, Number.NaN, 0.005],
  ])('the worked values, φ %f, β %f', (rise, angle, least) => {
    expect(leastOverTravel({ gap: 0.04, rise, angle, up: 0.07, down: 0.08 })).toBeCloseTo(least, 6);
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
          expect(leastOverTravel({ gap, rise, angle: 0, up, down })).toBeLessThanOrEqual(real + 1e-9);
        },
      ),
    );
  });

  it('is never more than what is left to the place that was nearest, of a tyre with square shoulders', () => {
    const length = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        length(0.3, 0.5),
        length(0.01, 0.2),
        length(-80, 90),
        length(-60, 60),
        length(0, 0.2),
        length(0, 0.2),
        (radius, gap, rise, angle, up, down) => {
          // The place beside an edge of the tread, which is at y = 0; the tyre is inside it, where y < 0.
          const out = radius + gap * Math.cos(angle * deg);
          const [x, y, z] = [out * Math.cos(rise * deg), gap * Math.abs(Math.sin(angle * deg)), out * Math.sin(rise * deg)];
          const steps = Array.from({ length: 201 }, (_, i) => -down + ((up + down) * i) / 200);
          const real = Math.min(...steps.map((at) => Math.hypot(Math.max(0, Math.hypot(x, z - at) - radius), y)));
          expect(mostOverTravel({ gap, rise: rise * deg, angle: angle * deg, radius, up, down })).toBeGreaterThanOrEqual(real - 1e-3);
        },
      ),
    );
    expect(mostOverTravel({ gap: 0.15, rise: 90 * deg, angle: 0, radius: 0.4, up: 0.1, down: 0.1 })).toBeCloseTo(0.05, 9);
  });

  it('of a shell round the tyre is what is left of it when the wheel is really moved, which the one place that was nearest is not', () => {
    const length = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    let passed = 0;
    fc.assert(
      fc.property(
        length(0.3, 0.5),
        length(0.01, 0.2),
        length(-60, 90),
        fc.array(length(0, 0.03), { minLength: 37, maxLength: 37 }),
        length(0, 0.2),
        length(0, 0.2),
        (radius, gap, rise, further, up, down) => {
          // A quarter turn either way from the nearest, each other place by itself so much further away.
          const places = further.map((more, i) => ({ angle: (rise + 5 * (i - 18)) * deg, gap: i === 18 ? gap : gap + more }));
          const steps = Array.from({ length: 61 }, (_, i) => -down + ((up + down) * i) / 60);
          const left = (at: number, one: (typeof places)[number]): number =>
            Math.hypot((radius + one.gap) * Math.cos(one.angle), (radius + one.gap) * Math.sin(one.angle) - at) - radius;
          const real = Math.min(...steps.flatMap((at) => places.map((one) => left(at, one))));
          const at = { gap, rise: rise * deg, angle: 0, radius, up, down };
          const { middle, within } = leastAllRound(at);
          expect(middle - within).toBeLessThanOrEqual(real + 1e-9);
          if (leastOverTravel(at) > real + 0.02) passed++;
        },
      ),
    );
    expect(passed).toBeGreaterThan(0);
  });

  it('of a liner alike from 0 to 45° up is open, where one straight behind would be clear', () => {
    const { middle, within } = leastAllRound({ gap: 0.04, rise: 0, up: 0.07, down: 0.05 });
    expect([middle - within, middle + within].map((one) => one * 1000)).toEqual([expect.closeTo(-30, 9), expect.closeTo(40, 9)]);
  });

  it('beside the tyre is hardly nearer by travel: 60 mm from a bracket 85° inboard and 55° up, 120 mm of bump', () => {
    expect(leastOverTravel({ gap: 0.06, rise: 55 * deg, angle: -85 * deg, up: 0.12, down: 0.05 })).toBeGreaterThan(0.05);
  });

  it('never gains by travel', () => {
    for (const rise of [-60, 0, 45])
      expect(leastOverTravel({ gap: 0.03, rise: rise * deg, angle: 0, up: 0.05, down: 0.05 })).toBeLessThanOrEqual(0.03);
  });
});

describe('travel to hard on the stop', () => {
  it('is its gap and the share of its rubber that can be pressed, at the wheel', () => {
    const stop = { gap: 0.03, freeHeight: 0.06, ratio: 1.6 };
    expect(travelToHard(stop)).toBeCloseTo(1.6 * (0.03 + PRESSED_SHARE.value * 0.06), 12);
    expect(pressedWithin(stop)).toBeCloseTo(1.6 * PRESSED_SHARE.plusMinus * 0.06, 12);
  });
});
