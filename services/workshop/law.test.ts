import { describe, expect, it } from 'vitest';
import { loadLibrary, readRuleFiles, renderDiagnostics } from '../engine/index.ts';
import { RULES_FOLDER } from '../paths.ts';
import { PLACE_LEVELS } from '../vehicle/index.ts';
import { createChecker } from './index.ts';
import { answer, checker, demoBuild, faults, findingsOf } from './testing.ts';
import { shaft, smallLibrary } from './testing-small.ts';

const bold = (...jurisdictions: string[]) => {
  const build = demoBuild('bold');
  return { ...build, use: { ...build.use, jurisdictions } };
};
const LIMITED = 'for: { law: roof_limit }\nwhen: "floor_gap < law.below"\nrequire: "roof_gap >= 0 mm"';
const legal = (given: ReturnType<typeof answer>) => given.findings.filter(({ hazard }) => hazard === 'legal');

/** What the texts print, in inches by rated mass in pounds: read again from REFERENCES and the sources, not from the packs. */
const BUMPERS: Readonly<Record<string, readonly (readonly [most: number, front: number, rear: number])[]>> = {
  'us-oh': [
    [4500, 24, 26],
    [7500, 27, 29],
    [10000, 28, 31],
  ],
  'us-wa': [
    [4500, 24, 26],
    [7500, 27, 29],
    [10000, 28, 30],
  ],
  'us-va': [
    [4500, 28, 28],
    [7500, 29, 30],
    [15000, 30, 31],
  ],
};

