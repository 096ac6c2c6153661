import { beforeAll, describe, expect, it } from 'vitest';
import { type Linkage, makeLinkage, solvePose } from '../../../services/models/suspension/double-wishbone.ts';
import { addScaled, distance } from '../../../services/models/suspension/vector.ts';
import { readClassGeometry } from './class-geometry.ts';
import { type Multibody, multibodyLinkage } from './multibody.ts';

const POSITIONS: readonly (readonly [number, number])[] = [
  [-0.09, 0],
  [-0.09, 0.072],
  [-0.09, -0.072],
  [-0.045, 0.03],
  [0, 0],
  [0, 0.072],
  [0, -0.072],
  [0.03, -0.05],
  [0.06, 0.04],
  [0.11, 0],
  [0.11, 0.072],
  [0.11, -0.072],
];

describe('the direct solve and a multibody engine of the same linkage', () => {
  const { hardpoints } = readClassGeometry().corner;
  let linkage: Linkage;
  let engine: Multibody;
  let wrong: Multibody;

  beforeAll(async () => {
    const made = makeLinkage(hardpoints);
    if (!made.ok) throw new Error(made.reason);
    linkage = made.value;
    engine = await multibodyLinkage(hardpoints);
    const [x, y, z] = hardpoints.tieRodInner;
    wrong = await multibodyLinkage({ ...hardpoints, tieRodInner: [x, y, z + 0.0001] });
  });

  function worst(other: Multibody, travel: number, rack: number): number {
    const pose = solvePose(linkage, travel, rack);
    if (!pose.ok) throw new Error(pose.reason);
    const p = pose.value;
    const settled = other(p.lowerArmTurn, rack);
    return Math.max(
      distance(p.wheelCentre, settled.wheelCentre),
      distance(addScaled(p.wheelCentre, p.wheelAxis, 1), settled.axisTip),
      distance(p.upperBallJoint, settled.upperBallJoint),
      distance(p.tieRodOuter, settled.tieRodOuter),
    );
  }

  it.each(POSITIONS)('agree to a nanometre at travel %d m, rack %d m', (travel, rack) => {
    expect(worst(engine, travel, rack)).toBeLessThan(1e-9);
  });

  it('disagree when one hardpoint of the other is wrong by a tenth of a millimetre', () => {
    expect(worst(wrong, 0.11, 0)).toBeGreaterThan(1e-5);
  });
});
