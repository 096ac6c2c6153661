import { describe, expect, it } from 'vitest';
import { readClassGeometry } from '../../../tests/published/suspension/class-geometry.ts';
import { makeLinkage } from './double-wishbone.ts';
import type { Hardpoints } from './geometry.ts';
import { findHardpointFaults } from './hardpoints.ts';
import type { Vec3 } from './vector.ts';

const good = readClassGeometry().corner.hardpoints;
const flipped = (p: Vec3, axis: 0 | 1 | 2): Vec3 => p.map((x, i) => (i === axis ? -x : x)) as unknown as Vec3;

describe('hardpoint faults', () => {
  it('are none in the class geometry', () => {
    expect(findHardpointFaults(good)).toEqual([]);
  });

  const cases: [string, Partial<Hardpoints>, string, string][] = [
    ['a side turned round', { tieRodOuter: flipped(good.tieRodOuter, 1) }, 'tie_rod_outer', 'turn the sign of y'],
    [
      'fore and aft turned round',
      { lowerArmFrontBush: flipped(good.lowerArmFrontBush, 0), lowerArmRearBush: flipped(good.lowerArmRearBush, 0) },
      'lower_arm_front_bush',
      'swap the two bushes',
    ],
    ['millimetres for metres', { wheelCentre: [0, 800, 372] }, 'wheel_centre', 'millimetres'],
    [
      'ball joints swapped',
      { upperBallJoint: good.lowerBallJoint, lowerBallJoint: good.upperBallJoint },
      'upper_ball_joint',
      'swap the two ball joints',
    ],
    ['a missing number', { upperArmRearBush: [0, Number.NaN, 0.6] }, 'upper_arm_rear_bush', 'give x, y and z'],
    ['a spin axis pointing inboard', { wheelAxis: [0, -1, 0] }, 'wheel_axis', 'turn its sign'],
    ['a spin axis that is no direction', { wheelAxis: [0, 2, 0] }, 'wheel_axis', 'divide it by its length'],
    ['both bushes in one place', { upperArmFrontBush: [-0.109, 0.362, 0.634] }, 'upper_arm_front_bush', 'their own places'],
    ['a tie rod on the steering axis', { tieRodOuter: [-0.0035, 0.679, 0.4335] }, 'tie_rod_outer', 'ahead of or behind'],
    [
      'a tie rod in line with its steering arm',
      { tieRodInner: [0.0, 0.4, 0.2], tieRodOuter: [0.016, 1.1, 0.22] },
      'tie_rod_outer',
      'check',
    ],
  ];

  it.each(cases)('%s: the point and the fix', (_, wrong, point, fix) => {
    const faults = findHardpointFaults({ ...good, ...wrong });
    expect(faults.map((f) => f.point)).toContain(point);
    expect(faults.find((f) => f.point === point)!.fix).toContain(fix);
    const made = makeLinkage({ ...good, ...wrong });
    expect(made.ok).toBe(false);
  });

  it('are all told, not only the first', () => {
    const faults = findHardpointFaults({ ...good, tieRodOuter: flipped(good.tieRodOuter, 1), wheelCentre: [0, -0.8, 0.372] });
    expect(faults.map((f) => f.point)).toEqual(['tie_rod_outer', 'wheel_centre']);
  });
});
