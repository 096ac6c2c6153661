/** A vehicle whose body carries itself gets no work of a body on a frame. */
import { describe, expect, it } from 'vitest';
import type { CheckRequest } from '../vehicle/index.ts';
import { checker, demoCatalogue } from './testing.ts';

const answer = (
  name: string,
  values: Record<string, string> = {},
  parts: readonly object[] = [{ from: 'inline', kind: 'body_lift', id: 'lift', attributes: { height: '75 mm' } }],
) => {
  const checked = checker.check(
    { vehicle: { from: 'inline', class: name, values }, parts, most_readings: 1 } as unknown as CheckRequest,
    demoCatalogue,
  );
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
  const { findings, work } = checked.answer;
  return {
    verdict: findings.find(({ id }) => id.startsWith('body-lift-needs-frame'))?.verdict,
    works: work.steps.map((step) => step.work),
  };
};

describe('a van', () => {
  it('cannot have its body raised: the lift is a conflict, and nobody raises anything', () => {
    const { verdict, works } = answer('van');
    expect(verdict).toBe('conflict');
    for (const work of ['raise-body', 'fit-body-lift', 'look-over-body']) expect(works, work).not.toContain(work);
  });

  it('that stands on a frame after all says so, and can', () => {
    expect(answer('van', { body_on_frame: 'yes' })).toMatchObject({ verdict: 'clear', works: expect.arrayContaining(['raise-body']) });
  });

  it('with larger tyres is not cured by a body lift either', () => {
    const tyres = {
      from: 'inline',
      kind: 'tyre',
      id: 'tyres',
      at: 'all',
      replaces: 'fitted',
      attributes: { designation: '275/70R16 118T' },
    };
    expect(answer('van', {}, [tyres]).works).not.toContain('fit-body-lift');
  });
});
