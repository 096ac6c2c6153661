/** The course of a job: what is found, what is read as built, and a build spread over stages. */
import { describe, expect, it } from 'vitest';
import { createChecker, type Plan, type PlanRequest } from '../index.ts';
import { SHAFT, type SmallRule, smallLibrary } from '../testing-small.ts';
import { Decimal } from './decimal.ts';
import { isBetter } from './stages.ts';

const WORK = (id: string, more: string): readonly [string, string] => [
  `works/${id}.yaml`,
  `id: ${id}\ntitle: ${id}\nhours: { low: 1 h, likely: 2 h, high: 3 h }\n${more}\nbasis: [{ kind: common-practice }]\n`,
];
const FILES = Object.fromEntries([
  ['setups.yaml', 'up: { title: Up, make: { low: 1 h, likely: 1 h, high: 1 h }, unmake: { low: 0 h, likely: 0 h, high: 0 h } }\n'],
  ['inspections.yaml', 'rust: { title: Rust, how: look, tool: lamp, accept: none, hazard: safety, minutes: "5", work: [mend-rust] }\n'],
  WORK('mend-rust', 'before: [{ works: [install-winch, extend-shaft], otherwise: it is built on rust }]'),
  WORK('install-winch', 'takes: { part: { part: winch } }\nsetups: [up]'),
  WORK(
    'fit-brake',
    'after: [{ works: [install-winch], otherwise: it is in the way }]\neffects: [{ set: braked_well, to: "yes" }]\nsetups: [up]',
  ),
  WORK(
    'extend-shaft',
    'takes: { shaft: { part: shaft }, amount: { unit: mm } }\nsafety_critical: yes\neffects: [{ add: amount, to: shaft.engagement }]\nverify: { check: look, accept: enough, reads: [shaft.engagement] }',
  ),
  ['kinds/winch.yaml', 'id: winch\ntitle: Winch\nis: part\nfits: vehicle\nframe: chassis\nfitting: [{ install-winch: { part: part } }]\n'],
  [
    'quantities/more.yaml',
    'braked_well: { title: Braked well, truth: yes, per: vehicle, meaning: whether it stops, comes: state, initially: no }\n',
  ],
]);
const BRAKE: SmallRule = { id: 'brake', hazard: 'safety', body: 'for: { w: winch }\nrequire: "braked_well"', work: '- fit-brake' };
const shop = createChecker(smallLibrary([SHAFT, BRAKE], FILES));
const nothing = { vehicles: new Map(), parts: new Map(), hash: 'small' };

function planOf(more: Partial<PlanRequest>, engagement = '10 mm ± 0'): Plan {
  const vehicle = { from: 'inline', class: 'small', fitted: [{ from: 'inline', kind: 'shaft', attributes: { engagement } }] };
  const planned = shop.plan({ vehicle, ...more } as PlanRequest, nothing);
  if (!planned.ok) throw new Error(JSON.stringify(planned.faults));
  return planned.plan;
}
const signed = { by: 'M. Hart', date: '2026-12-01' };

describe('what is looked over first', () => {
  it('is not known until somebody has looked', () => {
    const [rust] = planOf({}).inspection;
    expect(rust).toMatchObject({ point: 'rust', verdict: 'unknown', work: [], before: ['extend-shaft:shaft'] });
  });

  it('asks for its own work, before what is built on it, and is fine only when it was found so', () => {
    const unsafe = planOf({ state: { inspection: [{ point: 'rust', result: 'unsafe', ...signed }] } });
    expect(unsafe.inspection[0]).toMatchObject({ verdict: 'conflict', work: ['mend-rust'], by: 'M. Hart' });
    expect(unsafe.check.work.steps.map(({ id }) => id)).toEqual(['mend-rust', 'extend-shaft:shaft']);
    expect(planOf({ state: { inspection: [{ point: 'rust', result: 'sound', ...signed }] } }).inspection[0]?.verdict).toBe('clear');
  });
});

