/** What an answer keeps however short it is made and whatever was typed, and that nothing of what was typed is live in it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compose, type Judged, judge } from '../../services/questions/index.ts';
import type { Answer } from '../../services/workshop/index.ts';
import { answer, checker, demoBuild } from '../../services/workshop/testing.ts';
import { held, lexicon, read } from './held.ts';

const { library } = checker;
/** Answers of a build that clears and of one that does not, whatever is asked: what is tested is what is made of them. */
const answers = [answer(demoBuild('modest')), answer(demoBuild('bold'))];

const HOSTILE = [
  '@everyone',
  '<@123>',
  'https://evil.test/a',
  '[a](javascript:b)',
  '**b**',
  '`c`',
  'evil.test',
  '#tag',
  '\u202e',
  '\u0000',
  '<script>',
  '![i](x)',
  '||s||',
  '~~x~~',
  '&lt;',
  '\n- x',
  '= 1',
  'www.evil.test',
  '😀',
  'ﬀ',
  '１',
  '\ud800',
] as const;
const piece = fc.oneof(
  fc.constantFrom(...held.map(({ ask }) => ask)),
  fc.constantFrom(...HOSTILE),
  fc.string({ unit: 'grapheme', maxLength: 20 }),
  fc.constantFrom(
    'flurbo',
    'delete the sway bar',
    'abs removed',
    'flurbo 33s',
    'no',
    'without a',
    'in the bed',
    'ghyll',
    '33s',
    '2.5"',
    'ET',
    '10k',
  ),
);
const typed = fc.array(piece, { minLength: 1, maxLength: 12 }).map((pieces) => pieces.join(' ').slice(0, 20_000));

const LIVE = /[@<>`|~]|\*\*|https?:|www\.|\/\/|\]\(|\w\.test/iu;
const made = (text: string, which: number, length: number, format: 'text' | 'markdown') => {
  const question = read(text);
  const given = answers[which] as (typeof answers)[number];
  const judged: Judged = question.build
    ? judge(question, given, lexicon.words)
    : { verdict: 'cant_tell', why: 'nothing-read', instead: [], onClass: false };
  const fitted = compose({ question, judged, ...(question.build && { answer: given }), library, lexicon, format, length });
  return { question, judged, fitted };
};
/** Words for what can hurt somebody, from the files of the rule that decides and of the work that is told, not from the composer. */
function owed(given: Answer | undefined, { controlling, verdict, instead }: Judged): string[] {
  if (!given) return [];
  const steps = verdict === 'no' ? instead : given.work.steps.filter(({ contingent }) => !contingent);
  const ids = [
    ...(library.rules.get(controlling?.rule ?? '')?.cautions ?? []),
    ...steps.flatMap(({ work }) => library.works.get(work)?.cautions ?? []),
  ];
  return [...new Set(ids)].map((id) => {
    // Of the law every answer speaks.
    const word = id === 'road_law' ? 'local law' : lexicon.words.cautions[id];
    if (word === undefined) throw new Error(`no word for the caution ${id}`);
    return word;
  });
}

const plain = (text: string): string => text.replace(/\\(.)/gs, '$1').replace(/^\*\*|\*\*(?=\n|$)|^- /gm, '');

describe('an answer', { timeout: 120_000 }, () => {
  it('keeps its verdict, what to mind and every assumption that could flip it, at every length it is given in', () => {
    fc.assert(
      fc.property(
        typed,
        fc.nat(1),
        fc.integer({ min: 1, max: 1200 }),
        fc.constantFrom('text' as const, 'markdown' as const),
        (text, which, length, format) => {
          const { question, judged, fitted } = made(text, which, length, format);
          if (!fitted.ok) {
            // What is refused is told the least that does, and that does.
            expect(fitted.least).toBeGreaterThan(length);
            expect(made(text, which, fitted.least, format).fitted.ok).toBe(true);
            return;
          }
          expect(fitted.text.length).toBeLessThanOrEqual(length);
          const said = plain(fitted.text);
          expect(said.startsWith({ yes: 'Yes', yes_with_work: 'Yes', no: 'No', cant_tell: "Can't tell yet" }[judged.verdict])).toBe(true);
          for (const word of owed(question.build ? answers[which] : undefined, judged))
            expect(said).toMatch(new RegExp(`(?:Mind:|This is no approval:) [^.]*\\b${word}\\b`));
          if (question.build) expect(said).toMatch(/Mind: .* can hurt people|This is no approval/);
          if (judged.onClass && judged.verdict !== 'cant_tell') expect(said).toMatch(/as its class/);
          const tidy = (words: string): string => words.replace(/[^\p{L}\p{N}]+/gu, ' ').trim();
          for (const { text: assumed, flips, brief } of question.assumptions)
            if (flips)
              expect(
                [assumed, brief ?? assumed].some((words) => tidy(said).includes(tidy(words))),
                `${assumed}\n${said}`,
              ).toBe(true);
          if (question.reading.not_understood.length > 0) expect(said).toContain('Not understood');
          if (question.reading.names_ignored.length > 0) expect(said).toMatch(/left out: |Left out: /);
          for (const id of question.cautions ?? []) expect(said).toMatch(new RegExp(`Mind: [^.]*\\b${lexicon.words.cautions[id]}\\b`));
        },
      ),
      { numRuns: 300 },
    );
  });

  it('says of what was not understood at least the first in the usual length', () => {
    const { fitted } = made(
      'flurbo bracket zimp wobble 33x12.50R17 grond tyres 17x9 -12, delete the sway bar, 2 in lift, merrowdale ghyll',
      1,
      500,
      'text',
    );
    const said = fitted.ok ? fitted.text : '';
    expect(said).toMatch(/Not understood: \w+/);
    expect(said).toMatch(/[Ll]eft out: \w+/);
    expect(said).toMatch(/Mind: [^.]*steering/);
  });

  it('has nothing live of what was typed, in text or in markdown', () => {
    fc.assert(
      fc.property(typed, fc.nat(1), fc.constantFrom('text' as const, 'markdown' as const), (text, which, format) => {
        const { question, fitted } = made(text, which, 4000, format);
        if (fitted.ok) {
          const body = format === 'markdown' ? fitted.text.replace(/\\./gs, '').replace(/^\*\*|\*\*(?=\n|$)|^- /gm, '') : fitted.text;
          expect(body).not.toMatch(LIVE);
          expect(body).not.toMatch(/(?!\n)[\p{Cc}\p{Cf}]/u);
        }
        expect(JSON.stringify(question.reading)).not.toMatch(LIVE);
      }),
      { numRuns: 300 },
    );
  });
});
