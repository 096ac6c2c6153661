/** How often gaps are searched: near a search they are followed from it, and what is wide of all is searched once for its neighbourhood. */
import { expect, it } from 'vitest';
import { found, refused } from '../models/result.ts';
import { gapsNear } from './providers/swept-gaps.ts';

interface Inputs {
  readonly droop: number; // mm
}

const isNear = (a: Inputs, b: Inputs): boolean => Math.abs(a.droop - b.droop) <= 30;

function counted() {
  const searched: number[] = [];
  const near = gapsNear<Inputs, { inputs: Inputs }>(isNear);
  const ask = (droop: number, when: 'before' | 'after' = 'after', corner = 3): number => {
    const gaps = near(when, corner, { droop }, () => {
      searched.push(droop);
      return found({ inputs: { droop } });
    });
    return gaps.ok ? gaps.value.inputs.droop : Number.NaN;
  };
  return { searched, ask };
}

it('searches a wide range once for each stretch of it that is near, however often it is asked', () => {
  const { searched, ask } = counted();
  for (let round = 0; round < 3; round++) for (let i = -100; i <= 100; i++) ask(i);
  expect(searched).toEqual([-100, -69, -38, -7, 24, 55, 86]);
});

it('answers equal inputs from the same search, whatever was searched in between', () => {
  const { ask } = counted();
  ask(0);
  const first = ask(47);
  ask(60);
  ask(-47);
  expect([ask(47), ask(20)]).toEqual([first, 0]);
});

it('keeps corners and states apart', () => {
  const { searched, ask } = counted();
  ask(0);
  ask(1, 'before');
  ask(2, 'after', 4);
  expect(searched).toEqual([0, 1, 2]);
});

it('passes on why there are no gaps, and searches again when asked again', () => {
  const near = gapsNear<Inputs, { inputs: Inputs }>(isNear);
  expect(near('after', 3, { droop: 0 }, () => refused('no pose')).ok).toBe(false);
  expect(near('after', 3, { droop: 0 }, () => found({ inputs: { droop: 0 } })).ok).toBe(true);
});