describe('law packs', () => {
  it('are in a check only where the request names them', () => {
    expect(legal(answer(demoBuild('bold')))).toEqual([]);
    expect(new Set(legal(answer(bold('us-oh'))).map(({ rule }) => rule))).toEqual(
      new Set(['legal-bumper-front', 'legal-bumper-rear', 'legal-floor-height']),
    );
  });

  it('each finding names the text, its clause, how and when it was read, and says to check the local one', () => {
    const [first] = findingsOf(answer(bold('us-oh')), 'legal-bumper-front');
    expect(first?.basis[0]).toMatchObject({ kind: 'law', source: 'oac-4501-43-04', clause: '(B)', read: 'seen', on: '2026-11-26' });
    expect(first?.cautions.join(' ')).toContain('Check the local text');
    expect(first?.subject).toContain('Ohio');
  });

  it.each(Object.entries(BUMPERS))('%s has the bumper heights its text prints', (id, rows) => {
    const limits = checker.library.jurisdictions.get(id)?.limits.filter(({ kind }) => kind === 'bumper_height_limit') ?? [];
    const told = limits.map(({ attributes }) =>
      ['rated_mass_at_most', 'front', 'rear'].map((name) => Number.parseFloat(attributes.get(name) ?? '')),
    );
    expect(told).toEqual(rows);
    // Bands meet and do not overlap.
    expect(limits.slice(1).map(({ attributes }) => attributes.get('rated_mass_over'))).toEqual(
      limits.slice(0, -1).map(({ attributes }) => attributes.get('rated_mass_at_most')),
    );
  });

  it('judge by what is measured: a bumper over the limit is a conflict, a taped one at it holds', () => {
    const at = (height: string) => {
      const build = bold('us-oh');
      build.vehicle.measured?.push({ quantity: 'bumper_height_after', of: 'front', value: height });
      return findingsOf(answer(build), 'legal-bumper-front')[0]?.verdict;
    };
    expect([at('28 in ± 0.1'), at('27 in ± 0'), at('26.95 in ± 0.2')]).toEqual(['conflict', 'clear', 'close']);
  });

  it('say by how much a tyre stands out, and flares of the stated width cure it', () => {
    const build = bold('eu');
    for (const of of ['front-left', 'front-right', 'rear-left', 'rear-right'])
      build.vehicle.measured?.push({ quantity: 'tyre_inside_wing', of, value: '8 mm ± 2' });
    const given = answer(build);
    // 315 − 271 = 44 mm wider and 25 mm further out: 25 + 22 − 8 = 39 mm.
    const [cover] = findingsOf(given, 'legal-tyre-cover');
    expect(cover).toMatchObject({ verdict: 'conflict', margin: { value: -39, unit: 'mm' } });
    expect(given.work.steps.some(({ work }) => work === 'fit-wing-flares')).toBe(true);
    expect(given.after_work.remaining.filter(({ id }) => id.startsWith('legal-tyre-cover'))).toEqual([]);
  });

  it('the speedometer is held to each text in its own way', () => {
    const given = answer(bold('eu', 'us-motor-carriers'));
    expect(findingsOf(given, 'legal-speedometer')[0]?.verdict).toBe('conflict');
    expect(findingsOf(given, 'legal-speedometer-error')[0]?.verdict).toBe('clear');
  });

  it('a beam axle is held to what the text has for beam axles: what it allows some of them is open', () => {
    const spaced = (class_: string, thickness: string) =>
      answer({
        vehicle: { from: 'inline', class: class_ },
        parts: [{ from: 'inline', kind: 'wheel_spacer', at: 'front', attributes: { thickness } }],
        use: { jurisdictions: ['au-vsb-14'] },
      }).findings.filter(({ rule }) => rule.startsWith('legal-track-front'));
    expect(spaced('solid_axle_short', '20 mm').map(({ rule, verdict }) => [rule, verdict])).toEqual([['legal-track-front-beam', 'close']]);
    expect(spaced('solid_axle_short', '30 mm')[0]?.verdict).toBe('conflict');
    expect(spaced('midsize_independent_front', '20 mm').map(({ rule, verdict }) => [rule, verdict])).toEqual([
      ['legal-track-front', 'conflict'],
    ]);
  });

  describe('that do not reach the vehicle', () => {
    const rated = (mass: string | undefined, ...jurisdictions: string[]) =>
      answer({
        vehicle: { from: 'inline', class: 'light_truck_solid_axles', ...(mass && { values: { gross_mass_rating: mass } }) },
        use: { jurisdictions },
      });
    const heavy = rated('5200 kg ± 0', 'us-oh', 'us-ca');

    it('are a finding each: not known, with what to find out', () => {
      expect(heavy.findings.some(({ rule }) => rule.startsWith('legal-bumper') || rule.startsWith('legal-frame'))).toBe(false);
      const told = findingsOf(heavy, 'law-reaches');
      expect(told.map(({ subject, verdict, hazard, as_before }) => [subject, verdict, hazard, as_before])).toEqual([
        ['Ohio, United States: limit of the bumpers’ height', 'unknown', 'legal', false],
        ['California, United States: limit of the frame’s height', 'unknown', 'legal', false],
      ]);
      expect(told[0]?.says).toMatch(
        /for other vehicles, going by the .*5200 kg.*read its current version \(Ohio Administrative Code.*\(B\)\)/,
      );
      expect(told[0]?.basis[0]).toMatchObject({ kind: 'law', source: 'oac-4501-43-04', read: 'seen', on: '2026-11-26' });
      expect(told[0]?.cautions.join(' ')).toContain('Check the local text');
      // The bands that are held, so that it can be seen that none is this vehicle's: the last ends at 10 000 lb.
      expect(told[0]?.numbers.map(({ value }) => value)).toEqual(expect.arrayContaining([5200, 4536]));
    });

    it('count: the whole is not known, nor is it after the work', () => {
      expect(heavy.checked.unknown).toBeGreaterThanOrEqual(2);
      expect(heavy.after_work.remaining.filter(({ id, verdict }) => id.startsWith('law-reaches') && verdict === 'unknown')).toHaveLength(2);
    });

    it('are not told of where a limit for its rated mass is held', () =>
      expect(findingsOf(rated('4500 kg ± 0', 'us-oh', 'us-ca'), 'law-reaches')).toEqual([]));

    describe('by a value that is varied or lacking', () => {
      const library = smallLibrary([{ id: 'legal-roof', hazard: 'legal', body: LIMITED }], {
        'sources.yaml': 'act: { title: An act, kind: law, read: memory, on: "2026-11-26" }\n',
        'kinds/legal_limit.yaml':
          'id: legal_limit\ntitle: Limit\nis: part\nabstract: yes\nfits: vehicle\nframe: chassis\ntypical: { mass: "0 kg" }\n',
        'kinds/roof_limit.yaml': `id: roof_limit
title: Limit of the roof
is: legal_limit
fits: vehicle
frame: chassis
attributes:
  below: { title: For a floor below, unit: mm, meaning: whom it is for }
`,
        'jurisdictions/xx.yaml':
          'id: xx\ntitle: Somewhere\nlimits: [{ kind: roof_limit, attributes: { below: 80 mm }, basis: [{ source: act }] }]\n',
      });
      const small = createChecker(library);
      const nothing = { vehicles: new Map(), parts: new Map(), hash: 'small' };
      const build = (values: Record<string, string>) => ({
        vehicle: { from: 'inline', class: 'small', values, fitted: [shaft('60 mm')] } as const,
        use: { jurisdictions: ['xx'] },
      });
      const ROOM = { roof_gap: '20 mm ± 0' };
      const checkOf = (values: Record<string, string>) => {
        const checked = small.check(build(values), nothing);
        if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
        return [checked.answer.verdict, checked.answer.findings.map(({ rule, verdict }) => `${rule} ${verdict}`)];
      };

      it('is clear within reach, and not known beyond it or where nobody says', () => {
        expect(checkOf({ ...ROOM, floor_gap: '79 mm ± 0' })).toEqual(['clear', ['legal-roof clear']]);
        expect(checkOf({ ...ROOM, floor_gap: '81 mm ± 0' })).toEqual(['unknown', ['law-reaches unknown']]);
        expect(checkOf({ floor_gap: '50 mm ± 0' })).toEqual(['unknown', ['legal-roof unknown']]);
      });

      it('turns a what-if where the vehicle leaves their reach', () => {
        const vary = { quantity: 'floor_gap', from: '70 mm', to: '90 mm', step: '1 mm' };
        const asked = small.whatIf({ ...build(ROOM), vary }, nothing);
        if (!asked.ok) throw new Error(JSON.stringify(asked.faults));
        expect(asked.answer.bands.map(({ verdict, from, to }) => [verdict, from.value, to.value])).toEqual([
          ['clear', 70, 79],
          ['unknown', 80, 90],
        ]);
      });
    });
  });

  it('one that is not there is a fault with the nearest', () => {
    const [fault] = faults(bold('us-ohio'));
    expect(fault).toMatchObject({ pointer: '/use/jurisdictions/0', code: 'JURISDICTION_UNKNOWN' });
    expect(fault?.help).toContain('us-oh');
    expect(faults(bold('us-oh', 'us-oh'))).toMatchObject([{ pointer: '/use/jurisdictions/1', code: 'JURISDICTION_TWICE' }]);
  });

  it('change nothing of the masses', () => {
    const mass = (build: ReturnType<typeof bold>) =>
      Object.values(answer({ ...build, values: 'all' }).values).find(({ name }) => name === 'gross_mass')?.value;
    expect(mass(bold('us-oh', 'eu', 'au-qld'))).toBe(mass(bold()));
  });
});

