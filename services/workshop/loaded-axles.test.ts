/** Springs, stops and hoses of axles that nobody has drawn: what is said where it stands on its stops, where nobody knows the new springs, and where a tilted axle pulls at a hose. */
import { describe, expect, it } from 'vitest';
import type { CheckRequest } from '../vehicle/index.ts';
import { checker, demoCatalogue } from './testing.ts';

/** The first finding of a rule, about something. */
const finding = (request: object, rule: string, about = '') => {
  const checked = checker.check({ most_readings: 1, ...request } as unknown as CheckRequest, demoCatalogue);
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
  const of = checked.answer.findings.find(({ id }) => id.split(':')[0] === rule && id.includes(about));
  if (!of) throw new Error(`no ${rule}`);
  return of;
};

describe('a front that nobody has drawn, under a plough', () => {
  const ploughed = (gap: Record<string, unknown>) =>
    finding(
      {
        vehicle: {
          from: 'inline',
          class: 'solid_axle_long',
          values: {
            kerb_axle_mass: { front: '1180 kg ± 20', rear: '1150 kg ± 20' },
            spring_wheel_rate: { front: '32 N/mm ± 3' },
            wheelbase: '2850 mm ± 5',
            ...gap,
          },
        },
        load: { items: [{ name: 'plough', mass: '300 kg ± 5', behind_front_axle: '-900 mm ± 20' }] },
      },
      'front-stop-gap-loaded',
    );

  it('is said to stand on its stops: 300·(1 + 0.9/2.85) kg over 2·32 N/mm is 60.5 mm by hand, of 40', () => {
    const { verdict, says } = ploughed({ stop_gap: { front: '40 mm ± 3' }, stop_wheel_ratio: { front: '1 ± 0' } });
    expect(verdict).toBe('conflict');
    expect(says).toMatch(/take it 60\.5 mm down/);
  });

  it('is not called clear where nobody has read the gap', () => {
    expect(['close', 'unknown']).toContain(ploughed({}).verdict);
  });
});

describe('springs made for more, of which nobody says the rate', () => {
  it('leave open whether the dampers still let the axle hang: 94 mm at the old rate, 73 mm at twice it, of 115 less 40', () => {
    const { verdict } = finding(
      {
        vehicle: {
          from: 'inline',
          class: 'light_truck_solid_axles',
          values: { spring_wheel_rate: { rear: '110 N/mm ± 5' }, rear_damper_droop_left: '115 mm ± 3' },
        },
        parts: [
          {
            from: 'inline',
            id: 'pack',
            kind: 'rear_spring',
            at: 'rear',
            attributes: { height_added: '2 in ± 0', rated_extra_mass: '1000 kg ± 0', droop_added: '0 mm' },
          },
        ],
        load: { occupants: 1 },
      },
      'rear-dampers-droop',
    );
    expect(verdict).toBe('close');
  });
});

describe('a brake hose of a beam front whose string was laid nobody knows how', () => {
  it('is not called clear by 8 mm: crossed up the axle takes 35 mm more', () => {
    const { verdict } = finding(
      {
        vehicle: {
          from: 'inline',
          class: 'solid_axle_long',
          values: {
            stop_gap: { front: '75 mm ± 3' },
            stop_free_height: { front: '60 mm ± 3' },
            hub_to_frame: { front: '240 mm ± 3' },
            hub_to_frame_hanging: { front: '350 mm ± 3' },
          },
          fitted: [{ from: 'inline', id: 'own-hoses', kind: 'brake_hose', at: 'front', attributes: { free_length: '445 mm ± 3' } }],
          measured: [
            { quantity: 'hose_route_left_lock', of: 'own-hoses', value: '412 mm ± 3' },
            { quantity: 'hose_route_right_lock', of: 'own-hoses', value: '404 mm ± 3' },
          ],
        },
      },
      'brake-hose-reach',
      'own-hoses@front-left',
    );
    expect(verdict).toBe('close');
  });
});
