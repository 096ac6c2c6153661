import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between } from '../../units/testing.ts';
import { axleLoads, grossMass } from './axle-loads.ts';

const onScales = { front: 1150, rear: 950 };
const masses = fc.array(fc.record({ mass: between(-20, 60), behindFrontAxle: between(-1, 4) }), { maxLength: 12 });

describe('axle loads', () => {
  it('keep force and moment in balance, for any number of masses', () => {
    fc.assert(
      fc.property(masses, between(2, 4), (placed, wheelbase) => {
        const outcome = axleLoads(onScales, placed, wheelbase);
        if (!outcome.ok) throw new Error(outcome.reason);
        const sum = (of: (m: { mass: number; behindFrontAxle: number }) => number): number => placed.reduce((total, m) => total + of(m), 0);
        expect(grossMass(outcome.value)).toBeCloseTo(2100 + sum(({ mass }) => mass), 8);
        expect(outcome.value.rear * wheelbase).toBeCloseTo(950 * wheelbase + sum(({ mass, behindFrontAxle }) => mass * behindFrontAxle), 8);
      }),
    );
  });

  it('with nothing added are those on the scales', () => expect(axleLoads(onScales, [], 3)).toEqual({ ok: true, value: onScales }));
  it('say when an axle would lift', () =>
    expect(axleLoads(onScales, [{ mass: 3000, behindFrontAxle: 5 }], 2.8)).toEqual({
      ok: false,
      reason: 'the front axle would lift off the ground',
    }));
  it.each([0, -2.8, Number.NaN])('have no answer for a wheelbase of %s', (wheelbase) =>
    expect(axleLoads(onScales, [], wheelbase).ok).toBe(false),
  );
  it('have no answer while a mass is not known', () =>
    expect(axleLoads(onScales, [{ mass: Number.NaN, behindFrontAxle: 1 }], 2.8).ok).toBe(false));
});
