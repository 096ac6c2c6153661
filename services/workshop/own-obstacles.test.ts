/** Something that somebody found the tyre may touch: its place given in points, or its gap gauged. */
import { describe, expect, it } from 'vitest';
import type { CheckRequest, PartInput, VehicleReading } from '../vehicle/index.ts';
import { answer, checker, demoBuild, demoCatalogue, findingsOf, type Mutable } from './testing.ts';

const CLASS = 'midsize_independent_front';
const bigger = {
  from: 'inline',
  kind: 'tyre',
  at: 'all',
  replaces: 'fitted',
  attributes: { overall_diameter: '836 mm ± 0', section_width: '300 mm ± 0' },
};

function build(fitted: readonly unknown[], measured: readonly VehicleReading[] = [], parts: readonly unknown[] = [bigger]): CheckRequest {
  return { vehicle: { from: 'inline', class: CLASS, fitted: fitted as PartInput[], measured }, parts: parts as PartInput[] };
}
const own = (shape?: unknown, more = {}) => ({
  from: 'inline',
  kind: 'own_obstacle',
  id: 'tank',
  name: 'Washer tank',
  at: 'front',
  ...(shape ? { shape } : {}),
  ...more,
});
const gapOf = (request: CheckRequest, rule = 'own-obstacle-gap'): number => {
  const [finding] = findingsOf(answer(request), rule);
  return Number(finding?.numbers.find(({ name }) => name.startsWith('tyre_gap_after'))?.value);
};
const faultsOf = (request: CheckRequest) => {
  const checked = checker.check(request, demoCatalogue);
  return checked.ok ? [] : checked.faults.map(({ pointer, code }) => ({ pointer, code }));
};

