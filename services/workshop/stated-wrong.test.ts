/** What a class or a catalogue states and nobody can read is said, never left out in silence. */
import { describe, expect, it } from 'vitest';
import type { CatalogueVehicle } from '../vehicle/index.ts';
import { createChecker } from './index.ts';
import { smallLibrary } from './testing-small.ts';

const small = (more: string) => () => smallLibrary([], { 'classes/small.yaml': `id: small\ntitle: Small\n${more}\n` });

describe('a class', () => {
  it.each([
    ['values: { floor_gap: { front: 100 mm } }', '`floor_gap` has no value at `front`'],
    ['values: { floor_gap: { nowhere: 100 mm } }', '`floor_gap` has no value at `nowhere`'],
    ['values: { braked: perhaps }', '`perhaps` is neither yes nor no'],
    ['values: { drive: sideways }', '`sideways` is not one of its values'],
    ['values: { margin: 3 mm }', '`margin` is computed'],
    ['positions: [{ kind: shaft, at: middle }]', 'there is no place `middle`'],
    ['fitted: [{ id: a, kind: shaft, at: nowhere }]', 'there is no place `nowhere`'],
    ['fitted: [{ id: a, kind: shaft, attributes: { splined: maybe } }]', '`maybe` is neither yes nor no'],
  ])('with %s is refused', (more, message) => {
    expect(small(more)).toThrow(message);
  });

  it('whose values, positions and parts can all be read is taken', () => {
    expect(
      small(
        'values: { floor_gap: { vehicle: 100 mm }, braked: "yes", drive: rear }\npositions: [{ kind: shaft }]\nfitted: [{ id: a, kind: shaft, attributes: { splined: "no" } }]',
      ),
    ).not.toThrow();
  });
});

describe('a vehicle of the catalogue', () => {
  it('whose values cannot be read is a fault, told where it was named', () => {
    const wrong = {
      id: 'wrong',
      version: 1,
      name: 'Wrong',
      class: 'small',
      values: { floor_gap: '5 kg', roof: '3 mm' },
    } as CatalogueVehicle;
    const catalogue = { vehicles: new Map([['wrong', wrong]]), parts: new Map(), hash: 'wrong' };
    const checked = createChecker(smallLibrary([])).check({ vehicle: { from: 'catalogue', vehicle: 'wrong' } }, catalogue);
    expect(checked.ok ? [] : checked.faults.map(({ pointer, code }) => [pointer, code])).toEqual([
      ['/vehicle/vehicle', 'DIMENSION_WRONG'],
      ['/vehicle/vehicle', 'QUANTITY_UNKNOWN'],
    ]);
  });
});
