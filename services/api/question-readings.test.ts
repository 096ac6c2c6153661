/** What a short answer says of a reading that the question gives, of what leans to a no, and of what to measure first. */
import { describe, expect, it } from 'vitest';
import { DEMO_FOLDER, RULES_FOLDER } from '../paths.ts';
import { loadLexicon } from '../questions/index.ts';
import { createChecker, loadRules } from '../workshop/index.ts';
import { demoLookup, readDemo } from './catalogue.ts';
import { inlineRunner } from './checks.ts';
import { answerQuestion, type Desk } from './questions.ts';

const demo = readDemo(DEMO_FOLDER);
const library = loadRules(RULES_FOLDER);
const desk: Desk = {
  library,
  lexicon: loadLexicon(),
  lookup: demoLookup(demo),
  checks: inlineRunner(createChecker(library)),
  search: async (sought) => sought.map(() => []),
};
const ask = (text: string) => answerQuestion({ text } as Parameters<typeof answerQuestion>[0], desk);

describe('a short answer', { timeout: 120_000 }, () => {
  it('tells of a gap that the question gives, and leans on what is likely not met', async () => {
    const [given, without] = [
      await ask('35s with 2.5 in lift on my midsize pickup, cab mount gap 24mm'),
      await ask('35s with 2.5 in lift on my midsize pickup'),
    ];
    expect(given.verdict).toBe('cant_tell');
    expect(given.answer).toMatch(/^Can't tell yet, likely no: the tyre clears the cab mount on the frame is likely not met\./);
    expect(given.answer).toMatch(/24 mm/);
    expect(given.answer).toMatch(/[Mm]easure/);
    expect(given.answer.length).toBeLessThanOrEqual(500);
    expect(without.answer).toMatch(/likely no: the tyre clears the cab mount/);
    expect(without.answer).not.toBe(given.answer);
  });

  it('of a second battery is decided by its own rules, of a body lift by what hangs on the body', async () => {
    const battery = await ask('second battery, midsize_independent_front');
    expect(battery.answer).toMatch(/Decides: the second battery/);
    expect(battery.answer).toContain('alternator and cables not checked');
    const lift = await ask('body lift, midsize_independent_front');
    expect(lift.answer).toMatch(/Decides: the brake line follows the body/);
    expect(lift.answer).toMatch(/Measure: slack, Brake line from body to frame/);
  });
});
