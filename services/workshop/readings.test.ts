/** Readings of fitted and planned parts, by each name an answer gives what is to be read. */
import { describe, expect, it } from 'vitest';
import { assemble, saidKey } from '../vehicle/assembly.ts';
import type { VehicleReading } from '../vehicle/index.ts';
import { checker, demoCatalogue, faults } from './testing.ts';

const build = (...measured: VehicleReading[]) => ({
  vehicle: { from: 'catalogue' as const, vehicle: 'merrowdale-ghyll', measured },
  parts: [{ from: 'inline' as const, kind: 'body_lift', id: 'blocks', attributes: { height: '25 mm' } }],
  load: { occupants: 1 },
});
/** What a reading said of a value of a part; SI. */
function read(name: string, part: string, reading: VehicleReading) {
  const assembled = assemble(build(reading), demoCatalogue, checker.library);
  if (!assembled.ok) throw new Error(JSON.stringify(assembled.faults));
  const { parts, said } = assembled.assembly;
  const subject = parts.find(({ id }) => id === part)?.subject ?? -1;
  return said.get(saidKey(name, [subject]))?.find(({ rank }) => rank === 'measured');
}
const faultOf = (reading: VehicleReading) => faults(build(reading))[0];

describe('a reading of a part', () => {
  it.each(['slack', 'fuel_filler.slack'])('takes its attribute as `%s`', (quantity) => {
    expect(read('fuel_filler.slack', 'filler-hose', { quantity, of: 'filler-hose', value: '31 mm ± 1' })).toMatchObject({
      value: expect.closeTo(0.031, 9),
      plusMinus: expect.closeTo(0.001, 9),
    });
  });

  it('takes what every kind of part has by either kind', () => {
    for (const quantity of ['mass', 'part.mass', 'occupant.mass'])
      expect(read('part.mass', 'occupant-1', { quantity, of: 'occupant-1', value: '91 kg' })).toMatchObject({ value: 91, plusMinus: 1 });
  });

  it('takes a planned part as well', () => {
    expect(read('body_lift.height', 'blocks', { quantity: 'height', of: 'blocks', value: '24 mm' })?.value).toBeCloseTo(0.024, 9);
  });

  it('takes a place where one part has it', () => {
    expect(
      read('brake_hose.free_length', 'front-hoses@front-left', { quantity: 'free_length', of: 'front-left', value: '450 mm' })?.value,
    ).toBeCloseTo(0.45, 9);
  });

  it('of the vehicle is the same whether `vehicle` is written or not, given or read, also of what work changes', () => {
    const said = (vehicle: object, name: string) => {
      const assembled = assemble(
        { vehicle: { from: 'inline', class: 'light_truck_solid_axles', ...vehicle } },
        demoCatalogue,
        checker.library,
      );
      if (!assembled.ok) throw new Error(JSON.stringify(assembled.faults));
      return assembled.assembly.said.get(saidKey(name, []))?.find(({ rank }) => rank !== 'class-default')?.value;
    };
    const read = (quantity: string, value: string) => said({ measured: [{ quantity, of: 'vehicle', value }] }, quantity);
    expect(read('rear_stop_extended', '75 mm')).toBeCloseTo(0.075, 9);
    expect(read('wheelbase', '3400 mm')).toBeCloseTo(3.4, 9);
    expect(said({ values: { wheelbase: { vehicle: '3400 mm' } } }, 'wheelbase')).toBeCloseTo(3.4, 9);
  });

  it('asks which part, where several have it', () => {
    expect(faultOf({ quantity: 'slack', of: 'vehicle', value: '31 mm' })).toMatchObject({
      pointer: '/vehicle/measured/0/of',
      code: 'OF_UNCLEAR',
      help: expect.stringContaining('`filler-hose`'),
    });
  });

  it('asks for the part where none is named, and lists those that have it', () => {
    expect(faultOf({ quantity: 'fuel_filler.slack', value: '31 mm' })).toMatchObject({
      code: 'OF_MISSING',
      help: 'add `of`: `filler-hose`',
    });
    expect(faultOf({ quantity: 'hose_route', value: '400 mm' })).toMatchObject({
      code: 'OF_MISSING',
      help: expect.stringMatching(/^add `of`: `front-hoses`.*, or a place$/),
    });
  });

  it('names the attribute that was probably meant', () => {
    expect(faultOf({ quantity: 'slak', of: 'filler-hose', value: '31 mm' })).toMatchObject({
      code: 'QUANTITY_UNKNOWN',
      help: 'did you mean `slack`?',
    });
    expect(faultOf({ quantity: 'ground_strap.slack', of: 'filler-hose', value: '31 mm' })).toMatchObject({
      code: 'OF_UNKNOWN',
      help: expect.stringContaining('`ground-strap`'),
    });
  });
});
