/** What is varied of demo parts, against what was said of them. */
import { describe, expect, it } from 'vitest';
import type { Assembly } from '../vehicle/assembly.ts';
import type { CheckRequest } from '../vehicle/index.ts';
import { checker, demoBuild, demoCatalogue } from './testing.ts';
import { readVary } from './vary.ts';

const build = demoBuild('modest') as CheckRequest;

const NONE = [0, 0, 0, 0];

describe('a tyre of another size', () => {
  const read = readVary(
    { ...build, vary: { quantity: 'designation', of: 'trail-tyres', among: ['255/70R17 112S', '265/70R17 115T'] } },
    demoCatalogue,
    checker.library,
  );
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  const { vary } = read;
  const saidOf = ({ said }: Assembly, name: string) =>
    [...vary.subjects].map((subject) => said.get(`tyre.${name}|${subject}`)?.length ?? 0);

  it('has none of the dimensions and masses that were stated of the size it had', () => {
    expect(vary.leftAside).toEqual(expect.arrayContaining(['overall diameter', 'section width', 'mass']));
    for (const name of ['overall_diameter', 'section_width']) expect(saidOf(vary.assemblyAt(1), name)).toEqual(NONE);
  });

  it('keeps them where it is the size it has', () => {
    expect(saidOf(vary.assemblyAt(0), 'overall_diameter')).toEqual([1, 1, 1, 1]);
    expect(saidOf(vary.assemblyAt(0), 'section_width')).toEqual([1, 1, 1, 1]);
  });
});
