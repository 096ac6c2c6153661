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
    // As written in the trade: suffixes before and after, spaces, commas, signs of multiplication, quotes, long dashes.
    ['LT285/70R17 121/118Q E', 'LT285/70R17 121/118Q E'],
    ['285/70R17LT 121/118Q', 'LT285/70R17 121/118Q'],
    ['285/70R17 LT 121/118Q', 'LT285/70R17 121/118Q'],
    ['285/70R17 121/118Q LT', 'LT285/70R17 121/118Q'],
    ['lt285/70-17', 'LT285/70R17'],
    ['LT-285/70-17', 'LT285/70R17'],
    ['285/70–17', '285/70R17'],
    ['255/85 R 16', '255/85R16'],
    ['255 / 85 R16', '255/85R16'],
    ['P265/70R16 111T', 'P265/70R16 111T'],
    ['265/70R16P 111T', 'P265/70R16 111T'],
    ['33X12,50-15', '33x12.50R15'],
    ['33x12.50-15LT', '33x12.50R15LT'],
    ['33 × 12.50 R 15', '33x12.50R15'],
    ['35"x12.5"x17"', '35x12.50R17'],
    ['35-12.50-17', '35x12.50R17'],
    ['35x12.50R17 LT', '35x12.50R17LT'],
    ['LT35x12.50R17', '35x12.50R17LT'],
    ['7,50 R16', '7.50R16'],
    ['7.50-16 LT', '7.50R16LT'],
    ['7.50D16', '7.50D16'],
    ['225/75R16C 121/120R', '225/75R16C 121/120R'],
    ['225/75R16 C 121/120R', '225/75R16C 121/120R'],
    ['265/70R17 116Q XL', '265/70R17 116Q XL'],
    ['265/70R17 reinforced 119S', '265/70R17 XL 119S'],
    ['185R14C 102/100Q', '185R14C 102/100Q'],
    ['205 R16', '205R16'],
    ['LT285/70R17 121Q/118Q', 'LT285/70R17 121/118Q'],
    ['225/75R16C 121/120R (116N)', '225/75R16C 121/120R'],
    ['33s', '33"'],
    ["37's", '37"'],
    ['33"', '33"'],
    ['33 inch tyres', '33"'],
    ['33x12.50', '33x12.50'],
  ])('%s is %s', (typed, text) => expect(written(typed)).toBe(text));
});