describe('a step as built', () => {
  // 10 mm engaged, 25 wanted: 15 more, and 25 mm is predicted.
  const built = (value: string, passed = true): Plan['as_built'][number] | undefined =>
    planOf({ state: { as_built: [{ step: 'extend-shaft:shaft', ...signed, passed, readings: [{ quantity: 'engagement', value }] }] } })
      .as_built[0];

  it('is closed by a name, a reading and a pass, compared with what was predicted', () => {
    expect(built('26 mm ± 1')).toMatchObject({
      closed: true,
      open: [],
      by: 'M. Hart',
      readings: [{ read: { value: 26 }, predicted: { value: 25 }, agrees: true }],
    });
  });

  it('is what the visit that follows from it is because of, though it is no step of what remains', () => {
    const files = {
      ...FILES,
      ...Object.fromEntries([
        WORK('install-winch', 'takes: { part: { part: winch } }\nthen: [torque-again]'),
        WORK('torque-again', 'visits: [80 km]'),
      ]),
    };
    const planned = createChecker(smallLibrary([], files)).plan(
      {
        vehicle: { from: 'inline', class: 'small' },
        parts: [{ from: 'inline', kind: 'winch', id: 'first' }],
        state: { done: [{ step: 'install-winch:first' }] },
      } as unknown as PlanRequest,
      nothing,
    );
    expect(planned.ok && planned.plan.check.work.steps.map(({ id, because }) => [id, because])).toEqual([
      ['torque-again', ['install-winch:first']],
    ]);
  });

  it('that is read otherwise than predicted stays open until a note says why', () => {
    const step = { step: 'extend-shaft:shaft', ...signed, passed: true, readings: [{ quantity: 'engagement', value: '60 mm ± 1' }] };
    const of = (note?: string) => planOf({ state: { as_built: [{ ...step, ...(note !== undefined && { note }) }] } }).as_built[0];
    expect(of()).toMatchObject({
      closed: false,
      open: [expect.stringContaining('otherwise than predicted')],
      readings: [{ agrees: false }],
    });
    expect(of('a longer yoke was in stock')).toMatchObject({ closed: true, open: [], readings: [{ agrees: false }] });
  });

  it('stays open where the reading fails what asked for it, it did not pass, or was not read', () => {
    expect(built('15 mm ± 1')).toMatchObject({
      closed: false,
      open: [expect.stringContaining('still in conflict'), expect.stringContaining('otherwise than predicted')],
      readings: [{ agrees: false }],
    });
    expect(built('26 mm ± 1', false)).toMatchObject({ closed: false, open: ['it did not pass'] });
    const unread = planOf({ state: { as_built: [{ step: 'extend-shaft:shaft', ...signed, passed: true }] } }).as_built[0];
    expect(unread).toMatchObject({ closed: false, open: ['`shaft.engagement` was not read'] });
  });
});

/** Looked over, and nothing found. */
const SOUND = { inspection: [{ point: 'rust', result: 'sound' as const, ...signed }] };

