/** A string laid along a brake hose at each lock. */
import { describe, expect, it } from 'vitest';
import type { VehicleReading } from '../vehicle/index.ts';
import { answer } from './testing.ts';

const at = (quantity: string, value: string): VehicleReading => ({ quantity, of: 'front-hoses', value });
const way = (...measured: VehicleReading[]) =>
  answer({ vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll', measured }, values: 'all' }).values[
    'hose_route(front-hoses@front-left)'
  ];

describe('the way of a hose', () => {
  it('is the longer of those at both locks', () => {
    const read = way(at('hose_route_left_lock', '396 mm ± 3'), at('hose_route_right_lock', '402 mm ± 3'));
    expect(read).toMatchObject({ value: 402, plus_minus: 3, origin: { kind: 'computed' } });
  });

  it('read as a whole wins over both', () => {
    const locks = [at('hose_route_left_lock', '396 mm ± 3'), at('hose_route_right_lock', '402 mm ± 3')];
    expect(way(...locks, at('hose_route', '404 mm ± 2'))).toMatchObject({ value: 404, plus_minus: 2, origin: { kind: 'measured' } });
  });
});
