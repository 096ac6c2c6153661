/** Whatever is asked to be measured does something once it is given as it is asked to be written down. */
import { describe, expect, it } from 'vitest';
import type { CheckRequest } from '../vehicle/index.ts';
import type { Answer, ToMeasure } from './index.ts';
import { answer } from './testing.ts';

/** What a person might read where nothing is known so far. */
const READ: Readonly<Record<string, string>> = { mm: '60 mm ± 2', kg: '80 kg ± 2', deg: '20 deg ± 1', '%': '2 % ± 0.5' };
const SAID: Readonly<Record<string, string | boolean>> = {
  'tyre.designation': '35x12.50R17LT 121Q',
  'front_coilover.collapsed_length': '430 mm ± 2',
  'front_coilover.coil_bind_length': '428 mm ± 2',
};

/** As it is asked to be written down, at the value that it is expected to have. */
function writtenDown({ ids, quantity, write_down: { quantity: name, of, unit } }: ToMeasure, { values }: Answer) {
  const known = values[ids[0] as string]?.value;
  const is = typeof known === 'number' ? `${known} ${unit ?? ''} ± 1e-3 ${unit ?? ''}` : unit ? READ[unit] : true;
  return { quantity: name, ...(of !== undefined && { of }), value: SAID[quantity] ?? is ?? `1 ${unit}` };
}

/** Those of the list that were given and are asked for as if they had not been, or that do not stand as read. */
function lost(build: CheckRequest, asked: Answer): string[] {
  const measured = asked.measure.map((reading) => writtenDown(reading, asked));
  const { values, measure } = answer({
    ...build,
    vehicle: { ...build.vehicle, measured: [...(build.vehicle.measured ?? []), ...measured] },
    values: 'all',
  } as CheckRequest);
  const again = new Set(measure.filter(({ why }) => why.startsWith('it is not known')).flatMap(({ ids }) => ids));
  const stands = (id: string): boolean => values[id] === undefined || values[id].origin.kind === 'measured';
  return asked.measure.flatMap(({ ids }) => ids.filter((id) => again.has(id) || !stands(id)));
}

const lifted = (of: string): CheckRequest =>
  ({
    vehicle: { from: 'inline', class: of },
    parts: [
      {
        from: 'inline',
        id: 'thirty-fives',
        kind: 'tyre',
        at: 'all',
        replaces: 'fitted',
        attributes: { overall_diameter: '35 in ± 0.5', section_width: '12 in ± 1.5' },
      },
      of.endsWith('independent_front')
        ? { from: 'inline', kind: 'front_coilover', at: 'front', attributes: { height_added: '2.5 in', droop_added: '1.25 in ± 1.25 in' } }
        : { from: 'inline', kind: 'front_spring', at: 'front', attributes: { height_added: '2.5 in', droop_added: '2 in ± 1' } },
      { from: 'inline', kind: 'rear_spring', at: 'rear', attributes: { height_added: '2.5 in', droop_added: '2 in ± 1' } },
    ],
    load: { occupants: 1 },
  }) as unknown as CheckRequest;

describe('a reading that is asked for', () => {
  const build = lifted('midsize_independent_front');
  const first = answer({ ...build, values: 'all' });
  const asked = first.measure;

  it('is taken, each of the list given at once as it is to be written down', () => {
    expect(asked.length).toBeGreaterThan(20);
    expect(lost(build, first)).toEqual([]);
  });

  it('of coils that are not on yet is asked of the planned ones, at the bench', () => {
    const coils = asked.filter(({ quantity }) => /coil_bind|damper_left/.test(quantity));
    expect(coils.map(({ quantity, group, state }) => [quantity, group, state])).toEqual([
      ['front_coilover.coil_bind_length', 'bench', 'planned-part'],
    ]);
    expect(asked.find(({ quantity }) => quantity === 'front_coilover.collapsed_length')?.group).toBe('bench');
  });
});
