/** What findings say of what is not known, and works of how far they go. */
import { describe, expect, it } from 'vitest';
import type { Work, WorkParameter } from '../engine/tree.ts';
import { Texts } from '../engine/values.ts';
import { assemble } from '../vehicle/assembly.ts';
import { createWorld } from '../vehicle/world.ts';
import { exceeds } from './asked-work.ts';
import { checker, demoCatalogue } from './testing.ts';
import { checkSmall, ROOF, shaft, smallLibrary } from './testing-small.ts';

const SHAFT = [shaft('60 mm')];
const saysOf = (says: string): string | undefined =>
  checkSmall(smallLibrary([{ id: 'roof', body: 'require: "roof_gap >= 0 mm"', says }]), {
    values: { roof_gap: '-5 mm ± 0' },
    fitted: SHAFT,
  }).findings.find(({ rule }) => rule === 'roof')?.says;

describe('what a finding says', () => {
  // Nobody says which axle drives.
  it('leaves out a sentence, or what stands behind a semicolon, of which nothing is known', () => {
    expect(saysOf('It is {shortfall: mm} short. Nearest {roof_gap: mm} up with {drive} behind; {trimmed: mm} is off; {drive} drives')).toBe(
      'It is 5 mm short. Nearest -5 mm up with unknown behind; 0 mm is off',
    );
    expect(saysOf('It is {shortfall: mm} short. It drives by {drive}. A body lift gives room')).toBe(
      'It is 5 mm short. A body lift gives room',
    );
    expect(saysOf('It is {shortfall: mm} short; {drive} drives')).toBe('It is 5 mm short');
  });

  it('says so of what is not known beside what is, and of all where nothing is', () => {
    expect(saysOf('{roof_gap: mm} is left with {drive} driving. ')).toBe('-5 mm is left with unknown driving. ');
    expect(saysOf('by {drive}')).toBe('by unknown');
  });
});

describe('a work that must leave something of the vehicle', () => {
  const library = smallLibrary([ROOF], {
    'works/raise-body.yaml': `id: raise-body
title: "Raise the body by {height: mm}"
takes: { height: { unit: mm } }
hours: { low: 1 h, likely: 1 h, high: 1 h }
as_long_as: "floor_gap - raised - height >= 40 mm"
effects: [{ add: height, to: raised }]
basis: [{ kind: common-practice }]
`,
  });
  const checked = (roof: string) => checkSmall(library, { values: { roof_gap: roof, floor_gap: '100 mm ± 0' }, fitted: SHAFT });

  it('is asked for up to that', () => {
    expect(checked('-60 mm ± 0').work.steps.map(({ amounts }) => amounts.height?.value)).toEqual([60]);
    // Between 30 and 70 are needed: 60 may do, and what then stays open is told.
    const open = checked('-50 mm ± 20');
    expect(open.work.steps.map(({ amounts }) => amounts.height?.value)).toEqual([60]);
    expect(open.after_work.remaining.map(({ id }) => id)).toContain('roof');
  });

  it('and not where no more than that would surely not do: other parts are wanted', () => {
    const beyond = checked('-61 mm ± 0');
    expect(beyond.work.steps).toEqual([]);
    expect(beyond.findings[0]?.says).toContain('choose other parts');
  });

  // The van of the class stands 70 mm off its rear stops, and 40 are wanted; a reading of 60 mm leaves 20.
  it.each([
    [undefined, 30, 35],
    ['60 mm ± 0', 20, 25],
    ['40 mm ± 0', 0, 5],
  ])('is not extended on to its bump stops: of %s it may take %d mm and not %d', (gap, may, mayNot) => {
    const measured = gap === undefined ? [] : [{ quantity: 'rear_stop_gap', value: gap }];
    const made = assemble({ vehicle: { from: 'inline', class: 'van', measured } }, demoCatalogue, checker.library);
    if (!made.ok) throw new Error(JSON.stringify(made.faults));
    const world = createWorld(made.assembly, checker.library, new Texts());
    const work = checker.library.works.get('extend-rear-bump-stops') as Work;
    const goesBeyond = (mm: number): boolean => {
      const parameter = work.takes[0] as WorkParameter;
      const amount = { parameter, value: mm / 1000, nominal: mm / 1000, least: 0 };
      return exceeds({ key: work.id, work, subjects: [], amounts: new Map([[parameter.name, amount]]) }, world);
    };
    expect([goesBeyond(may), goesBeyond(mayNot)]).toEqual([false, true]);
  });
});
