/** The held questions: how many are read whole as expected, and that nothing anybody pastes takes long or comes back live. */
import { describe, expect, it } from 'vitest';
import { namesIn } from '../../services/questions/index.ts';
import { plainText } from '../../services/questions/tidy.ts';
import { MOST_TOKENS, tokensOf } from '../../services/questions/tokens.ts';
import { compare, type Held, held, lexicon, read, unseen } from './held.ts';

const FLOOR = 0.97;
/** What the first reading of them came to, less one: words that nobody wrote down are told as not understood, and so count as missed here. */
const UNSEEN_FLOOR = 0.66;

function shareRead(what: string, questions: readonly Held[]): number {
  const compared = questions.map((question) => ({ ask: question.ask, ...compare(question) }));
  const missed = compared.filter(({ expected, got }) => expected !== got);
  const share = 1 - missed.length / questions.length;
  console.log(`${what}: ${questions.length - missed.length} of ${questions.length} (${(100 * share).toFixed(1)} %)`);
  for (const { ask, expected, got } of missed) console.log(`  ${JSON.stringify(ask)}\n    expected ${expected}\n    read     ${got}`);
  return share;
}

describe('held questions', () => {
  it('are 150 or more, each asked once', () => {
    expect(held.length).toBeGreaterThanOrEqual(150);
    expect(new Set(held.map(({ ask }) => ask)).size).toBe(held.length);
  });

  it('are read whole as expected, at or above the floor', () =>
    expect(shareRead('questions read as expected', held)).toBeGreaterThanOrEqual(FLOOR));

  it('that nothing was ever changed for are read whole less often, at or above their own floor', () =>
    expect(shareRead('questions never tuned to, read as expected', unseen)).toBeGreaterThanOrEqual(UNSEEN_FLOOR));

  it('are read the same whatever is read before them', () => {
    const once = held.map(({ ask }) => JSON.stringify(read(ask)));
    const backwards = [...held].reverse().map(({ ask }) => JSON.stringify(read(ask)));
    expect(backwards.reverse()).toEqual(once);
  });
});

const LENGTH = 20_000;
const filled = (text: string): string => text.repeat(Math.ceil(LENGTH / text.length)).slice(0, LENGTH);

/** What makes a careless pattern or a nested loop slow. A pattern that runs away never ends: the test's own limit catches it. */
const PASTES = [
  'a',
  '1',
  '/',
  '-',
  '"',
  '+',
  '@',
  '<',
  '1 ',
  '1/2 ',
  '265/70R1 ',
  '265/70R17 ',
  '33x',
  '1.1.1.',
  '2.5" lift ',
  '3 front 2 rear ',
  'flurbo ',
  'cab mount gap ',
  'a-b-c-d ',
  'http://',
  '1,000,',
  '17x8.5 -10 et ',
  '5 people ',
  '1000 lb in the bed ',
  'e\u0301',
  '\u202e',
  '😀',
  'rear lift front ',
] as const;

describe('whatever is pasted', () => {
  it.each(PASTES)('%j over and over is answered, of a text as long as is taken', { timeout: 30_000 }, (piece) => {
    const whole = filled(piece);
    const { reading, build } = read(whole);
    // What bounds the time is how much is read; nothing here is timed.
    expect(tokensOf(plainText(whole)).length).toBeLessThanOrEqual(MOST_TOKENS);
    expect(reading.not_understood.length).toBeLessThanOrEqual(42);
    expect(reading.understood.length).toBeLessThanOrEqual(MOST_TOKENS);
    expect(build?.parts?.length ?? 0).toBeLessThanOrEqual(60);
    expect(namesIn(whole, lexicon).length).toBeLessThanOrEqual(6);
  });

  it('is said to be too long where it is', () =>
    expect(read(filled('flurbo ')).reading.not_understood[0]).toMatchObject({ text: 'the rest of a long text' }));

  it('says again no mention, link, markup or control character', () => {
    const hostile = [
      '@everyone 265/70R17',
      '<script>alert(1)</script> 33s',
      '[x](http://evil.test) 2" lift',
      'evil.test/path flurbo',
      '`rm -rf` **bold** __x__ ~~y~~',
      '\u202e265/70R17\u202c \u0007bell',
      '<@!123> <#456> <https://evil.test|x>',
      '＠here ｈttp://evil.test',
      '![i](x) | a | b |',
      'javascript:alert(1) &lt;b&gt;',
    ];
    for (const text of hostile) {
      const said = JSON.stringify(read(text).reading);
      expect(said, text).not.toMatch(/[@<>`*~|]|\[[^\]"{]*\]\(|https?:|\/\/|\w\.(?:test|com)/);
      expect(said, text).not.toMatch(/[\p{Cc}\p{Cf}]/u);
    }
  });

  it('a size or lift among hostile characters is still read', () => {
    expect(read('\u202e265/70\u200bR17\u202c @everyone').build?.parts).toMatchObject([{ attributes: { designation: '265/70R17' } }]);
    expect(plainText('\u0000\u0001')).toBe('');
    expect(read('\u0000').build).toBeUndefined();
  });
});

describe('what is asked about', () => {
  it.each([
    ['fridge 20 kg and drawers 40 kg on board, will 285/70R17 fit?', 'asked-tyre'],
    ['will a 60 kg bumper fit with 285/70R17', 'asked-front-bumper'],
    ['50qt fridge 20 kg, 285/70R17', 'asked-tyre'],
    ['10k winch and a 20 kg fridge', 'asked-winch'],
  ])('%s: %s', (text, first) => expect(read(text).focus?.[0]).toBe(first));
});
