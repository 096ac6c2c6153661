/** Defaults made to agree with readings, on vehicles whose truth is known. */
import { describe, expect, it } from 'vitest';
import { Texts } from '../engine/values.ts';
import { assemble } from '../vehicle/assembly.ts';
import type { VehicleReading } from '../vehicle/index.ts';
import { createWorld } from '../vehicle/world.ts';
import { answer, checker, demoCatalogue, faults } from './testing.ts';

const build = (measured: readonly VehicleReading[], fit = true) => ({
  vehicle: { from: 'inline' as const, class: 'solid_axle_long', measured },
  load: { occupants: 2 },
  fit_to_readings: fit,
  values: 'all' as const,
});
const scale = (place: string, value: string): VehicleReading => ({ quantity: 'axle_load', of: place, value });

describe('a fit to readings', () => {
  it('moves the default of an axle’s own mass to what a loaded scale ticket asks for, and keeps what is left open', () => {
    const plain = answer(build([], false)).values['kerb_axle_mass(front)'];
    const given = answer(build([scale('front', '1400 kg ± 10')]));
    const mass = given.values['kerb_axle_mass(front)'];
    expect(plain).toMatchObject({ value: 1180, plus_minus: 120 });
    expect(Math.abs(Number(given.values['axle_load_as_fitted(front)']?.value) - 1400)).toBeLessThan(15);
    expect(Number(mass?.value)).toBeGreaterThan(1200);
    expect(Number(mass?.plus_minus)).toBeLessThan(80);
    expect(mass?.origin).toMatchObject({ kind: 'class-default', note: 'made to agree with the readings' });
    expect(given.fit?.readings).toEqual([expect.objectContaining({ id: 'axle_load(front)', agrees: true })]);
    expect(given.fit?.adjusted.flatMap(({ ids }) => ids)).toContain('kerb_axle_mass(front)');
  });

  it('changes nothing where nothing computed was read', () => {
    const given = answer(build([{ quantity: 'wheelbase', value: '2840 mm ± 5' }]));
    expect(given.fit).toEqual({ readings: [], adjusted: [] });
    expect(given.values['kerb_axle_mass(front)']).toMatchObject({ value: 1180, plus_minus: 120 });
  });

  it('is answered without it where it was not asked for', () => {
    expect(answer(build([scale('front', '1400 kg ± 10')], false)).fit).toBeUndefined();
  });

  it('refuses two readings that contradict each other, and names both', () => {
    const [fault] = faults(build([scale('front', '1300 kg ± 5'), { quantity: 'axle_load_as_fitted', of: 'front', value: '1450 kg ± 5' }]));
    expect(fault?.code).toBe('READINGS_CONTRADICT');
    expect(JSON.stringify(fault)).toMatch(/1300 kg ± 5 kg.*1450 kg ± 5 kg|1450 kg ± 5 kg.*1300 kg ± 5 kg/);
  });
});

/** Numbers from 0 to 1 that are the same in every run. */
function random(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1664525 + 1013904223) % 4294967296;
    return state / 4294967296;
  };
}
/** What nineteen in twenty keep within one, cut off where a tolerance ends. */
function spread(next: () => number): number {
  const normal = Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  return Math.max(-1, Math.min(1, normal / 2));
}

describe('withheld readings of a simulated truck', () => {
  it('land inside the printed tolerance as often as stated, or oftener', () => {
    const trucks = process.env.FETTLE_VERIFY === '1' ? 200 : 12;
    const library = checker.library;
    const names = ['tyre_gap', 'axle_load'] as const;
    let [inside, asked, narrower] = [0, 0, 0];
    for (let truck = 0; truck < trucks; truck++) {
      const next = random(truck + 1);
      const bare = {
        ...build([], false),
        vehicle: { from: 'inline' as const, class: truck % 2 ? 'midsize_independent_front' : 'solid_axle_long' },
      };
      const assembled = assemble(bare, demoCatalogue, library);
      if (!assembled.ok) throw new Error('not assembled');
      const { parts } = assembled.assembly;
      const world = createWorld(assembled.assembly, library, new Texts());
      const slots = [
        ...parts
          .filter(
            ({ place, id }) =>
              place === 'front-left' &&
              id.includes('@') &&
              world.values.node(world.values.slot('tyre_obstacle.gap_as_built', [parts.find((p) => p.id === id)?.subject ?? -1])).candidates
                .length > 0,
          )
          .map(({ subject, group }) => ({ name: names[0], of: `${group}@front-left`, slot: world.values.slot(names[0], [subject]) })),
        ...[1, 2].map((axle) => ({ name: names[1], of: axle === 1 ? 'front' : 'rear', slot: world.values.slot(names[1], [axle]) })),
      ];
      const open = world.values.givensOf(slots.map(({ slot }) => slot)).filter((slot) => world.values.toleranceOf(slot) > 0);
      const leans = new Map<number, number>();
      for (const slot of open) {
        const statement = world.values.statementOf(slot);
        if (!leans.has(statement)) leans.set(statement, spread(next));
        world.values.lean(slot, leans.get(statement) as number);
      }
      const truth = slots.map(({ slot }) => world.values.read(slot));
      for (const slot of open) world.values.lean(slot, 0);
      const unit = (name: string): readonly [number, string, number] => (name === 'tyre_gap' ? [1000, 'mm', 5] : [1, 'kg', 20]);
      const given = slots.flatMap(({ name, of }, i) => {
        const [factor, symbol, accuracy] = unit(name);
        return i % 2 === 0
          ? []
          : [{ quantity: name, of, value: `${(truth[i] as number) * factor + spread(next) * accuracy} ${symbol} ± ${accuracy}`, with: [] }];
      });
      const said = answer({ ...bare, vehicle: { ...bare.vehicle, measured: given }, fit_to_readings: true, values: 'all' }).values;
      for (const [i, { name, of }] of slots.entries()) {
        const told = said[`${name}(${of})`];
        if (i % 2 === 1 || typeof told?.value !== 'number') continue;
        asked++;
        if (Math.abs(told.value - (truth[i] as number) * unit(name)[0]) <= (told.plus_minus ?? 0)) inside++;
        if ((told.plus_minus ?? 0) < world.bands.of(slots[i]?.slot as number).high * unit(name)[0]) narrower++;
      }
    }
    console.log(`withheld readings: ${inside} of ${asked} inside the printed tolerance, on ${trucks} simulated trucks`);
    expect(asked).toBeGreaterThan(3 * trucks);
    expect(narrower).toBeGreaterThan(0);
    expect(inside / asked).toBeGreaterThanOrEqual(0.95 - 2 * Math.sqrt((0.95 * 0.05) / asked));
  });
});
