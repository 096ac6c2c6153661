import { describe, expect, it } from 'vitest';
import type { Answer, Finding } from '../workshop/index.ts';
import { compose } from './compose.ts';
import { fitSegments } from './fit.ts';
import { itemsOf } from './items.ts';
import { judge } from './judge.ts';
import { loadLexicon } from './lexicon.ts';
import type { Question } from './read.ts';
import { likeness, settleVehicle, unknownRuns } from './read-vehicle.ts';
import { echoOf, escapeMarkdown, harmless, plainText } from './tidy.ts';
import { tokensOf } from './tokens.ts';

const told = (text: string): string[] =>
  tokensOf(plainText(text)).map((token) => {
    switch (token.is) {
      case 'tyre':
        return `tyre ${token.designation.text}`;
      case 'tyre-open':
        return `tyre ${token.size(17)} but for its rim`;
      case 'wheel':
        return `wheel ${token.diameter}x${token.width}`;
      case 'amount':
        return [
          token.amount.value,
          ...(token.amount.plusMinus > 0 ? [`± ${token.amount.plusMinus}`] : []),
          token.amount.unit?.symbol ?? 'bare',
        ].join(' ');
      case 'pair':
        return `${token.front.value} and ${token.rear.value}`;
      case 'word':
        return token.word;
      case 'mark':
        return token.mark;
      case 'inches':
        return `${token.value} in`;
      default:
        return token.is;
    }
  });

describe('tokens', () => {
  it.each([
    ['33x12.50R17 on 17x8.5 -10', ['tyre 33x12.50R17', 'on', 'wheel 17x8.5', '-10 bare']],
    ['35x12.5 on 17s', ['tyre 35x12.50R17']],
    ['285/70s', ['tyre 285/70R17 but for its rim']],
    ['2½” lift', ['2.5 in', 'lift']],
    ['1 1/2" BL', ['1.5 in', 'bl']],
    ['2-3 in', ['2.5 ± 0.5 in']],
    ['2.5/1.5 lift', ['2.5 and 1.5', 'lift']],
    ['1,000 lb', ['1000 lb']],
    ['8,5x17', ['wheel 17x8.5']],
    ['10k winch', ['10000 bare', 'winch']],
    ['2 in the bed', ['2 bare', 'in', 'the', 'bed']],
    ['17x9-12', ['wheel 17x9', '-12 bare']],
    ['6x139.7', ['bolts']],
    ['et25', ['et', '25 bare']],
    ['33s', ['33 in']],
    ['60 kg and 400kg', ['60 kg', 'and', '400 kg']],
  ])('%s', (text, tokens) => expect(told(text)).toEqual(tokens));

  it('a size that cannot be says what was probably meant', () => {
    const [token] = tokensOf('256/70r16');
    expect(token).toMatchObject({ is: 'tyre-refused', why: expect.stringContaining('265/70R16') });
  });
});

describe('what was typed', () => {
  it('is plain to read: one line, no controls, joiners or turned directions', () => {
    expect(plainText('2\u202e65\u2066/70\u0000R1\u200b7\nLIFT')).toBe('265/70 r17 ; lift');
  });
  it.each([
    ['@everyone', 'everyone'],
    ['<@123> hello', '123 hello'],
    ['https://evil.test/a?b=1', 'evil test a b 1'],
    ['www.evil.test', 'evil test'],
    ['[a](javascript:alert(1))', 'a javascript alert 1'],
    ['**bold** _x_ `y` ~z~ #tag', 'bold x y z tag'],
    ['a'.repeat(60), `${'a'.repeat(39)}…`],
    ['＠here', 'here'],
  ])('%s is said again as %s', (typed, said) => expect(echoOf(typed)).toBe(said));
  it('what rules and the catalogue say is made harmless too, and numbers stay', () => {
    expect(harmless('@everyone see evil.test, 33x12.50R17 ± 0.5')).toBe('everyone see evil. test, 33x12.50R17 ± 0.5');
    expect(escapeMarkdown('a*b_c[d]-1')).toBe('a\\*b\\_c\\[d\\]\\-1');
  });
});

