import { describe, expect, it } from 'vitest';
import type { VehicleReading } from '../vehicle/index.ts';
import { createChecker } from './index.ts';
import { shaft, smallLibrary } from './testing-small.ts';

const NOTHING = { vehicles: new Map(), parts: new Map(), hash: 'small' };
const TAPE = { tool: 'tape 1', tool_error: '2 mm' } as const;

function asked(require: string, roof: Partial<VehicleReading>, floor: Partial<VehicleReading>) {
  const library = smallLibrary([{ id: 'room', body: `require: "${require}"` }]);
  const measured: VehicleReading[] = [
    { quantity: 'roof_gap', value: '100 mm ± 1 mm', ...roof },
    { quantity: 'floor_gap', value: '80 mm ± 1 mm', ...floor },
  ];
  return createChecker(library).check({ vehicle: { from: 'inline', class: 'small', fitted: [shaft('60 mm')], measured } }, NOTHING);
}

function margin(require: string, roof: Partial<VehicleReading> = TAPE, floor: Partial<VehicleReading> = TAPE) {
  const checked = asked(require, roof, floor);
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
  const found = checked.answer.findings.find(({ rule }) => rule === 'room')?.margin;
  return found && [found.low, found.high, found.low_is, found.high_is];
}

describe('what one tool is off by', () => {
  it('cancels in a difference of two readings with it', () => {
    expect(margin('roof_gap - floor_gap >= 0 mm')).toEqual([18, 22, 'proven', 'proven']);
  });

  it('counts twice in their sum', () => {
    expect(margin('roof_gap + floor_gap >= 0 mm')).toEqual([174, 186, 'proven', 'proven']);
  });

  it('is of each by itself with two tools', () => {
    expect(margin('roof_gap - floor_gap >= 0 mm', TAPE, { ...TAPE, tool: 'tape 2' })).toEqual([14, 26, 'proven', 'proven']);
  });

  it('may be a share of what is read', () => {
    const stretched = { tool: 'tape 1', tool_error: '1 %' };
    expect(margin('roof_gap - floor_gap >= 0 mm', stretched, stretched)).toEqual([17.8, 22.2, 'proven', 'proven']);
  });

  it('needs its tool, and a length or a share', () => {
    const fault = (roof: Partial<VehicleReading>) => {
      const checked = asked('roof_gap >= 0 mm', roof, {});
      return checked.ok ? [] : checked.faults.map(({ code }) => code);
    };
    expect(fault({ tool_error: '2 mm' })).toEqual(['TOOL_MISSING']);
    expect(fault({ tool: 'tape 1', tool_error: '2 kg' })).toEqual(['TOOL_ERROR_WRONG']);
  });
});
