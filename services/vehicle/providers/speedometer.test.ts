/** The speedometer of a vehicle whose axles have been geared, against kinematics done by hand. */
import { describe, expect, it } from 'vitest';
import { loadLibrary, readRuleFiles } from '../../engine/index.ts';
import { type Candidate, Texts } from '../../engine/values.ts';
import { RULES_FOLDER } from '../../paths.ts';
import { assemble, saidKey } from '../assembly.ts';
import { PLACE_LEVELS } from '../index.ts';
import { PLACES } from '../places.ts';
import { createWorld } from '../world.ts';

const { library } = loadLibrary(readRuleFiles(RULES_FOLDER), PLACE_LEVELS);

interface Vehicle {
  readonly ratio?: string;
  readonly readings?: Readonly<Record<string, string>>;
  /** Diameter of the planned tyres; the fitted ones have 776 mm. */
  readonly tyres?: string;
  readonly work?: Readonly<Record<string, number>>;
}

function errorOf({ ratio, readings = {}, tyres, work = {} }: Vehicle) {
  const measured = [
    ...(ratio === undefined ? [] : ['front', 'rear'].map((of) => ({ quantity: 'axle_ratio', of, value: ratio }))),
    ...Object.entries(readings).map(([quantity, value]) => ({ quantity, value })),
  ];
  const tyre = (id: string, diameter: string, more: object) => ({
    ...{ from: 'inline' as const, id, kind: 'tyre', at: 'all' as const, attributes: { overall_diameter: `${diameter} ± 0` } },
    ...more,
  });
  const assembled = assemble(
    {
      vehicle: { from: 'inline', class: 'midsize_independent_front', fitted: [tyre('old', '776 mm', {})], measured },
      parts: tyres === undefined ? [] : [tyre('new', tyres, { replaces: 'old' })],
    },
    { vehicles: new Map(), parts: new Map(), hash: 'none' },
    library,
  );
  if (!assembled.ok) throw new Error(JSON.stringify(assembled.faults));
  const done = new Map(
    Object.entries(work).map(([name, value]) => {
      const [quantity = '', place] = name.split('@');
      const at = place === undefined ? [] : [PLACES.indexOf(place as never)];
      return [saidKey(quantity, at), { value, plusMinus: 0, rank: 'work' } as Candidate] as const;
    }),
  );
  const { values } = createWorld(assembled.assembly, library, new Texts(), done);
  const slot = values.slot('odometer_error', []);
  return { error: values.read(slot), missing: values.missingOf(slot).map((one) => values.node(one).name) };
}
const FACTORY = { factory_axle_ratio: '4.10' };
const GEARBOX = { ...FACTORY, speedometer_signal: 'gearbox_output' };
const WHEELS = { ...FACTORY, speedometer_signal: 'wheel_sensors' };

describe('the odometer of an axle geared from 4.10 to 4.56', () => {
  it('counts by the ratio where the gearbox feeds it, and true where the wheels do', () => {
    expect(errorOf({ ratio: '4.56', readings: GEARBOX }).error).toBeCloseTo(4.56 / 4.1 - 1, 12);
    expect(errorOf({ ratio: '4.56', readings: WHEELS }).error).toBeCloseTo(0, 12);
  });
  it('is not known while nobody has said what feeds it, which is asked for', () => {
    expect(errorOf({ ratio: '4.56', readings: FACTORY })).toEqual({ error: Number.NaN, missing: ['speedometer_signal'] });
    expect(errorOf({ readings: { axle_ratio_gain: '11.2 %' } }).missing).toEqual(['speedometer_signal']);
  });
  it('was right all along with tyres as much larger: 776 × 4.56 / 4.10 = 863.06 mm', () =>
    expect(errorOf({ ratio: '4.56', readings: GEARBOX, tyres: '863.063 mm' }).error).toBeCloseTo(0, 6));
  it('is not looked at twice where its error was read with the gears that are in it', () =>
    expect(errorOf({ ratio: '4.56', readings: { speedometer_over_reading: '11 %' } }).error).toBeCloseTo(0, 12));
});

describe('the odometer of an axle with the ratio it came with', () => {
  it('goes by the tyres alone, whatever feeds it', () => {
    expect(errorOf({ tyres: '830 mm' }).error).toBeCloseTo(776 / 830 - 1, 12);
    expect(errorOf({ ratio: '4.10', readings: FACTORY, tyres: '830 mm' }).error).toBeCloseTo(776 / 830 - 1, 12);
  });
  it('is asked for where only the fitted ratio was read: another may have been in it', () =>
    expect(errorOf({ ratio: '4.10' }).missing).toEqual(['speedometer_signal']));
});

describe('work on the gears', () => {
  const geared = { 'axle_ratio@rear': 4.88, axle_ratio_gain: 4.88 / 4.1 - 1 };
  it('turns a speedometer fed from the gearbox, until it is set again', () => {
    expect(errorOf({ work: geared }).missing).toEqual(['speedometer_signal']);
    expect(errorOf({ work: geared, readings: GEARBOX }).error).toBeCloseTo(4.88 / 4.1 - 1, 9);
    expect(errorOf({ work: { ...geared, speedometer_set_again: 1 } }).error).toBeCloseTo(0, 12);
  });
});
