import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadLexicon } from '../questions/index.ts';
import type { VehicleInput } from '../vehicle/index.ts';
import { checker, gaugedTruck } from '../workshop/testing.ts';
import type { App } from './app.ts';
import { demoLookup } from './catalogue.ts';
import { answerQuestion, type Desk } from './questions.ts';
import { testApp } from './testing.ts';

let app: App;
beforeAll(async () => {
  app = await testApp();
});
afterAll(() => app.close());

const post = (payload: object) => app.inject({ method: 'POST', url: '/v1/questions', payload });
const ask = async (text: string, more: object = {}) => {
  const response = await post({ text, ...more });
  if (response.statusCode !== 200) throw new Error(response.body);
  return response.json();
};

/** Everything of this one was read: its gaps, hoses and speedometer. */
const measured = gaugedTruck() as VehicleInput & { readonly measured: readonly object[] };
const PARTS = 'orrisbeck-trail-255, fairmere-mast, fairmere-lights, cotegarth-locker';

describe('a question', { timeout: 180_000 }, () => {
  it.each([
    [
      '33x12.50R15 on 17x8.5 -10',
      'no',
      /^No: no stated work clears it with the part asked about\. Decides: tyre and wheel have one rim diameter: margin -48\.8 mm/,
    ],
    [
      '4500 lb winch on a merowdale gyll',
      'no',
      /^No, by common practice: .* the part asked about\. Decides: the winch pulls .* margin -\d+ ± \d+ lbf/,
    ],
    ['ghyll, 17x9 -18', 'no', /^No, by common practice: .* the wheel stands no further out .* It takes another: .* of ET -4 or more/],
    ['3000 lb in the bed of a Merrowdale Ghyll', 'no', /^No: /],
    ['midsize truck, 1500 kg in the bed', 'no', /^No, not on that class: /],
    ['1500 kg in the bed', 'cant_tell', /^Can't tell yet: no vehicle I know was named; on the class taken it would be a no\./],
    [
      'merrowdale ghyll, 265/70R17 115S',
      'cant_tell',
      /^Can't tell yet: what decides it is not measured\. Decides: the tyre clears the cab mount .* ± /,
    ],
    ['will it fit?', 'cant_tell', /^Can't tell yet: nothing in it was understood that could be checked\./],
  ])('%s: %s', async (text, verdict, says) => {
    const answered = await ask(text);
    expect(answered.answer).toMatch(says);
    expect(answered.verdict).toBe(verdict);
    expect(answered.answer.length).toBeLessThanOrEqual(500);
  });

  it('of a truck that was read is yes, and says what of it the class stands in for', async () => {
    const { verdict, answer, findings } = await ask(`${PARTS}, 3 people at 110 km/h`, { vehicle: measured });
    expect([verdict, answer.split(':')[0]]).toEqual([
      'yes',
      'Yes for mass and room, not asked of the electrics, if it stands as its class does',
    ]);
    expect(answer).toContain('as its class');
    expect(findings).toMatchObject([{ verdict: 'clear' }]);
    const unclear = await ask(`${PARTS}, 3 people, flurbo brackets`, { vehicle: measured });
    expect(unclear.verdict).toBe('cant_tell');
    expect(unclear.answer).toContain('Not understood: flurbo brackets');
    expect(unclear.reading.not_understood).toEqual([{ text: 'flurbo brackets', why: 'not known' }]);
  });

  it('is yes with work where all the work it takes clears it, with what it takes and what to mind', async () => {
    const readings = [
      { quantity: 'slack', of: 'filler-hose', value: '19.5 mm ± 0.5' },
      { quantity: 'engagement', of: 'steering-shaft', value: '52.5 mm ± 0.5' },
    ];
    const { verdict, answer } = await ask('1" BL', {
      vehicle: { ...measured, measured: [...measured.measured, ...readings] },
      length: 2000,
    });
    expect([verdict, answer]).toEqual(['yes_with_work', expect.stringMatching(/^Yes with work/)]);
    expect(answer).toMatch(/Work \([\d.]+ h likely, [\d.]+ to [\d.]+ h\): .*raise body/);
    expect(answer).toMatch(/Mind: .*steering.*lifting.* can hurt people/);
  });

  it('gives a build that a check takes as it is, with the same verdict', async () => {
    const { build, findings } = await ask('ghyll 10k winch');
    const checked = await app.inject({ method: 'POST', url: '/v1/checks', payload: build });
    expect(checked.statusCode).toBe(200);
    const open = checked
      .json()
      .findings.filter((one: { verdict: string; as_before: boolean }) => one.verdict !== 'clear' && !one.as_before);
    expect(findings.map(({ id }: { id: string }) => id).sort()).toEqual(open.map(({ id }: { id: string }) => id).sort());
  });

  it('says what was read of each word, what was assumed, and which of it could flip the verdict', async () => {
    const { reading, assumptions } = await ask('Skrunk 10k winch on a steel bumper, merowdale ghyl');
    expect(reading).toEqual({
      understood: [
        { text: '10k winch', as: 'part', says: 'winch 10000 lb' },
        { text: 'steel bumper', as: 'part', says: 'front bumper' },
        { text: 'merowdale ghyl', as: 'vehicle', says: 'Merrowdale Ghyll response pickup' },
      ],
      names_ignored: ['skrunk'],
      not_understood: [],
      spelling: [],
    });
    expect(assumptions).toContainEqual({ text: 'the vehicle was taken to be Merrowdale Ghyll response pickup', could_flip: true });
    expect(assumptions.some(({ text }: { text: string }) => text.startsWith('Defaults of the class'))).toBe(true);
  });

  it('gives the same bytes each time', async () => {
    const [one, other] = [await post({ text: 'ghyll 10k winch' }), await post({ text: 'ghyll 10k winch' })];
    expect(one.body).toBe(other.body);
  });
});

describe('an answer', { timeout: 180_000 }, () => {
  const TEXT = 'ghyll 4500 lb winch';

  it('is in the units asked for, or those of the question', async () => {
    expect((await ask(TEXT)).answer).toMatch(/margin -\d+ ± \d+ lbf/);
    expect((await ask(TEXT, { units: 'metric' })).answer).toMatch(/margin -[\d.]+ ± [\d.]+ kN/);
    expect((await ask('ghyll 20 kN winch')).answer).toMatch(/ kN/);
  });

  it('fits its length, and keeps verdict, assumptions and what to mind; too small a length is told the least', async () => {
    const told = async (length: number): Promise<number> => {
      const refused = await post({ text: TEXT, length });
      expect([refused.statusCode, refused.json().code, refused.json().faults[0].pointer]).toEqual([422, 'LENGTH_TOO_SMALL', '/length']);
      return Number(/at least (\d+)/.exec(refused.json().detail)?.[1]);
    };
    // Of an answer to this question, whatever it comes to, and of what it comes to.
    const read = await told(20);
    const least = await told(read);
    expect([read > 55, least > read]).toEqual([true, true]);
    expect((await post({ text: TEXT, length: least - 1 })).statusCode).toBe(422);
    let before = '';
    for (const length of [least, least + 60, 500, 4000]) {
      const { answer } = await ask(TEXT, { length });
      expect(answer.length).toBeLessThanOrEqual(length);
      expect(answer).toMatch(/^No, .*Assumed: .*driver.*Mind: .*recovery/);
      expect(answer.length).toBeGreaterThanOrEqual(before.length);
      before = answer;
    }
    expect((await ask(TEXT, { length: least })).answer).toHaveLength(least);
  });

  it('of a length that cannot do is refused before anything is checked, at once with what this question takes', async () => {
    const never = () => {
      throw new Error('it was asked');
    };
    const lookups = { lookup: demoLookup({ vehicles: [], parts: [] }), search: async () => [] };
    const desk = { library: checker.library, lexicon: loadLexicon(), checks: { run: never }, ...lookups } as unknown as Desk;
    const least = async (length: number, format: 'text' | 'markdown', text = TEXT): Promise<number> => {
      const error = await answerQuestion({ text, length, format }, desk).catch((thrown) => thrown);
      expect(error).toMatchObject({ code: 'LENGTH_TOO_SMALL', faults: [{ pointer: '/length', help: expect.stringMatching(/^send \d+/) }] });
      return Number(/at least (\d+)/.exec(error.message)?.[1]);
    };
    // `Can't tell yet. This is no approval: local law decides.`, counted by hand; in markdown two stars twice and a dash.
    expect([await least(54, 'text', 'hello'), await least(60, 'markdown', 'hello')]).toEqual([55, 61]);
    const read = await least(10, 'text');
    expect([read > 55, await least(read - 1, 'text')]).toEqual([true, read]);
    await expect(answerQuestion({ text: TEXT, length: read }, desk)).rejects.toThrow('it was asked');
  });

  it('in markdown is lines with the verdict in bold, and no text of it is markup', async () => {
    const { answer } = await ask(TEXT, { format: 'markdown', length: 2000 });
    const [head, ...lines] = answer.split('\n');
    expect(head).toMatch(/^\*\*No, by common practice: .*\*\*$/);
    for (const line of lines) expect(line).toMatch(/^- [A-Z]/);
    expect(answer.replace(/^\*\*|\*\*(?=\n)|^- /gm, '')).not.toMatch(/(?<!\\)[*_[\]`<>~|#]/);
  });

  it.each(['text', 'markdown'])('in %s lets no mention, link or markup of the question through alive', async (format) => {
    const hostile =
      '@everyone <https://evil.test|x> [a](javascript:b) **flurbo** `c` evil.test #tag \u202eabc ![i](http://evil.test/i.png) <@123>';
    const { answer, reading } = await ask(`${hostile} 33x12.50R15 on 17x8.5`, { format, length: 4000 });
    const said = answer.replaceAll(/\\./g, '').replace(/^\*\*|\*\*(?=\n)|^- /gm, '');
    for (const text of [said, JSON.stringify(reading)]) {
      expect(text).not.toMatch(/[@<>`*~|#]|https?:|\w\.test|\]\(/);
      expect(text).not.toMatch(/(?!\n)[\p{Cc}\p{Cf}]/u);
    }
    expect(answer).toMatch(/Not understood: /);
  });

  it('a catalogue entry with markup in its name comes back harmless', async () => {
    const entry = { id: 'odd-one', name: '@everyone [Odd](http://evil.test) Fellrunner', class: 'midsize_independent_front' };
    expect((await app.inject({ method: 'POST', url: '/v1/vehicles', payload: entry })).statusCode).toBe(201);
    const { answer, build } = await ask('fellruner 33x12.50R15 on 17x8.5', { length: 4000 });
    expect(build.vehicle).toMatchObject({ vehicle: 'odd-one' });
    expect(answer).not.toMatch(/[@[\]]|https?:|evil\.test/);
  });
});

describe('the vehicle', { timeout: 180_000 }, () => {
  const TEXT = '33x12.50R15 on 17x8.5 -10';
  it.each([
    ['merrowdale-ghyll', { from: 'catalogue', vehicle: 'merrowdale-ghyll' }],
    ['Merowdale Ghyl', { from: 'catalogue', vehicle: 'merrowdale-ghyll' }],
    ['midsize_independent_front', { from: 'inline', class: 'midsize_independent_front' }],
    ['midsize truck', { from: 'inline', class: 'midsize_independent_front' }],
  ])('may be given as %s', async (vehicle, taken) => expect((await ask(TEXT, { vehicle })).build.vehicle).toMatchObject(taken));

  it('that nobody knows is refused with those there are', async () => {
    const response = await post({ text: TEXT, vehicle: 'Flurbo' });
    expect([response.statusCode, response.json().faults[0]]).toEqual([
      422,
      expect.objectContaining({ pointer: '/vehicle', help: expect.stringContaining('merrowdale-ghyll') }),
    ]);
  });

  it('given in full with a fault in it is refused with its place', async () => {
    const response = await post({ text: TEXT, vehicle: { from: 'inline', class: 'flurbo' } });
    expect([response.statusCode, response.json().faults[0].pointer]).toEqual([422, '/vehicle/class']);
  });
});

describe('requests', () => {
  it.each([
    [{}, '/text'],
    [{ text: '' }, '/text'],
    [{ text: 'x'.repeat(20_001) }, '/text'],
    [{ text: 'x', length: 0 }, '/length'],
    [{ text: 'x', length: 4001 }, '/length'],
    [{ text: 'x', format: 'html' }, '/format'],
    [{ text: 'x', question: 'y' }, '/question'],
  ])('%.60j are refused at %s', async (payload, pointer) => {
    const response = await post(payload);
    expect([response.statusCode, response.json().faults[0]?.pointer]).toEqual([400, pointer]);
  });
});

describe('the law', { timeout: 180_000 }, () => {
  const TEXT = 'ghyll, 17x9 ET-18 and 285/70R17';
  it('is claimed where a place is named, and only there', async () => {
    const legal = async (more: object) => (await ask(TEXT, more)).build.use?.jurisdictions;
    expect([await legal({}), await legal({ jurisdictions: ['us-ca'] })]).toEqual([undefined, ['us-ca']]);
  });
  it('of a place nobody knows is refused with its place in the question', async () => {
    const response = await post({ text: TEXT, jurisdictions: ['atlantis'] });
    expect([response.statusCode, response.json().faults[0].pointer]).toEqual([422, '/jurisdictions/0']);
  });
});
