import { describe, expect, it } from 'vitest';
import { NUMBERS } from '../../units/index.ts';
import { bearingMoment, rotatingMass } from './wheel-loads.ts';

describe('bearing moment', () => {
  const at = (arm: number, radius: number, load = 700) => bearingMoment(NUMBERS, { load, arm, radius });
  it('grows as worked out by hand', () => expect(at(0.035, 0.386) / at(0.01, 0.361) - 1).toBeCloseTo(0.3117, 3));
  it('goes with the load', () => expect(at(0.01, 0.361, 1400) / at(0.01, 0.361)).toBeCloseTo(2, 12));
});

it('a mass on a wheel counts for more than itself, and for less than twice', () => {
  expect(rotatingMass(NUMBERS, 10)).toBeGreaterThan(10);
  expect(rotatingMass(NUMBERS, 10)).toBeLessThan(20);
});