describe('words behind the size', () => {
  it.each([
    ['285/70R17 10 ply', 'E'],
    ['285/70R17 10PR', 'E'],
    ['7.50R16 8-ply', 'D'],
    ['LT285/70R17 load range E', 'E'],
    ['LT285/70R17 LR E', 'E'],
    ['LT285/70R17 LR:E', 'E'],
    ['LT285/70R17 E rated', 'E'],
    ['7.50R16 16 ply rating', 'H'],
    ['LT285/70R17 C', 'C'],
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

describe('slips behind the size', () => {
  it.each([
    ['265/70R17 1115S', '`265/70R17 115S` or `265/70R17 111S`'],
    ['265/70R17 300T', '`265/70R17 100T`'],
    ['265/70R17 115TT', '`265/70R17 115T`'],
    ['LT285/70R17 121/188Q', '`LT285/70R17 121/118Q`'],
    ['LT285/70R17 1211/118Q', '`LT285/70R17 121/118Q`'],
    ['37x13.50R17LT 121D', '`37x13.50R17LT 121 D`'],
    ['LT285/70R17 121E', '`LT285/70R17 121 E`'],
  ])('%s: did you mean %s?', (typed, meant) => {
    expect(reason(typed)).toContain(`did you mean ${meant}?`);
    for (const [, text] of meant.matchAll(/`([^`]+)`/g)) expect(written(text as string)).toBe(text);
  });

  it('are told where nothing is near, and not swallowed', () => {
    expect(reason('265/70R17 115Z9 banana')).toContain('`115Z9` is no load index');
    expect(parseDesignation('265/70R17 115S banana')).toMatchObject({ ok: true, value: { loadIndex: 115 } });
  });

  it('a wall of 85 % is no passenger tyre’s, and says which it is on its sidewall', () => {
    for (const typed of ['235/85R16', '255/85-16'])
      expect(parseDesignation(typed)).toMatchObject({ ok: true, value: { serviceUnclear: true } });
    expect(parseDesignation('LT235/85R16')).toMatchObject({ ok: true, value: { service: 'light-truck' } });
    expect(parseDesignation('265/70R17')).toMatchObject({ ok: true, value: { service: 'passenger' } });
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
    // One stroke of a key amiss, where only one size that is often seen is so near.
    ['265/70R177', '265/70R17'],
    ['2665/70R17', '265/70R17'],
    ['265//70R17', '265/70R17'],
    ['265/70E17', '265/70R17'],
    ['LT285/70R1', 'LT285/70R17'],
    ['33x125.0R15', '33x12.50R15'],
    ['33x1250R15', '33x12.50R15'],
    ['750R16', '7.50R16'],
    ['7.5R16', '7.50R16'],
    ['LT285/70R17E', 'LT285/70R17 E'],
    ['235/75R15XL', '235/75R15 XL'],
  ])('%s: did you mean %s?', (typed, meant) => expect(reason(typed)).toContain(`did you mean \`${meant}\`?`));

  it('say first what is wrong', () => {
    expect(reason('265/17R70')).toContain('an aspect ratio of 17 % is outside 25 to 100');
    expect(reason('264/70R17')).toContain('metric section widths end in 5, and 264 does not');
  });

  it('name all that are as near', () =>
    expect(reason('33x12.50R1')).toContain('did you mean `33x12.50R15` or `33x12.50R17` or `33x12.50R18`?'));

  it('say of sizes that cannot be why', () => {
    expect(reason('33x12.50R29')).toContain('a rim of 29 in is outside 13 to 26');
    expect(reason('33x20R26')).toContain('a sidewall of 3.5 in is too low for a tyre 20 in wide');
    expect(reason('28x9.50R26')).toContain('leaves no sidewall');
    expect(reason('125/25R18')).toContain('a sidewall of 31 mm is lower than any');
    expect(reason('LT285/70R17 118/121Q')).toContain('are they swapped?');
    expect(reason('ST225/75R15')).toContain('trailer tyre');
    expect(reason('T145/80D18')).toContain('temporary spare');
    expect(reason('13s')).toContain('a diameter of 13 in is outside 24 to 54');
  });

  it('guess at nothing that is nowhere near a size', () => {
    for (const typed of ['big ones', '33', '', '42', 'ST225/75R15']) expect(reason(typed)).not.toContain('did you mean');
  });
});

it('a suggestion, and what is read, is read again as the same', () => {
  const digit = fc.constantFrom(...'0123456789/xR. -LTPCO'.split(''));
  fc.assert(
    fc.property(fc.array(digit, { minLength: 5, maxLength: 14 }), (letters) => {
      const read = parseDesignation(letters.join(''));
      const text = read.ok ? read.value.text : /did you mean `([^`]+)`/.exec(read.reason)?.[1];
      if (text !== undefined) expect(written(text)).toBe(text);
    }),
    { numRuns: 5000 },
  );
});

describe('what a size does not say', () => {
  it('plain talk of a diameter has neither width nor rim', () => {
    const read = parseDesignation('33s');
    expect(read).toMatchObject({ ok: true, value: { form: 'plain', diameter: 33 * 0.0254 } });
    expect(read.ok && [read.value.width, read.value.rim]).toEqual([undefined, undefined]);
  });
  it('a dash says nothing of the plies, the letters do', () => {
    const plies = (typed: string) => {
      const read = parseDesignation(typed);
      return read.ok ? read.value.construction : read.reason;
    };
    expect(['33x12.50-15', '33x12.50D15', '7.50B16', '265/70R17'].map(plies)).toEqual(['radial', 'diagonal', 'bias-belted', 'radial']);
  });
  it('case, spaces and the kind of stroke change nothing', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('LT285/70R17 121/118Q E', '33x12.50R15LT 108Q C', '7.50R16 122/118L', 'P265/70R16 111T', '225/75R16C 121/120R'),
        fc.boolean(),
        fc.constantFrom(...' -/'.split('')),
        (typed, lower, dash) => {
          const written_ = typed.replace(/(\d)R(\d)/, `$1${dash}$2`);
          expect(written(lower ? written_.toLowerCase() : written_)).toBe(written(typed));
        },
      ),
    );
  });
});

describe('a load range behind a stroke', () => {
  it('is read as one behind a space', () => {
    const read = parseDesignation('35X12.50R17LT/E 121Q');
    expect(read).toMatchObject({ ok: true, value: { form: 'flotation', loadRange: 'E', loadIndex: 121, speedSymbol: 'Q' } });
    expect(parseDesignation('LT285/70R17/E').ok).toBe(true);
  });
});
