/** What a fabricator asks of a whole vehicle, from request to answer. Trade facts are common practice, no source. */
import { describe, expect, it } from 'vitest';
import type { CheckRequest, PartInput } from '../vehicle/index.ts';
import { answer, findingsOf } from './testing.ts';

const CLASS = 'midsize_independent_front';
const withParts = (...parts: PartInput[]): CheckRequest => ({ vehicle: { from: 'inline', class: CLASS }, parts });
const verdictsOf = (request: CheckRequest, rule: string): string[] => findingsOf(answer(request), rule).map(({ verdict }) => verdict);

describe('rear lift', () => {
  const lift: PartInput = {
    from: 'inline',
    kind: 'rear_spring',
    at: 'rear',
    attributes: { height_added: '200 mm', droop_added: '200 mm', rated_extra_mass: '100 kg' },
  };
  const lifted = answer(withParts(lift));
  const verdictOf = (rule: string) => lifted.findings.filter((f) => f.rule === rule && !f.as_before).map(({ verdict }) => verdict);

  it('of 200 mm outreaches dampers, shaft joints, cable, breather and wires, and turns the headlamps', () => {
    for (const rule of ['rear-dampers-droop', 'propeller-shaft-angle', 'parking-cable-slack', 'axle-breather-slack', 'headlamps-aimed'])
      expect([rule, verdictOf(rule)]).toEqual([rule, ['conflict']]);
    expect(verdictOf('wheel-wire-slack')).toContain('conflict');
  });
  it('leaves unknown what nobody said of the hose, the valve and the U-bolts, and does not call it as before', () => {
    for (const rule of ['brake-hose-reach', 'load-sensing-valve', 'new-u-bolts'])
      expect([rule, verdictOf(rule)]).toEqual([rule, ['unknown']]);
  });
  it('does not conflict where there is none', () => {
    expect(answer(withParts()).findings.filter(({ verdict }) => verdict === 'conflict')).toEqual([]);
  });
});
