import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between } from '../../units/testing.ts';
import { shiftBetween } from './frames.ts';

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
