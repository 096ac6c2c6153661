import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CheckRequest, VaryInput } from '../vehicle/index.ts';
import { createChecker, type Verdict, type WhatIf } from './index.ts';
import { type SmallRule, shaft, smallLibrary } from './testing-small.ts';

const NOTHING = { vehicles: new Map(), parts: new Map(), hash: 'small' };
const VEHICLE = { from: 'inline', class: 'small', fitted: [shaft('60 mm')] } as const;
const BUILD: CheckRequest = { vehicle: VEHICLE };

const rule = (id: string, require: string, binders = ''): SmallRule => ({ id, body: `${binders}require: "${require}"` });
const varied = (rules: readonly SmallRule[], vary: VaryInput, build = BUILD) =>
  createChecker(smallLibrary(rules)).whatIf({ ...build, vary }, NOTHING);

function answered(rules: readonly SmallRule[], vary: VaryInput, build = BUILD): WhatIf {
  const asked = varied(rules, vary, build);
  if (!asked.ok) throw new Error(JSON.stringify(asked.faults));
  return asked.answer;
}

const spans = ({ bands }: Pick<WhatIf, 'bands'>) => bands.map(({ verdict, from, to }) => [verdict, from.value, to.value]);
const ROOM = rule('room', 'roof_gap >= 0 mm');
const RANGE = { quantity: 'roof_gap', from: '-50 mm', to: '50 mm', step: '1 mm', plus_minus: '3 mm' } as const;

/** The verdict of plain checks at every step. */
function oneByOne(rules: readonly SmallRule[], from: number, to: number, plusMinus: number): Verdict[] {
  const checker = createChecker(smallLibrary(rules));
  return Array.from({ length: to - from + 1 }, (_, i) => {
    const values = { roof_gap: `${from + i} mm ± ${plusMinus} mm` };
    const checked = checker.check({ ...BUILD, vehicle: { ...VEHICLE, values } }, NOTHING);
    if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
    return checked.answer.verdict;
  });
}

/** The verdicts at every step that stretches tell of; undefined where they leave it open. */
function drawn({ bands }: Pick<WhatIf, 'bands'>, from: number, to: number): (Verdict | undefined)[] {
  return Array.from(
    { length: to - from + 1 },
    (_, i) => bands.find((band) => Number(band.from.value) <= from + i && from + i <= Number(band.to.value))?.verdict,
  );
}

