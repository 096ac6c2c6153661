/** Where parts sit that nobody placed: what they bring to each axle, by moments done by hand, on each class. */
import { describe, expect, it } from 'vitest';
import { loadLibrary, readRuleFiles } from '../engine/index.ts';
import { Texts } from '../engine/values.ts';
import { RULES_FOLDER } from '../paths.ts';
import { assemble } from './assembly.ts';
import { type CheckRequest, PLACE_LEVELS } from './index.ts';
import { PLACES } from './places.ts';
import { createWorld } from './world.ts';

const { library } = loadLibrary(readRuleFiles(RULES_FOLDER), PLACE_LEVELS);

function worldOf(className: string, request: Omit<CheckRequest, 'vehicle'>, more: object = {}) {
  const vehicle = { from: 'inline' as const, class: className, ...more };
  const assembled = assemble({ vehicle, ...request }, { vehicles: new Map(), parts: new Map(), hash: 'none' }, library);
  if (!assembled.ok) throw new Error(JSON.stringify(assembled.faults));
  const { values } = createWorld(assembled.assembly, library, new Texts());
  const place = (id: string, name = 'part.behind_front_axle') =>
    values.read(values.slot(name, [assembled.assembly.parts.find((part) => part.id === id)?.subject ?? -1]));
  const front = () => values.read(values.slot('axle_load_change', [PLACES.indexOf('front')]));
  return { place, front, wheelbase: values.read(values.slot('wheelbase', [])) };
}
const part = (kind: string, attributes: Record<string, string>) => ({
  ...{ from: 'inline' as const, id: kind, kind, attributes },
  ...(kind.endsWith('bumper') && { replaces: 'fitted' as const }),
});

describe('a part that nobody placed', () => {
  /** Front and rear overhang of such vehicles by common knowledge, to the bumper's middle, mm; of the wheelbase given. */
  const OVERHANGS = [
    ['midsize_independent_front', 3200, 800, 1050],
    ['fullsize_independent_front', 3680, 850, 1180],
    ['light_truck_solid_axles', 3550, 900, 1200],
    ['solid_axle_short', 2420, 600, 650],
    ['solid_axle_long', 2850, 750, 950],
    ['van', 3660, 900, 1200],
  ] as const;

  it.each(OVERHANGS)('%s: ends and people are where such a vehicle has them', (className, wheelbase, ahead, behind) => {
    const parts = ['front_bumper', 'winch', 'rear_bumper', 'tow_hitch', 'spare_carrier'].map((kind) => part(kind, {}));
    const { place } = worldOf(className, { parts, load: { occupants: 3 } }, { values: { wheelbase: `${wheelbase} mm` } });
    const mm = (id: string) => 1000 * place(id);
    expect(Math.abs(mm('front_bumper') + ahead)).toBeLessThanOrEqual(80);
    expect(Math.abs(mm('winch') + ahead)).toBeLessThanOrEqual(80);
    expect(Math.abs(mm('rear_bumper') - wheelbase - behind)).toBeLessThanOrEqual(80);
    expect(mm('tow_hitch')).toBeLessThan(mm('rear_bumper'));
    expect(mm('spare_carrier')).toBeGreaterThan(mm('rear_bumper'));
    expect(mm('occupant-1')).toBeLessThan(mm('occupant-3'));
    expect(mm('occupant-3')).toBeLessThan(wheelbase);
  });

  it('behind a short wheelbase takes less off the front than behind a long one', () => {
    const parts = [
      part('front_bumper', { mass: '72 kg' }),
      part('winch', { mass: '36 kg' }),
      part('rear_bumper', { mass: '120 kg' }),
      part('spare_carrier', { mass: '100 kg' }),
    ];
    const short = worldOf('solid_axle_short', { parts });
    // In front 50 kg more of bumper than the factory's 22, and a winch; behind 98 kg more than its 22, and the carrier: 58.2 kg off the front.
    const gains = 50 + 36 + (50 * 600 + 36 * 620) / 2420;
    expect(short.front()).toBeCloseTo(gains - (98 * 620 + 100 * 800) / 2420, 6);
  });

  it('is placed by a reading from the rear axle, which wins over what is worse than a reading', () => {
    const said = { behind_front_axle: '4260 mm' };
    const measured = { behind_rear_axle: '900 mm ± 20 mm' };
    const parts = [{ ...part('spare_carrier', said), measured }];
    const { place, wheelbase } = worldOf('midsize_independent_front', { parts });
    expect(place('spare_carrier')).toBeCloseTo(wheelbase + 0.9, 9);
    const stated = worldOf('midsize_independent_front', { parts: [part('spare_carrier', said)] });
    expect(stated.place('spare_carrier')).toBeCloseTo(4.26, 9);
  });

  it('of a load is behind one axle or the other', () => {
    const items = [{ name: 'bags', mass: '100 kg', behind_rear_axle: '0.5 m' }];
    const { place } = worldOf('midsize_independent_front', { load: { items } }, { values: { wheelbase: '3200 mm' } });
    expect(place('bags')).toBeCloseTo(3.7, 9);
  });
});
