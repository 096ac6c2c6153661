import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between } from '../../units/testing.ts';
import { gapAlong, type SetChange } from './gap-change.ts';

/** Tyre as a cylinder about the y axis; the obstacle is a point at distance r from the axis and at y = a outboard of the centre plane. */
interface Place {
  readonly radius: number;
  readonly width: number;
  readonly r: number;
  readonly a: number;
}

/** Exact signed distance, and the angle of the contact direction out of the centre plane. */
function nearest({ radius, width, r, a }: Place): { gap: number; angle: number } {
  const [radial, axial] = [r - radius, Math.abs(a) - width / 2];
  const outside = Math.hypot(Math.max(0, radial), Math.max(0, axial));
  return {
    gap: outside > 0 ? outside : Math.max(radial, axial),
    angle: Math.atan2(Math.sign(a) * Math.max(0, axial), Math.max(0, radial)),
  };
}

const changed = (place: Place, { radiusGrowth, widthGrowth, outwardShift }: SetChange): Place => ({
  radius: place.radius + radiusGrowth,
  width: place.width + widthGrowth,
  r: place.r,
  a: place.a - outwardShift,
});

const millimetres = (min: number, max: number) => between(min / 1000, max / 1000);
const changes = fc.record({ radiusGrowth: millimetres(-30, 60), widthGrowth: millimetres(-60, 80), outwardShift: millimetres(-60, 60) });
const places = fc
  .record({ radial: millimetres(0, 80), axial: millimetres(0, 80), side: fc.constantFrom(-1, 1), tread: fc.boolean() })
  .map(
    ({ radial, axial, side, tread }): Place => ({ radius: 0.4, width: 0.27, r: 0.401 + radial, a: side * (tread ? axial : 0.136 + axial) }),
  );

describe('the gap along the contact direction', () => {
  it('is never more than the exact one', () => {
    fc.assert(
      fc.property(places, changes, (place, change) => {
        const { gap, angle } = nearest(place);
        expect(gapAlong(gap, change, angle)).toBeLessThanOrEqual(nearest(changed(place, change)).gap + 1e-12);
      }),
      { numRuns: 3000 },
    );
  });

  it('is the exact one for small changes', () => {
    fc.assert(
      fc.property(places, changes, (place, change) => {
        const small = {
          radiusGrowth: change.radiusGrowth * 1e-5,
          widthGrowth: change.widthGrowth * 1e-5,
          outwardShift: change.outwardShift * 1e-5,
        };
        const { gap, angle } = nearest(place);
        expect(gapAlong(gap, small, angle)).toBeCloseTo(nearest(changed(place, small)).gap, 7);
      }),
    );
  });

  it('grows by what is trimmed, and by nothing when nothing changes', () => {
    const none = { radiusGrowth: 0, widthGrowth: 0, outwardShift: 0 };
    expect(gapAlong(0.02, none, 0.5)).toBe(0.02);
    expect(gapAlong(0.02, none, 0.5, 0.019)).toBeCloseTo(0.039, 12);
  });

  it('on the tread feels the radius only, on the outboard face the width and the shift only', () => {
    const change = { radiusGrowth: 0.01, widthGrowth: 0.04, outwardShift: 0.005 };
    expect(gapAlong(0.1, change, 0)).toBeCloseTo(0.09, 12);
    expect(gapAlong(0.1, change, Math.PI / 2)).toBeCloseTo(0.075, 12);
    expect(gapAlong(0.1, change, -Math.PI / 2)).toBeCloseTo(0.085, 12);
  });

  it('has the worked value of its header', () => {
    const change = { radiusGrowth: 0.028, widthGrowth: 0.04, outwardShift: 0.015 };
    expect(gapAlong(0.022, change, (35 * Math.PI) / 180)).toBeCloseTo(-0.021, 4);
  });
});