describe('names', () => {
  // Counted by hand: `wor` has the trigrams `  w`, ` wo`, `wor`, `or `; `word` the first three of them and `ord`, `rd `.
  it('are as alike as their trigrams', () => {
    expect(likeness('wor', 'word')).toBeCloseTo(3 / 6);
    expect(likeness('ghyll', 'ghyll')).toBe(1);
    expect(likeness('merrowdale', 'merowdale')).toBeGreaterThan(0.5);
    expect(likeness('merrowdale', 'tent')).toBe(0);
  });

  const lexicon = loadLexicon();
  const runs = (text: string) => unknownRuns(itemsOf(tokensOf(plainText(text)), lexicon));
  const beck = { id: 'hoyle-beck', name: 'Hoyle Beck', maker: 'Hoyle' };
  const scar = { id: 'hoyle-scar', name: 'Hoyle Scar', maker: 'Hoyle' };
  const settle = (text: string) => settleVehicle(runs(text), () => [beck, scar]);

  it('that two vehicles have in common settle neither, and more of one settles it', () => {
    expect(settle('hoyle with 33s')).toMatchObject({ is: 'several', names: ['Hoyle Beck', 'Hoyle Scar'] });
    expect(settle('hoyle scarr with 33s')).toMatchObject({ is: 'one', settled: { vehicle: scar, misspelt: true } });
    expect(settle('flurbo with 33s')).toBeUndefined();
  });
});

describe('fitting', () => {
  const segments = [
    { id: 'head', variants: ['No.'] },
    { id: 'contact', variants: ['The tyre touches by 12 mm.', 'It touches.', ''] },
    { id: 'caution', variants: ['Mind: brakes.'] },
  ];
  const made = (length: number) => fitSegments(segments, ['contact', 'contact', 'head', 'caution'], length, (texts) => texts.join(' '));

  it('shortens what gives way, keeps the rest, and tells the least length', () => {
    expect(made(100)).toEqual({ ok: true, text: 'No. The tyre touches by 12 mm. Mind: brakes.' });
    expect(made(30)).toEqual({ ok: true, text: 'No. It touches. Mind: brakes.' });
    expect(made(17)).toEqual({ ok: true, text: 'No. Mind: brakes.' });
    expect(made(16)).toEqual({ ok: false, least: 17 });
  });
});

