/** What is asked of something that nobody has drawn, and which readings are told to belong together. */
import { describe, expect, it } from 'vitest';
import type { CheckRequest, PartInput } from '../vehicle/index.ts';
import { answer, findingsOf } from './testing.ts';

const tyre = {
  from: 'inline',
  kind: 'tyre',
  id: 'new',
  at: 'all',
  replaces: 'fitted',
  attributes: { designation: 'LT285/75R17 121/118Q' },
};
const tank = { from: 'inline', kind: 'own_obstacle', id: 'tank', name: 'Washer tank', at: 'rear' };

describe('a light truck with something of its own beside the rear tyre, in conflict elsewhere', { timeout: 60_000 }, () => {
  const given = answer({
    vehicle: {
      from: 'inline',
      class: 'light_truck_solid_axles',
      fitted: [tank] as PartInput[],
      measured: [{ quantity: 'tyre_gap', of: 'cab-mounts', value: '-10 mm ± 2' }],
    },
    parts: [tyre] as PartInput[],
  } as CheckRequest);

  it('is asked for the one reading that tells it, and no line lets none be told', () => {
    expect(given.verdict).toBe('conflict');
    const [own] = findingsOf(given, 'own-obstacle-gap');
    const asked = given.measure.filter(({ findings }) => own !== undefined && findings.includes(own.id));
    expect(asked.map(({ quantity, would_tell }) => [quantity, would_tell])).toEqual([['tyre_gap', [own?.id]]]);
    expect(asked[0]?.why).toMatch(/lets 1 finding be told/);
    expect(given.measure.filter(({ why }) => /lets 0/.test(why))).toEqual([]);
  });

  it('is told the five that stand in for it, and of the front what an undrawn corner rests on', () => {
    const { sets } = given.measuring;
    const rear = sets.find(({ id }) => id === 'rear-leaf-corner');
    expect(rear?.instead_of.map((order) => given.measure[order - 1]?.write_down.of)).toEqual(['tank']);
    expect(rear?.quantities).toHaveLength(6);
    const front = sets.find(({ id }) => id === 'front-corner')?.quantities ?? [];
    for (const name of ['lock_angle', 'hub_to_arch']) expect([name, front.includes(name)]).toEqual([name, false]);
    for (const name of ['tyre_gap_at_ride', 'contact_rise', 'stop_gap', 'hub_to_frame', 'hub_to_frame_hanging'])
      expect([name, front.includes(name)]).toEqual([name, true]);
  });
});
