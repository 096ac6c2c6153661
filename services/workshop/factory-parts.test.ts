/** What a class knows of a part that the vehicle states only in part. */
import { describe, expect, it } from 'vitest';
import { assemble, saidKey } from '../vehicle/assembly.ts';
import type { PartInput } from '../vehicle/index.ts';
import { answer, checker, demoCatalogue } from './testing.ts';

const build = (...fitted: PartInput[]) => ({
  vehicle: { from: 'inline' as const, class: 'midsize_independent_front', fitted },
  parts: [{ from: 'inline' as const, kind: 'body_lift', attributes: { height: '25 mm' } }],
});
const wheels = (id: string, at: 'all' | 'front' = 'all'): PartInput => ({
  from: 'inline',
  id,
  kind: 'wheel',
  at,
  attributes: { rim_diameter: '17 in', offset: '30 mm ± 1' },
});

function assembled(...fitted: PartInput[]) {
  const made = assemble(build(...fitted), demoCatalogue, checker.library);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  const { parts, said } = made.assembly;
  const of = (group: string) => parts.filter((part) => part.group === group);
  /** Ranks of what is said of a value of each of its parts. */
  const ranks = (name: string, group: string) =>
    of(group).map(({ subject }) => said.get(saidKey(name, [subject]))?.map(({ rank }) => rank));
  return { of, ranks };
}

describe('a fitted part under the id it has in the class', () => {
  it('is as the class has it in what is not said of it', () => {
    const { of, ranks } = assembled(wheels('factory-wheels'));
    expect(of('factory-wheels').map(({ place }) => place)).toEqual(['front-left', 'front-right', 'rear-left', 'rear-right']);
    expect(ranks('wheel.load_rating', 'factory-wheels')).toEqual(Array(4).fill(['class-default']));
    expect(ranks('wheel.offset', 'factory-wheels')).toEqual(Array(4).fill(['stated', 'class-default']));
  });

  it('stated for one end leaves the class the other', () => {
    const { of, ranks } = assembled(wheels('factory-wheels', 'front'));
    expect(
      of('factory-wheels')
        .map(({ id }) => id)
        .sort(),
    ).toEqual(['factory-wheels@front-left', 'factory-wheels@front-right', 'factory-wheels@rear-left', 'factory-wheels@rear-right']);
    expect(ranks('wheel.offset', 'factory-wheels')).toEqual([
      ['stated', 'class-default'],
      ['stated', 'class-default'],
      ['class-default'],
      ['class-default'],
    ]);
  });

  it('keeps its shape', () => {
    const { of } = assembled({
      from: 'inline',
      id: 'cab-mounts',
      kind: 'cab_mount',
      at: 'front',
      attributes: { gap_as_built: '31 mm ± 2' },
    });
    expect(of('cab-mounts').map(({ place, shape }) => [place, shape !== undefined])).toEqual([
      ['front-left', true],
      ['front-right', true],
    ]);
  });

  it('leaves no more open than the class alone, and one of another id stands for itself', () => {
    const unknown = (...fitted: PartInput[]) => answer(build(...fitted)).checked.unknown;
    expect(unknown(wheels('factory-wheels'))).toBeLessThanOrEqual(unknown());
    expect(assembled(wheels('forged')).ranks('wheel.load_rating', 'forged')).toEqual(Array(4).fill(undefined));
  });
});
