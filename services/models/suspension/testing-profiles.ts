/** Pairs of tyres of which one contains the other, made at random; for tests. */
import fc from 'fast-check';
import { between } from '../../units/testing.ts';
import { makeProfile, type Profile, type TyreShape } from './tyre-shape.ts';

const grown = fc.tuple(between(0, 0.04), between(0, 0.05), between(0, 1));

/** Upright walls: more radius, more width, shoulders no rounder. */
const upright = fc
  .tuple(between(0.34, 0.44), between(0.2, 0.33), between(0.005, 0.06), grown)
  .map(([freeRadius, sectionWidth, shoulderRadius, [dr, dw, rounder]]): readonly [TyreShape, TyreShape] => [
    { freeRadius, loadedRadius: freeRadius, sectionWidth, shoulderRadius },
    {
      freeRadius: freeRadius + dr,
      loadedRadius: freeRadius,
      sectionWidth: sectionWidth + dw,
      shoulderRadius: shoulderRadius * rounder,
    },
  ]);

/** A tread narrower than the belly: more of each, and the belly no lower. */
const bellied = fc
  .tuple(between(0.36, 0.44), between(0.24, 0.33), between(0.005, 0.04), grown, between(0.5, 0.8), between(0, 0.02))
  .map(([freeRadius, sectionWidth, shoulderRadius, [dr, dw, share], tread, db]): readonly [TyreShape, TyreShape] => {
    const common = { loadedRadius: freeRadius, shoulderRadius };
    const [treadWidth, bellyRadius] = [tread * (sectionWidth - 2 * shoulderRadius), 0.75 * freeRadius];
    return [
      { ...common, freeRadius, sectionWidth, treadWidth, bellyRadius },
      {
        ...common,
        freeRadius: freeRadius + dr,
        sectionWidth: sectionWidth + dw,
        treadWidth: treadWidth + share * dw,
        bellyRadius: bellyRadius + db,
      },
    ];
  });

export const containing = fc.oneof(upright, bellied).map(([inner, outer]): { readonly inner: Profile; readonly outer: Profile } => {
  const [one, other] = [makeProfile(inner), makeProfile(outer)];
  if (!one.ok || !other.ok) throw new Error('no profile');
  return { inner: one.value, outer: other.value };
});