describe('a judgement', () => {
  const finding = (more: Partial<Finding>): Finding =>
    ({
      id: 'f',
      rule: 'r',
      title: 'It clears',
      hazard: 'damage',
      verdict: 'clear',
      as_before: false,
      margin: { value: 5, unit: 'mm', plus_minus: 2 },
      subject: 'the tyre',
      parts: [],
      says: '',
      numbers: [{ name: 'gap', title: 'Gap', value: 5, origin: 'stated', id: 'gap' }],
      doubt: [],
      missing: [],
      work: [],
      basis: [],
      cautions: [],
      ...more,
    }) as Finding;
  const checked = (findings: Finding[], after: Answer['verdict'], more: object = {}): Answer =>
    ({
      verdict: findings[0]?.verdict ?? 'clear',
      findings,
      work: { steps: [], hours: { low: 0, likely: 0, high: 0, unit: 'h' } },
      after_work: { verdict: after, rounds: 0, cleared: [], broken: [], remaining: [] },
      measure: [],
      assumptions: [],
      values: { gap: { origin: { kind: 'stated' }, from: [] } },
      ...more,
    }) as unknown as Answer;
  const asked = (vehicle: Question['vehicle'], more: object = {}): Question =>
    ({
      vehicle,
      assumptions: [],
      reading: { understood: [], names_ignored: [], not_understood: [], spelling: [] },
      build: { vehicle: { from: 'catalogue', vehicle: 'x' }, parts: [{ from: 'inline', kind: 'wheel', id: 'asked-wheel' }] },
      ...more,
    }) as unknown as Question;
  const step = (work: string, part: string) => ({ id: 's', work, parts: [{ id: part }], title: '' });
  const job = (work: string, part: string) => ({ work: { steps: [step(work, part)], hours: {} } });
  const conflict = (work: readonly object[]) => finding({ verdict: 'conflict', work: work as never });
  const swaps = { 'choose-wheel-offset': ['wheel'], 'choose-wheel-for-tyre': ['wheel'] };
  const on = (question: Question, answer: Answer) =>
    judge(question, answer, { swaps, own_rules: { load: ['gross-mass'] }, shapes: ['tyre'] });

  it('is yes only of a vehicle that is known', () => {
    const clear = checked([finding({})], 'clear');
    expect(on(asked('named'), clear).verdict).toBe('yes');
    expect(on(asked('class'), clear)).toMatchObject({ verdict: 'cant_tell', otherwise: 'yes', why: 'class-only' });
    expect(on(asked('assumed'), clear)).toMatchObject({ verdict: 'cant_tell', otherwise: 'yes', why: 'vehicle-assumed' });
  });
  it('is no yes where something was not understood', () => {
    const reading = { understood: [], names_ignored: [], not_understood: [{ text: 'x', why: 'not known' }], spelling: [] };
    expect(on(asked('named', { reading }), checked([finding({})], 'clear'))).toMatchObject({ verdict: 'cant_tell', why: 'not-understood' });
  });
  it('tells a yes that rests on the class from one that does not', () => {
    const clear = checked([finding({})], 'clear', { assumptions: ['Defaults of the class, with their tolerances, stand in for: slack'] });
    expect(on(asked('named'), clear)).toMatchObject({ verdict: 'yes', onClass: true });
  });
  it('is yes with work where the work clears all', () => {
    const answer = checked([conflict([{ step: 's' }])], 'clear', job('trim-cab-mount', 'cab-mounts'));
    expect(on(asked('named'), answer).verdict).toBe('yes_with_work');
    expect(on(asked('named'), checked([conflict([{ step: 's' }])], 'close', job('trim-cab-mount', 'cab-mounts'))).verdict).toBe(
      'cant_tell',
    );
  });
  it('is no where nothing cures a conflict, or only another part than that asked about', () => {
    expect(on(asked('named'), checked([conflict([])], 'conflict')).verdict).toBe('no');
    const swapped = checked([conflict([{ step: 's' }])], 'clear', job('choose-wheel-offset', 'asked-wheel@front-left'));
    expect(on(asked('named'), swapped)).toMatchObject({ verdict: 'no', instead: [{ work: 'choose-wheel-offset' }] });
    const stock = checked([conflict([{ step: 's' }])], 'clear', job('choose-wheel-offset', 'factory-wheels@front-left'));
    expect(on(asked('named'), stock).verdict).toBe('yes_with_work');
    // Said to stay as they came, they are what was asked about.
    expect(on(asked('named', { keeps: ['wheel'] }), stock).verdict).toBe('no');
    // Another wheel does not take the tyre away that was asked about.
    const build = { vehicle: { from: 'catalogue', vehicle: 'x' }, parts: [{ from: 'inline', kind: 'tyre', id: 'asked-tyre' }] };
    const rim = checked([conflict([{ step: 's' }])], 'clear', job('choose-wheel-for-tyre', 'asked-tyre@front-left'));
    expect(on(asked('named', { build }), rim).verdict).toBe('yes_with_work');
  });
  it('is no of a vehicle nobody named only where no default of the class goes into it', () => {
    expect(on(asked('assumed'), checked([conflict([])], 'conflict')).verdict).toBe('no');
    const values = { gap: { origin: { kind: 'computed' }, from: ['track'] }, track: { origin: { kind: 'class-default' }, from: [] } };
    expect(on(asked('assumed'), checked([conflict([])], 'conflict', { values }))).toMatchObject({ verdict: 'cant_tell', otherwise: 'no' });
  });
  it('is no of what a class says only where it would be with twice the doubt, and never where it stands in for what was left out', () => {
    const values = { gap: { origin: { kind: 'class-default' }, from: [], plus_minus: 5 } };
    const short = (by: number) =>
      checked(
        [
          finding({
            verdict: 'conflict',
            margin: { value: -by, unit: 'mm', plus_minus: 5 } as never,
            on_defaults: { share: 1, decide: [] },
          }),
        ],
        'conflict',
        { values },
      );
    for (const vehicle of ['class', 'named'] as const) {
      expect(on(asked(vehicle), short(11)).verdict).toBe('no');
      expect(on(asked(vehicle), short(10))).toMatchObject({ verdict: 'cant_tell', otherwise: 'no' });
    }
    const said = { 'rim_width(asked-wheel@front-left)': { origin: { kind: 'stated' }, from: [] } };
    const numbers = [{ id: 'rim_width(asked-wheel@front-left)' }] as never;
    const rim = checked([finding({ verdict: 'conflict', numbers })], 'conflict', { values: said });
    expect(on(asked('assumed'), rim).verdict).toBe('no');
    expect(on(asked('assumed', { standIns: ['rim_width(asked-wheel)'] }), rim)).toMatchObject({ verdict: 'cant_tell', otherwise: 'no' });
  });
  it('names what stays open after the work as what decides', () => {
    const open = finding({ id: 'open', verdict: 'close', margin: { value: 1, unit: 'mm', plus_minus: 3 } as never });
    const after = { verdict: 'close', rounds: 1, cleared: [], broken: [], remaining: [{ id: 'open', verdict: 'close', says: '' }] };
    const answer = checked([conflict([{ step: 's' }]), open], 'close', { ...job('trim-cab-mount', 'x'), after_work: after });
    expect(on(asked('named'), answer).controlling?.id).toBe('open');
  });
  it('is about the part that was asked about, whatever else is open', () => {
    const values = {
      'gap(cab-mounts)': { origin: { kind: 'computed' }, from: ['diameter(asked-tyre@front-left)'] },
      'diameter(asked-tyre@front-left)': { origin: { kind: 'stated' }, from: [] },
    };
    const unknown = (id: string, more: object) => finding({ id, verdict: 'unknown', margin: null, hazard: 'comfort', ...more });
    const fridge = unknown('fridge', { hazard: 'safety', parts: [{ id: 'asked-fridge' }], numbers: [] });
    const tyre = unknown('tyre', { numbers: [{ id: 'gap(cab-mounts)' }] });
    const remaining = [fridge, tyre].map(({ id }) => ({ id, verdict: 'unknown' }));
    const answer = checked([fridge, tyre], 'unknown', { values, after_work: { verdict: 'unknown', remaining, broken: [] } });
    const focused = (focus: string[]) => on(asked('named', { focus }), answer).controlling?.id;
    expect([focused(['asked-tyre', 'asked-fridge']), focused(['asked-fridge', 'asked-tyre']), focused([])]).toEqual([
      'tyre',
      'fridge',
      'fridge',
    ]);
  });
  it('is never a margin from before the work of what only the work breaks', () => {
    const before = finding({ id: 'shift', title: 'It stands no further out', margin: { value: 30, unit: 'mm' } as never });
    const broken = finding({
      id: 'shift',
      verdict: 'conflict',
      title: 'It stands no further out',
      margin: { value: -10, unit: 'mm' } as never,
    });
    const after = {
      verdict: 'conflict',
      rounds: 1,
      cleared: [],
      broken: [broken],
      remaining: [{ id: 'shift', verdict: 'conflict', says: '' }],
    };
    const doing = (nominal: number) => ({
      work: {
        steps: [{ ...step('choose-wheel-further-out', 'w'), contingent: false, amounts: { amount: { value: 40, nominal, unit: 'mm' } } }],
        hours: {},
      },
      after_work: after,
    });
    const sized = on(asked('named'), checked([before, conflict([{ step: 's' }])], 'conflict', doing(6)));
    expect(sized).toMatchObject({ verdict: 'cant_tell', why: 'work-breaks', byWork: true, controlling: { margin: { value: -10 } } });
    const sure = on(asked('named'), checked([before, conflict([{ step: 's' }])], 'conflict', doing(40)));
    expect(sure).toMatchObject({ verdict: 'no', byWork: true, controlling: { margin: { value: -10 } } });
  });
  it('is no of a truck nobody named where what the class says goes in and out again', () => {
    const values = {
      gap: { origin: { kind: 'computed' }, from: ['offset'] },
      offset: { origin: { kind: 'class-default' }, from: [], plus_minus: 10 },
    };
    const exact = finding({ verdict: 'conflict', margin: { value: -8, unit: 'mm' } as never });
    expect(on(asked('assumed'), checked([exact], 'conflict', { values })).verdict).toBe('no');
    const fixed = { ...values, offset: { origin: { kind: 'class-default' }, from: [] } };
    expect(on(asked('assumed'), checked([exact], 'conflict', { values: fixed })).verdict).toBe('cant_tell');
  });
  it('every work that puts in another part is one there is', async () => {
    const { loadRules } = await import('../workshop/index.ts');
    const { RULES_FOLDER } = await import('../paths.ts');
    const { works, kinds, cautions, classes, jurisdictions } = loadRules(RULES_FOLDER);
    const lexicon = loadLexicon();
    for (const [work, replaced] of Object.entries(lexicon.words.swaps)) {
      expect(works.has(work), work).toBe(true);
      for (const kind of replaced) expect(kinds.has(kind), kind).toBe(true);
    }
    for (const caution of Object.keys(lexicon.words.cautions)) expect(cautions.has(caution), caution).toBe(true);
    for (const part of lexicon.parts)
      for (const kind of [part.kind, part.by_axle?.front.kind, part.by_axle?.rear.kind]) if (kind) expect(kinds.has(kind), kind).toBe(true);
    // Each class can be said by its id and in words, and each place of a law pack is one there is.
    expect(Object.keys(lexicon.words.classes).sort()).toEqual([...classes.keys()].sort());
    for (const [id, words] of Object.entries(lexicon.words.classes)) expect(words.length, id).toBeGreaterThan(2);
    for (const id of Object.keys(lexicon.words.law_places)) expect(jurisdictions.has(id), id).toBe(true);
    // Whatever chooses another part is among them, so that a new one is not forgotten.
    for (const id of works.keys()) if (id.startsWith('choose-')) expect(Object.keys(lexicon.words.swaps)).toContain(id);
  });
});