describe('a law pack is checked when it is loaded', () => {
  const sources = readRuleFiles(RULES_FOLDER);
  const withPack = (text: string) =>
    renderDiagnostics(loadLibrary([...sources, { file: 'rules/jurisdictions/xx.yaml', text }], PLACE_LEVELS).diagnostics);
  const pack = (limit: string) => `id: xx\ntitle: Somewhere\nlimits:\n  - ${limit}\n`;

  it.each([
    ['a kind that is no limit', 'kind: tyre\n    basis: [{ source: un-r39 }]', 'there is no kind of limit `tyre`'],
    [
      'no text of law',
      'kind: track_limit\n    attributes: { most_growth: 25 mm }\n    basis: [{ kind: common-practice }]',
      'names no text of law',
    ],
    [
      'a source that is not there',
      'kind: track_limit\n    attributes: { most_growth: 25 mm }\n    basis: [{ source: un-r93 }]',
      'there is no source `un-r93`',
    ],
    ['a limit without its number', 'kind: track_limit\n    attributes: {}\n    basis: [{ source: un-r39 }]', 'does not say `most_growth`'],
    ['a number of another sort', 'kind: track_limit\n    attributes: { most_growth: 25 kg }\n    basis: [{ source: un-r39 }]', 'kg'],
    [
      'an attribute that is not there',
      'kind: track_limit\n    attributes: { most_grow: 25 mm }\n    basis: [{ source: un-r39 }]',
      'most_growth',
    ],
  ])('%s', (_, limit, message) => expect(withPack(pack(limit))).toContain(message));

  it('and counts in the hash of the rules', () => {
    const hash = (extra: string) =>
      loadLibrary([...sources, { file: 'rules/jurisdictions/xx.yaml', text: extra }], PLACE_LEVELS).library.hash;
    const good = pack('kind: track_limit\n    attributes: { most_growth: 25 mm }\n    basis: [{ source: un-r39 }]');
    expect(withPack(good)).toBe('');
    expect(hash(good)).not.toBe(hash(good.replace('25 mm', '26 mm')));
  });
});
