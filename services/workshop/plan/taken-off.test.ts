/** What the plan takes off the vehicle for good: named by the works that do, of the vehicle's parts where it says what is there. */
import { describe, expect, it } from 'vitest';
import { createChecker, type PlanRequest } from '../index.ts';
import { smallLibrary } from '../testing-small.ts';

const WORK = (id: string, more: string): string =>
  `id: ${id}\ntitle: ${id}\nhours: { low: 1 h, likely: 2 h, high: 3 h }\n${more}\nbasis: [{ kind: common-practice }]\n`;
const KIND = (id: string, more: string): string => `id: ${id}\ntitle: ${id}\nis: part\nfits: vehicle\nframe: chassis\n${more}\n`;
const FILES = {
  'kinds/plate.yaml': KIND('plate', 'fitting: [{ fit-plate: { part: part } }]'),
  'kinds/guard.yaml': KIND('guard', 'one_per_place: yes\nfitting: none'),
  'works/fit-plate.yaml': WORK(
    'fit-plate',
    'takes: { part: { part: plate } }\ntakes_off:\n  - { kind: plate, of: part, unless_known: "plates below {part}" }\n  - { kind: guard }',
  ),
};
const shop = createChecker(smallLibrary([], FILES));

function takenOff(fitted: readonly object[], planned: object): readonly string[] {
  const request = {
    vehicle: { from: 'inline', class: 'small', fitted },
    parts: [{ from: 'inline', kind: 'plate', id: 'new', name: 'New plate', ...planned }],
  };
  const made = shop.plan(request as unknown as PlanRequest, { vehicles: new Map(), parts: new Map(), hash: 'small' });
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  return made.plan.hand_over.parts_taken_off;
}
const part = (kind: string, name: string) => ({ from: 'inline', kind, id: name.toLowerCase().replace(' ', '-'), name });

describe('parts taken off', () => {
  it('are those of the vehicle where it says so, whether or not the request says they are replaced', () => {
    expect(takenOff([part('plate', 'Factory plate')], {})).toEqual(['Factory plate']);
    expect(takenOff([part('plate', 'Factory plate'), part('guard', 'Guard')], { replaces: 'factory-plate' })).toEqual([
      'Factory plate',
      'Guard',
    ]);
  });

  it('are called what the work calls them where nobody said what was there', () => {
    expect(takenOff([], {})).toEqual(['plates below New plate']);
  });

  it('are none where nothing is put on', () => {
    const made = shop.plan(
      { vehicle: { from: 'inline', class: 'small', fitted: [part('plate', 'Factory plate')] } } as unknown as PlanRequest,
      {
        vehicles: new Map(),
        parts: new Map(),
        hash: 'small',
      },
    );
    expect(made.ok && made.plan.hand_over.parts_taken_off).toEqual([]);
  });

  it('are refused of a kind or a part that there is not', () => {
    const bad = (line: string) => () =>
      smallLibrary([], { ...FILES, 'works/fit-plate.yaml': WORK('fit-plate', `takes: { part: { part: plate } }\ntakes_off: [${line}]`) });
    expect(bad('{ kind: moon }')).toThrow(/there is no kind `moon`/);
    expect(bad('{ kind: plate, of: moon }')).toThrow(/there is no part or place of the work `moon`/);
    expect(bad('{ of: part }')).toThrow(/nothing says what comes off/);
  });
});
