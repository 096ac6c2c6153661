/** What is remembered from one request must not show in the answer to another. */
import { expect, it, vi } from 'vitest';
import { answer } from './testing.ts';

/** The planned tyre is the same, so that its search is remembered; what stands there now is not. */
const build = (fittedDiameter: string) => ({
  vehicle: {
    from: 'inline' as const,
    class: 'midsize_independent_front',
    fitted: [
      {
        from: 'inline' as const,
        id: 'factory-tyres',
        kind: 'tyre',
        at: 'all' as const,
        attributes: { designation: '265/65R17 112T', section_width: '265 mm', overall_diameter: fittedDiameter },
      },
    ],
    measured: [{ quantity: 'tyre_gap', of: 'cab-mounts', value: '24 mm ± 3' }],
  },
  parts: [
    {
      from: 'inline' as const,
      kind: 'tyre',
      at: 'all' as const,
      replaces: 'factory-tyres',
      attributes: { designation: '265/70R16 115S' },
      measured: { overall_diameter: '808.5 mm ± 3', section_width: '272 mm ± 3' },
    },
  ],
});

it('answers alike whoever asked before', { timeout: 180_000 }, async () => {
  const asked = build('776 mm ± 2');
  answer(build('690 mm ± 2'));
  const after = answer(asked);
  // Modules loaded anew remember nothing.
  vi.resetModules();
  const anew = await import('./testing.ts');
  expect(anew.answer).not.toBe(answer);
  expect(after).toEqual(anew.answer(asked));
});