describe('a value varied over a range', () => {
  it('is told by stretches, to the step, with what turns each', () => {
    const told = answered([ROOM], RANGE);
    expect(spans(told)).toEqual([
      ['conflict', -50, -4],
      ['close', -3, 2],
      ['clear', 3, 50],
    ]);
    expect(told.bands.map(({ because }) => because.map(({ rule: by }) => by))).toEqual([['room'], ['room'], []]);
    expect(told.summary).toBe('Gap at the roof of Small: conflict up to -4 mm, too close to call to 2 mm, clear beyond.');
    expect(told.checked.to_the_step).toBe(true);
  });

  it('is checked at far fewer values than there are steps', () => {
    const told = answered([ROOM], { ...RANGE, step: '0.01 mm' });
    expect(spans(told).map(([, , to]) => to)).toEqual([-3.01, 2.99, 50]);
    expect(told.checked.values.length).toBeLessThan(20);
    expect(told.checked.spacing).toEqual({ value: 12.5, unit: 'mm' });
  });

  it('may turn and turn back', () => {
    expect(spans(answered([rule('near', 'roof_gap within 20 mm of 5 mm')], RANGE))).toEqual([
      ['conflict', -50, -19],
      ['close', -18, -13],
      ['clear', -12, 22],
      ['close', 23, 28],
      ['conflict', 29, 50],
    ]);
  });

  it('may turn and turn back within the spacing of values that were laid', () => {
    const told = answered([rule('near', 'roof_gap within 3 mm of 5 mm')], { ...RANGE, plus_minus: '0 mm' });
    expect(spans(told)).toEqual([
      ['conflict', -50, 1],
      ['clear', 2, 8],
      ['conflict', 9, 50],
    ]);
    expect(told.checked.values.length).toBeLessThan(20);
  });

  it('has each finding with its own stretches, and one that turns the whole named first', () => {
    const told = answered([ROOM, rule('more', 'roof_gap >= 20 mm'), rule('always', 'floor_gap >= 0 mm')], RANGE);
    expect(
      told.findings.map((finding) => [finding.rule, spans({ bands: finding.bands as WhatIf['bands'] }).map(([, , to]) => to)]),
    ).toEqual([
      ['more', [16, 22, 50]],
      ['room', [-4, 2, 50]],
    ]);
    expect(told.bands[0]?.because.map(({ rule: by }) => by)).toEqual(['more']);
  });

  it('tells what no plain check contradicts, whatever the rules', () => {
    const limit = fc.integer({ min: -60, max: 60 });
    const require = fc.oneof(
      limit.map((at) => `roof_gap >= ${at} mm`),
      limit.map((at) => `roof_gap <= ${at} mm`),
      fc.tuple(limit, fc.integer({ min: 1, max: 12 })).map(([at, by]) => `roof_gap within ${by} mm of ${at} mm`),
      fc.tuple(limit, limit).map(([a, b]) => `roof_gap <= ${a} mm or roof_gap >= ${b} mm`),
      fc.tuple(limit, limit).map(([a, b]) => `roof_gap * roof_gap >= ${a} mm * ${b} mm`),
    );
    fc.assert(
      fc.property(
        fc.array(require, { minLength: 1, maxLength: 3 }),
        fc.oneof(fc.constant(0), fc.integer({ min: 1, max: 6 })),
        (requires, plusMinus) => {
          const rules = requires.map((text, i) => rule(`r${i}`, text));
          const told = answered(rules, { ...RANGE, plus_minus: `${plusMinus} mm` });
          const plain = oneByOne(rules, -50, 50, plusMinus);
          for (const { value, verdict } of told.checked.values) expect([value, verdict]).toEqual([value, plain[Number(value) + 50]]);
          const wrong = drawn(told, -50, 50).flatMap((verdict, i) => (verdict !== undefined && verdict !== plain[i] ? [i] : []));
          // An exact margin that bends one way turns nowhere unseen. Of others one that turns and turns back within the spacing may be missed.
          if (plusMinus === 0 && !requires.some((text) => text.includes(' or ')))
            expect([told.checked.to_the_step, wrong]).toEqual([true, []]);
          const longest = wrong.reduce((best, at, i) => Math.max(best, at - (wrong[i - 1] ?? at) > 1 ? 1 : best), wrong.length > 0 ? 1 : 0);
          expect(longest * wrong.length).toBeLessThanOrEqual(2 * 13);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('leaves aside what was said of the value before', () => {
    const build: CheckRequest = { ...BUILD, vehicle: { ...VEHICLE, values: { roof_gap: '500 mm ± 1 mm' } } };
    expect(spans(answered([ROOM], RANGE, build)).map(([verdict]) => verdict)).toEqual(['conflict', 'close', 'clear']);
  });

  it('may be of a part', () => {
    const told = answered([rule('engaged', 'shaft.engagement >= 25 mm', 'for: { shaft: shaft }\n')], {
      quantity: 'engagement',
      of: 'shaft',
      from: '0 mm',
      to: '40 mm',
      step: '5 mm',
    });
    expect(spans(told)).toEqual([
      ['conflict', 0, 20],
      ['clear', 25, 40],
    ]);
    expect(told.varied.subject).toBe('Shaft');
  });

  it('is not known all along where something else is missing', () => {
    const told = answered([ROOM, rule('braked', 'braked')], RANGE);
    expect(told.bands.map(({ verdict }) => verdict)).toEqual(['conflict', 'unknown']);
  });
});

describe('what decides a stretch', () => {
  const build: CheckRequest = { vehicle: { ...VEHICLE, fitted: [shaft('20 mm ± 10 mm')] } };
  const both = rule('both', 'roof_gap + shaft.engagement >= 60 mm', 'for: { shaft: shaft }\n');

  it('is told inside it: by how much, and which reading would settle it', () => {
    const { bands } = answered([both], { ...RANGE, from: '0 mm', to: '100 mm', plus_minus: '0 mm' }, build);
    expect(spans({ bands })).toEqual([
      ['conflict', 0, 29],
      ['close', 30, 49],
      ['clear', 50, 100],
    ]);
    const [conflict, close, clear] = bands;
    const at = Number(close?.decided_at?.value);
    expect([at >= 35 && at <= 44, close?.more]).toEqual([true, 0]);
    // By hand: the gap and 20 mm ± 10 of engagement, less 60 mm; a rule reads the engagement to 2 mm.
    const [decider] = close?.decided_by ?? [];
    expect(decider).toMatchObject({ rule: 'both', sort: 'fit', varies: true, says: expect.stringContaining('Too close to call') });
    expect(decider?.margin).toMatchObject({ value: at - 40, low: at - 50, high: at - 30, unit: 'mm' });
    expect(decider?.settled_by).toMatchObject({ readings: [{ title: 'Engagement', subject: 'Shaft', share: 1 }], leaves: { value: 2 } });
    expect(conflict?.decided_by[0]?.margin?.value).toBe(Number(conflict?.decided_at?.value) - 40);
    expect(conflict?.decided_by[0]?.settled_by).toBeUndefined();
    expect([clear?.decided_at, clear?.decided_by]).toEqual([null, []]);
  });

  it('ends the better one beside it, with the reading that may widen that', () => {
    const { bands } = answered([both], { ...RANGE, from: '0 mm', to: '100 mm', plus_minus: '0 mm' }, build);
    expect(
      bands.map(({ ended_by }) => ended_by.map((by) => [by.end, by.rule, by.verdict, by.widened_by.map(({ title }) => title)])),
    ).toEqual([[], [['from', 'both', 'conflict', []]], [['from', 'both', 'close', ['Engagement']]]]);
    const exact = answered([rule('low', 'roof_gap <= 10 mm')], { ...RANGE, plus_minus: '0 mm' }).bands[0];
    expect(exact?.ended_by.map((by) => [by.end, by.verdict, by.widened_by])).toEqual([['to', 'conflict', []]]);
  });

  it('may be what no rule tells', () => {
    const [only] = answered([ROOM], { ...RANGE, from: '5 mm' }, { vehicle: { from: 'inline', class: 'small' } }).bands;
    expect(only?.verdict).toBe('unknown');
    expect(only?.because.map((cause) => [cause.rule, cause.subject, cause.varies])).toEqual([['position-filled', 'Shaft', false]]);
    expect(only?.decided_by.map(({ says }) => says)).toEqual([expect.stringContaining('Nothing is said about the shaft')]);
  });
});

describe('sorts', () => {
  const low = rule('low', 'roof_gap <= 30 mm');
  const law: SmallRule = { ...rule('lawful', 'roof_gap <= 10 mm'), hazard: 'legal' };
  const even = rule('even', 'roof_gap / floor_gap <= 0.4');
  const exact = { ...RANGE, plus_minus: '0 mm' };

  it('are told apart by what the rules carry: the fit has its own end, whatever the law has', () => {
    const told = answered([law, low, even], exact);
    expect(told.bands[0]?.ended_by.map(({ rule: by, sort }) => [by, sort])).toEqual([['lawful', 'law']]);
    expect(told.sorts.map(({ sort, bands }) => [sort, bands[0]?.to.value, bands[0]?.ended_by[0]?.rule])).toEqual([
      ['fit', 30, 'low'],
      ['law', 10, 'lawful'],
      ['x', 40, 'even'],
    ]);
    expect(told.summary).toContain('conflict beyond. By itself: fit clear up to 30 mm; law clear up to 10 mm; x clear up to 40 mm.');
  });

  it('are of what is varied alone: what is in conflict all along does not hide them', () => {
    const told = answered([low, rule('never', 'floor_gap >= 200 mm')], exact);
    expect(spans(told)).toEqual([['conflict', -50, 50]]);
    expect(told.bands[0]?.decided_by.map(({ rule: by, varies }) => [by, varies])).toContainEqual(['never', false]);
    expect(told.sorts.map(({ sort, bands }) => [sort, ...spans({ bands: bands as WhatIf['bands'] })])).toEqual([
      ['fit', ['clear', -50, 30], ['conflict', 31, 50]],
    ]);
    expect(told.summary).toContain('By itself: fit clear up to 30 mm.');
  });
});

describe('a stretch that stated work ends', () => {
  const engaged: SmallRule = {
    id: 'engaged',
    body: 'for: { shaft: shaft }\nrequire: "shaft.engagement >= 25 mm"',
    work: '- extend-shaft: { shaft: shaft, amount: "25 mm - shaft.engagement" }',
  };
  const RANGE_OF_SHAFT = { quantity: 'engagement', of: 'shaft', from: '0 mm', to: '40 mm', step: '5 mm' } as const;

  it('says so, of the whole and of each finding, at the values where the work was worked out', () => {
    const told = answered([engaged], RANGE_OF_SHAFT);
    expect(told.bands.map(({ verdict, after_work }) => [verdict, after_work])).toEqual([
      [
        'conflict',
        [
          { value: 0, verdict: 'clear' },
          { value: 20, verdict: 'clear' },
        ],
      ],
      ['clear', undefined],
    ]);
    expect(told.findings[0]?.after_work).toEqual(told.bands[0]?.after_work);
    expect(told.summary).toBe('Engagement of Shaft: conflict (clear after the stated work) up to 20 mm, clear beyond.');
  });

  it('keeps what the work leaves: another conflict that none cures is not called clear', () => {
    const told = answered([engaged, rule('short', 'shaft.engagement <= 22 mm', 'for: { shaft: shaft }\n')], {
      ...RANGE_OF_SHAFT,
      to: '20 mm',
    });
    expect(told.bands[0]?.after_work?.map(({ verdict }) => verdict)).toEqual(['conflict', 'conflict']);
    expect(told.findings.find(({ rule: of }) => of === 'engaged')?.after_work?.map(({ verdict }) => verdict)).toEqual(['clear', 'clear']);
    expect(told.summary).not.toContain('after the stated work');
  });
});

describe('what planned parts do not change', () => {
  it('is open as before, counted in no stretch, and told beside the summary', () => {
    const planned: CheckRequest = {
      vehicle: { ...VEHICLE, values: { floor_gap: '0 mm ± 5 mm' } },
      parts: [{ ...shaft('60 mm'), id: 'longer', replaces: 'fitted' }],
    };
    const told = answered(
      [rule('engaged', 'shaft.engagement >= 25 mm', 'for: { shaft: shaft }\n'), rule('floor', 'floor_gap >= 0 mm')],
      { quantity: 'engagement', of: 'longer', from: '0 mm', to: '40 mm', step: '5 mm' },
      planned,
    );
    expect(told.bands.map(({ verdict }) => verdict)).toEqual(['conflict', 'clear']);
    expect(told.as_before).toBe(1);
    expect(told.summary).toContain(' 1 more is open as before and not counted: the planned parts do not change it.');
    expect(answered([ROOM], RANGE)).toMatchObject({ as_before: 0, summary: expect.not.stringContaining('as before') });
  });
});

describe('a part that is on the vehicle already', () => {
  const vary = { quantity: 'engagement', of: 'shaft', from: '0 mm', to: '40 mm', step: '20 mm' } as const;
  const engaged = rule('engaged', 'shaft.engagement >= 25 mm', 'for: { shaft: shaft }\n');
  const measured = [{ quantity: 'roof_gap', value: '30 mm' }];

  it('is not swapped for another one, which is said where anything was read with it', () => {
    const read = answered([engaged], vary, { vehicle: { ...VEHICLE, measured } });
    expect(read.remarks).toEqual([expect.stringMatching(/^Shaft: on the vehicle now, .* plan that/)]);
    expect(answered([engaged], vary).remarks).toEqual([]);
    const planned = { vehicle: { ...VEHICLE, measured }, parts: [{ ...shaft('60 mm'), id: 'longer', replaces: 'fitted' }] } as const;
    expect(answered([engaged], { ...vary, of: 'longer' }, planned).remarks).toEqual([]);
  });
});

describe('what was said of the thing as it was', () => {
  const measured = (...dated: readonly (readonly [string, string])[]): CheckRequest => ({
    vehicle: { ...VEHICLE, measured: dated.map(([value, date]) => ({ quantity: 'roof_gap', value, date, tool: 'rule' })) },
  });

  it('does not stand against what is varied, however many dated readings there are', () => {
    const told = answered([ROOM], { ...RANGE, plus_minus: '0 mm' }, measured(['90 mm', '2026-10-03'], ['91 mm', '2026-10-04']));
    expect(spans(told)).toEqual([
      ['conflict', -50, -1],
      ['clear', 0, 50],
    ]);
    expect(told.varied.quantity).toBe('roof_gap');
  });

  it('is left aside where it was read with the part on that is varied', () => {
    const files = {
      'quantities/more.yaml':
        'shaft_gap: { title: Gap of the shaft, unit: mm, per: vehicle, meaning: room beside it, comes: given, measure: { how: with a rule, tool: rule, accuracy: 2 mm, with: [shaft] } }\n',
    };
    const library = smallLibrary([rule('beside', 'shaft_gap >= 0 mm')], files);
    const request = {
      vehicle: {
        ...VEHICLE,
        measured: [{ quantity: 'shaft_gap', value: '5 mm', with: [{ ...shaft('60 mm'), id: 'longer', replaces: 'fitted' }] }],
      },
      parts: [{ ...shaft('60 mm'), id: 'longer', replaces: 'fitted' }],
    } as const;
    const checker = createChecker(library);
    const plain = checker.check(request, NOTHING);
    expect(plain.ok && plain.answer.verdict).toBe('clear');
    const asked = checker.whatIf({ ...request, vary: { quantity: 'engagement', of: 'longer', from: '0 mm', to: '40 mm' } }, NOTHING);
    if (!asked.ok) throw new Error(JSON.stringify(asked.faults));
    expect(asked.answer.findings.map(({ rule: by, bands }) => [by, ...bands.map(({ verdict }) => verdict)])).toEqual([
      ['beside', 'unknown'],
    ]);
    expect(asked.answer.remarks).toEqual(['Shaft: what was said of it as it was is left aside where it is another one: gap of the shaft']);
  });
});

describe('steps', () => {
  const exact = { quantity: 'roof_gap', from: '0 mm', plus_minus: '0 mm' } as const;
  const valuesOf = (vary: VaryInput, units: 'metric' | 'us' = 'metric') =>
    answered([rule('low', 'roof_gap <= 30 mm')], vary, { ...BUILD, units }).checked.values.map(({ value }) => value);

  it('end at the end of the range, be it a shorter one away', () => {
    expect(valuesOf({ ...exact, to: '25 mm', step: '10 mm' })).toEqual([0, 10, 20, 25]);
    expect(valuesOf({ ...exact, to: '10 mm', step: '40 mm' })).toEqual([0, 10]);
  });

  it('are told to two decimals where they were not written in the unit of the answer', () => {
    expect(valuesOf({ ...exact, to: '30 mm', step: '10 mm' }, 'us')).toEqual([0, 0.39, 0.79, 1.18]);
    expect(valuesOf({ ...exact, to: '0.5 in', step: '0.125 in' }, 'us')).toEqual([0, 0.125, 0.25, 0.375, 0.5]);
    expect(valuesOf({ ...exact, to: '0.03 mm', step: '0.01 mm' })).toEqual([0, 0.01, 0.02, 0.03]);
  });
});

describe('values of their own', () => {
  it('are told one by one, texts too', () => {
    const told = answered([rule('rear', "drive == 'rear'")], { quantity: 'drive', among: ['front', 'rear'] });
    expect(spans(told)).toEqual([
      ['conflict', 'front', 'front'],
      ['clear', 'rear', 'rear'],
    ]);
    expect(told.summary).toBe('Drive of Small: front conflict, rear clear.');
  });
});

describe('what cannot be varied so', () => {
  const refused = (vary: VaryInput) => {
    const asked = varied([ROOM], vary);
    return asked.ok ? [] : asked.faults.map(({ pointer, code }) => [pointer, code]);
  };
  it.each<[string, VaryInput, [string, string][]]>([
    [
      'no range',
      { quantity: 'roof_gap' },
      [
        ['/vary/from', 'VARY_EMPTY'],
        ['/vary/to', 'VARY_EMPTY'],
      ],
    ],
    ['a range and a list', { quantity: 'roof_gap', from: '1 mm', to: '2 mm', among: ['1 mm'] }, [['/vary/among', 'VARY_BOTH']]],
    ['an empty list', { quantity: 'roof_gap', among: [] }, [['/vary/among', 'VARY_EMPTY']]],
    ['an end before the beginning', { quantity: 'roof_gap', from: '2 mm', to: '1 mm' }, [['/vary/to', 'VARY_EMPTY']]],
    ['no step', { quantity: 'roof_gap', from: '1 mm', to: '2 mm', step: '0 mm' }, [['/vary/step', 'VARY_STEP_WRONG']]],
    ['too many steps', { quantity: 'roof_gap', from: '0 mm', to: '2 m', step: '0.1 mm' }, [['/vary/step', 'VARY_STEP_WRONG']]],
    ['no unit', { quantity: 'roof_gap', from: 1, to: '2 mm' }, [['/vary/from', 'UNIT_MISSING']]],
    ['another unit at its end', { quantity: 'roof_gap', from: '1 mm', to: '2 kg' }, [['/vary/to', 'DIMENSION_WRONG']]],
    ['nothing there is', { quantity: 'roof_gape', from: '1 mm', to: '2 mm' }, [['/vary/quantity', 'QUANTITY_UNKNOWN']]],
    ['a text over a range', { quantity: 'drive', from: 'front', to: 'rear' }, [['/vary/from', 'VARY_NOT_A_NUMBER']]],
    ['a text there is none of', { quantity: 'drive', among: ['front', 'both'] }, [['/vary/among/1', 'VALUE_UNKNOWN']]],
  ])('%s', (_, vary, faults) => expect(refused(vary)).toEqual(faults));
});
