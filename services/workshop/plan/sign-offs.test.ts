/** A sign-off can be done where its step stands in the order: what needs the ground or power is a step of its own, later. */
import { describe, expect, it } from 'vitest';
import { standingOn } from '../../engine/planning.ts';
import { createChecker, type PlanRequest } from '../index.ts';
import { checker } from '../testing.ts';
import { SHAFT, smallLibrary } from '../testing-small.ts';

const WORK = (id: string, more: string): string =>
  `id: ${id}\ntitle: ${id}\nhours: { low: 1 h, likely: 2 h, high: 3 h }\n${more}\nbasis: [{ kind: common-practice }]\n`;

const { works, setups } = checker.library;
const stands = (id: string): ReadonlySet<string> =>
  standingOn(
    (works.get(id)?.planning.setups ?? []).map(({ setup }) => setup),
    setups,
  );
const told = (id: string): string => `${works.get(id)?.verify?.check} ${works.get(id)?.verify?.accept}`;

describe('what a step is signed for', () => {
  it('is nothing that takes the ground while it is off it, or power while its battery is off', () => {
    const offGround = [...works.keys()].filter((id) => [...stands(id)].some((setup) => setups.get(setup)?.offGround));
    const unpowered = [...works.keys()].filter((id) => stands(id).has('battery-off'));
    expect([offGround.length > 30, unpowered.length > 8]).toEqual([true, true]);
    for (const id of offGround) expect(told(id), id).not.toMatch(/ride height|on its wheels|usual load|the rack|road test|drive|50 km/);
    for (const id of unpowered)
      expect(told(id), id).not.toMatch(/battery is back|drawn|volt(s|age) (at|drop)|drain with|every lamp works|scan|under load/);
  });

  it('is refused of a work whose reading is taken standing', () => {
    const files = {
      'setups.yaml':
        'up: { title: Up, make: { low: 1 h, likely: 1 h, high: 1 h }, unmake: { low: 0 h, likely: 0 h, high: 0 h }, off_the_ground: yes }\n',
      'quantities/hub.yaml':
        'hub: { title: Hub, unit: mm, per: vehicle, meaning: its height, comes: given, measure: { how: tape, tool: tape, suspension: at ride height } }\n',
      'works/lift.yaml':
        'id: lift\ntitle: lift\nhours: { low: 1 h, likely: 1 h, high: 1 h }\nsetups: [up]\nverify: { check: look, accept: well, reads: [hub] }\nbasis: [{ kind: common-practice }]\n',
    };
    expect(() => smallLibrary([], files)).toThrow(/`hub` is read standing on its wheels, and `lift` is done off the ground/);
    expect(() => smallLibrary([], { ...files, 'works/lift.yaml': files['works/lift.yaml'].replace('setups: [up]\n', '') })).not.toThrow();
  });

  it('comes after every work of the set-up it waits for', () => {
    const earlier = (id: string): string[] => works.get(id)?.after.map(({ work }) => work) ?? [];
    for (const [id, { planning }] of works) {
      if (planning.visits.length > 0) continue;
      if (stands(id).has('wheels-off')) expect(earlier('torque-wheels'), id).toContain(id);
      if (stands(id).has('battery-off')) expect(earlier('scan-for-faults'), id).toContain(id);
      if (stands(id).has('mounts-loose')) expect(earlier('look-over-body'), id).toContain(id);
    }
  });

  it('sends a reading that is taken later to the step where it is', () => {
    const shop = createChecker(
      smallLibrary([SHAFT], {
        'works/extend-shaft.yaml': WORK(
          'extend-shaft',
          'takes: { shaft: { part: shaft }, amount: { unit: mm } }\nthen: [{ read-shaft: { shaft: shaft } }]\neffects: [{ add: amount, to: shaft.engagement }]',
        ),
        'works/read-shaft.yaml': WORK(
          'read-shaft',
          'takes: { shaft: { part: shaft } }\nsafety_critical: yes\nverify: { check: look, accept: enough, reads: [shaft.engagement] }',
        ),
      }),
    );
    const built = (step: string) =>
      shop.plan(
        {
          vehicle: { from: 'inline', class: 'small', fitted: [{ from: 'inline', kind: 'shaft', attributes: { engagement: '10 mm ± 0' } }] },
          state: {
            as_built: [
              { step, by: 'M. Hart', date: '2026-12-01', passed: true, readings: [{ quantity: 'engagement', value: '26 mm ± 1' }] },
            ],
          },
        } as unknown as PlanRequest,
        { vehicles: new Map(), parts: new Map(), hash: 'small' },
      );
    const early = built('extend-shaft:shaft');
    expect(early.ok ? [] : early.faults.map(({ code, help }) => [code, help])).toEqual([
      ['QUANTITY_UNKNOWN', 'it is read in the step of `read-shaft` that comes later'],
    ]);
    const later = built('read-shaft:shaft');
    expect(later.ok && later.plan.as_built).toMatchObject([
      { step: 'read-shaft:shaft', closed: true, readings: [{ predicted: { value: 25 }, agrees: true }] },
    ]);
  });
});
