import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readClassGeometry } from '../../../tests/published/suspension/class-geometry.ts';
import { between } from '../../units/testing.ts';
import { makeLinkage } from './double-wishbone.ts';
import { type GapInputs, isNear, searchGaps } from './tyre-gaps.ts';

const { corner, tyre } = readClassGeometry();
const made = makeLinkage(corner.hardpoints);
if (!made.ok) throw new Error(made.reason);
const linkage = made.value;
const base: GapInputs = { tyre, outwardShift: 0, bodyLift: 0, droop: -0.09, bump: 0.11, lock: (36 * Math.PI) / 180 };

const search = (inputs: GapInputs, of = linkage) => {
  const gaps = searchGaps(of, corner, corner.obstacles, inputs);
  if (!gaps.ok) throw new Error(gaps.reason);
  return gaps.value;
};
const searched = search(base);

const nearby = fc.record({
  radius: between(-0.012, 0.012),
  width: between(-0.02, 0.02),
  shift: between(-0.012, 0.012),
  bump: between(-0.008, 0.008),
  droop: between(-0.008, 0.008),
  lock: between(-0.03, 0.03),
});

describe('gaps followed from a search', () => {
  it('are those of the search at what was searched', () => {
    for (const [id, { gap }] of searched.contacts) expect(searched.follow(id, base)).toBeCloseTo(gap, 6);
  });

  it('are near those of a search of their own, and never less', () => {
    fc.assert(
      fc.property(nearby, ({ radius, width, shift, bump, droop, lock }) => {
        const moved: GapInputs = {
          ...base,
          tyre: { ...tyre, freeRadius: tyre.freeRadius + radius, sectionWidth: tyre.sectionWidth + width },
          outwardShift: shift,
          bump: base.bump + bump,
          droop: base.droop + droop,
          lock: base.lock + lock,
        };
        for (const [id, { gap }] of search(moved).contacts) {
          const followed = searched.follow(id, moved);
          expect(followed, id).toBeGreaterThan(gap - 1e-4);
          expect(followed - gap, id).toBeLessThan(1.5e-3);
        }
      }),
      { numRuns: 12 },
    );
  });

  it('take another place where the tyre was nearly as near, once it is nearer there', () => {
    // Over the wing's lip are several places within half a millimetre, from lock to lock.
    const moved: GapInputs = {
      ...base,
      tyre: { ...tyre, freeRadius: tyre.freeRadius - 0.012, sectionWidth: tyre.sectionWidth + 0.02 },
      outwardShift: 0.012,
      bump: base.bump - 0.008,
      droop: base.droop - 0.008,
      lock: base.lock - 0.03,
    };
    const own = search(moved).contacts.get('wing_lip');
    expect(Math.abs((own?.rack ?? 0) - (searched.contacts.get('wing_lip')?.rack ?? 0))).toBeGreaterThan(0.05);
    expect(searched.follow('wing_lip', moved) - (own?.gap ?? 0)).toBeLessThan(0.5e-3);
  });

  it('hold the lock as an angle: a linkage whose rack must go elsewhere for it turns its wheels alike', () => {
    const [x, y, z] = corner.hardpoints.tieRodOuter;
    const other = makeLinkage({ ...corner.hardpoints, tieRodOuter: [x - 0.01, y, z] });
    if (!other.ok) throw new Error(other.reason);
    const [here, there] = [searched, search(base, other.value)];
    for (const id of ['cab_mount', 'pinch_seam', 'liner_rear'])
      expect(Math.abs((there.contacts.get(id)?.gap ?? 0) - (here.contacts.get(id)?.gap ?? 1)), id).toBeLessThan(2e-3);
  });

  it('have no answer for what is not there, for a tyre that is none, or past what the linkage reaches', () => {
    expect(searched.follow('nothing', base)).toBeNaN();
    expect(searched.follow('cab_mount', { ...base, tyre: { ...tyre, freeRadius: -1 } })).toBeNaN();
    expect(searched.follow('cab_mount', { ...base, bump: 0.6 })).toBeNaN();
    const gaps = searchGaps(linkage, corner, corner.obstacles, { ...base, lock: 1.4 });
    expect(!gaps.ok && gaps.reason).toContain('tie_rod_inner');
  });

  it('are not followed far', () => {
    expect(isNear(base, { ...base, bump: base.bump + 0.02 })).toBe(true);
    expect(isNear(base, { ...base, bump: base.bump + 0.05 })).toBe(false);
    expect(isNear(base, { ...base, lock: base.lock + 0.2 })).toBe(false);
  });
});