describe('what to mind', () => {
  it('is told in both systems, whatever the cautions are', async () => {
    const { loadRules, prose } = await import('../workshop/index.ts');
    const { RULES_FOLDER } = await import('../paths.ts');
    const library = loadRules(RULES_FOLDER);
    const lexicon = loadLexicon();
    const question = {
      reading: { understood: [], names_ignored: [], not_understood: [], spelling: [] },
      assumptions: [],
      vehicle: 'named',
      build: {},
    };
    for (const [id, text] of library.cautions)
      for (const system of ['metric', 'us'] as const) {
        const controlling = {
          title: 'It clears',
          subject: 'x',
          rule: 'r',
          verdict: 'conflict',
          margin: null,
          basis: [],
          numbers: [],
          cautions: [prose(text, system)],
        };
        const answer = { findings: [], work: { steps: [] }, after_work: { remaining: [] }, measure: [], assumptions: [] };
        const judged = { verdict: 'no', controlling, instead: [], onClass: false };
        const made = compose({ question, judged, answer, library, lexicon, format: 'text', length: 500 } as never);
        // Of the law every answer speaks.
        const word = id === 'road_law' ? 'local law' : lexicon.words.cautions[id];
        expect(made.ok && word !== undefined && made.text.includes(word), `${id} ${system}`).toBe(true);
      }
  });
});

