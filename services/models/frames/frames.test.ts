import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between } from '../../units/testing.ts';
import { engagementLost, shiftBetween, slipPulledApart } from './frames.ts';

const lost = (raise: number, length: number, angle: number): number => {
  const outcome = engagementLost(raise, length, angle);
  if (!outcome.ok) throw new Error(outcome.reason);
  return outcome.value;
};

describe('frames', () => {
  const tree = new Map<string, string | undefined>([
    ['ground', undefined],
    ['axle', 'ground'],
    ['chassis', 'axle'],
    ['body', 'chassis'],
    ['bed', 'chassis'],
  ]);
  const names = fc.constantFrom(...tree.keys());
  const raises = fc.array(fc.record({ frame: names, by: between(-0.1, 0.1) }), { maxLength: 6 });
  it('shift oppositely seen from the other, and add up over a third', () => {
    fc.assert(
      fc.property(names, names, names, raises, (a, b, c, by) => {
        expect(shiftBetween(a, b, tree, by)).toBeCloseTo(-shiftBetween(b, a, tree, by), 12);
        expect(shiftBetween(a, b, tree, by) + shiftBetween(b, c, tree, by)).toBeCloseTo(shiftBetween(a, c, tree, by), 12);
      }),
    );
  });
  it('a raise of what both stand on moves neither against the other', () =>
    expect(shiftBetween('body', 'bed', tree, [{ frame: 'chassis', by: 0.05 }])).toBe(0));
  it('a loop in the tree comes to an end', () =>
    expect(
      shiftBetween(
        'a',
        'b',
        new Map([
          ['a', 'b'],
          ['b', 'a'],
        ]),
        [],
      ),
    ).toBe(0));
});

describe('steering shaft', () => {
  it('has the worked value of its header', () => expect(lost(0.075, 0.6, Math.PI / 3)).toBeCloseTo(0.0408, 4));
  it('loses at least the raise along the shaft, and at most the raise', () => {
    fc.assert(
      fc.property(between(0, 0.1), between(0.2, 1), between(0, Math.PI / 2), (raise, length, angle) => {
        const is = lost(raise, length, angle);
        expect(is).toBeGreaterThanOrEqual(slipPulledApart(raise, angle) - 1e-12);
        expect(is).toBeLessThanOrEqual(raise + 1e-12);
      }),
    );
  });
  it.each([
    [0.05, 0, 0.5],
    [0.05, Number.NaN, 0.5],
    [0.05, 0.6, 2],
    [0.05, 0.6, Number.NaN],
  ])('has no answer for a raise of %s, a length of %s, an angle of %s', (raise, length, angle) =>
    expect(engagementLost(raise, length, angle).ok).toBe(false),
  );
});