describe('an obstacle of one’s own', () => {
  /** A point of the class's own cab mount, so that the same place must give the same gap as a part of the class there would. */
  const line = { lines: [['-600, 600, 372 mm']] };

  it('is swept as what the class has: a point straight behind the hub has no more than the tyre’s reach at rest leaves it', () => {
    const gap = gapOf(build([own(line)]));
    // 600 mm behind, at hub height, less the radius: what there is with the wheel straight ahead and not travelling.
    expect(gap).toBeLessThan(600 - 418 + 1);
    expect(gap).toBeGreaterThan(40);
  });

  it('is exact on the knuckle, which stands still against the wheel, and from the hub’s face', () => {
    // The class's wheel has its face 25 mm outboard of its centre plane, which is what is measured from.
    const at = { on: 'knuckle', from: 'hub', lines: [['0, -225, 300 mm']] };
    // 225 mm inboard of the face is 200 mm inboard of the plane: 50 mm from the wall of a tyre 300 mm wide.
    expect(gapOf(build([own(at)]))).toBeCloseTo(50, 1);
    expect(gapOf(build([own({ ...at, radius: '20 mm' })]))).toBeCloseTo(30, 1);
  });

  it('gains by a body lift only on the body', () => {
    const lift = { from: 'inline', kind: 'body_lift', attributes: { height: '50 mm' } };
    const above = { lines: [['0, 800, 1000 mm']] };
    const gained = (on: string): number =>
      gapOf(build([own({ ...above, on })], [], [bigger, lift])) - gapOf(build([own({ ...above, on })]));
    expect(gained('body')).toBeCloseTo(50, 0);
    expect(gained('chassis')).toBeCloseTo(0, 6);
  });

  it('may be the gap alone, gauged at a lock with its place: what the tyre grows by comes off along it', () => {
    const read = [
      { quantity: 'tyre_gap', of: 'tank', value: '60 mm ± 2' },
      { quantity: 'contact_angle', of: 'tank', value: '0 deg ± 0' },
    ];
    const larger = { ...bigger, attributes: { ...bigger.attributes, overall_diameter: '856 mm ± 0' } };
    expect(gapOf(build([own()], read)) - gapOf(build([own()], read, [larger]))).toBeCloseTo(10, 6);
  });

  it('asks for that reading where there is neither', () => {
    const given = answer(build([own()]));
    expect(findingsOf(given, 'own-obstacle-gap')[0]?.verdict).toBe('unknown');
    expect(given.measure.find(({ findings }) => findings.some((id) => id.startsWith('own-obstacle-gap')))?.quantity).toMatch(/^tyre_gap/);
  });

  it('is moved by the amount that is stated, and then clears', () => {
    const given = answer(build([own({ on: 'knuckle', from: 'hub', plus_minus: '1 mm', lines: [['0, -160, 300 mm']] })]));
    const [finding] = findingsOf(given, 'own-obstacle-gap');
    expect(finding?.verdict).toBe('conflict');
    expect(new Set(finding?.work.map(({ work }) => work))).toEqual(new Set(['move-own-obstacle']));
    expect(given.after_work.remaining.some(({ id }) => id.startsWith('own-obstacle-gap'))).toBe(false);
  });

  it('puts a part of the class where it was measured, and what the class has as built no longer counts', () => {
    const mount = {
      from: 'inline',
      kind: 'knuckle_neck',
      id: 'knuckle-necks',
      at: 'front',
      shape: { from: 'hub', plus_minus: '2 mm', lines: [['0, -235, 280 mm']] },
    };
    expect(gapOf(build([mount]), 'knuckle-gap')).toBeCloseTo(60, 1);
  });

  it('is refused where it cannot be one, with the place and the fix', () => {
    expect(faultsOf(build([own({ lines: [['1, 2 mm']] })]))).toEqual([
      { pointer: '/vehicle/fitted/0/shape/lines/0/0', code: 'POINT_WRONG' },
    ]);
    expect(faultsOf(build([own({ lines: [['5, 2, 3 m']] })]))).toEqual([
      { pointer: '/vehicle/fitted/0/shape/lines/0/0', code: 'POINT_WRONG' },
    ]);
    expect(faultsOf(build([own({ patches: [['0, 0, 0 mm', '1, 1, 1 mm']] })]))).toEqual([
      { pointer: '/vehicle/fitted/0/shape/patches/0', code: 'SHAPE_WRONG' },
    ]);
    expect(faultsOf(build([own({ on: 'upper_arm', from: 'hub', lines: [['0, 0, 0 mm']] })]))).toEqual([
      { pointer: '/vehicle/fitted/0/shape/from', code: 'SHAPE_FROM_WRONG' },
    ]);
    // A live rear axle has no arms, nor has a front the class of which has none; what carries the wheel is everywhere.
    const armed = (at: string, of = CLASS) => {
      const request = build([own({ on: 'upper_arm', lines: [['0, 600, 600 mm']] }, { at })]);
      const checked = checker.check({ ...request, vehicle: { ...request.vehicle, class: of } } as CheckRequest, demoCatalogue);
      return checked.ok ? [] : checked.faults;
    };
    expect(armed('rear-left')).toMatchObject([
      { pointer: '/vehicle/fitted/0/shape/on', code: 'SHAPE_ON_WRONG', help: expect.stringMatching(/`chassis`, `body`, `knuckle`;/) },
    ]);
    expect(armed('all')).toMatchObject([{ message: expect.stringContaining('at its rear left') }]);
    expect(armed('front', 'solid_axle_short')).toMatchObject([{ code: 'SHAPE_ON_WRONG', help: expect.stringContaining('`coil_over`') }]);
    const lift = { from: 'inline', kind: 'body_lift', attributes: { height: '50 mm' }, shape: { lines: [['0, 0, 0 mm']] } };
    expect(faultsOf(build([], [], [lift]))).toEqual([{ pointer: '/parts/0/shape', code: 'SHAPE_NOT_HERE' }]);
  });

  it('does not touch a build without one', () => {
    const modest: Mutable<CheckRequest> = demoBuild('modest');
    expect(findingsOf(answer(modest), 'own-obstacle-gap')).toEqual([]);
    expect(findingsOf(answer(modest), 'knuckle-gap')).toHaveLength(1);
  });
});
