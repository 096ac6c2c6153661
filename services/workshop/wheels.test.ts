import { describe, expect, it } from 'vitest';
import type { CheckRequest } from '../vehicle/index.ts';
import { answer, findingsOf } from './testing.ts';

const WHEEL = {
  rim_diameter: '432 mm',
  rim_width: '8 in',
  offset: '25 mm',
  load_rating: '1100 kg',
  bolts: 6,
  bolt_circle: '139.7 mm',
  bore: '106.1 mm',
  seat: 'conical',
  pad_thickness: '16 mm',
};
const build = (attributes: Record<string, string | number>, more: CheckRequest['parts'] = []): CheckRequest => ({
  vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll' },
  parts: [
    { from: 'inline', kind: 'wheel', id: 'new', at: 'all', replaces: 'road-wheels', attributes: { ...WHEEL, ...attributes } },
    ...more,
  ],
});
const verdict = (request: CheckRequest, rule: string) => findingsOf(answer(request), rule)[0]?.verdict;

describe('a wheel that was never on the vehicle', () => {
  it.each([
    ['wheel-bolt-pattern', {}, 'clear'],
    ['wheel-bolt-pattern', { bolts: 5 }, 'conflict'],
    ['wheel-bolt-pattern', { bolt_circle: '5.5 in' }, 'clear'],
    ['wheel-bolt-pattern', { bolt_circle: '135 mm' }, 'conflict'],
    ['wheel-goes-over-hub', { bore: '100 mm' }, 'conflict'],
    ['wheel-centred', { bore: '110 mm' }, 'conflict'],
    ['wheel-centred', {}, 'clear'],
    ['wheel-nut-seat', { seat: 'ball' }, 'conflict'],
    ['wheel-thread', { pad_thickness: '30 mm' }, 'conflict'],
    ['wheel-thread', {}, 'clear'],
  ] as const)('%s with %j is %s', (rule, attributes, is) => expect(verdict(build(attributes), rule)).toBe(is));

  it('whose pattern nobody read is not fine', () => {
    const { bolts: _, bolt_circle: __, ...unread } = WHEEL;
    const request = build({});
    const part = { from: 'inline', kind: 'wheel', id: 'new', at: 'all', replaces: 'road-wheels', attributes: unread } as const;
    expect(verdict({ ...request, parts: [part] }, 'wheel-bolt-pattern')).toBe('unknown');
  });

  it('is chosen anew, and then all of it fits', () => {
    const given = answer(build({ bolts: 5, bolt_circle: '127 mm', bore: '120 mm', seat: 'ball' }));
    const open = given.after_work.remaining.map(({ id }) => id.split(':')[0]);
    for (const rule of ['wheel-bolt-pattern', 'wheel-centred', 'wheel-goes-over-hub', 'wheel-nut-seat']) expect(open).not.toContain(rule);
  });
});

describe('room for the brake', () => {
  const drawn = (inner: string) => {
    const request = build({ inner_diameter: inner });
    const measured = [{ quantity: 'brake_envelope', of: 'hubs', value: '366 mm ± 0' }];
    return verdict({ ...request, vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll', measured } }, 'caliper-gap');
  };
  // (372 − 366)/2 = 3 mm, which is on the line.
  it('is told by the wheel and the brake where nobody fitted it dry', () =>
    expect([drawn('371 mm'), drawn('372 mm')]).toEqual(['conflict', 'clear']));
  it('gives way to a dry fit', () => {
    const request = build({ inner_diameter: '371 mm' });
    const measured = [
      { quantity: 'brake_envelope', of: 'hubs', value: '366 mm ± 0' },
      { quantity: 'caliper_gap', of: 'all', value: '6 mm ± 0.5' },
    ];
    expect(verdict({ ...request, vehicle: { from: 'catalogue', vehicle: 'merrowdale-ghyll', measured } }, 'caliper-gap')).toBe('clear');
  });
  it('is not known of neither', () => expect(verdict(build({}), 'caliper-gap')).toBe('unknown'));
});

describe('a spacer that the wheel’s nuts reach through', () => {
  const spaced = (thickness: string) =>
    verdict(
      build({}, [
        {
          from: 'inline',
          kind: 'wheel_spacer',
          at: 'front',
          attributes: { thickness, own_studs: 'no', hub_centric: 'yes', stud_diameter: '12 mm' },
        },
      ]),
      'spacer-thread',
    );
  // Studs of 38 mm less 16 mm of wheel: 22 mm, of which 12 must stay.
  it('takes its thickness of the thread', () => expect([spaced('9 mm'), spaced('12 mm')]).toEqual(['clear', 'conflict']));
});

describe('a tyre for another rim diameter than the wheels have', () => {
  // 17 in are 431.8 mm; the middle of the widths the tyre is approved for, to the half inch rims come in.
  const given = answer({
    vehicle: {
      from: 'inline',
      class: 'solid_axle_short',
      measured: [
        { quantity: 'rim_diameter', of: 'factory-wheels', value: '16 in ± 0' },
        { quantity: 'rim_width', of: 'factory-wheels', value: '7.5 in ± 0' },
      ],
    },
    parts: [{ from: 'inline', kind: 'tyre', id: 'new', at: 'all', replaces: 'fitted', attributes: { designation: '35x12.50R17 121Q E' } }],
    units: 'us',
  });
  const chosen = given.work.steps.filter(({ work }) => work === 'choose-wheel-for-tyre');
  it('is mounted on no other: wheels of its diameter are chosen first', () => {
    expect(findingsOf(given, 'tyre-fits-rim')[0]?.verdict).toBe('conflict');
    expect(chosen).toHaveLength(4);
    for (const { amounts } of chosen) {
      expect(amounts.diameter).toMatchObject({ value: 17, unit: 'in' });
      expect(amounts.width).toMatchObject({ value: 9.5, unit: 'in' });
    }
    const order = given.work.steps.map(({ work }) => work);
    expect(order.lastIndexOf('choose-wheel-for-tyre')).toBeLessThan(order.indexOf('install-tyres'));
  });
  it('goes on those', () => expect(given.after_work.remaining.filter(({ id }) => id.startsWith('tyre-fits-rim:'))).toEqual([]));
});