describe('what to measure', () => {
  it('is of what decides, where none of the readings planned is', () => {
    const question = {
      reading: { understood: [], names_ignored: [], not_understood: [], spelling: [] },
      assumptions: [],
      vehicle: 'named',
      build: {},
    };
    const controlling = {
      id: 'f',
      title: 'It clears',
      subject: 'x',
      rule: 'r',
      verdict: 'close',
      margin: null,
      basis: [],
      cautions: [],
      doubt: [{ id: 'gap(arm)', share: 0.8 }],
    };
    const told = (findings: string[]): string => {
      const answer = {
        findings: [],
        work: { steps: [] },
        after_work: { remaining: [] },
        assumptions: [],
        measure: [{ title: 'Way of the hose', subject: 'hose', findings }],
        values: { 'gap(arm)': { title: 'Gap to the tyre', subject: 'upper arm' } },
      };
      const judged = { verdict: 'cant_tell', controlling, instead: [], onClass: false };
      const library = { cautions: new Map() };
      const made = compose({ question, judged, answer, library, lexicon: loadLexicon(), format: 'text', length: 500 } as never);
      return made.ok ? (/Measure: ([^;.]*)/.exec(made.text)?.[1] ?? '') : '';
    };
    expect([told(['other']), told(['f'])]).toEqual(['gap to the tyre, upper arm', 'way of the hose, hose']);
  });
});
