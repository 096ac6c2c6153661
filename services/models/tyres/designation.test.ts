import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseDesignation } from './designation.ts';

const written = (typed: string): string => {
  const read = parseDesignation(typed);
  if (!read.ok) throw new Error(read.reason);
  return read.value.text;
};
const reason = (typed: string): string => {
  const read = parseDesignation(typed);
  if (read.ok) throw new Error(`${typed} was read as ${read.value.text}`);
  return read.reason;
};

describe('one size, many ways of typing it', () => {
  it.each([
    ['285/70/17', '285/70R17'],
    ['285-70-17', '285/70R17'],
    ['285 70 17', '285/70R17'],
    ['285/70ZR17', '285/70R17'],
    ['(LT) 285/70R17', 'LT285/70R17'],
    ['285/70R17 (116Q)', '285/70R17 116Q'],
    ['35x12.5x17', '35x12.50R17'],
    ['33/12.50R15', '33x12.50R15'],
    ['LT 285/70 R17 121/118 Q LRE', 'LT285/70R17 121/118Q E'],
    ['265/70R16 112 S', '265/70R16 112S'],
    ['245/60R18 105 H', '245/60R18 105H'],
  ])('%s is %s', (typed, text) => expect(written(typed)).toBe(text));
});

describe('words behind the size', () => {
  it.each([
    ['285/70R17 10 ply', 'E'],
    ['285/70R17 10PR', 'E'],
    ['7.50R16 8-ply', 'D'],
    ['LT285/70R17 load range E', 'E'],
  ])('%s is load range %s', (typed, range) => expect(parseDesignation(typed)).toMatchObject({ ok: true, value: { loadRange: range } }));

  it('a ply rating is no load index, and other numbers of a name are not either', () => {
    for (const typed of ['285/70R17 10 ply', '285/70R17 Rock 37', '285/70R17 3PMSF']) expect(written(typed)).not.toMatch(/ \d/);
  });

  it('the letter behind a light-truck index is its load range, not a speed, where it could be either', () => {
    expect(parseDesignation('LT285/70R17 121/118 E')).toMatchObject({ value: { loadRange: 'E' } });
    expect(parseDesignation('LT285/70R17 121/118 H')).toMatchObject({ value: { loadRange: 'H' } });
  });

  it('P tells the American passenger sizes from the European ones', () => {
    expect(parseDesignation('P265/70R16')).toMatchObject({ value: { service: 'passenger', pMetric: true } });
    expect(parseDesignation('265/70R16')).toMatchObject({ value: { service: 'passenger', pMetric: false } });
  });
});

describe('slips of the hand', () => {
  it.each([
    ['2657017', '265/70R17'],
    ['26570R17', '265/70R17'],
    ['LT28570R17', 'LT285/70R17'],
    ['3312.50R15', '33x12.50R15'],
    ['265/17R70', '265/70R17'],
    ['70/265R17', '265/70R17'],
    ['256/70R16', '265/70R16'],
    ['265/07R16', '265/70R16'],
    ['265/7OR17', '265/70R17'],
    ['264/70R17 115T', '265/70R17 115T'],
    ['265/72R17', '265/70R17'],
  ])('%s: did you mean %s?', (typed, meant) => expect(reason(typed)).toContain(`did you mean \`${meant}\`?`));

  it('say first what is wrong', () => {
    expect(reason('265/17R70')).toContain('an aspect ratio of 17 % is outside 25 to 100');
    expect(reason('264/70R17')).toContain('metric section widths end in 5, and 264 does not');
  });

  it('guess at nothing that is nowhere near a size', () => {
    for (const typed of ['big ones', '33s', '185R14C', '', '42']) expect(reason(typed)).not.toContain('did you mean');
  });
});

it('a suggestion, and what is read, is read again as the same', () => {
  const digit = fc.constantFrom(...'0123456789/xR. -LTPCO'.split(''));
  fc.assert(
    fc.property(fc.array(digit, { minLength: 5, maxLength: 14 }), (letters) => {
      const read = parseDesignation(letters.join(''));
      const text = read.ok ? read.value.text : /did you mean `(.+)`\?$/.exec(read.reason)?.[1];
      if (text !== undefined) expect(written(text)).toBe(text);
    }),
    { numRuns: 5000 },
  );
});

describe('a load range behind a stroke', () => {
  it('is read as one behind a space', () => {
    const read = parseDesignation('35X12.50R17LT/E 121Q');
    expect(read).toMatchObject({ ok: true, value: { form: 'flotation', loadRange: 'E', loadIndex: 121, speedSymbol: 'Q' } });
    expect(parseDesignation('LT285/70R17/E').ok).toBe(true);
  });
});