describe('stages', () => {
  const parts = [
    { from: 'inline', kind: 'winch', id: 'first' },
    { from: 'inline', kind: 'winch', id: 'second' },
  ] as PlanRequest['parts'] & object;
  const groups = [
    { name: 'spring', parts: ['first'] },
    { name: 'autumn', parts: ['second'] },
  ];

  it('are each checked as driven, and nothing is done twice that one doing serves', () => {
    const { stages } = planOf({ parts, state: SOUND, stages: { groups } }, '50 mm ± 0');
    expect(stages?.stages.map(({ name, steps, safe_to_drive }) => [name, steps, safe_to_drive])).toEqual([
      ['spring', ['install-winch:first', 'fit-brake'], 'yes'],
      ['autumn', ['install-winch:second'], 'yes'],
    ]);
    // It is put up twice.
    expect(stages).toMatchObject({ safe_all_along: true, dearer_by: 1, hours: 8, hours_at_once: 7 });
  });

  it('in the best order weigh all there are', () => {
    expect(planOf({ parts, state: SOUND, stages: { groups, order: 'best' } }, '50 mm ± 0').stages).toMatchObject({
      weighed: 2,
      safe_all_along: true,
    });
  });

  it('hold what a stage costs against its budget, and take the order that keeps within', () => {
    const estimate = { currency: 'EUR', labour: { default: '50.00' }, parts: { first: { price: '900.00' }, second: { price: '100.00' } } };
    const of = (budgets: readonly (string | undefined)[], order: 'as_given' | 'best') =>
      planOf(
        {
          parts,
          estimate,
          stages: { order, groups: groups.map((group, i) => ({ ...group, ...(budgets[i] && { budget: budgets[i] }) })) },
        } as never,
        '50 mm ± 0',
      ).stages;
    const plain = of([], 'as_given');
    // First: a winch and the brake, each 2 h, up once for 1 h: 5 h at 50; then a winch, 3 h.
    expect(plain?.stages.map(({ money }) => money?.total)).toEqual(['1150.00', '250.00']);
    expect(plain?.within_budgets).toBeNull();
    expect(of(['1100.00', undefined], 'as_given')).toMatchObject({
      within_budgets: false,
      stages: [{ money: { over: '50.00' } }, { money: { over: null } }],
    });
    // The brake goes with whichever comes first.
    const best = of(['1100.00', undefined], 'best');
    expect(best).toMatchObject({ within_budgets: true, weighed: 2 });
    expect(best?.stages.map(({ name, money }) => [name, money?.total])).toEqual([
      ['autumn', '350.00'],
      ['spring', '1050.00'],
    ]);
  });

  it('are never complete, nor within a budget, with a part that no work is known to fit', () => {
    const files = { ...FILES, 'kinds/hoist.yaml': 'id: hoist\ntitle: Hoist\nis: part\nfits: vehicle\nframe: chassis\n' };
    const planned = createChecker(smallLibrary([], files)).plan(
      {
        vehicle: { from: 'inline', class: 'small' },
        parts: [{ from: 'inline', kind: 'hoist', id: 'hoist' }],
        estimate: { currency: 'EUR', labour: { default: '50.00' }, parts: { hoist: { price: '10.00' } } },
        stages: { groups: [{ name: 'spring', parts: ['hoist'], budget: '900.00' }] },
      } as unknown as PlanRequest,
      nothing,
    );
    const plan = (planned.ok && planned.plan) as Plan;
    expect(plan.not_planned.map(({ part }) => part)).toEqual(['hoist']);
    expect(plan.estimate?.complete).toBe(false);
    expect(plan.stages).toMatchObject({ within_budgets: null, stages: [{ money: { complete: false } }] });
  });

  it('in the best order are safe first, then within the budgets, then cheap by money, then by hours', () => {
    const way = (unsafe: number, over: number, money: string | undefined, hours: number) =>
      ({ unsafe, over, hours, money: money === undefined ? undefined : Decimal.parse(money) }) as Parameters<typeof isBetter>[0];
    expect(isBetter(way(0, 1, '9', 9), way(1, 0, '1', 1))).toBe(true);
    expect(isBetter(way(0, 0, '9', 9), way(0, 1, '1', 1))).toBe(true);
    expect(isBetter(way(0, 0, '8', 9), way(0, 0, '9', 1))).toBe(true);
    expect(isBetter(way(0, 0, '9', 1), way(0, 0, '8', 9))).toBe(false);
    expect(isBetter(way(0, 0, '8', 1), way(0, 0, '8', 2))).toBe(true);
    expect(isBetter(way(0, 0, undefined, 1), way(0, 0, undefined, 2))).toBe(true);
  });

  const planWith = (rules: readonly SmallRule[], more: Readonly<Record<string, string>> = {}) => {
    const fitted = [{ from: 'inline', kind: 'shaft', attributes: { engagement: '5 mm ± 0' } }];
    const request = {
      vehicle: { from: 'inline', class: 'small', fitted },
      parts,
      state: SOUND,
      stages: { groups },
    } as unknown as PlanRequest;
    const planned = createChecker(smallLibrary(rules, { ...FILES, ...more })).plan(request, nothing);
    if (!planned.ok) throw new Error(JSON.stringify(planned.faults));
    return planned.plan.stages;
  };

  it('do again what a later stage undoes, and say so', () => {
    const aligned: SmallRule = { id: 'aligned', hazard: 'safety', body: 'for: { w: winch }\nrequire: "aligned"', work: '- align' };
    const spread = planWith([aligned], {
      'quantities/aligned.yaml':
        'aligned: { title: Aligned, truth: yes, per: vehicle, meaning: how it stands, comes: state, initially: no }\n',
      'aspects.yaml': 'mass: { title: Mass }\n',
      ...Object.fromEntries([
        WORK('install-winch', 'takes: { part: { part: winch } }\nsetups: [up]\nchanges: [mass]'),
        WORK('align', 'after: [{ changing: mass, otherwise: it is out again }]\neffects: [{ set: aligned, to: "yes" }]'),
      ]),
    });
    expect(spread?.stages.map(({ steps, again }) => [steps, again])).toEqual([
      [['install-winch:first', 'align'], []],
      [['install-winch:second', 'align'], ['align']],
    ]);
    // Aligned once more, two hours; put up once more, one.
    expect(spread?.dearer_by).toBe(3);
  });

  /** A shaft that must reach 10 mm for each winch: 5 mm further with one, 15 with both. */
  const reach: SmallRule = {
    id: 'reach',
    hazard: 'damage',
    body: 'for: { shaft: shaft }\nrequire: "shaft.engagement >= 10 mm * count(w in winch)"',
    work: '- extend-shaft: { shaft: shaft, amount: "10 mm * count(w in winch) - shaft.engagement" }',
  };

  it('do at once what grows later, so that it is done once', () => {
    const spread = planWith([reach]);
    expect(spread?.stages.map(({ steps, sized_for_the_end }) => [steps.includes('extend-shaft:shaft'), sized_for_the_end])).toEqual([
      [true, ['extend-shaft:shaft']],
      [false, []],
    ]);
  });

  it('do no more at once than is safe in between', () => {
    const bottoms: SmallRule = {
      id: 'bottoms',
      hazard: 'safety',
      body: 'for: { shaft: shaft }\nrequire: "shaft.engagement <= 12 mm * count(w in winch)"',
    };
    const spread = planWith([reach, bottoms]);
    expect(spread?.stages.map(({ sized_for_the_end, safe_to_drive }) => [sized_for_the_end, safe_to_drive])).toEqual([
      [[], 'yes'],
      [[], 'yes'],
    ]);
  });

  it('in the best order put safety before hours', () => {
    // The second winch is dangerous without the first.
    const pair: SmallRule = { id: 'pair', hazard: 'safety', body: 'for: { w: hoist }\nrequire: "count(v in winch) >= 1"' };
    const files = { ...FILES, 'kinds/hoist.yaml': 'id: hoist\ntitle: Hoist\nis: part\nfits: vehicle\nframe: chassis\nfitting: none\n' };
    const request = (order: 'as_given' | 'best') =>
      ({
        vehicle: { from: 'inline', class: 'small' },
        parts: [
          { from: 'inline', kind: 'hoist', id: 'hoist' },
          { from: 'inline', kind: 'winch', id: 'first' },
        ],
        state: SOUND,
        stages: {
          order,
          groups: [
            { name: 'spring', parts: ['hoist'] },
            { name: 'autumn', parts: ['first'] },
          ],
        },
      }) as unknown as PlanRequest;
    const spread = (order: 'as_given' | 'best') => {
      const planned = createChecker(smallLibrary([pair], files)).plan(request(order), nothing);
      if (!planned.ok) throw new Error(JSON.stringify(planned.faults));
      return planned.plan.stages;
    };
    expect(spread('as_given')?.stages.map(({ name, safe_to_drive }) => [name, safe_to_drive])).toEqual([
      ['spring', 'no'],
      ['autumn', 'yes'],
    ]);
    expect(spread('best')).toMatchObject({ safe_all_along: true, stages: [{ name: 'autumn' }, { name: 'spring' }] });
  });

  it('say where a state is not safe', () => {
    const stuck: SmallRule = { id: 'stuck', hazard: 'safety', body: 'for: { w: winch }\nrequire: "floor_gap >= 300 mm"' };
    const planned = createChecker(smallLibrary([stuck], FILES)).plan(
      { vehicle: { from: 'inline', class: 'small' }, parts, stages: { groups } } as PlanRequest,
      nothing,
    );
    expect(planned.ok && planned.plan.stages?.stages.map(({ safe_to_drive }) => safe_to_drive)).toEqual(['no', 'no']);
  });

  it('are of what remains: what is on it and done is neither done nor billed again', () => {
    const estimate = { currency: 'EUR', labour: { default: '50.00' }, parts: { first: { price: '900.00' }, second: { price: '100.00' } } };
    const half = { ...SOUND, fitted: ['first'], done: [{ step: 'fit-brake' }] };
    const { stages, time } = planOf({ parts, estimate, state: half, stages: { groups } }, '50 mm ± 0');
    expect(stages?.stages.map(({ name, parts: of, steps, money }) => [name, of, steps, money?.total])).toEqual([
      ['spring', [], [], '0.00'],
      // Two hours and one to put it up, at 50, and the part.
      ['autumn', ['second'], ['install-winch:second'], '250.00'],
    ]);
    expect(stages?.hours_at_once).toBe(time.sure.expected);
  });

  it('put right first what the vehicle was found with, and are not known to be safe while nobody has looked', () => {
    const found = (result: 'unsafe' | 'worn' | 'not_looked_at', groupsOf = groups) =>
      planOf({ parts, state: { inspection: [{ point: 'rust', result, ...signed }] }, stages: { groups: groupsOf } }, '50 mm ± 0').stages;
    for (const result of ['unsafe', 'worn'] as const)
      expect(found(result)?.stages.map(({ steps, safe_to_drive }) => [steps.includes('mend-rust'), safe_to_drive])).toEqual([
        [true, 'yes'],
        [false, 'yes'],
      ]);
    expect(found('not_looked_at')?.stages.map(({ safe_to_drive, open }) => [safe_to_drive, open.map(({ id }) => id)])).toEqual([
      ['not_known', ['inspection:rust']],
      ['not_known', ['inspection:rust']],
    ]);
    expect(planOf({ parts, stages: { groups } }, '50 mm ± 0').stages?.safe_all_along).toBe(false);
  });
});
